/* Suppliers, rates and what the kit costs: the kit's lines as a market, answered by the basket. */
#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"
#include "catalog/spans.h"
#include "kit/build.h"

#include <stdlib.h>
#include <string.h>

/* Amounts of files that do not state a currency themselves: millionths of a unit -> minor units. */
static int64_t to_minor(int64_t millionths, const char *currency)
{
    int64_t scale = 1;
    for (int digits = lb_currency_digits(currency); digits > 0; digits--)
        scale *= 10;
    return lb_decimal_muldiv(millionths, scale, LB_MILLION);
}

static lb_status read_supplier(struct build *b, struct lb_statement *st)
{
    struct lb_supplier supplier = {.minimum_order = lb_is_null(st, 3) ? -1 : lb_integer(st, 3),
                                   .ship_days = lb_is_null(st, 4) ? -1 : lb_integer(st, 4),
                                   .tax = lb_is_null(st, 5) ? -1 : lb_integer(st, 5)};
    uint32_t id;
    lb_buf_clear(&b->scratch);
    lb_text_fold(&b->scratch, lb_text(st, 0));
    size_t known = b->supplier_names.count;
    if (b->scratch.failed || !lb_names_add(&b->supplier_names, lb_buf_text(&b->scratch), &id))
        return lb_fail_nomem(b->err);
    if (b->supplier_names.count == known)
        return LB_OK; /* the first row of a supplier counts */
    lb_status status = build_text(b, lb_text(st, 0), &supplier.name);
    if (!status)
        status = build_text(b, lb_text(st, 1), &supplier.currency);
    if (!status)
        status = build_text(b, lb_text(st, 2) ? lb_text(st, 2) : lb_text(st, 0), &supplier.label);
    if (status)
        return status;
    return LB_PUSH(&b->suppliers, supplier) ? LB_OK : lb_fail_nomem(b->err);
}

static uint32_t find_supplier(const struct build *b, const char *name)
{
    struct lb_buf folded = {0};
    lb_text_fold(&folded, name);
    uint32_t id = lb_names_find(&b->supplier_names, lb_buf_text(&folded));
    lb_buf_free(&folded);
    return id;
}

static lb_status read_shipping(struct build *b, struct lb_statement *st)
{
    uint32_t id = find_supplier(b, lb_text(st, 0));
    if (id == LB_NO_NAME)
        return LB_OK;
    struct lb_supplier *supplier = &b->suppliers.at[id];
    struct lb_shipping *grown = lb_arena_alloc(&b->arena, (supplier->shipping_count + 1) * sizeof *grown);
    if (!grown)
        return lb_fail_nomem(b->err);
    if (supplier->shipping_count)
        memcpy(grown, supplier->shipping, supplier->shipping_count * sizeof *grown);
    grown[supplier->shipping_count++] = (struct lb_shipping){to_minor(lb_integer(st, 1), supplier->currency),
                                                             to_minor(lb_integer(st, 2), supplier->currency)};
    supplier->shipping = grown;
    return LB_OK;
}

static lb_status read_rate(struct build *b, struct lb_statement *st)
{
    struct lb_rate rate = {.rate = lb_integer(st, 2)};
    lb_status status = build_text(b, lb_text(st, 0), &rate.currency);
    if (!status)
        status = build_text(b, lb_text(st, 1), &rate.in);
    for (size_t i = 0; !status && i < b->rates.count; i++)
        if (strcmp(b->rates.at[i].currency, rate.currency) == 0 && strcmp(b->rates.at[i].in, rate.in) == 0)
            return LB_OK; /* the newest comes first */
    if (status)
        return status;
    return LB_PUSH(&b->rates, rate) ? LB_OK : lb_fail_nomem(b->err);
}

static lb_status read_rows(struct build *b, const char *sql,
                           lb_status (*read)(struct build *, struct lb_statement *))
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(b->store, &st, sql, b->err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, b->err)) && row)
        if ((status = read(b, st)))
            break;
    lb_statement_free(st);
    return status;
}

lb_status build_suppliers(struct build *b)
{
    lb_status status = read_rows(
        b,
        "SELECT r.supplier, r.currency, r.name, r.minimum_order, r.ship_days, r.tax_percent" LB_PLACED(
            "suppliers") LB_IN_ORDER,
        read_supplier);
    if (!status)
        status = read_rows(b,
                           "SELECT r.supplier, r.goods_from, r.charge" LB_PLACED(
                               "shipping") "ORDER BY r.goods_from, r.charge",
                           read_shipping);
    if (!status)
        status = read_rows(b,
                           "SELECT r.currency, r.\"in\", r.rate" LB_PLACED(
                               "rates") "ORDER BY r.date DESC, s.name, " LB_PLACE_LINE,
                           read_rate);
    b->market = (struct lb_market){.suppliers = b->suppliers.at,
                                   .supplier_count = b->suppliers.count,
                                   .rates = b->rates.at,
                                   .rate_count = b->rates.count,
                                   .currency = ""};
    return status;
}

lb_status build_supplier(struct build *b, const char *name, const char *currency, uint32_t *supplier)
{
    struct lb_supplier stranger = {.minimum_order = -1, .ship_days = -1, .tax = -1};
    *supplier = find_supplier(b, name);
    if (*supplier != LB_NO_NAME)
        return LB_OK;
    lb_buf_clear(&b->scratch);
    lb_text_fold(&b->scratch, name);
    lb_status status = build_text(b, name, &stranger.name);
    if (!status)
        status = build_text(b, currency, &stranger.currency);
    stranger.label = stranger.name;
    if (!status &&
        (b->scratch.failed || !lb_names_add(&b->supplier_names, lb_buf_text(&b->scratch), supplier) ||
         !LB_PUSH(&b->suppliers, stranger)))
        status = lb_fail_nomem(b->err);
    b->market.suppliers = b->suppliers.at;
    b->market.supplier_count = b->suppliers.count;
    return status ? status
                  : build_remark(
                        b, build_words(
                               b,
                               "%s offers parts but has no suppliers row; its shipping and tax are taken as "
                               "nothing",
                               name));
}

/* Offers are compared in the currency that most live offers of the kit's parts are in; ties by code. */
lb_status build_currency(struct build *b)
{
    struct currency_count count = {0};
    lb_status status = LB_OK;
    for (size_t p = 0; p < b->parts.count && !status; p++)
        if (b->parts.at[p])
            status = build_count_currencies(&count, &b->parts.at[p]->part, b->err);
    if (!status)
        status = build_text(b, build_most_currency(&count), &b->market.currency);
    build_free_currencies(&count);
    return status;
}

/* An offer that is not live has no stock for us; it keeps its place, so that a basket's offer is the part's.
 */
struct lb_basket_offer lb_kit_offer(const struct lb_part_offer *offer)
{
    return (struct lb_basket_offer){.supplier = offer->supplier,
                                    .currency = offer->currency,
                                    .price = offer->price,
                                    .deposit = offer->deposit,
                                    .pack = offer->pack_quantity,
                                    .minimum_packs = offer->minimum_packs,
                                    .stock = offer->live ? offer->stock : 0,
                                    .lead_days = offer->lead_days};
}

bool build_comparable(const struct build *b, const struct lb_part *part)
{
    int64_t packs, cost;
    for (size_t i = 0; i < part->offer_count; i++) {
        struct lb_basket_offer offer = lb_kit_offer(&part->offers[i]);
        offer.stock = -1; /* the currency alone is asked for */
        if (part->offers[i].live && lb_basket_cost(&b->market, &offer, offer.pack, &packs, &cost))
            return true;
    }
    return false;
}

bool build_price(const struct build *b, const struct lb_part *part, int64_t quantity, int64_t *cost,
                 const struct lb_part_offer **offer)
{
    bool found = false;
    for (size_t i = 0; i < part->offer_count; i++) {
        int64_t packs, price;
        struct lb_basket_offer candidate = lb_kit_offer(&part->offers[i]);
        if (!part->offers[i].live || !lb_basket_cost(&b->market, &candidate, quantity, &packs, &price))
            continue;
        if (found && price >= *cost)
            continue;
        found = true;
        *cost = price;
        if (offer)
            *offer = &part->offers[i];
    }
    return found;
}

/* What the market is asked for: each part once, with what all lines need of it. */
struct cart {
    struct build *b;
    LB_VEC(struct lb_basket_option) wanted;
    LB_VEC(struct lb_basket_part) goods;
    LB_VEC(const struct lb_part *) parts;
    struct lb_basket_need *needs;
};

static lb_status add_part(struct cart *cart, const struct lb_part *part, int64_t quantity)
{
    struct build *b = cart->b;
    for (size_t i = 0; i < cart->parts.count; i++) {
        if (cart->parts.at[i] == part) {
            cart->wanted.at[i].quantity += quantity;
            return LB_OK;
        }
    }
    struct lb_basket_offer *offers = lb_arena_alloc(&b->arena, (part->offer_count + 1) * sizeof *offers);
    if (!offers)
        return lb_fail_nomem(b->err);
    for (size_t i = 0; i < part->offer_count; i++)
        offers[i] = lb_kit_offer(&part->offers[i]);
    struct lb_basket_part goods = {offers, part->offer_count, 0};
    struct lb_basket_option option = {.part = (uint32_t)cart->parts.count, .quantity = quantity};
    return LB_PUSH(&cart->goods, goods) && LB_PUSH(&cart->wanted, option) && LB_PUSH(&cart->parts, part)
               ? LB_OK
               : lb_fail_nomem(b->err);
}

static lb_status add_line(struct cart *cart, const struct lb_line *line)
{
    if (line->decision != LB_BUY || line->chosen == LB_NO_NAME)
        return LB_OK;
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    lb_status status = line->to_buy ? add_part(cart, chosen->part, line->to_buy) : LB_OK;
    for (size_t i = 0; !status && i < chosen->companion_count; i++)
        if (chosen->companions[i].to_buy)
            status = add_part(cart, chosen->companions[i].part, chosen->companions[i].to_buy);
    return status;
}

static lb_status price_cart(struct build *b, struct cart *cart)
{
    struct lb_market market = b->market;
    size_t count = cart->parts.count;
    const struct lb_part **bought = lb_arena_alloc(&b->arena, (count + 1) * sizeof *bought);
    cart->needs = calloc(count + 1, sizeof *cart->needs);
    if (!bought || !cart->needs)
        return lb_fail_nomem(b->err);
    for (size_t i = 0; i < count; i++) {
        cart->needs[i] = (struct lb_basket_need){cart->wanted.at[i].quantity, &cart->wanted.at[i], 1};
        bought[i] = cart->parts.at[i];
    }
    b->kit.bought = bought;
    market.parts = cart->goods.at;
    market.needs = cart->needs;
    market.part_count = market.need_count = count;
    return lb_basket_cheapest(&b->kit.basket, &market, b->err);
}

lb_status build_basket(struct build *b)
{
    struct cart cart = {.b = b};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < b->lines.count; i++)
        status = add_line(&cart, &b->lines.at[i].line);
    if (!status)
        status = price_cart(b, &cart);
    free(cart.wanted.at);
    free(cart.goods.at);
    free(cart.parts.at);
    free(cart.needs);
    return status;
}
