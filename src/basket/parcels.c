/* A parcel for each supplier and currency: goods, shipping, tax, deposits apart. Contract: formats.md §3,
 * "Buying". */
#include "basket/parcels.h"
#include "base/money.h"

#include <stdlib.h>
#include <string.h>

/* A line before it lies in its parcel. */
struct loose_line {
    const struct lb_market *market;
    uint32_t supplier;
    const char *currency;
    struct lb_parcel_line line;
};

static bool same_parcel(const struct loose_line *a, const struct loose_line *b)
{
    return a->supplier == b->supplier && strcmp(a->currency, b->currency) == 0;
}

static int compare_lines(const void *left, const void *right)
{
    const struct loose_line *a = left, *b = right;
    int order = basket_compare_suppliers(a->market, a->supplier, b->supplier);
    if (!order)
        order = strcmp(a->currency, b->currency);
    return order ? order : (a->line.item > b->line.item) - (a->line.item < b->line.item);
}

static size_t lay_out(const struct lb_market *market, const struct basket_choice *choices,
                      struct loose_line *loose)
{
    size_t count = 0;
    for (size_t i = 0; i < market->item_count; i++) {
        const struct basket_choice *choice = &choices[i];
        if (!choice->met || !choice->packs)
            continue;
        const struct lb_basket_offer *offer = &market->items[i].offers[choice->offer];
        loose[count++] = (struct loose_line){
            market,
            offer->supplier,
            offer->currency,
            {(uint32_t)i, choice->offer, choice->packs, choice->amount, choice->deposit},
        };
    }
    qsort(loose, count, sizeof *loose, compare_lines);
    return count;
}

static int64_t add_capped(int64_t a, int64_t b)
{
    int64_t sum;
    return __builtin_add_overflow(a, b, &sum) ? INT64_MAX : sum;
}

/* The row with the greatest goods_from not above the goods; of equal ones the first. */
static const struct lb_shipping *shipping_row(const struct lb_supplier *supplier, int64_t goods)
{
    const struct lb_shipping *best = NULL;
    for (size_t i = 0; i < supplier->shipping_count; i++) {
        const struct lb_shipping *row = &supplier->shipping[i];
        if (row->goods_from <= goods && (!best || row->goods_from > best->goods_from))
            best = row;
    }
    return best;
}

/* Charges and minimum are stated in the supplier's currency; a parcel in another has none that it could be
 * compared with. */
static void charge(struct lb_parcel *parcel, const struct lb_supplier *supplier)
{
    bool own_currency = strcmp(parcel->currency, supplier->currency) == 0;
    parcel->shipping_not_stated = !own_currency || !supplier->shipping_count;
    if (!parcel->shipping_not_stated) {
        const struct lb_shipping *row = shipping_row(supplier, parcel->goods);
        parcel->below_shipping = !row;
        parcel->shipping = row ? row->charge : 0;
    }
    parcel->below_minimum = own_currency && parcel->goods < supplier->minimum_order;
    int64_t taxed = add_capped(parcel->goods, parcel->shipping);
    parcel->tax = supplier->tax > 0 ? lb_money_percent(taxed, supplier->tax) : 0;
    parcel->total = add_capped(taxed, parcel->tax);
}

/* False: the parcel's sums would not fit, the line is left out. */
static bool put_in(struct lb_parcel *parcel, struct lb_parcel_line *lines, const struct lb_parcel_line *line)
{
    int64_t goods, deposits;
    if (__builtin_add_overflow(parcel->goods, line->amount, &goods) ||
        __builtin_add_overflow(parcel->deposits, line->deposit, &deposits))
        return false;
    parcel->goods = goods;
    parcel->deposits = deposits;
    lines[parcel->line_count++] = *line;
    return true;
}

static void add_total(struct lb_basket *basket, struct lb_basket_total *totals,
                      const struct lb_parcel *parcel)
{
    size_t at = 0;
    while (at < basket->total_count && strcmp(totals[at].currency, parcel->currency) < 0)
        at++;
    if (at == basket->total_count || strcmp(totals[at].currency, parcel->currency) != 0) {
        memmove(&totals[at + 1], &totals[at], (basket->total_count++ - at) * sizeof *totals);
        totals[at] = (struct lb_basket_total){.currency = parcel->currency};
    }
    totals[at].goods = add_capped(totals[at].goods, parcel->goods);
    totals[at].shipping = add_capped(totals[at].shipping, parcel->shipping);
    totals[at].tax = add_capped(totals[at].tax, parcel->tax);
    totals[at].deposits = add_capped(totals[at].deposits, parcel->deposits);
    totals[at].total = add_capped(totals[at].total, parcel->total);
}

/* One parcel from the lines that begin at `from`; returns where the next begins. */
static size_t wrap(const struct loose_line *loose, size_t from, size_t count, struct lb_parcel *parcel,
                   struct lb_parcel_line *lines, struct basket_choice *choices)
{
    size_t i = from;
    *parcel = (struct lb_parcel){
        .supplier = loose[from].supplier, .currency = loose[from].currency, .lines = lines};
    for (; i < count && same_parcel(&loose[i], &loose[from]); i++)
        if (!put_in(parcel, lines, &loose[i].line))
            choices[loose[i].line.item].met = false;
    charge(parcel, &loose[from].market->suppliers[parcel->supplier]);
    return i;
}

lb_status basket_parcels(struct basket_build *build, const struct lb_market *market,
                         struct basket_choice *choices, struct lb_error *err)
{
    size_t room = market->item_count + 1;
    struct loose_line *loose = calloc(room, sizeof *loose);
    struct lb_parcel_line *lines = lb_arena_alloc(&build->arena, room * sizeof *lines);
    struct lb_parcel *parcels = lb_arena_alloc(&build->arena, room * sizeof *parcels);
    struct lb_basket_total *totals = lb_arena_alloc(&build->arena, room * sizeof *totals);
    if (!loose || !lines || !parcels || !totals) {
        free(loose);
        return lb_fail_nomem(err);
    }
    struct lb_basket *basket = &build->basket;
    size_t count = lay_out(market, choices, loose);
    for (size_t i = 0; i < count;) {
        struct lb_parcel *parcel = &parcels[basket->parcel_count++];
        i = wrap(loose, i, count, parcel, lines, choices);
        lines += parcel->line_count;
        add_total(basket, totals, parcel);
    }
    basket->parcels = parcels;
    basket->totals = totals;
    free(loose);
    return LB_OK;
}
