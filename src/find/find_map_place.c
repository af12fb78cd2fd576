/* Where the parts that a map led to come among those that titles led to. */
#include "find/finder.h"

#include <math.h>

/* Above titles that lack a word, even those on offer (find_order.c); below those that have all. */
static const double above = 1.05, below = 0.95;
static const double own_words = 0.01; /* of those: they tell what a map says from one another */

/* Has the title something for each slot? Scores it, if that was not done before. */
static lb_status look_at(struct search *search, struct candidate *candidate)
{
    struct lb_sighting sighting;
    struct lb_slot_score slots[LB_QUERY_WORDS];
    lb_status status = find_sight(search, candidate, &sighting);
    if (status)
        return status;
    double score = lb_rank(&search->ranker, &sighting, slots);
    if (candidate->words == 0)
        candidate->words = score;
    candidate->whole = true;
    for (int s = 0; s < search->query->slot_count; s++)
        candidate->whole &= slots[s].way >= 0;
    return LB_OK;
}

/* What a part that a map led to comes to: `partial` has the best title that lacks a word, `whole` the least
 * of those that lack none. */
static double aim_at(const struct search *search, double partial, double whole)
{
    double aim = partial > 0 ? partial * above : search->unique;
    return whole > partial ? fmin(aim, fmax(whole * below, sqrt(partial * whole))) : aim;
}

static bool any_mapped(const struct search *search)
{
    for (size_t i = 0; i < search->list.count; i++)
        if (search->list.at[i].as & FOUND_BY_MAP)
            return true;
    return false;
}

static void place(struct candidate *candidate, double aim)
{
    if (candidate->whole)
        candidate->extra = 0;
    else
        candidate->extra = fmax(aim - (1 - own_words) * candidate->words, 0);
}

lb_status find_place_mapped(struct search *search)
{
    double partial = 0, whole = HUGE_VAL;
    lb_status status = LB_OK;
    if (!any_mapped(search))
        return LB_OK;
    for (size_t i = 0; !status && i < search->list.count; i++) {
        struct candidate *candidate = &search->list.at[i];
        if (!(candidate->as & (FOUND_BY_WORDS | FOUND_BY_MAP)))
            continue;
        status = look_at(search, candidate);
        if (candidate->whole)
            whole = fmin(whole, candidate->words);
        else
            partial = fmax(partial, candidate->words);
    }
    double aim = aim_at(search, partial, whole);
    for (size_t i = 0; i < search->list.count; i++) {
        struct candidate *candidate = &search->list.at[i];
        if (candidate->as & FOUND_BY_MAP && candidate->extra_reason == candidate->note)
            place(candidate, aim);
    }
    return status;
}
