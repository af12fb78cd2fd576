/* The words that titles have: counted, and packed by length. */
#include "catalog/spelling.h"

#include "base/rank_sort.h"
#include "catalog/spelling_pack.h"

#include <stdlib.h>

struct saver {
    struct lb_statement *know, *add, *enter, *last, *put;
    struct lb_buf fresh[LB_WORD_MAX + 1]; /* by length: words without separators */
    struct lb_buf words, blob;            /* of the length that is being written */
};

/* One statement could do the first three, but to have it tell what it did takes three times as long. */
#define KNOW  "SELECT 1 FROM word WHERE word = ?1"
#define ADD   "UPDATE word SET titles = titles + ?2 WHERE word = ?1"
#define ENTER "INSERT INTO word (word, titles) VALUES (?1, ?2)"
#define LAST  "SELECT id, words FROM spelling WHERE length = ?1 ORDER BY id DESC LIMIT 1"
#define PUT   "INSERT OR REPLACE INTO spelling (id, length, words) VALUES (?1, ?2, ?3)"

static lb_status prepare(struct saver *saver, struct lb_store *store, struct lb_error *err)
{
    lb_status status = lb_store_prepare(store, &saver->know, KNOW, err);
    if (!status)
        status = lb_store_prepare(store, &saver->add, ADD, err);
    if (!status)
        status = lb_store_prepare(store, &saver->enter, ENTER, err);
    if (!status)
        status = lb_store_prepare(store, &saver->last, LAST, err);
    return status ? status : lb_store_prepare(store, &saver->put, PUT, err);
}

static void clean_up(struct saver *saver)
{
    lb_statement_free(saver->know);
    lb_statement_free(saver->add);
    lb_statement_free(saver->enter);
    lb_statement_free(saver->last);
    lb_statement_free(saver->put);
    for (size_t i = 0; i <= LB_WORD_MAX; i++)
        lb_buf_free(&saver->fresh[i]);
    lb_buf_free(&saver->words);
    lb_buf_free(&saver->blob);
}

/* By the first eight bytes, which is near enough: neighbours in the table are written one after the other. */
static lb_status put_in_order(struct lb_ranked **out, const struct lb_spelt *words, size_t count,
                              struct lb_error *err)
{
    struct lb_ranked *order = malloc((count + 1) * sizeof *order);
    *out = order;
    if (!order)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < count; i++) {
        order[i] = (struct lb_ranked){0, (int64_t)i};
        for (size_t k = 0; k < 8; k++)
            order[i].rank = order[i].rank << 8 | (k < words[i].length ? (unsigned char)words[i].word[k] : 0);
    }
    return lb_rank_sort(out, count) ? LB_OK : lb_fail_nomem(err);
}

static lb_status count_word(struct saver *saver, const struct lb_spelt *word, struct lb_error *err)
{
    bool known;
    if (word->length < 2 || word->length > LB_WORD_MAX)
        return LB_OK;
    lb_bind_text_of(saver->know, 1, word->word, word->length);
    lb_status status = lb_step(saver->know, &known, err);
    lb_statement_reset(saver->know);
    if (status)
        return status;
    if (!known)
        lb_buf_append(&saver->fresh[word->length], word->word, word->length);
    struct lb_statement *count = known ? saver->add : saver->enter;
    lb_bind_text_of(count, 1, word->word, word->length);
    lb_bind_integer(count, 2, word->titles);
    return lb_run(count, err);
}

static lb_status count_words(struct saver *saver, const struct lb_spelt *words, size_t count,
                             struct lb_error *err)
{
    struct lb_ranked *order;
    lb_status status = put_in_order(&order, words, count, err);
    for (size_t i = 0; !status && i < count; i++)
        status = count_word(saver, &words[order[i].value], err);
    free(order);
    return status;
}

/* The last blob of a length is taken up again as long as it has room, so that there are never more blobs than
 * are needed, however many small imports there were. *id 0: a new one begins. */
static lb_status take_up_last(struct saver *saver, struct lb_store *store, size_t length, int64_t *id,
                              struct lb_error *err)
{
    bool row;
    size_t size = 0, each = SPELLING_SIGNATURE + length;
    *id = 0;
    lb_buf_clear(&saver->words);
    lb_bind_integer(saver->last, 1, (int64_t)length);
    lb_status status = lb_step(saver->last, &row, err);
    const char *bytes = !status && row ? lb_blob(saver->last, 1, &size) : NULL;
    if (size % each)
        status = lb_store_refuse_damaged(store, err);
    else if (size && size + each <= SPELLING_BLOB_MAX) {
        size_t signatures = size / each * SPELLING_SIGNATURE;
        *id = lb_integer(saver->last, 0);
        lb_buf_append(&saver->words, bytes + signatures, size - signatures);
    }
    lb_statement_reset(saver->last);
    return status;
}

static void pack(struct lb_buf *blob, const char *words, size_t count, size_t length)
{
    lb_buf_clear(blob);
    for (size_t i = 0; i < count; i++) {
        uint32_t signature = spelling_signature(words + i * length, length);
        char bytes[SPELLING_SIGNATURE];
        for (int b = 0; b < SPELLING_SIGNATURE; b++)
            bytes[b] = (char)(signature >> 8 * b & 0xff);
        lb_buf_append(blob, bytes, sizeof bytes);
    }
    lb_buf_append(blob, words, count * length);
}

static lb_status write_blob(struct saver *saver, size_t length, int64_t id, struct lb_error *err)
{
    if (saver->blob.failed)
        return lb_fail_nomem(err);
    if (id)
        lb_bind_integer(saver->put, 1, id);
    else
        lb_bind_null(saver->put, 1);
    lb_bind_integer(saver->put, 2, (int64_t)length);
    lb_bind_blob(saver->put, 3, saver->blob.text, saver->blob.length);
    return lb_run(saver->put, err);
}

static lb_status write_length(struct saver *saver, struct lb_store *store, size_t length,
                              struct lb_error *err)
{
    int64_t id;
    struct lb_buf *fresh = &saver->fresh[length], *words = &saver->words;
    lb_status status = take_up_last(saver, store, length, &id, err);
    if (status)
        return status;
    lb_buf_append(words, fresh->text, fresh->length);
    if (fresh->failed || words->failed)
        return lb_fail_nomem(err);
    size_t count = words->length / length, most = SPELLING_BLOB_MAX / (SPELLING_SIGNATURE + length);
    for (size_t i = 0; !status && i < count; i += most, id = 0) {
        pack(&saver->blob, words->text + i * length, count - i < most ? count - i : most, length);
        status = write_blob(saver, length, id, err);
    }
    return status;
}

lb_status lb_spelling_save(struct lb_store *store, const struct lb_spelt *words, size_t count,
                           struct lb_error *err)
{
    struct saver saver = {0};
    lb_status status = prepare(&saver, store, err);
    if (!status)
        status = count_words(&saver, words, count, err);
    for (size_t length = 2; !status && length <= LB_WORD_MAX; length++)
        if (saver.fresh[length].length || saver.fresh[length].failed)
            status = write_length(&saver, store, length, err);
    clean_up(&saver);
    return status;
}

lb_status lb_spelling_clear(struct lb_store *store, struct lb_error *err)
{
    return lb_store_execute(store, "DELETE FROM word; DELETE FROM spelling", err);
}
