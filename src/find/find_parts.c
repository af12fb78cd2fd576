/* Candidates and the rows that describe them. */
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "find/finder.h"

#include <string.h>

lb_status find_keep(struct search *search, const char *text, const char **out)
{
    *out = text ? lb_arena_text(search->arena, text, strlen(text)) : NULL;
    return text && !*out ? lb_fail_nomem(search->err) : LB_OK;
}

lb_status find_candidate(struct search *search, const char *key, const char *brand, const char *number,
                         struct candidate **out)
{
    uint32_t id;
    if (!lb_names_add(&search->keys, key, &id))
        return lb_fail_nomem(search->err);
    if (id < search->list.count) {
        *out = &search->list.at[id];
        return LB_OK;
    }
    struct candidate new = {0};
    lb_status status = find_keep(search, key, &new.key);
    if (!status)
        status = find_keep(search, brand, &new.brand);
    if (!status)
        status = find_keep(search, number, &new.number);
    if (!status && !LB_PUSH(&search->list, new))
        status = lb_fail_nomem(search->err);
    *out = status ? NULL : &search->list.at[id];
    return status;
}

/* The row at hand of one of the statements that read parts. */
static lb_status describe(struct search *search, struct lb_statement *st, struct candidate *candidate)
{
    const char *status_text = lb_text(st, 5);
    candidate->row = lb_integer(st, 6);
    candidate->discontinued = status_text && strcmp(status_text, "discontinued") == 0;
    lb_status status = find_keep(search, lb_text(st, 0), &candidate->brand);
    if (!status)
        status = find_keep(search, lb_text(st, 1), &candidate->number);
    if (!status)
        status = find_keep(search, lb_text(st, 2), &candidate->part_type);
    if (!status)
        status = find_keep(search, lb_text(st, 3), &candidate->description);
    return status ? status : find_keep(search, lb_text(st, 4), &candidate->spec);
}

/* The part key of the row at hand. */
static lb_status read_key(struct search *search, struct lb_statement *st)
{
    lb_status status = lb_need_texts(st, 0, 2, search->err);
    if (status)
        return status;
    lb_part_key(&search->finder->key, lb_text(st, 0), lb_text(st, 1));
    return search->finder->key.failed ? lb_fail_nomem(search->err) : LB_OK;
}

lb_status find_row(struct search *search, int64_t row, struct candidate **out)
{
    struct lb_statement *st = search->finder->part;
    bool there;
    *out = NULL;
    lb_bind_integer(st, 1, row);
    lb_status status = lb_step(st, &there, search->err);
    if (!status && there)
        status = read_key(search, st);
    if (!status && there)
        status =
            find_candidate(search, lb_buf_text(&search->finder->key), lb_text(st, 0), lb_text(st, 1), out);
    if (!status && there && !(*out)->row)
        status = describe(search, st, *out);
    lb_statement_reset(st);
    return status;
}

lb_status find_describe(struct search *search, size_t index)
{
    struct lb_finder *f = search->finder;
    struct candidate *candidate = &search->list.at[index];
    bool there = true;
    if (candidate->row)
        return LB_OK;
    lb_status status = lb_lookup_part(f->lookup, candidate->key, &f->ids, search->err);
    if (status)
        return status;
    lb_bind_text(f->parts, 1, lb_buf_text(&f->ids));
    while (!candidate->row && !(status = lb_step(f->parts, &there, search->err)) && there) {
        status = read_key(search, f->parts);
        if (!status && strcmp(lb_buf_text(&f->key), candidate->key) == 0)
            status = describe(search, f->parts, candidate);
        if (status)
            break;
    }
    lb_statement_reset(f->parts);
    return status;
}

lb_status find_sight(struct search *search, const struct candidate *candidate, struct lb_sighting *out)
{
    struct lb_title title;
    lb_status status =
        lb_title_read(search->finder->tools.titles, candidate->part_type, candidate->description,
                      candidate->spec, candidate->brand, &title, search->err);
    if (!status)
        lb_sight_title(search->query, &title, out);
    return status;
}
