/* What the parcels' charges made of the basket: packs that would bring a cheaper row of shipping, and surplus
 * that did. */
#include "basket/reasons_parts.h"

#include "base/decimal.h"

#include <stdlib.h>

/* The first row above the goods that costs less than what is charged; NULL: none does. */
static const struct lb_shipping *cheaper_row(const struct lb_market *market, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &market->suppliers[parcel->supplier];
    const struct lb_shipping *best = NULL;
    for (size_t i = 0; i < supplier->shipping_count; i++) {
        const struct lb_shipping *row = &supplier->shipping[i];
        if (row->goods_from > parcel->goods && row->charge < parcel->shipping &&
            (!best || row->goods_from < best->goods_from))
            best = row;
    }
    return best;
}

/* The most packs of an offer that may be bought: what its part may need, and surplus. */
static int64_t most_packs(const struct basket_problem *problem, uint32_t part, uint32_t index)
{
    const struct basket_goods *goods = &problem->goods[part];
    int64_t stock = problem->market->parts[part].offers[index].stock;
    for (size_t i = goods->first; i < goods->first + goods->count; i++) {
        const struct basket_offer *offer = &problem->offers[i];
        if (offer->offer != index)
            continue;
        int64_t most = offer->cover + LB_SURPLUS_PACKS;
        return stock >= 0 && stock < most ? stock : most;
    }
    return 0;
}

/* One line's packs to a row; false: it cannot be reached with so few, or not with what is there. */
static bool reach(const struct basket_change *change, const struct lb_parcel *parcel,
                  const struct lb_parcel_line *line, const struct lb_shipping *row, int64_t *packs)
{
    if (line->price <= 0)
        return false;
    *packs = lb_decimal_ceil_div(row->goods_from - parcel->goods, line->price);
    return *packs <= LB_SURPLUS_PACKS &&
           line->packs + *packs <= most_packs(change->problem, line->part, line->offer);
}

static lb_status one_more(struct basket_change *change, const struct lb_parcel *parcel,
                          struct lb_one_more *out, bool *found, struct lb_error *err)
{
    const struct lb_shipping *row = cheaper_row(change->market, parcel);
    lb_status status = LB_OK;
    *found = false;
    for (size_t i = 0; row && !status && i < parcel->line_count; i++) {
        const struct lb_parcel_line *line = &parcel->lines[i];
        int64_t packs;
        if (!reach(change, parcel, line, row, &packs) || (*found && packs > out->packs))
            continue;
        change_reset(change);
        *change_packs(change, line->part, line->offer) += packs;
        status = change_price(change, err);
        int64_t dearer = change->total - change->basket->total.total;
        if (status || (*found && packs == out->packs && dearer >= out->dearer))
            continue;
        *out = (struct lb_one_more){parcel->supplier, line->part, line->offer, packs, 0, dearer};
        *found = true;
        /* More may have been reached than was aimed at. */
        out->charge = basket_shipping_row(&change->market->suppliers[parcel->supplier],
                                          parcel->goods + packs * line->price)
                          ->charge;
    }
    return status;
}

lb_status reasons_one_more(struct reasons_build *build, struct basket_change *change, struct lb_error *err)
{
    const struct lb_basket *basket = change->basket;
    struct lb_one_more *all = lb_arena_alloc(&build->arena, (basket->parcel_count + 1) * sizeof *all);
    lb_status status = all ? LB_OK : lb_fail_nomem(err);
    build->reasons.one_more = all;
    for (size_t i = 0; !status && i < basket->parcel_count; i++) {
        bool found;
        status = one_more(change, &basket->parcels[i], &all[build->reasons.one_more_count], &found, err);
        build->reasons.one_more_count += !status && found;
    }
    return status;
}

/* Thins one purchase of the basket and looks what that would have cost. */
static lb_status surplus(struct basket_change *change, size_t purchase, struct lb_surplus *out, bool *found,
                         struct lb_error *err)
{
    change_reset(change);
    struct basket_purchase *p = &change->solution.purchases[purchase];
    int64_t before = p->packs;
    *found = false;
    if (!change_suffices(change))
        return LB_OK; /* it was never whole */
    change_thin(change, purchase);
    if (p->packs == before)
        return LB_OK;
    lb_status status = change_price(change, err);
    *out = (struct lb_surplus){p->part, p->offer, before - p->packs, -1};
    if (change->holds)
        out->saves = change->total - change->basket->total.total;
    *found = !status && (!change->holds || out->saves > 0);
    return status;
}

static int compare_surplus(const void *left, const void *right)
{
    const struct lb_surplus *a = left, *b = right;
    if (a->part != b->part)
        return a->part < b->part ? -1 : 1;
    return (a->offer > b->offer) - (a->offer < b->offer);
}

lb_status reasons_surplus(struct reasons_build *build, struct basket_change *change, struct lb_error *err)
{
    change_reset(change);
    size_t lines = change->solution.purchase_count, count = 0;
    struct lb_surplus *all = lb_arena_alloc(&build->arena, (lines + 1) * sizeof *all);
    lb_status status = all ? LB_OK : lb_fail_nomem(err);
    for (size_t i = 0; !status && i < lines; i++) {
        bool found;
        status = surplus(change, i, &all[count], &found, err);
        count += !status && found;
    }
    if (!status && count)
        qsort(all, count, sizeof *all, compare_surplus);
    build->reasons.surplus = all;
    build->reasons.surplus_count = count;
    return status;
}
