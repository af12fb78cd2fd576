#include "basket/basket.h"
#include "base/arena.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/vec.h"

#include <stdlib.h>
#include <string.h>

/* Amounts stay below this, so that sums of any kit's lines cannot overflow. */
#define AMOUNT_MAX (INT64_MAX / 1000000)

struct owned_basket {
    struct lb_basket basket; /* first: what is handed out */
    struct lb_arena arena;
};

/* A parcel while it fills. */
struct draft {
    struct lb_parcel parcel;
    LB_VEC(struct lb_parcel_line) lines;
};

struct run {
    const struct lb_market *market;
    struct owned_basket *owned;
    struct lb_error *err;
    LB_VEC(struct draft) drafts;
    LB_VEC(uint32_t) unmet;
};

static int64_t scale_of(const char *currency)
{
    int64_t scale = 1;
    for (int digits = lb_currency_digits(currency); digits > 0; digits--)
        scale *= 10;
    return scale;
}

/* How many units of the market's currency one unit of `currency` is, in millionths; 0: no rate leads there. A rate that is
 * stated the other way round is turned. */
static int64_t rate_of(const struct lb_market *market, const char *currency)
{
    if (strcmp(currency, market->currency) == 0)
        return LB_MILLION;
    for (size_t i = 0; i < market->rate_count; i++)
        if (strcmp(market->rates[i].currency, currency) == 0 && strcmp(market->rates[i].in, market->currency) == 0)
            return market->rates[i].rate;
    for (size_t i = 0; i < market->rate_count; i++)
        if (strcmp(market->rates[i].in, currency) == 0 && strcmp(market->rates[i].currency, market->currency) == 0)
            return lb_decimal_muldiv(LB_MILLION, LB_MILLION, market->rates[i].rate);
    return 0;
}

bool lb_basket_cost(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                    int64_t *packs, int64_t *cost)
{
    int64_t rate = rate_of(market, offer->currency);
    *packs = lb_decimal_ceil_div(quantity, offer->pack);
    if (*packs < offer->minimum_packs)
        *packs = offer->minimum_packs;
    int64_t amount = lb_decimal_muldiv(*packs, offer->price, 1);
    if (!rate || amount > AMOUNT_MAX || (offer->stock >= 0 && offer->stock < *packs))
        return false;
    /* minor units × rate (millionths) are millionths of a minor unit of the same scale; then the scales are matched */
    *cost = lb_decimal_muldiv(amount, rate, 1);
    *cost = lb_decimal_muldiv(*cost, scale_of(market->currency), scale_of(offer->currency));
    return *cost < INT64_MAX;
}

/* The cheapest offer of an item, or NULL; ties by supplier name, then as they come. */
static const struct lb_basket_offer *cheapest(const struct lb_market *market, const struct lb_basket_item *item,
                                              int64_t *packs)
{
    const struct lb_basket_offer *best = NULL;
    int64_t best_cost = 0, cost, here;
    for (size_t i = 0; i < item->offer_count; i++) {
        const struct lb_basket_offer *offer = &item->offers[i];
        if (!lb_basket_cost(market, offer, item->quantity, &here, &cost))
            continue;
        if (best && (cost > best_cost ||
                     (cost == best_cost && strcmp(market->suppliers[offer->supplier].name,
                                                  market->suppliers[best->supplier].name) >= 0)))
            continue;
        best = offer;
        best_cost = cost;
        *packs = here;
    }
    return best;
}

static struct draft *parcel_from(struct run *run, uint32_t supplier, const char *currency)
{
    for (size_t i = 0; i < run->drafts.count; i++)
        if (run->drafts.at[i].parcel.supplier == supplier && strcmp(run->drafts.at[i].parcel.currency, currency) == 0)
            return &run->drafts.at[i];
    struct draft draft = {.parcel = {.supplier = supplier, .currency = currency}};
    return LB_PUSH(&run->drafts, draft) ? &run->drafts.at[run->drafts.count - 1] : NULL;
}

static lb_status place_item(struct run *run, uint32_t index)
{
    const struct lb_basket_item *item = &run->market->items[index];
    int64_t packs = 0;
    const struct lb_basket_offer *offer = cheapest(run->market, item, &packs);
    if (!offer)
        return LB_PUSH(&run->unmet, index) ? LB_OK : lb_fail_nomem(run->err);
    struct lb_parcel_line line = {index, (uint32_t)(offer - item->offers), packs, packs * offer->price,
                                  lb_decimal_muldiv(packs, offer->deposit, 1)};
    struct draft *draft = parcel_from(run, offer->supplier, offer->currency);
    if (!draft || !LB_PUSH(&draft->lines, line))
        return lb_fail_nomem(run->err);
    draft->parcel.goods += line.amount;
    draft->parcel.deposits += line.deposit;
    return LB_OK;
}

/* The shipping row with the greatest goods_from that the goods reach; rows are in a currency of the supplier's. */
static void ship(const struct lb_market *market, struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &market->suppliers[parcel->supplier];
    bool found = false;
    parcel->shipping_not_stated = !supplier->shipping_count || strcmp(supplier->currency, parcel->currency) != 0;
    for (size_t i = 0; i < supplier->shipping_count && !parcel->shipping_not_stated; i++) {
        if (supplier->shipping[i].goods_from > parcel->goods)
            continue;
        parcel->shipping = supplier->shipping[i].charge;
        found = true;
    }
    parcel->below_shipping = !parcel->shipping_not_stated && !found;
}

static void finish_parcel(const struct lb_market *market, struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &market->suppliers[parcel->supplier];
    ship(market, parcel);
    parcel->tax = lb_money_percent(parcel->goods + parcel->shipping, supplier->tax);
    parcel->total = parcel->goods + parcel->shipping + parcel->tax;
    parcel->below_minimum = supplier->minimum_order >= 0 && parcel->goods < supplier->minimum_order;
}

static int by_supplier(const void *a, const void *b, void *context)
{
    const struct lb_market *market = context;
    const struct lb_parcel *p = &((const struct draft *)a)->parcel, *q = &((const struct draft *)b)->parcel;
    int order = strcmp(market->suppliers[p->supplier].name, market->suppliers[q->supplier].name);
    return order ? order : strcmp(p->currency, q->currency);
}

static lb_status hand_out_parcels(struct run *run)
{
    struct lb_parcel *parcels = lb_arena_alloc(&run->owned->arena, (run->drafts.count + 1) * sizeof *parcels);
    if (!parcels)
        return lb_fail_nomem(run->err);
    if (run->drafts.count)
        qsort_r(run->drafts.at, run->drafts.count, sizeof *run->drafts.at, by_supplier, (void *)run->market);
    for (size_t i = 0; i < run->drafts.count; i++) {
        struct draft *draft = &run->drafts.at[i];
        size_t size = draft->lines.count * sizeof *draft->lines.at;
        struct lb_parcel_line *lines = lb_arena_alloc(&run->owned->arena, size);
        if (!lines)
            return lb_fail_nomem(run->err);
        memcpy(lines, draft->lines.at, size);
        finish_parcel(run->market, &draft->parcel);
        parcels[i] = draft->parcel;
        parcels[i].lines = lines;
        parcels[i].line_count = draft->lines.count;
    }
    run->owned->basket.parcels = parcels;
    run->owned->basket.parcel_count = run->drafts.count;
    return LB_OK;
}

static struct lb_basket_total *total_in(struct lb_basket_total *totals, size_t *count, const char *currency)
{
    for (size_t i = 0; i < *count; i++)
        if (strcmp(totals[i].currency, currency) == 0)
            return &totals[i];
    totals[*count] = (struct lb_basket_total){.currency = currency};
    return &totals[(*count)++];
}

static int by_code(const void *a, const void *b)
{
    return strcmp(((const struct lb_basket_total *)a)->currency, ((const struct lb_basket_total *)b)->currency);
}

static lb_status hand_out_totals(struct run *run)
{
    struct lb_basket *basket = &run->owned->basket;
    struct lb_basket_total *totals = lb_arena_alloc(&run->owned->arena, (basket->parcel_count + 1) * sizeof *totals);
    uint32_t *unmet = lb_arena_alloc(&run->owned->arena, (run->unmet.count + 1) * sizeof *unmet);
    if (!totals || !unmet)
        return lb_fail_nomem(run->err);
    for (size_t i = 0; i < basket->parcel_count; i++) {
        const struct lb_parcel *parcel = &basket->parcels[i];
        struct lb_basket_total *total = total_in(totals, &basket->total_count, parcel->currency);
        total->goods += parcel->goods;
        total->shipping += parcel->shipping;
        total->tax += parcel->tax;
        total->deposits += parcel->deposits;
        total->total += parcel->total;
    }
    qsort(totals, basket->total_count, sizeof *totals, by_code);
    if (run->unmet.count)
        memcpy(unmet, run->unmet.at, run->unmet.count * sizeof *unmet);
    basket->totals = totals;
    basket->unmet = unmet;
    basket->unmet_count = run->unmet.count;
    return LB_OK;
}

lb_status lb_basket_cheapest(struct lb_basket **out, const struct lb_market *market, struct lb_error *err)
{
    struct run run = {.market = market, .err = err, .owned = calloc(1, sizeof *run.owned)};
    *out = NULL;
    if (!run.owned)
        return lb_fail_nomem(err);
    lb_status status = LB_OK;
    for (uint32_t i = 0; !status && i < market->item_count; i++)
        status = place_item(&run, i);
    if (!status)
        status = hand_out_parcels(&run);
    if (!status)
        status = hand_out_totals(&run);
    for (size_t i = 0; i < run.drafts.count; i++)
        free(run.drafts.at[i].lines.at);
    free(run.drafts.at);
    free(run.unmet.at);
    if (status)
        lb_basket_free(&run.owned->basket);
    else
        *out = &run.owned->basket;
    return status;
}

void lb_basket_free(struct lb_basket *basket)
{
    if (!basket)
        return;
    struct owned_basket *owned = (struct owned_basket *)basket; /* its first member */
    lb_arena_free(&owned->arena);
    free(owned);
}
