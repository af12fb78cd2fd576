#include "base/decimal.h"
#include "base/money.h"
#include "basket/draft.h"
#include "basket/parcels.h"

enum { MOST_PADDED = 20000 }; /* minor units up to which surplus is looked for */

static int64_t parcel_price(const struct basket_problem *p, uint32_t s, int64_t goods, int64_t charge)
{
    const struct lb_supplier *supplier = &p->market->suppliers[s];
    const struct basket_conversion *conversion = &p->sellers[s].conversion;
    int64_t tax = supplier->tax > 0 ? lb_money_percent(goods + charge, supplier->tax) : 0;
    return basket_convert(goods, conversion) + basket_convert(charge, conversion) +
           basket_convert(tax, conversion);
}

/* The goods values worth reaching: those of rows and minimum at or above what is bought. */
struct target {
    int64_t goods, charge;
};

static bool next_target(const struct basket_problem *p, uint32_t s, int64_t goods, size_t *row,
                        struct target *out)
{
    const struct lb_supplier *supplier = &p->market->suppliers[s];
    int64_t floor = goods > supplier->minimum_order ? goods : supplier->minimum_order;
    if (!supplier->shipping_count) {
        *out = (struct target){floor, 0};
        return (*row)++ == 0;
    }
    for (; *row < supplier->shipping_count; (*row)++) {
        const struct lb_shipping *here = &supplier->shipping[*row];
        int64_t from = here->goods_from > floor ? here->goods_from : floor;
        if (basket_shipping_row(supplier, from) != here)
            continue;
        *out = (struct target){from, here->charge};
        (*row)++;
        return true;
    }
    return false;
}

/* Surplus packs of a supplier's that bring at least `gap`, with the least beyond it: sums that can be made,
 * each with the last offer that made it. False: they do not suffice. */
static bool pad(struct draft *d, uint32_t s, int64_t gap, int64_t *more, bool keep)
{
    static _Thread_local int32_t last[MOST_PADDED + 1];
    static _Thread_local int32_t before[MOST_PADDED + 1];
    const struct basket_problem *p = d->problem;
    int64_t best = INT64_MAX, best_from = 0;
    size_t best_offer = 0;
    if (gap > MOST_PADDED)
        return false;
    for (int64_t v = 0; v <= gap; v++)
        last[v] = -1;
    last[0] = -2;
    for (size_t i = 0; i < p->offer_count; i++) {
        const struct basket_offer *offer = &p->offers[i];
        if (offer->supplier != s || !d->wanted[offer->part] || offer->price <= 0 ||
            (!d->packs[i] && offer->low > 1))
            continue;
        int64_t room = d->packs[i] < offer->cover ? offer->high - offer->cover : offer->high - d->packs[i];
        for (int64_t k = 0; k < room; k++) {
            for (int64_t v = gap - 1; v >= 0; v--) {
                if (last[v] == -1)
                    continue;
                if (v + offer->price >= gap) {
                    if (v + offer->price < best) {
                        best = v + offer->price;
                        best_from = v;
                        best_offer = i;
                    }
                } else if (last[v + offer->price] == -1) {
                    last[v + offer->price] = (int32_t)i;
                    before[v + offer->price] = (int32_t)v;
                }
            }
        }
    }
    *more = best;
    if (best == INT64_MAX)
        return false;
    for (int64_t v = best_from; keep && v > 0; v = before[v])
        d->packs[last[v]]++;
    if (keep)
        d->packs[best_offer]++;
    return true;
}

/* As if surplus could be had to the cent, where there is enough of it. */
static int64_t surplus_room(const struct draft *d, uint32_t s)
{
    const struct basket_problem *p = d->problem;
    int64_t room = 0;
    for (size_t i = 0; i < p->offer_count; i++)
        if (p->offers[i].supplier == s && d->wanted[p->offers[i].part] && p->offers[i].high > d->packs[i])
            room += p->offers[i].price * lb_least(LB_SURPLUS_PACKS, p->offers[i].high - d->packs[i]);
    return room;
}

void draft_price_parcel(struct draft *d, uint32_t s, bool exactly)
{
    const struct basket_problem *p = d->problem;
    int64_t best = INT64_MAX, best_gap = 0, goods = d->goods[s], room = -1;
    struct target target;
    for (size_t row = 0; next_target(p, s, goods, &row, &target);) {
        int64_t gap = target.goods - goods, more = gap;
        if (gap && !p->sellers[s].thresholds)
            continue;
        if (gap && gap > p->sellers[s].worth)
            continue;
        if (gap && room < 0 && !exactly)
            room = surplus_room(d, s);
        if (gap && (exactly ? !pad(d, s, gap, &more, false) : gap > room))
            continue;
        const struct lb_shipping *reached = basket_shipping_row(&p->market->suppliers[s], goods + more);
        int64_t charge = exactly && reached ? reached->charge : target.charge;
        int64_t price = parcel_price(p, s, goods + more, charge);
        if (price >= best)
            continue;
        best = price;
        best_gap = gap;
    }
    d->faults += best == INT64_MAX;
    if (best == INT64_MAX)
        return;
    d->price += best;
    int64_t more;
    if (exactly && best_gap && pad(d, s, best_gap, &more, true))
        d->goods[s] += more;
}
