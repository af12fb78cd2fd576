#include "importers/lexicon.h"

#include "base/arena.h"
#include "base/text.h"
#include "base/vec.h"
#include "importers/csv_reader.h"
#include "importers/recast.h"

#include <stdlib.h>
#include <string.h>

struct lb_lexicon {
    struct lb_arena texts;
    LB_VEC(struct lb_lexicon_entry) entries;
};

/* Marks of languages that write others than ASCII has. */
static size_t mark(const char *p)
{
    static const char *const marks[] = {"\u00A0", "\u2019", "\u2010", "\u2013", "\u2014", "\u30FB",
                                        "\u3001", "\u3002", "\u00B0", "\u00AB", "\u00BB", "\u00B7"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (strncmp(p, marks[i], strlen(marks[i])) == 0)
            return strlen(marks[i]);
    return 0;
}

void lb_lexicon_key(struct lb_buf *out, const char *heading)
{
    struct lb_buf folded = {0};
    lb_text_fold(&folded, heading);
    for (const char *p = lb_buf_text(&folded); *p;) {
        size_t skip = mark(p);
        bool kept =
            !skip && ((*p >= 'a' && *p <= 'z') || (*p >= '0' && *p <= '9') || (unsigned char)*p >= 0x80);
        if (kept)
            lb_buf_putc(out, *p);
        p += skip ? skip : 1;
    }
    out->failed |= folded.failed;
    lb_buf_free(&folded);
}

static int compare(const void *a, const void *b)
{
    return strcmp(((const struct lb_lexicon_entry *)a)->key, ((const struct lb_lexicon_entry *)b)->key);
}

static lb_status add(struct lb_lexicon *lexicon, const struct lb_csv_record *record, struct lb_error *err)
{
    struct lb_buf key = {0};
    const char *texts[6];
    lb_lexicon_key(&key, record->cells[1]);
    for (int i = 0; i < 6; i++) {
        const char *text = i < 5 ? record->cells[i] : lb_buf_text(&key);
        texts[i] = lb_arena_text(&lexicon->texts, text, strlen(text));
    }
    struct lb_lexicon_entry entry = {texts[5], texts[0], texts[1],    texts[2],
                                     texts[3], texts[4], record->line};
    bool kept = !key.failed && LB_PUSH(&lexicon->entries, entry);
    for (int i = 0; i < 6; i++)
        kept = kept && texts[i];
    lb_buf_free(&key);
    return kept ? LB_OK : lb_fail_nomem(err);
}

static lb_status read_entries(struct lb_lexicon *lexicon, struct lb_csv *csv, struct lb_error *err)
{
    struct lb_csv_record record;
    lb_status status = lb_csv_next(csv, &record, err);
    lb_csv_expect(csv, 5);
    while (!status) {
        status = lb_csv_next(csv, &record, err);
        if (status || record.line == 0)
            break;
        if (record.fault)
            return lb_fail_at(err, "lexicon.csv", record.line, record.column, "%s", record.fault);
        status = add(lexicon, &record, err);
    }
    if (!status)
        qsort(lexicon->entries.at, lexicon->entries.count, sizeof *lexicon->entries.at, compare);
    return status;
}

lb_status lb_lexicon_open(struct lb_lexicon **out, struct lb_error *err)
{
    struct lb_bytes *bytes = NULL;
    struct lb_csv *csv = NULL;
    struct lb_lexicon *lexicon = *out = calloc(1, sizeof *lexicon);
    if (!lexicon)
        return lb_fail_nomem(err);
    lb_status status = lb_bytes_open_memory(&bytes, lb_lexicon_text, strlen(lb_lexicon_text), err);
    if (!status)
        status = lb_csv_open(&csv, bytes, ',', err);
    if (!status)
        status = read_entries(lexicon, csv, err);
    lb_csv_free(csv);
    lb_bytes_close(bytes);
    if (status) {
        lb_lexicon_free(lexicon);
        *out = NULL;
    }
    return status;
}

static const struct lb_lexicon_entry *find_key(const struct lb_lexicon *lexicon, const char *key)
{
    struct lb_lexicon_entry wanted = {.key = key};
    if (!*key || !lexicon->entries.count)
        return NULL;
    return bsearch(&wanted, lexicon->entries.at, lexicon->entries.count, sizeof wanted, compare);
}

const struct lb_lexicon_entry *lb_lexicon_find(const struct lb_lexicon *lexicon, const char *heading)
{
    struct lb_buf key = {0};
    lb_lexicon_key(&key, heading);
    const struct lb_lexicon_entry *entry = find_key(lexicon, lb_buf_text(&key));
    lb_buf_free(&key);
    return entry;
}

/* "preis (" and "price in" have done without what follows. */
static void drop_joint(struct lb_buf *key)
{
    if (key->length > 2 && strcmp(key->text + key->length - 2, "in") == 0)
        key->text[key->length -= 2] = '\0';
}

const struct lb_lexicon_entry *lb_lexicon_find_priced(const struct lb_lexicon *lexicon, const char *heading,
                                                      struct lb_buf *code)
{
    struct lb_buf plain = {0}, key = {0};
    const struct lb_lexicon_entry *entry = NULL;
    for (const char *p = heading; *p; p++) /* brackets and slashes as blanks */
        lb_buf_putc(&plain, strchr("()[]/:,", *p) ? ' ' : *p);
    size_t from = 0, length = strlen(lb_buf_text(&plain));
    while (length && plain.text[length - 1] == ' ')
        length--;
    size_t whole = length;
    if (!plain.failed && !lb_recast_currency(code, lb_buf_text(&plain), &from, &length, NULL, 0, NULL) &&
        length < whole && from == 0) {
        plain.text[length] = '\0';
        lb_lexicon_key(&key, plain.text);
        entry = find_key(lexicon, lb_buf_text(&key));
        drop_joint(&key);
        entry = entry ? entry : find_key(lexicon, lb_buf_text(&key));
    }
    if (entry && strncmp(entry->field, "price", 5) != 0 && strcmp(entry->field, "core_deposit") != 0)
        entry = NULL;
    lb_buf_free(&plain);
    lb_buf_free(&key);
    return entry;
}

const struct lb_lexicon_entry *lb_lexicon_at(const struct lb_lexicon *lexicon, size_t index)
{
    return index < lexicon->entries.count ? &lexicon->entries.at[index] : NULL;
}

void lb_lexicon_free(struct lb_lexicon *lexicon)
{
    if (!lexicon)
        return;
    lb_arena_free(&lexicon->texts);
    free(lexicon->entries.at);
    free(lexicon);
}
