/* What is handed out: the hits with their reasons. */
#include "find/finder.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

lb_status find_say(struct search *search, struct sentences *sentences, const char *format, ...)
{
    char *text = NULL;
    const char *kept;
    va_list arguments;
    va_start(arguments, format);
    int length = vasprintf(&text, format, arguments);
    va_end(arguments);
    if (length < 0)
        return lb_fail_nomem(search->err);
    lb_status status = find_keep(search, text, &kept);
    free(text);
    return status || LB_PUSH(&sentences->list, kept) ? status : lb_fail_nomem(search->err);
}

static const char *say_place(const struct lb_sighting *sighting, int place)
{
    return place == LB_PLACE_BRAND        ? "in the brand"
           : place < sighting->type_words ? "in the part type"
                                          : "in the description";
}

static void say_way(const struct lb_query *q, const struct lb_query_way *way, struct lb_buf *out)
{
    const char *typed = q->words[q->slots[way->slot].word].text;
    static const char *const verbs[] = {[LB_WAY_TYPED] = "",
                                        [LB_WAY_SYNONYM] = "means",
                                        [LB_WAY_SPLIT] = "written apart as",
                                        [LB_WAY_JOINED] = "and the next word as",
                                        [LB_WAY_COMPLETED] = "goes on as",
                                        [LB_WAY_REPAIRED] = "taken for"};
    if (way->kind == LB_WAY_TYPED)
        lb_buf_printf(out, "\"%s\"", typed);
    else
        lb_buf_printf(out, "\"%s\" %s \"%s\"", typed, verbs[way->kind], way->words);
}

typedef LB_VEC(struct lb_find_reason) reason_list;

static lb_status add_reason(struct search *search, reason_list *list, double points, const char *words)
{
    struct lb_find_reason reason = {.points = points};
    lb_status status = find_keep(search, words, &reason.words);
    if (!status && !LB_PUSH(list, reason))
        status = lb_fail_nomem(search->err);
    return status;
}

static lb_status add_slots(struct search *search, const struct candidate *candidate, reason_list *list)
{
    struct lb_sighting sighting;
    struct lb_slot_score slots[LB_QUERY_WORDS];
    struct lb_buf text = {0};
    lb_status status = find_sight(search, candidate, &sighting);
    if (!status)
        lb_rank(&search->ranker, &sighting, slots);
    for (int s = 0; !status && s < search->query->slot_count; s++) {
        if (slots[s].way < 0 || slots[s].points <= 0)
            continue;
        lb_buf_clear(&text);
        say_way(search->query, &search->query->ways[slots[s].way], &text);
        lb_buf_printf(&text, " %s", say_place(&sighting, slots[s].first_place));
        status =
            text.failed ? lb_fail_nomem(search->err) : add_reason(search, list, slots[s].points, text.text);
    }
    if (!status && sighting.opposed)
        status = add_reason(search, list, 0, "it may be for the opposite place");
    lb_buf_free(&text);
    return status;
}

static int by_points(const void *left, const void *right)
{
    const struct lb_find_reason *a = left, *b = right;
    int order = (a->points < b->points) - (a->points > b->points);
    return order ? order : strcmp(a->words, b->words);
}

static lb_status explain(struct search *search, const struct candidate *candidate, struct lb_find_hit *hit)
{
    reason_list list = {0};
    lb_status status = add_slots(search, candidate, &list);
    if (!status && candidate->extra_reason)
        status = add_reason(search, &list, candidate->extra, candidate->extra_reason);
    if (list.count > 1)
        qsort(list.at, list.count, sizeof *list.at, by_points);
    if (!status && candidate->priced)
        status = add_reason(search, &list, 0, "it is on offer");
    if (!status && (candidate->superseded || candidate->discontinued) && !(candidate->as & FOUND_BY_NUMBER))
        status = add_reason(search, &list, 0, "further down since it is not current");
    struct lb_find_reason *kept = lb_arena_alloc(search->arena, (list.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(search->err);
    if (!status && list.count)
        memcpy(kept, list.at, list.count * sizeof *kept);
    hit->reasons = kept;
    hit->reason_count = list.count;
    free(list.at);
    return status;
}

static struct lb_find_hit hit_of(const struct candidate *candidate)
{
    struct lb_find_hit hit = {.brand = candidate->brand,
                              .part_number = candidate->number,
                              .part_type = candidate->part_type,
                              .description = candidate->description,
                              .spec = candidate->spec,
                              .fit = candidate->fit,
                              .asks = candidate->asks,
                              .superseded = candidate->superseded,
                              .discontinued = candidate->discontinued,
                              .now = candidate->now,
                              .note = candidate->note,
                              .priced = candidate->priced,
                              .price = candidate->price,
                              .pack_quantity = candidate->pack_quantity,
                              .supplier = candidate->supplier,
                              .score = candidate->score};
    memcpy(hit.currency, candidate->currency, sizeof hit.currency);
    return hit;
}

static lb_status list_sentences(struct search *search, const struct sentences *sentences,
                                const char *const **out, size_t *count)
{
    const char **kept = lb_arena_alloc(search->arena, (sentences->list.count + 1) * sizeof *kept);
    if (!kept)
        return lb_fail_nomem(search->err);
    if (sentences->list.count)
        memcpy(kept, sentences->list.at, sentences->list.count * sizeof *kept);
    *out = kept;
    *count = sentences->list.count;
    return LB_OK;
}

lb_status find_finish(struct search *search, struct lb_find_result *result)
{
    size_t count = search->list.count;
    struct lb_find_hit *hits = lb_arena_alloc(search->arena, (count + 1) * sizeof *hits);
    lb_status status = hits ? LB_OK : lb_fail_nomem(search->err);
    for (size_t i = 0; !status && i < count; i++) {
        hits[i] = hit_of(&search->list.at[i]);
        status = explain(search, &search->list.at[i], &hits[i]);
    }
    result->hits = hits;
    result->hit_count = count;
    result->total = search->total;
    result->total_least = search->total_least;
    if (!status)
        status = list_sentences(search, &search->remarks, &result->remarks, &result->remark_count);
    return status ? status : list_sentences(search, &search->advice, &result->advice, &result->advice_count);
}
