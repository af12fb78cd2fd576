/* The row of `parts` that describes each part of the list: of several, the first by source and line. And the
 * words of its title. */
#include "base/hash.h"
#include "catalog/lookup.h"
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "catalog/title.h"
#include "garage/fitting_parts.h"

#include <stdlib.h>
#include <string.h>

enum { AT_ONCE = 256 }; /* parts whose rows are read with one question */

/* Appends the parts' ids to a JSON array that is still open. */
static lb_status look_up(struct making *m, struct lb_lookup *lookup, const char *key, struct lb_buf *ids,
                         struct lb_buf *all)
{
    lb_status status = lb_lookup_part(lookup, key, ids, m->err);
    if (status || ids->length <= 2) /* "[]" */
        return status;
    lb_buf_putc(all, all->length ? ',' : '[');
    lb_buf_append(all, ids->text + 1, ids->length - 2);
    return LB_OK;
}

enum { ROW_ID, ROW_BRAND, ROW_NUMBER, ROW_TYPE, ROW_DESCRIPTION, ROW_SPEC };

/* A number may have been looked up whose row is gone or is another part's by now. */
static struct lb_listed_part *part_of(struct making *m, struct lb_statement *st)
{
    lb_part_key(&m->scratch, lb_text(st, ROW_BRAND), lb_text(st, ROW_NUMBER));
    uint32_t node = lb_names_find(&m->keys, lb_buf_text(&m->scratch));
    return node == LB_NO_NAME || m->nodes.at[node].part == LB_NO_NAME ? NULL
                                                                      : &m->parts.at[m->nodes.at[node].part];
}

static lb_status read_part(struct making *m, struct lb_titles *titles, struct lb_statement *st,
                           struct lb_listed_part *part)
{
    struct lb_title title;
    part->row = lb_integer(st, ROW_ID);
    lb_status status = lb_title_read(titles, lb_text(st, ROW_TYPE), lb_text(st, ROW_DESCRIPTION),
                                     lb_text(st, ROW_SPEC), lb_text(st, ROW_BRAND), &title, m->err);
    if (status)
        return status;
    struct lb_listed_word *words = lb_arena_alloc(&m->arena, (size_t)title.count * sizeof *words);
    if (!words)
        return lb_fail_nomem(m->err);
    for (int i = 0; i < title.count; i++)
        words[i] = (struct lb_listed_word){
            (uint32_t)lb_hash(LB_HASH_START, title.words[i].stem, title.words[i].length),
            title.words[i].place};
    part->words = words;
    part->word_count = (size_t)title.count;
    part->length = (uint8_t)title.length;
    part->type_words = (uint8_t)title.type_words;
    return LB_OK;
}

static lb_status read_some(struct making *m, struct lb_titles *titles, struct lb_statement *st,
                           const char *ids)
{
    bool row;
    lb_status status;
    lb_bind_text(st, 1, ids);
    while (!(status = lb_step(st, &row, m->err)) && row) {
        if ((status = lb_need_texts(st, ROW_BRAND, 2, m->err)))
            break;
        struct lb_listed_part *part = part_of(m, st);
        if (m->scratch.failed) {
            status = lb_fail_nomem(m->err);
            break;
        }
        if (part && !part->row && (status = read_part(m, titles, st, part)))
            break;
    }
    lb_statement_reset(st);
    return status;
}

static lb_status read_all(struct making *m, struct lb_lookup *lookup, struct lb_titles *titles,
                          struct lb_statement *st)
{
    struct lb_buf ids = {0}, all = {0};
    lb_status status = LB_OK;
    for (size_t first = 0; !status && first < m->parts.count; first += AT_ONCE) {
        lb_buf_clear(&all);
        for (size_t i = first; !status && i < m->parts.count && i < first + AT_ONCE; i++)
            status = look_up(m, lookup, m->parts.at[i].key, &ids, &all);
        if (status || !all.length)
            continue;
        lb_buf_putc(&all, ']');
        status = all.failed ? lb_fail_nomem(m->err) : read_some(m, titles, st, all.text);
    }
    lb_buf_free(&ids);
    lb_buf_free(&all);
    return status;
}

/* From a key to its place in the list. */
static void number_parts(struct making *m)
{
    for (size_t i = 0; i < m->nodes.count; i++)
        m->nodes.at[i].part = LB_NO_NAME;
    for (size_t i = 0; i < m->parts.count; i++)
        m->nodes.at[lb_names_find(&m->keys, m->parts.at[i].key)].part = (uint32_t)i;
}

lb_status fitting_rows(struct making *m)
{
    struct lb_lookup *lookup = NULL;
    struct lb_titles *titles = NULL;
    struct lb_statement *st = NULL;
    if (!m->parts.count)
        return LB_OK;
    number_parts(m);
    lb_status status = lb_lookup_open(&lookup, m->store, m->err);
    if (!status)
        status = lb_titles_open(&titles, m->store, m->err);
    if (!status)
        status = lb_store_prepare(
            m->store, &st,
            "SELECT r.id, r.brand, r.part_number, r.part_type, r.description, r.spec" LB_PLACED_AMONG("parts")
                LB_IN_ORDER,
            m->err);
    if (!status)
        status = read_all(m, lookup, titles, st);
    lb_statement_free(st);
    lb_titles_close(titles);
    lb_lookup_close(lookup);
    return status;
}
