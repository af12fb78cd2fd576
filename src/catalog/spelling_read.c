/* The words that titles have: how frequent, and which ones begin so. What could have been meant:
 * spelling_near.c. */
#include "catalog/spelling_pack.h"

#include <stdlib.h>
#include <string.h>

#define COUNT "SELECT titles FROM word WHERE word = ?1"
#define BEGIN                                                                                                \
    "SELECT word, titles FROM word WHERE word >= ?1 AND word < ?2 ORDER BY titles DESC, word LIMIT ?3"
#define BLOBS "SELECT length, words FROM spelling WHERE length BETWEEN ?1 AND ?2"

lb_status lb_spelling_open(struct lb_spelling **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_spelling *spelling = *out = calloc(1, sizeof *spelling);
    if (!spelling)
        return lb_fail_nomem(err);
    spelling->store = store;
    lb_status status = lb_store_prepare(store, &spelling->count, COUNT, err);
    if (!status)
        status = lb_store_prepare(store, &spelling->begin, BEGIN, err);
    if (!status)
        status = lb_store_prepare(store, &spelling->blobs, BLOBS, err);
    if (status) {
        lb_spelling_close(spelling);
        *out = NULL;
    }
    return status;
}

void lb_spelling_close(struct lb_spelling *spelling)
{
    if (!spelling)
        return;
    lb_statement_free(spelling->count);
    lb_statement_free(spelling->begin);
    lb_statement_free(spelling->blobs);
    free(spelling->near.at);
    free(spelling);
}

lb_status lb_spelling_count(struct lb_spelling *spelling, const char *word, size_t length, int64_t *titles,
                            struct lb_error *err)
{
    bool row;
    lb_bind_text_of(spelling->count, 1, word, length);
    lb_status status = lb_step(spelling->count, &row, err);
    *titles = !status && row ? lb_integer(spelling->count, 0) : 0;
    lb_statement_reset(spelling->count);
    return status;
}

static size_t letters_of(const char *word, size_t length)
{
    size_t letters = 0;
    int32_t point;
    for (size_t i = 0; i < length; letters++)
        i += spelling_point(word + i, length - i, &point);
    return letters;
}

static void fill(struct lb_spelling_word *out, const char *word, size_t length, int64_t titles)
{
    memcpy(out->word, word, length);
    out->word[length] = '\0';
    out->length = length;
    out->titles = titles;
    out->cost = 0;
}

/* One letter begins too much of the table to read it all: the word itself, if it is one. */
static lb_status itself(struct lb_spelling *spelling, const char *word, size_t length,
                        struct lb_spelling_word *out, size_t *count, struct lb_error *err)
{
    int64_t titles;
    lb_status status = lb_spelling_count(spelling, word, length, &titles, err);
    if (!status && titles) {
        fill(out, word, length, titles);
        *count = 1;
    }
    return status;
}

lb_status lb_spelling_completions(struct lb_spelling *spelling, const char *prefix, size_t length,
                                  struct lb_spelling_word *out, size_t most, size_t *count,
                                  struct lb_error *err)
{
    char end[LB_WORD_MAX + 1];
    bool row;
    lb_status status;
    *count = 0;
    if (!most || length < 1 || length > LB_WORD_MAX)
        return LB_OK;
    if (letters_of(prefix, length) < 2)
        return itself(spelling, prefix, length, out, count, err);
    memcpy(end, prefix, length);
    end[length] = '\xff'; /* which no UTF-8 has */
    lb_bind_text_of(spelling->begin, 1, prefix, length);
    lb_bind_text_of(spelling->begin, 2, end, length + 1);
    lb_bind_integer(spelling->begin, 3, (int64_t)most);
    while (!(status = lb_step(spelling->begin, &row, err)) && row) {
        const char *word = lb_text(spelling->begin, 0);
        size_t size = word ? strlen(word) : 0;
        if (size > LB_WORD_MAX) {
            lb_statement_reset(spelling->begin);
            return lb_store_refuse_damaged(spelling->store, err);
        }
        fill(&out[(*count)++], word, size, lb_integer(spelling->begin, 1));
    }
    return status;
}
