/* What a draft costs: parts bought where they are cheapest, parcels priced as they will be. */
#include "base/decimal.h"
#include "basket/draft.h"

#include <string.h>

/* The pinned plan, else the cheapest whose suppliers are allowed. */
static const struct draft_plan *plan_of(struct draft *d, uint32_t part)
{
    const struct draft_list *list = draft_list(d, part, d->wanted[part]);
    if (d->pins[part] < list->count)
        return draft_plan_allowed(d, &list->plans[d->pins[part]]) ? &list->plans[d->pins[part]] : NULL;
    for (size_t i = 0; i < list->count; i++)
        if (draft_plan_allowed(d, &list->plans[i]))
            return &list->plans[i];
    return NULL;
}

/* The few plans of the list may all want a closed supplier: packs from whoever is cheapest a unit, one after
 * the other. */
static bool buy_somehow(struct draft *d, uint32_t part)
{
    const struct basket_problem *p = d->problem;
    const struct basket_goods *goods = &p->goods[part];
    int64_t left = d->wanted[part];
    while (left > 0) {
        size_t best = SIZE_MAX;
        double best_cost = 0;
        for (size_t i = goods->first; i < goods->first + goods->count; i++) {
            const struct basket_offer *offer = &p->offers[i];
            int64_t packs = lb_least(lb_decimal_ceil_div(left, offer->pack), offer->high);
            packs = packs > offer->low ? packs : offer->low;
            double cost = (double)packs * (double)offer->price * d->dear[offer->supplier] /
                          (double)lb_least(left, packs * offer->pack);
            if (!d->allowed[offer->supplier] || d->packs[i] || (best != SIZE_MAX && cost >= best_cost))
                continue;
            best = i;
            best_cost = cost;
        }
        if (best == SIZE_MAX)
            return false;
        const struct basket_offer *offer = &p->offers[best];
        int64_t packs = lb_least(lb_decimal_ceil_div(left, offer->pack), offer->high);
        d->packs[best] = packs > offer->low ? packs : offer->low;
        d->goods[offer->supplier] += d->packs[best] * offer->price;
        d->sends[offer->supplier] = true;
        left -= d->packs[best] * offer->pack;
    }
    return true;
}

static void buy(struct draft *d, uint32_t part)
{
    if (!d->wanted[part])
        return;
    const struct draft_plan *plan = plan_of(d, part);
    if (!plan) {
        d->faults += !buy_somehow(d, part);
        return;
    }
    for (int i = 0; i < DRAFT_OFFERS; i++) {
        if (!plan->packs[i])
            continue;
        const struct basket_offer *offer = &d->problem->offers[plan->offers[i]];
        d->packs[plan->offers[i]] += plan->packs[i];
        d->goods[offer->supplier] += plan->packs[i] * offer->price;
        d->sends[offer->supplier] = true;
    }
}

static int parcels_too_many(const struct draft *d)
{
    int parcels = 0, limit = d->problem->limits->parcels;
    for (size_t s = 0; s < d->problem->market->supplier_count; s++)
        parcels += d->sends[s];
    return limit > 0 && parcels > limit ? parcels - limit : 0;
}

void draft_price(struct draft *d, bool exactly)
{
    const struct basket_problem *p = d->problem;
    d->faults = 0;
    d->price = 0;
    memset(d->goods, 0, p->market->supplier_count * sizeof *d->goods);
    memset(d->sends, 0, p->market->supplier_count * sizeof *d->sends);
    memset(d->packs, 0, p->offer_count * sizeof *d->packs);
    draft_want(d);
    for (uint32_t part = 0; part < p->market->part_count; part++)
        buy(d, part);
    d->faults += parcels_too_many(d);
    for (uint32_t s = 0; s < p->market->supplier_count; s++)
        if (d->sends[s])
            draft_price_parcel(d, s, exactly);
    d->possible = !d->faults;
}
