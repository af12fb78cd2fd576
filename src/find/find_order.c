/* The candidates scored whole and put in order: what was typed counts most, then whether a part can be had
 * and is current; with a vehicle, what fits comes first among what answers well. */
#include "find/finder.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DESCRIBED_MAX = 200, MORE = 16, NAMED_MAX = 3 };

static const double offered = 1.04, not_current = 0.9, unknown = 0.5;
static const double unlisted = 0.7; /* of the best answer: parts that no list knows a vehicle of */

static int by_points(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    double first = a->words + a->extra, second = b->words + b->extra;
    if (first != second)
        return first < second ? 1 : -1;
    return strcmp(a->key, b->key);
}

static int by_tier(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    return a->tier != b->tier ? a->tier - b->tier : by_points(left, right);
}

static int by_score(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    if (a->tier != b->tier)
        return a->tier - b->tier;
    if (a->score != b->score)
        return a->score < b->score ? 1 : -1;
    return strcmp(a->key, b->key);
}

static void sort(struct search *search, int (*order)(const void *, const void *))
{
    if (search->list.count > 1)
        qsort(search->list.at, search->list.count, sizeof *search->list.at, order);
}

/* What was not found by its words has some all the same. */
static lb_status add_words(struct search *search)
{
    struct lb_sighting sighting;
    lb_status status = LB_OK;
    size_t described = 0;
    sort(search, by_points);
    for (size_t i = 0; !status && i < search->list.count; i++) {
        struct candidate *candidate = &search->list.at[i];
        if (candidate->words > 0 || described++ > DESCRIBED_MAX + (size_t)search->request->limit)
            continue;
        status = find_describe(search, i);
        if (!status)
            status = find_sight(search, candidate, &sighting);
        if (!status)
            candidate->words = lb_rank(&search->ranker, &sighting, NULL);
    }
    sort(search, by_points);
    return status;
}

static lb_status finish(struct search *search, size_t index)
{
    struct candidate *candidate = &search->list.at[index];
    lb_status status = find_offers(search, candidate);
    if (!status)
        status = find_living(search, index);
    candidate->score = candidate->words + candidate->extra;
    if (candidate->priced)
        candidate->score *= offered;
    if ((candidate->superseded || candidate->discontinued) && !(candidate->as & FOUND_BY_NUMBER))
        candidate->score *= not_current;
    if (!candidate->row && !candidate->offered)
        candidate->score *= unknown; /* known by reference alone */
    return status;
}

/* What stands for a part that was typed comes behind it, however cheap it is and whatever its title says;
 * unless that part is known by reference alone. */
static void keep_behind(struct search *search)
{
    for (size_t i = 0; i < search->list.count; i++) {
        struct candidate *candidate = &search->list.at[i];
        for (size_t o = 0; candidate->behind && o < search->list.count; o++) {
            const struct candidate *other = &search->list.at[o];
            if (strcmp(other->key, candidate->behind) == 0 && (other->row || other->offered))
                candidate->score = fmin(candidate->score, other->score * candidate->behind_by);
        }
    }
}

static bool is_own(const struct candidate *candidate)
{
    return candidate->fit == LB_FIND_FITS || candidate->asks;
}

/* What fits, what hangs on a fact, what no list says, and what is for others; all of them first as far as
 * they answer well. */
static int tier_of(const struct candidate *candidate, double points, double best)
{
    enum { FITS, DEPENDS, UNLISTED, OTHERS, KINDS };
    int kind = candidate->fit == LB_FIND_FITS ? FITS
               : candidate->fit == LB_FIND_NO ? OTHERS
               : candidate->asks              ? DEPENDS
                                              : UNLISTED;
    bool well = points >= FIND_GOOD * best || candidate->as & FOUND_BY_DIMENSION;
    return well ? kind : KINDS + kind;
}

/* Whom the vehicle may have. Whether another list has a part takes a while to find out, so it is asked only
 * of those that answer well enough to be shown. The candidates stand in the order of their points. */
static lb_status judge(struct search *search, double *best)
{
    lb_status status = LB_OK;
    *best = 0;
    for (size_t i = 0; !status && i < search->list.count; i++) {
        struct candidate *candidate = &search->list.at[i];
        const struct lb_listed_part *part = find_listed(search, candidate->key);
        double points = candidate->words + candidate->extra;
        if (part)
            candidate->words *= find_place(search, part);
        if (part || search->request->all || points >= unlisted * *best)
            status = find_fit(search, candidate);
        points = candidate->words + candidate->extra;
        if ((candidate->fit != LB_FIND_NO || search->request->all) && points > *best)
            *best = points;
    }
    return status;
}

/* The number was typed, and the part is for others: it must not be missing without a word. */
static lb_status say_dropped(struct search *search, const struct candidate *candidate, int *said)
{
    bool typed = candidate->as & FOUND_BY_NUMBER && candidate->extra >= 2 * search->unique;
    if (!typed || ++*said > NAMED_MAX)
        return LB_OK;
    return find_say(search, &search->remarks, "%s %s is listed for other vehicles: --all shows it",
                    candidate->brand, candidate->number);
}

static lb_status drop_misfits(struct search *search)
{
    double best, best_other = 0;
    size_t kept = 0;
    int said = 0;
    lb_status status = judge(search, &best);
    for (size_t i = 0; !status && i < search->list.count; i++) {
        struct candidate *candidate = &search->list.at[i];
        double points = candidate->words + candidate->extra;
        candidate->tier = tier_of(candidate, points, best);
        bool answers = candidate->fit && points >= (is_own(candidate) ? FIND_WEAK : unlisted) * best;
        if (search->request->all || (answers && candidate->fit != LB_FIND_NO))
            search->list.at[kept++] = *candidate;
        else if (candidate->fit == LB_FIND_NO) {
            search->others = true;
            best_other = points > best_other ? points : best_other;
            status = say_dropped(search, candidate, &said);
        }
    }
    search->list.count = kept;
    if (!status && kept && !said && best < FIND_GOOD * best_other)
        status = find_say(search, &search->remarks,
                          "what answers best is listed for other vehicles: --all shows it");
    while (search->rest.count && search->rest.at[search->rest.count - 1].points < FIND_WEAK * best)
        search->rest.count--;
    sort(search, by_tier);
    return status;
}

/* Those of the vehicle's list that did not become candidates are parts that were found all the same. Beyond
 * a page that is full there may be more that no list says anything of. */
static void count_all(struct search *search)
{
    int64_t found = (int64_t)search->list.count;
    for (size_t i = 0; i < search->rest.count; i++)
        found += lb_names_find(&search->keys, search->rest.at[i].part->key) == LB_NO_NAME;
    bool own = search->request->shortlist && !search->request->all;
    if (own && search->list.count < (size_t)search->request->limit)
        search->total_least = false;
    if (own || search->total < found)
        search->total = found;
}

lb_status find_order(struct search *search)
{
    lb_status status = add_words(search);
    size_t shown = (size_t)search->request->limit;
    if (!status && search->request->shortlist)
        status = drop_misfits(search);
    if (status)
        return status;
    count_all(search);
    if (search->list.count > shown + MORE)
        search->list.count = shown + MORE;
    for (size_t i = 0; !status && i < search->list.count; i++)
        status = finish(search, i);
    if (status)
        return status;
    keep_behind(search);
    sort(search, by_score);
    if (search->list.count > shown)
        search->list.count = shown;
    return LB_OK;
}
