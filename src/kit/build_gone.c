/* What no catalogue lists any more and would have answered the lines that have nothing now. */
#include "catalog/partkey.h"
#include "kit/build.h"
#include "kit/former.h"

#include <stdlib.h>
#include <string.h>

static bool has_nothing(const struct lb_line *line)
{
    return !line->spare && line->decision == LB_BUY && line->chosen == LB_NO_NAME;
}

static void put_json_text(struct lb_buf *out, const char *text)
{
    lb_buf_putc(out, '"');
    for (; *text; text++)
        if (*text == '"' || *text == '\\' || (unsigned char)*text < ' ')
            lb_buf_printf(out, "\\u%04x", (unsigned char)*text);
        else
            lb_buf_putc(out, *text);
    lb_buf_putc(out, '"');
}

/* The part types of the lines that have nothing, as a JSON array; empty: there is none. */
static lb_status name_types(struct build *b, struct lb_buf *out)
{
    for (size_t i = 0; i < b->lines.count; i++) {
        if (!has_nothing(&b->lines.at[i].line))
            continue;
        lb_buf_putc(out, out->length ? ',' : '[');
        put_json_text(out, b->lines.at[i].line.need->article.part_type);
    }
    if (out->length)
        lb_buf_putc(out, ']');
    return out->failed ? lb_fail_nomem(b->err) : LB_OK;
}

static lb_status add_key(struct build *b, const struct mention *mention, struct lb_names *out)
{
    uint32_t id;
    lb_part_key(&b->scratch, mention->brand, mention->number);
    return !b->scratch.failed && lb_names_add(out, lb_buf_text(&b->scratch), &id) ? LB_OK
                                                                                  : lb_fail_nomem(b->err);
}

/* The keys of all parts that some catalogue lists, or listed, for the vehicle's make and model. */
static lb_status list_for_vehicle(struct build *b, struct lb_names *out)
{
    bool row;
    uint32_t id;
    struct mentions now = {0};
    lb_status status = build_mentions(b, build_query(b, QUERY_LISTED, NULL), &now);
    for (size_t i = 0; !status && i < now.count; i++)
        status = add_key(b, &now.at[i], out);
    free(now.at);
    struct lb_statement *st = status ? NULL : build_query(b, QUERY_LISTED_ONCE, "applications");
    if (!st)
        return b->err->status;
    while (!(status = lb_step(st, &row, b->err)) && row)
        if (build_for_vehicle(b, lb_text(st, 1), lb_text(st, 2)) && !lb_names_add(out, lb_text(st, 0), &id))
            break;
    lb_statement_reset(st);
    return status || !row ? status : lb_fail_nomem(b->err);
}

/* As line_candidates asks (build_candidates.c): by application, also a former one, by spec, fluids for any
 * vehicle. */
static bool would_do(const struct entry *entry, const struct line_build *line, bool spec_meets)
{
    const struct application *row;
    if (line->line.need->article.spec.kind != LB_SPEC_NONE && spec_meets)
        return true;
    if (build_own_fit(entry, line, &row) != LB_FIT_NO)
        return true;
    for (size_t i = 0; i < entry->former.count; i++)
        if (entry->former.at[i].applied)
            return true;
    return spec_meets && build_takes_any(line->line.need) && !lb_former_last(&entry->part, "applications");
}

/* Worth reading the part: the spec is right where specs count, or it is, or was, listed for the vehicle. */
static bool may_do(const struct lb_need *need, struct lb_statement *st, bool spec_meets,
                   const struct lb_names *for_vehicle)
{
    bool specs_count = need->article.spec.kind != LB_SPEC_NONE || build_takes_any(need);
    return strcmp(lb_text(st, 4), need->article.part_type) == 0 &&
           ((specs_count && spec_meets) || lb_names_find(for_vehicle, lb_text(st, 0)) != LB_NO_NAME);
}

static lb_status add_gone(struct build *b, struct line_build *line, struct lb_statement *st,
                          const struct lb_names *for_vehicle)
{
    uint32_t part;
    struct lb_line *l = &line->line;
    struct lb_spec offered = lb_spec_parse(lb_text(st, 3));
    bool meets = lb_spec_meets(&offered, &l->need->article.spec);
    if (l->gone_count == LB_GONE_SHOWN || !may_do(l->need, st, meets, for_vehicle))
        return LB_OK;
    lb_status status = build_part(b, lb_text(st, 0), lb_text(st, 1), lb_text(st, 2), &part);
    struct entry *entry = status ? NULL : b->parts.at[part];
    if (!status)
        status = build_former(b, entry);
    if (status || entry->part.part_type || !would_do(entry, line, meets))
        return status;
    for (size_t i = 0; i < l->gone_count; i++)
        if (l->gone[i] == &entry->part)
            return LB_OK;
    l->gone[l->gone_count++] = &entry->part;
    return LB_OK;
}

/* One way through all that is gone, for all lines that have nothing; the newest first. */
lb_status build_gone(struct build *b)
{
    bool row;
    struct lb_buf types = {0};
    struct lb_names for_vehicle = {0};
    struct lb_statement *st = NULL;
    lb_status status = name_types(b, &types);
    if (!status && types.length)
        status = list_for_vehicle(b, &for_vehicle);
    if (!status && types.length && !(st = build_query(b, QUERY_GONE, lb_buf_text(&types))))
        status = b->err->status;
    while (st && !status && !(status = lb_step(st, &row, b->err)) && row)
        for (size_t i = 0; !status && i < b->lines.count; i++)
            if (has_nothing(&b->lines.at[i].line))
                status = add_gone(b, &b->lines.at[i], st, &for_vehicle);
    if (st)
        lb_statement_reset(st);
    lb_names_free(&for_vehicle);
    lb_buf_free(&types);
    return status;
}
