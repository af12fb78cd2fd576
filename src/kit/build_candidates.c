/* Which parts could answer a line (formats.md §3, "Candidates"): by application, by spec, fluids for every
 * vehicle, boxes; then what may stand for them (build_substitutes.c). */
#include "base/decimal.h"
#include "kit/build.h"

#include <stdlib.h>
#include <string.h>

enum lb_fit build_own_fit(const struct entry *entry, const struct line_build *line,
                          const struct application **row)
{
    enum lb_fit fit = LB_FIT_YES;
    *row = NULL;
    if (!entry->applications.count)
        return LB_FIT_NO;
    for (int p = 0; p < line->position_count; p++) {
        const struct application *best = NULL;
        for (size_t i = 0; i < entry->applications.count; i++) {
            const struct application *a = &entry->applications.at[i];
            if (lb_position_match(a->position, line->positions[p]) && (!best || a->truth > best->truth))
                best = a;
        }
        enum lb_fit here = !best || best->truth == LB_FALSE ? LB_FIT_NO
                           : best->truth == LB_TRUE         ? LB_FIT_YES
                                                            : LB_FIT_ASK;
        if (here < fit || !*row) {
            *row = best ? best : &entry->applications.at[0];
            fit = here < fit ? here : fit;
        }
    }
    return fit;
}

/* An application's own quantity replaces the component's; hardware and fluids keep theirs. */
static int64_t quantity_of(const struct lb_need *need, const struct application *row)
{
    int64_t total = 0;
    if (!row || row->quantity < 0)
        return need->article.quantity;
    for (size_t i = 0; i < need->origin_count; i++)
        total += need->origins[i].kind == LB_FROM_COMPONENT ? row->quantity : need->origins[i].quantity;
    return total;
}

static bool stands_for_another(enum lb_via via)
{
    return via == LB_VIA_SAME || via == LB_VIA_INSTEAD || via == LB_VIA_SUCCESSOR;
}

lb_status build_add(struct build *b, struct line_build *line, struct lb_candidate candidate, uint32_t part,
                    uint32_t *added)
{
    const struct application *row;
    struct entry *entry = b->parts.at[part];
    if (added)
        *added = LB_NO_NAME;
    if (entry->seen == (uint32_t)line->line.number)
        return LB_OK;
    enum lb_fit own = build_own_fit(entry, line, &row);
    if (row && stands_for_another(candidate.via)) {
        if (own == LB_FIT_NO)
            return LB_OK; /* its own applications say otherwise */
        candidate.fit = own;
    }
    if (row && candidate.fit == LB_FIT_ASK && row->truth == LB_UNKNOWN)
        candidate.asks = row->asks;
    entry->seen = (uint32_t)line->line.number;
    candidate.part = &entry->part;
    if (!candidate.quantity)
        candidate.quantity = quantity_of(line->line.need, own == LB_FIT_NO ? NULL : row);
    bool sold_alike = !entry->part.part_type || entry->dimension == line->line.need->article.dimension ||
                      candidate.via == LB_VIA_BOX;
    candidate.eligible =
        sold_alike && (entry->part.live || (!entry->part.superseded && !entry->part.discontinued));
    if (added)
        *added = (uint32_t)line->candidates.count;
    return LB_PUSH(&line->candidates, candidate) ? LB_OK : lb_fail_nomem(b->err);
}

/* A part whose application hangs on a fact fits all the same when its spec is the one that the need states.
 */
static void make_sure(struct line_build *line, const struct lb_part *part, struct lb_place place)
{
    for (size_t i = 0; i < line->candidates.count; i++) {
        struct lb_candidate *candidate = &line->candidates.at[i];
        if (candidate->part != part || candidate->fit == LB_FIT_YES)
            continue;
        candidate->fit = LB_FIT_YES;
        candidate->via = LB_VIA_SPEC;
        candidate->asks = NULL;
        candidate->place = place;
    }
}

/* Nobody made it for one vehicle, so it fits any; but when the owner missed a piece and did not say its size,
 * one of some standard size is only perhaps the right one. */
static enum lb_fit fit_of_any(const struct lb_article *article, const struct lb_spec *offered)
{
    bool has_size = offered->kind != LB_SPEC_NONE && offered->kind != LB_SPEC_TEXT;
    bool open = article->dimension == LB_COUNT && article->spec.kind == LB_SPEC_NONE;
    return open && has_size ? LB_FIT_ASK : LB_FIT_YES;
}

/* Parts whose spec meets the need's, or (fluids without a spec) any. */
static lb_status by_spec(struct build *b, struct line_build *line, const struct mentions *finds,
                         enum lb_via via)
{
    lb_status status = LB_OK;
    const struct lb_need *need = line->line.need;
    for (size_t i = 0; !status && i < finds->count; i++) {
        uint32_t part;
        struct lb_spec offered = lb_spec_parse(finds->at[i].spec);
        if (!lb_spec_meets(&offered, &need->article.spec))
            continue;
        enum lb_fit fit =
            need->reason == LB_MISSED_BEFORE ? fit_of_any(&need->article, &offered) : LB_FIT_YES;
        status = build_part(b, finds->at[i].key, finds->at[i].brand, finds->at[i].number, &part);
        if (!status && via == LB_VIA_SPEC)
            make_sure(line, &b->parts.at[part]->part, finds->at[i].place);
        if (!status)
            status = build_add(b, line,
                               (struct lb_candidate){.fit = fit,
                                                     .via = via,
                                                     .through = LB_NO_NAME,
                                                     .place = finds->at[i].place,
                                                     .asks = fit == LB_FIT_ASK ? "its size" : NULL},
                               part, NULL);
    }
    return status;
}

static lb_status find_by_spec(struct build *b, struct line_build *line, struct mentions *finds)
{
    const struct lb_article *article = &line->line.need->article;
    lb_status status = build_mentions(b, build_query_type(b, article->part_type, &article->spec), finds);
    return status ? status : by_spec(b, line, finds, LB_VIA_SPEC);
}

bool build_content_meets(const struct build *b, const struct lb_content *content,
                         const struct line_build *line, bool *bare)
{
    const struct lb_article *article = &line->line.need->article;
    *bare = !content->item_part && content->spec.kind == LB_SPEC_NONE;
    if (strcmp(content->item_type, article->part_type) != 0)
        return false;
    if (*bare)
        return true;
    if (content->spec.kind != LB_SPEC_NONE && article->spec.kind != LB_SPEC_NONE)
        return lb_spec_meets(&content->spec, &article->spec);
    for (size_t i = 0; content->item_part && i < line->candidates.count; i++)
        if (strcmp(line->candidates.at[i].part->key, content->item_part) == 0)
            return true;
    if (content->item_part && article->spec.kind != LB_SPEC_NONE) {
        uint32_t part = lb_names_find(&b->part_keys, content->item_part);
        const struct entry *entry = part < b->parts.count ? b->parts.at[part] : NULL;
        return entry && entry->part.part_type && strcmp(entry->part.part_type, article->part_type) == 0 &&
               lb_spec_meets(&entry->part.spec, &article->spec);
    }
    return content->spec.kind != LB_SPEC_NONE; /* the need leaves it free */
}

/* A bare content ("a gasket") says too little to take the box for any gasket of the vehicle; a renewed
 * component's own part type says enough. */
static bool box_may_answer(const struct lb_need *need, bool bare)
{
    return !bare || need->reason == LB_TARGET;
}

static lb_status add_box(struct build *b, struct line_build *line, uint32_t part)
{
    const struct application *row;
    bool bare;
    const struct entry *entry = b->parts.at[part];
    enum lb_fit fit = build_own_fit(entry, line, &row);
    if (fit == LB_FIT_NO)
        return LB_OK;
    for (size_t i = 0; i < entry->contents.count; i++) {
        const struct lb_content *content = &entry->contents.at[i];
        if (!build_content_meets(b, content, line, &bare) || !box_may_answer(line->line.need, bare))
            continue;
        int64_t boxes = lb_decimal_ceil_div(line->line.need->article.quantity, content->quantity);
        return build_add(b, line,
                         (struct lb_candidate){.fit = fit,
                                               .via = LB_VIA_BOX,
                                               .through = LB_NO_NAME,
                                               .place = content->place,
                                               .quantity = boxes * LB_MILLION},
                         part, NULL);
    }
    return LB_OK;
}

static lb_status add_boxes(struct build *b, struct line_build *line, struct mentions *finds)
{
    lb_status status =
        build_mentions(b, build_query(b, QUERY_BOXES, line->line.need->article.part_type), finds);
    for (size_t i = 0; !status && i < finds->count; i++) {
        uint32_t part;
        status = build_part(b, finds->at[i].key, finds->at[i].brand, finds->at[i].number, &part);
        if (!status)
            status = add_box(b, line, part);
    }
    return status;
}

/* The parts of a type that no catalogue ties to a vehicle. */
static lb_status find_for_all(struct build *b, const char *part_type, struct mentions *finds)
{
    size_t kept = 0;
    lb_status status = build_mentions(b, build_query_type(b, part_type, NULL), finds);
    for (size_t i = 0; !status && i < finds->count; i++) {
        bool applies = false;
        struct lb_statement *st = build_query(b, QUERY_APPLIES, finds->at[i].key);
        status = st ? lb_step(st, &applies, b->err) : b->err->status;
        if (!applies)
            finds->at[kept++] = finds->at[i];
        if (st)
            lb_statement_reset(st);
    }
    finds->count = status ? 0 : kept;
    return status;
}

static lb_status line_candidates(struct build *b, struct line_build *line, struct mentions *finds)
{
    const struct lb_need *need = line->line.need;
    lb_status status = build_by_application(b, line);
    if (!status && need->article.spec.kind != LB_SPEC_NONE)
        status = find_by_spec(b, line, finds);
    if (!status && build_takes_any(need)) {
        status = find_for_all(b, need->article.part_type, finds);
        if (!status)
            status = by_spec(b, line, finds, LB_VIA_ANY);
    }
    if (!status)
        status = build_substitutes(b, line);
    /* Boxes come last: whether a numbered content answers the line depends on its other candidates. */
    return status ? status : add_boxes(b, line, finds);
}

lb_status build_candidates(struct build *b)
{
    struct mentions finds = {0};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < b->lines.count; i++)
        status = line_candidates(b, &b->lines.at[i], &finds);
    free(finds.at);
    return status ? status : build_refuse_loops(b);
}
