/* What the catalogues list for the vehicle, for all lines at once, and the candidates that come of it. */
#include "kit/build.h"

#include <stdlib.h>
#include <string.h>

static int by_type(const void *left, const void *right)
{
    const struct listed *a = left, *b = right;
    int order = strcmp(a->part_type, b->part_type);
    order = order ? order : strcmp(a->key, b->key);
    order = order ? order : strcmp(a->brand, b->brand);
    return order ? order : strcmp(a->number, b->number);
}

/* Under each type that a catalogue gives the part and a line asks for. */
static lb_status keep_listed(struct build *b, const struct mention *mention, const struct lb_names *types)
{
    bool row;
    struct lb_statement *st = build_query(b, QUERY_TYPES, mention->key);
    lb_status status = st ? LB_OK : b->err->status;
    while (!status && !(status = lb_step(st, &row, b->err)) && row) {
        struct listed listed = {.key = mention->key};
        if (lb_names_find(types, lb_text(st, 0)) == LB_NO_NAME)
            continue;
        status = build_text(b, lb_text(st, 0), &listed.part_type);
        if (!status)
            status = build_text(b, lb_text(st, 1), &listed.brand);
        if (!status)
            status = build_text(b, lb_text(st, 2), &listed.number);
        if (!status && !LB_PUSH(&b->listed, listed))
            status = lb_fail_nomem(b->err);
    }
    return status;
}

/* One query for all lines: what catalogues list for this make and model, kept where a line asks for its type.
 */
lb_status build_listed(struct build *b)
{
    struct lb_names types = {0}, seen = {0};
    struct mentions mentions = {0};
    uint32_t id;
    lb_status status = build_mentions(b, build_query(b, QUERY_LISTED, NULL), &mentions);
    for (size_t i = 0; !status && i < b->lines.count; i++)
        if (!lb_names_add(&types, b->lines.at[i].line.need->article.part_type, &id))
            status = lb_fail_nomem(b->err);
    for (size_t i = 0; !status && i < mentions.count; i++) {
        if (!lb_names_add(&seen, mentions.at[i].key, &id))
            status = lb_fail_nomem(b->err);
        else if (id + 1 == seen.count) /* not met before */
            status = keep_listed(b, &mentions.at[i], &types);
    }
    if (!status && b->listed.count)
        qsort(b->listed.at, b->listed.count, sizeof *b->listed.at, by_type);
    free(mentions.at);
    lb_names_free(&seen);
    lb_names_free(&types);
    return status;
}

static lb_status add_listed(struct build *b, struct line_build *line, const struct listed *listed)
{
    const struct application *row;
    uint32_t part;
    lb_status status = build_part(b, listed->key, listed->brand, listed->number, &part);
    if (status)
        return status;
    enum lb_fit fit = build_own_fit(b->parts.at[part], line, &row);
    if (fit == LB_FIT_NO)
        return LB_OK;
    struct lb_candidate candidate = {
        .fit = fit, .via = LB_VIA_APPLICATION, .through = LB_NO_NAME, .place = row->place};
    return build_add(b, line, candidate, part, NULL);
}

/* What is listed is sorted by part type: the line's own are one run of it. */
lb_status build_by_application(struct build *b, struct line_build *line)
{
    const char *type = line->line.need->article.part_type;
    size_t low = 0, high = b->listed.count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (strcmp(b->listed.at[middle].part_type, type) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    lb_status status = LB_OK;
    for (; !status && low < b->listed.count && strcmp(b->listed.at[low].part_type, type) == 0; low++)
        status = add_listed(b, line, &b->listed.at[low]);
    return status;
}
