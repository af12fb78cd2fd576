#include "basket/change.h"

#include <stdlib.h>
#include <string.h>

static size_t count_lines(const struct lb_basket *basket)
{
    size_t count = 0;
    for (size_t i = 0; i < basket->parcel_count; i++)
        count += basket->parcels[i].line_count;
    return count;
}

lb_status change_open(struct basket_change *change, const struct basket_problem *problem,
                      const struct lb_basket *basket, struct lb_arena *arena, struct lb_error *err)
{
    const struct basket_build *build = (const struct basket_build *)basket; /* its first member */
    const struct lb_market *market = problem->market;
    struct basket_solution *solution = &change->solution;
    *change = (struct basket_change){.market = market, .problem = problem, .basket = basket};
    solution->cover_count = build->cover_count;
    size_t room = count_lines(basket) + problem->offer_count + 1;
    solution->purchases = lb_arena_alloc(arena, room * sizeof *solution->purchases);
    solution->options = lb_arena_alloc(arena, (market->need_count + 1) * sizeof *solution->options);
    solution->covers = lb_arena_alloc(arena, (solution->cover_count + 1) * sizeof *solution->covers);
    if (!solution->purchases || !solution->options || !solution->covers)
        return lb_fail_nomem(err);
    if (solution->cover_count)
        memcpy(solution->covers, build->covers, solution->cover_count * sizeof *solution->covers);
    change_reset(change);
    return basket_ledger(&change->ledger, market, solution, arena, err);
}

void change_reset(struct basket_change *change)
{
    const struct lb_basket *basket = change->basket;
    const uint32_t *options = ((const struct basket_build *)basket)->options;
    struct basket_solution *solution = &change->solution;
    solution->purchase_count = 0;
    for (size_t i = 0; i < basket->parcel_count; i++) {
        for (size_t l = 0; l < basket->parcels[i].line_count; l++) {
            const struct lb_parcel_line *line = &basket->parcels[i].lines[l];
            solution->purchases[solution->purchase_count++] =
                (struct basket_purchase){line->part, line->offer, line->packs};
        }
    }
    for (size_t n = 0; n < change->market->need_count; n++)
        solution->options[n] = options ? options[n] : basket->answers[n].option;
    change->ledger.without = UINT32_MAX;
}

int64_t *change_packs(struct basket_change *change, uint32_t part, uint32_t offer)
{
    struct basket_solution *solution = &change->solution;
    size_t i = 0;
    while (i < solution->purchase_count &&
           (solution->purchases[i].part != part || solution->purchases[i].offer != offer))
        i++;
    if (i == solution->purchase_count)
        solution->purchases[solution->purchase_count++] = (struct basket_purchase){part, offer, 0};
    return &solution->purchases[i].packs;
}

bool change_suffices(struct basket_change *change)
{
    change->ledger.solution = &change->solution;
    return basket_settle(&change->ledger);
}

void change_thin(struct basket_change *change, size_t purchase)
{
    struct basket_purchase *p = &change->solution.purchases[purchase];
    int64_t low = change->market->parts[p->part].offers[p->offer].minimum_packs, high = p->packs;
    low = low > 1 ? low : 1;
    p->packs = 0;
    if (change_suffices(change))
        return;
    while (low < high) { /* high suffices */
        p->packs = low + (high - low) / 2;
        if (change_suffices(change))
            high = p->packs;
        else
            low = p->packs + 1;
    }
    p->packs = high;
}

/* What a unit costs, in the market's currency; to compare by. */
static double unit_cost(const struct basket_change *change, const struct basket_purchase *purchase)
{
    const struct lb_market *market = change->market;
    const struct lb_basket_offer *offer = &market->parts[purchase->part].offers[purchase->offer];
    struct basket_conversion conversion;
    int64_t price;
    if (!basket_pack_price(market, offer, &price) ||
        !basket_find_conversion(market, market->suppliers[offer->supplier].currency, market->currency,
                                &conversion))
        return 0;
    return (double)price * (double)conversion.times / (double)conversion.by / (double)offer->pack;
}

/* The dearest purchase of a part that costs less than `below`, or as much and stands after *at; false: none
 * is left. */
static bool next_dearest(const struct basket_change *change, uint32_t part, double *below, size_t *at)
{
    size_t best = SIZE_MAX;
    double best_cost = 0;
    for (size_t i = 0; i < change->solution.purchase_count; i++) {
        if (change->solution.purchases[i].part != part)
            continue;
        double cost = unit_cost(change, &change->solution.purchases[i]);
        bool due = *at == SIZE_MAX || cost < *below || (cost <= *below && i > *at);
        if (!due || (best != SIZE_MAX && cost <= best_cost))
            continue;
        best = i;
        best_cost = cost;
    }
    *at = best;
    *below = best_cost;
    return best != SIZE_MAX;
}

void change_thin_part(struct basket_change *change, uint32_t part)
{
    double below = 0;
    size_t at = SIZE_MAX;
    while (next_dearest(change, part, &below, &at))
        change_thin(change, at);
}

lb_status change_price(struct basket_change *change, struct lb_error *err)
{
    struct basket_build build = {0};
    const struct lb_market *market = change->market;
    const struct basket_solution *solution = &change->solution;
    int most = change->problem->limits->parcels;
    lb_status status = basket_parcels(&build, market, solution->purchases, solution->purchase_count, err);
    change->holds =
        basket_parcels_hold(&build.basket) && (most <= 0 || build.basket.parcel_count <= (size_t)most);
    change->total = build.basket.total.total;
    change->price = change->total + basket_premium(market, solution->options);
    lb_arena_free(&build.arena);
    return status;
}
