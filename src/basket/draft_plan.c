/* How a part is bought: one offer, one filled up by a second (a pack of ten and two singles, or what somebody
 * has left), or two filled up by a third. */
#include "base/decimal.h"
#include "basket/draft.h"

/* Adds packs of an offer to a plan: the last one fills up, the others as many whole packs as fit. What is
 * left to buy comes back; -1: the offer is of no use here. */
static int64_t add(const struct draft *d, struct draft_plan *plan, int slot, size_t index, int64_t left,
                   bool last)
{
    const struct basket_offer *offer = &d->problem->offers[index];
    int64_t packs = last ? lb_decimal_ceil_div(left, offer->pack) : left / offer->pack;
    packs = last ? packs : lb_least(packs, offer->high);
    packs = last && packs < offer->low ? offer->low : packs;
    if (packs < offer->low || packs > offer->high)
        return -1;
    plan->offers[slot] = index;
    plan->packs[slot] = packs;
    plan->cost += (double)packs * (double)offer->price * d->dear[offer->supplier];
    return left - packs * offer->pack;
}

/* Into the list by cost, where the dearest gives way; of equal ones the earlier stays. */
static void keep(struct draft_list *list, const struct draft_plan *plan)
{
    size_t at = list->count;
    if (at == DRAFT_PLANS && plan->cost >= list->plans[at - 1].cost)
        return;
    at = at == DRAFT_PLANS ? at - 1 : list->count++;
    for (; at && list->plans[at - 1].cost > plan->cost; at--)
        list->plans[at] = list->plans[at - 1];
    list->plans[at] = *plan;
}

static size_t filler(const struct draft *d, const struct basket_goods *goods, int64_t left, size_t a,
                     size_t b)
{
    size_t best = SIZE_MAX;
    double best_cost = 0;
    for (size_t i = goods->first; i < goods->first + goods->count; i++) {
        struct draft_plan plan = {0};
        if (i == a || i == b)
            continue;
        add(d, &plan, 0, i, left, true);
        if (!plan.packs[0] || (best != SIZE_MAX && plan.cost >= best_cost))
            continue;
        best = i;
        best_cost = plan.cost;
    }
    return best;
}

static void begin_with(struct draft *d, struct draft_list *list, const struct basket_goods *goods, size_t i)
{
    struct draft_plan whole = {0}, first = {0};
    add(d, &whole, 0, i, list->quantity, true);
    if (whole.packs[0])
        keep(list, &whole);
    int64_t left = add(d, &first, 0, i, list->quantity, false);
    for (size_t k = goods->first; left > 0 && k < goods->first + goods->count; k++) {
        struct draft_plan pair = first, triple = first;
        if (k == i)
            continue;
        add(d, &pair, 1, k, left, true);
        if (pair.packs[1]) {
            keep(list, &pair);
            continue;
        }
        int64_t rest = add(d, &triple, 1, k, left, false);
        size_t third = rest > 0 ? filler(d, goods, rest, i, k) : SIZE_MAX;
        if (third == SIZE_MAX)
            continue;
        add(d, &triple, 2, third, rest, true);
        keep(list, &triple);
    }
}

const struct draft_list *draft_list(struct draft *draft, uint32_t part, int64_t quantity)
{
    struct draft_list *list = &draft->lists[part];
    const struct basket_goods *goods = &draft->problem->goods[part];
    if (list->quantity == quantity)
        return list;
    list->quantity = quantity;
    list->count = 0;
    draft->pins[part] = UINT32_MAX;
    for (size_t i = goods->first; i < goods->first + goods->count; i++)
        begin_with(draft, list, goods, i);
    return list;
}

bool draft_plan_allowed(const struct draft *draft, const struct draft_plan *plan)
{
    for (int i = 0; i < DRAFT_OFFERS; i++)
        if (plan->packs[i] && !draft->allowed[draft->problem->offers[plan->offers[i]].supplier])
            return false;
    return true;
}
