/* A list as bytes and back. Head, records, words, where the fluid types and the platforms begin, texts; in
 * the order of bytes of the machine, so another machine's list does not pass for one of ours. Whatever does
 * not add up is no list: it can be made again. */
#include "base/fingerprint.h"
#include "garage/fitting_parts.h"

#include <stdlib.h>
#include <string.h>

enum { MAGIC = 0x3254464C /* "LFT2" */ };
#define NO_TEXT UINT32_MAX

struct head {
    uint64_t sum; /* of all that comes after it */
    uint32_t magic, parts, words, fluids, texts /* bytes */, platforms;
};

struct record {
    int64_t row;
    uint32_t key, asks; /* into the texts */
    uint32_t words, word_count;
    uint16_t position;
    uint8_t length, type_words;
    uint32_t fit; /* no byte is left to chance: the bytes are summed */
};

/* Behind this, in the same piece of memory: parts, fluid types, platforms, words, texts, the vehicle's name.
 */
struct lb_fitting {
    struct lb_shortlist list;
};

static uint32_t put_text(struct lb_buf *texts, const char *text)
{
    size_t at = texts->length;
    lb_buf_append(texts, text, strlen(text) + 1);
    if (at >= NO_TEXT)
        texts->failed = true;
    return (uint32_t)at;
}

static void put_part(const struct lb_listed_part *part, uint32_t words, struct lb_buf *out,
                     struct lb_buf *texts)
{
    const struct record record = {.row = part->row,
                                  .key = put_text(texts, part->key),
                                  .asks = part->asks ? put_text(texts, part->asks) : NO_TEXT,
                                  .words = words,
                                  .word_count = (uint32_t)part->word_count,
                                  .position = part->position,
                                  .length = part->length,
                                  .type_words = part->type_words,
                                  .fit = part->fit};
    lb_buf_append(out, (const char *)&record, sizeof record);
}

static void put_words(const struct lb_shortlist *list, struct lb_buf *out)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->parts[i].word_count)
            lb_buf_append(out, (const char *)list->parts[i].words,
                          list->parts[i].word_count * sizeof *list->parts[i].words);
}

static void put_names(const char *const *names, size_t count, struct lb_buf *out, struct lb_buf *texts)
{
    for (size_t i = 0; i < count; i++) {
        uint32_t at = put_text(texts, names[i]);
        lb_buf_append(out, (const char *)&at, sizeof at);
    }
}

lb_status fitting_pack(const struct lb_shortlist *list, struct lb_buf *out, struct lb_error *err)
{
    size_t begin = out->length, words = 0;
    struct lb_buf texts = {0};
    struct head head = {.magic = MAGIC,
                        .parts = (uint32_t)list->count,
                        .fluids = (uint32_t)list->fluid_type_count,
                        .platforms = (uint32_t)list->platform_count};
    lb_buf_append(out, (const char *)&head, sizeof head);
    for (size_t i = 0; i < list->count; words += list->parts[i++].word_count)
        put_part(&list->parts[i], (uint32_t)words, out, &texts);
    put_words(list, out);
    put_names(list->fluid_types, list->fluid_type_count, out, &texts);
    put_names(list->platforms, list->platform_count, out, &texts);
    if (texts.length)
        lb_buf_append(out, texts.text, texts.length);
    bool failed = out->failed || texts.failed || words > UINT32_MAX || list->count > UINT32_MAX;
    head.words = (uint32_t)words;
    head.texts = (uint32_t)texts.length;
    lb_buf_free(&texts);
    if (failed)
        return lb_fail_nomem(err);
    unsigned char *bytes = (unsigned char *)out->text + begin;
    memcpy(bytes, &head, sizeof head);
    head.sum = lb_fingerprint_of(bytes + sizeof head.sum, out->length - begin - sizeof head.sum);
    memcpy(bytes, &head, sizeof head);
    return LB_OK;
}

/* The pieces of a list's bytes. */
struct pieces {
    struct head head;
    const unsigned char *records, *words, *names /* fluid types, platforms */, *texts;
};

static bool take_apart(const unsigned char *bytes, size_t length, struct pieces *pieces)
{
    struct head *head = &pieces->head;
    if (length < sizeof *head)
        return false;
    memcpy(head, bytes, sizeof *head);
    uint64_t records = (uint64_t)head->parts * sizeof(struct record),
             words = (uint64_t)head->words * sizeof(struct lb_listed_word),
             names = ((uint64_t)head->fluids + head->platforms) * sizeof(uint32_t);
    if (head->magic != MAGIC || length - sizeof *head != records + words + names + head->texts ||
        head->sum != lb_fingerprint_of(bytes + sizeof head->sum, length - sizeof head->sum))
        return false;
    pieces->records = bytes + sizeof *head;
    pieces->words = pieces->records + records;
    pieces->names = pieces->words + words;
    pieces->texts = pieces->names + names;
    return !head->texts || bytes[length - 1] == '\0';
}

static struct lb_fitting *make_room(const struct pieces *pieces, const char *vehicle,
                                    struct lb_listed_part **parts, const char ***names,
                                    struct lb_listed_word **words, char **texts)
{
    const struct head *head = &pieces->head;
    size_t name = strlen(vehicle) + 1;
    uint64_t size = sizeof(struct lb_fitting) + (uint64_t)head->parts * sizeof **parts +
                    ((uint64_t)head->fluids + head->platforms) * sizeof **names +
                    (uint64_t)head->words * sizeof **words + head->texts + name;
    struct lb_fitting *fitting = size <= SIZE_MAX / 2 ? malloc((size_t)size) : NULL;
    if (!fitting)
        return NULL;
    *parts = (struct lb_listed_part *)(fitting + 1);
    *names = (const char **)(*parts + head->parts);
    *words = (struct lb_listed_word *)(*names + head->fluids + head->platforms);
    *texts = (char *)(*words + head->words);
    char *own_name = *texts + head->texts;
    memcpy(*words, pieces->words, head->words * sizeof **words);
    memcpy(*texts, pieces->texts, head->texts);
    memcpy(own_name, vehicle, name);
    fitting->list = (struct lb_shortlist){.parts = *parts,
                                          .count = head->parts,
                                          .vehicle = own_name,
                                          .fluid_types = *names,
                                          .fluid_type_count = head->fluids,
                                          .platforms = *names + head->fluids,
                                          .platform_count = head->platforms};
    return fitting;
}

/* The texts end with a NUL, so every place in them is the beginning of one that ends. */
static bool read_part(const struct pieces *pieces, size_t at, const struct lb_listed_word *words,
                      const char *texts, struct lb_listed_part *part)
{
    struct record record;
    const struct head *head = &pieces->head;
    memcpy(&record, pieces->records + at * sizeof record, sizeof record);
    if (record.key >= head->texts || (record.asks != NO_TEXT && record.asks >= head->texts) ||
        record.words > head->words || record.word_count > head->words - record.words ||
        (record.fit != LB_FIND_FITS && record.fit != LB_FIND_ASK))
        return false;
    *part = (struct lb_listed_part){.key = texts + record.key,
                                    .row = record.row,
                                    .fit = (enum lb_find_fit)record.fit,
                                    .asks = record.asks == NO_TEXT ? NULL : texts + record.asks,
                                    .position = record.position,
                                    .length = record.length,
                                    .type_words = record.type_words,
                                    .words = words + record.words,
                                    .word_count = record.word_count};
    return true;
}

static bool read_name(const struct pieces *pieces, size_t at, const char *texts, const char **name)
{
    uint32_t text;
    memcpy(&text, pieces->names + at * sizeof text, sizeof text);
    *name = texts + text;
    return text < pieces->head.texts;
}

lb_status fitting_unpack(struct lb_fitting **out, const void *bytes, size_t length, const char *vehicle,
                         struct lb_error *err)
{
    struct pieces pieces;
    struct lb_listed_part *parts;
    struct lb_listed_word *words;
    const char **names;
    char *texts;
    *out = NULL;
    if (!take_apart(bytes, length, &pieces))
        return LB_OK;
    struct lb_fitting *fitting = make_room(&pieces, vehicle, &parts, &names, &words, &texts);
    if (!fitting)
        return lb_fail_nomem(err);
    bool whole = true;
    for (size_t i = 0; whole && i < pieces.head.parts; i++)
        whole = read_part(&pieces, i, words, texts, &parts[i]);
    size_t name_count = (size_t)pieces.head.fluids + pieces.head.platforms;
    for (size_t i = 0; whole && i < name_count; i++)
        whole = read_name(&pieces, i, texts, &names[i]);
    if (whole)
        *out = fitting;
    else
        free(fitting);
    return LB_OK;
}

const struct lb_shortlist *lb_fitting_shortlist(const struct lb_fitting *fitting)
{
    return &fitting->list;
}

void lb_fitting_free(struct lb_fitting *fitting)
{
    free(fitting);
}
