/* A parcel for each supplier: goods, shipping, tax, deposits apart. Contract: formats.md §3, "Buying". */
#include "basket/parcels.h"

#include "base/money.h"
#include "basket/conversion.h"

#include <stdlib.h>
#include <string.h>

/* A line before it lies in its parcel. */
struct loose_line {
    const struct lb_market *market;
    uint32_t supplier;
    struct lb_parcel_line line;
};

static int compare_lines(const void *left, const void *right)
{
    const struct loose_line *a = left, *b = right;
    int order = basket_compare_suppliers(a->market, a->supplier, b->supplier);
    if (!order)
        order = (a->line.part > b->line.part) - (a->line.part < b->line.part);
    return order ? order : (a->line.offer > b->line.offer) - (a->line.offer < b->line.offer);
}

static int64_t add_capped(int64_t a, int64_t b)
{
    int64_t sum;
    return __builtin_add_overflow(a, b, &sum) ? INT64_MAX : sum;
}

int basket_compare_suppliers(const struct lb_market *market, uint32_t a, uint32_t b)
{
    int order = strcmp(market->suppliers[a].name, market->suppliers[b].name);
    return order ? order : (a > b) - (a < b);
}

int64_t basket_days(const struct lb_market *market, const struct lb_basket_offer *offer)
{
    int64_t ship = market->suppliers[offer->supplier].ship_days;
    return add_capped(ship > 0 ? ship : 0, offer->lead_days > 0 ? offer->lead_days : 0);
}

const struct lb_shipping *basket_shipping_row(const struct lb_supplier *supplier, int64_t goods)
{
    const struct lb_shipping *best = NULL;
    for (size_t i = 0; i < supplier->shipping_count; i++) {
        const struct lb_shipping *row = &supplier->shipping[i];
        if (row->goods_from <= goods && (!best || row->goods_from > best->goods_from))
            best = row;
    }
    return best;
}

static bool lay_line(const struct lb_market *market, const struct basket_purchase *purchase,
                     struct loose_line *loose)
{
    const struct lb_basket_offer *offer = &market->parts[purchase->part].offers[purchase->offer];
    struct basket_conversion conversion;
    *loose = (struct loose_line){
        market, offer->supplier, {purchase->part, purchase->offer, purchase->packs, 0, 0, 0}};
    struct lb_parcel_line *line = &loose->line;
    if (!basket_pack_price(market, offer, &line->price) ||
        !basket_find_conversion(market, offer->currency, market->suppliers[offer->supplier].currency,
                                &conversion))
        return false;
    int64_t deposit = basket_convert(offer->deposit > 0 ? offer->deposit : 0, &conversion);
    return !__builtin_mul_overflow(line->packs, line->price, &line->amount) &&
           !__builtin_mul_overflow(line->packs, deposit, &line->deposit);
}

/* Charges and minimum are stated in the supplier's currency, and so is the parcel. */
static void charge(struct lb_parcel *parcel, const struct lb_supplier *supplier)
{
    const struct lb_shipping *row = basket_shipping_row(supplier, parcel->goods);
    parcel->shipping_not_stated = !supplier->shipping_count;
    parcel->below_shipping = supplier->shipping_count && !row;
    parcel->shipping = row ? row->charge : 0;
    parcel->below_minimum = parcel->goods < supplier->minimum_order;
    int64_t taxed = add_capped(parcel->goods, parcel->shipping);
    parcel->tax = supplier->tax > 0 ? lb_money_percent(taxed, supplier->tax) : 0;
    parcel->total = add_capped(taxed, parcel->tax);
}

static void put_in(struct lb_parcel *parcel, const struct loose_line *loose)
{
    const struct lb_market *market = loose->market;
    const struct lb_basket_offer *offer = &market->parts[loose->line.part].offers[loose->line.offer];
    int64_t days = basket_days(market, offer);
    parcel->goods = add_capped(parcel->goods, loose->line.amount);
    parcel->deposits = add_capped(parcel->deposits, loose->line.deposit);
    parcel->days = days > parcel->days ? days : parcel->days;
    parcel->days_not_stated |= offer->lead_days < 0 || market->suppliers[offer->supplier].ship_days < 0;
    parcel->stock_not_stated |= offer->stock < 0;
}

static void add_total(struct lb_basket_total *total, const struct lb_parcel *parcel,
                      const struct basket_conversion *conversion)
{
    int64_t goods = basket_convert(parcel->goods, conversion),
            shipping = basket_convert(parcel->shipping, conversion),
            tax = basket_convert(parcel->tax, conversion);
    total->goods = add_capped(total->goods, goods);
    total->shipping = add_capped(total->shipping, shipping);
    total->tax = add_capped(total->tax, tax);
    total->deposits = add_capped(total->deposits, basket_convert(parcel->deposits, conversion));
    total->total = add_capped(total->total, add_capped(goods, add_capped(shipping, tax)));
}

static void add_totals(struct lb_basket *basket, struct lb_basket_total *totals,
                       const struct lb_market *market, struct lb_parcel *parcel)
{
    static const struct basket_conversion same = {1, 1, NULL};
    struct basket_conversion conversion;
    size_t at = 0;
    while (at < basket->total_count && strcmp(totals[at].currency, parcel->currency) < 0)
        at++;
    if (at == basket->total_count || strcmp(totals[at].currency, parcel->currency) != 0) {
        memmove(&totals[at + 1], &totals[at], (basket->total_count++ - at) * sizeof *totals);
        totals[at] = (struct lb_basket_total){.currency = parcel->currency};
    }
    add_total(&totals[at], parcel, &same);
    if (basket_find_conversion(market, parcel->currency, market->currency, &conversion)) {
        parcel->rate = conversion.rate;
        add_total(&basket->total, parcel, &conversion);
    }
}

/* One parcel from the lines that begin at `from`; returns where the next begins. */
static size_t wrap(const struct loose_line *loose, size_t from, size_t count, struct lb_parcel *parcel,
                   struct lb_parcel_line *lines)
{
    const struct lb_supplier *supplier = &loose[from].market->suppliers[loose[from].supplier];
    size_t i = from;
    *parcel =
        (struct lb_parcel){.supplier = loose[from].supplier, .currency = supplier->currency, .lines = lines};
    for (; i < count && loose[i].supplier == parcel->supplier; i++) {
        put_in(parcel, &loose[i]);
        lines[parcel->line_count++] = loose[i].line;
    }
    charge(parcel, supplier);
    return i;
}

static lb_status wrap_all(struct basket_build *build, const struct lb_market *market,
                          const struct loose_line *loose, size_t count, struct lb_error *err)
{
    struct lb_basket *basket = &build->basket;
    struct lb_parcel_line *lines = lb_arena_alloc(&build->arena, (count + 1) * sizeof *lines);
    struct lb_parcel *parcels = lb_arena_alloc(&build->arena, (count + 1) * sizeof *parcels);
    struct lb_basket_total *totals = lb_arena_alloc(&build->arena, (count + 1) * sizeof *totals);
    if (!lines || !parcels || !totals)
        return lb_fail_nomem(err);
    basket->total.currency = market->currency;
    for (size_t i = 0; i < count;) {
        struct lb_parcel *parcel = &parcels[basket->parcel_count++];
        i = wrap(loose, i, count, parcel, lines);
        lines += parcel->line_count;
        add_totals(basket, totals, market, parcel);
        basket->days = parcel->days > basket->days ? parcel->days : basket->days;
        if (parcel->total == INT64_MAX || parcel->deposits == INT64_MAX || basket->total.total == INT64_MAX)
            return lb_fail(err, LB_DATA, "%s: the amounts of one parcel are more than can be counted.",
                           market->suppliers[parcel->supplier].label);
    }
    basket->parcels = parcels;
    basket->totals = totals;
    return LB_OK;
}

lb_status basket_parcels(struct basket_build *build, const struct lb_market *market,
                         const struct basket_purchase *purchases, size_t count, struct lb_error *err)
{
    struct loose_line *loose = calloc(count + 1, sizeof *loose);
    size_t laid = 0;
    lb_status status = loose ? LB_OK : lb_fail_nomem(err);
    for (size_t i = 0; !status && i < count; i++) {
        if (!purchases[i].packs)
            continue;
        if (!lay_line(market, &purchases[i], &loose[laid++]))
            status = lb_fail(
                err, LB_DATA, "%s: a line's amount is more than can be counted.",
                market->suppliers[market->parts[purchases[i].part].offers[purchases[i].offer].supplier]
                    .label);
    }
    if (!status && laid)
        qsort(loose, laid, sizeof *loose, compare_lines);
    if (!status)
        status = wrap_all(build, market, loose, laid, err);
    free(loose);
    return status;
}
