/* The basket against a recomputation that shares none of its code, on small random markets and at the edges.
 */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "basket/basket.h"

enum { SUPPLIERS = 4, ITEMS = 6, OFFERS = 5, ROWS = 3 };

static const char *const codes[] = {"EUR", "JPY", "BHD"};
static const int64_t minor_units[] = {100, 1, 1000};

/* A market with the room that it points into. */
struct fair {
    struct lb_supplier suppliers[SUPPLIERS];
    struct lb_shipping shipping[SUPPLIERS][ROWS];
    struct lb_rate rates[3];
    struct lb_basket_part parts[ITEMS]; /* item i is part i, need i with the one option i */
    struct lb_basket_option options[ITEMS];
    struct lb_basket_need needs[ITEMS];
    struct lb_basket_offer offers[ITEMS][OFFERS];
    struct lb_market market;
};

static uint32_t seed;

static int64_t roll(int64_t below)
{
    seed = seed * 1664525u + 1013904223u;
    return (int64_t)(seed >> 8) % below;
}

static void roll_supplier(struct fair *fair, int s)
{
    static const char *const names[] = {"delta", "alpha", "charlie", "bravo"};
    struct lb_supplier *supplier = &fair->suppliers[s];
    *supplier = (struct lb_supplier){.name = names[s],
                                     .label = names[s],
                                     .currency = codes[roll(3)],
                                     .minimum_order = roll(2) ? -1 : roll(800),
                                     .tax = roll(3) ? roll(30) * 1000000 + roll(2) * 500000 : -1,
                                     .shipping = fair->shipping[s],
                                     .shipping_count = (size_t)roll(ROWS + 1)};
    int64_t from = roll(2) ? 0 : roll(500);
    for (size_t i = 0; i < supplier->shipping_count; i++) {
        fair->shipping[s][i] = (struct lb_shipping){from, roll(3) ? roll(900) : 0};
        from += 1 + roll(900);
    }
}

static void put_item(struct fair *fair, int i, int64_t quantity, size_t offers)
{
    fair->parts[i] = (struct lb_basket_part){fair->offers[i], offers, 0};
    fair->options[i] = (struct lb_basket_option){.part = (uint32_t)i, .quantity = quantity};
    fair->needs[i] = (struct lb_basket_need){quantity, &fair->options[i], 1};
}

/* The pointers into the market's own room, which a copy must set again. */
static void settle_market(struct fair *fair, size_t suppliers, size_t items, size_t rates)
{
    for (int i = 0; i < ITEMS; i++) {
        fair->parts[i].offers = fair->offers[i];
        fair->needs[i].options = &fair->options[i];
    }
    fair->market.suppliers = fair->suppliers;
    fair->market.rates = fair->rates;
    fair->market.parts = fair->parts;
    fair->market.needs = fair->needs;
    fair->market.supplier_count = suppliers;
    fair->market.rate_count = rates;
    fair->market.part_count = fair->market.need_count = items;
}

static void roll_item(struct fair *fair, int i)
{
    put_item(fair, i, 1 + roll(9000000), (size_t)roll(OFFERS + 1));
    for (size_t o = 0; o < fair->parts[i].offer_count; o++)
        fair->offers[i][o] = (struct lb_basket_offer){.supplier = (uint32_t)roll(SUPPLIERS),
                                                      .currency = codes[roll(3)],
                                                      .price = roll(200),
                                                      .deposit = roll(4) ? 0 : roll(50),
                                                      .pack = 500000 * (1 + roll(8)),
                                                      .minimum_packs = 1 + roll(3),
                                                      .stock = roll(2) ? -1 : roll(8)};
}

static void roll_market(struct fair *fair)
{
    memset(fair, 0, sizeof *fair);
    for (int s = 0; s < SUPPLIERS; s++)
        roll_supplier(fair, s);
    for (int i = 0; i < ITEMS; i++)
        roll_item(fair, i);
    size_t rates = (size_t)roll(4);
    for (size_t r = 0; r < rates; r++) {
        int64_t from = roll(3);
        fair->rates[r] = (struct lb_rate){codes[from], codes[(from + 1 + roll(2)) % 3], 1 + roll(3000000)};
    }
    fair->market.currency = codes[roll(3)];
    settle_market(fair, SUPPLIERS, ITEMS, rates);
}

static int64_t units_of(const char *code)
{
    for (int i = 0; i < 3; i++)
        if (strcmp(codes[i], code) == 0)
            return minor_units[i];
    return 0;
}

__extension__ typedef __int128 wide;

static int64_t divide_half_up(wide a, wide b)
{
    return (int64_t)(a / b + (2 * (a % b) >= b));
}

/* amount × scale of one currency in another; -1: no rate. All numbers of these markets are small enough for
 * 64 bits. */
static int64_t naive_convert(const struct lb_market *m, const char *from_code, const char *to_code,
                             int64_t amount, int64_t scale)
{
    if (strcmp(from_code, to_code) == 0)
        return amount * scale;
    int64_t to = units_of(to_code), from = units_of(from_code);
    int64_t up = to > from ? to / from : 1, down = from > to ? from / to : 1;
    for (size_t r = 0; r < m->rate_count; r++)
        if (strcmp(m->rates[r].currency, from_code) == 0 && strcmp(m->rates[r].in, to_code) == 0)
            return divide_half_up((wide)amount * m->rates[r].rate * up *
                                      (scale / 1000000 ? scale / 1000000 : 1),
                                  down * (scale / 1000000 ? 1 : 1000000));
    for (size_t r = 0; r < m->rate_count; r++)
        if (strcmp(m->rates[r].in, from_code) == 0 && strcmp(m->rates[r].currency, to_code) == 0)
            return divide_half_up((wide)amount * 1000000 * scale * up, (wide)m->rates[r].rate * down);
    return -1;
}

/* A pack in its supplier's currency; -1: no rate. */
static int64_t naive_price(const struct lb_market *m, const struct lb_basket_offer *offer)
{
    return naive_convert(m, offer->currency, m->suppliers[offer->supplier].currency, offer->price, 1);
}

static int64_t naive_cost(const struct lb_market *m, const struct lb_basket_offer *offer, int64_t packs)
{
    int64_t price = naive_price(m, offer);
    return price < 0 ? -1
                     : naive_convert(m, m->suppliers[offer->supplier].currency, m->currency, packs * price,
                                     1000000);
}

static int64_t naive_packs(const struct lb_basket_offer *offer, int64_t quantity)
{
    int64_t packs = 0;
    while (packs * offer->pack < quantity || packs < offer->minimum_packs)
        packs++;
    return packs;
}

/* The index of the offer that must be taken, or -1. */
static int naive_choice(const struct lb_market *m, uint32_t i)
{
    const struct lb_basket_part *item = &m->parts[i];
    int best = -1;
    int64_t best_cost = 0;
    for (int o = 0; o < (int)item->offer_count; o++) {
        const struct lb_basket_offer *offer = &item->offers[o];
        int64_t packs = naive_packs(offer, m->needs[i].quantity);
        int64_t cost = naive_cost(m, offer, packs);
        if (cost < 0 || (offer->stock >= 0 && packs > offer->stock))
            continue;
        if (best < 0 || cost < best_cost ||
            (cost == best_cost && strcmp(m->suppliers[offer->supplier].name,
                                         m->suppliers[item->offers[best].supplier].name) < 0)) {
            best = o;
            best_cost = cost;
        }
    }
    return best;
}

static const struct lb_parcel_line *find_line(const struct lb_basket *basket, uint32_t item,
                                              const struct lb_parcel **parcel)
{
    const struct lb_parcel_line *found = NULL;
    for (size_t p = 0; p < basket->parcel_count; p++) {
        for (size_t l = 0; l < basket->parcels[p].line_count; l++) {
            if (basket->parcels[p].lines[l].part != item)
                continue;
            cr_expect_null(found, "item %u lies in two places", item);
            found = &basket->parcels[p].lines[l];
            *parcel = &basket->parcels[p];
        }
    }
    return found;
}

static bool is_unmet(const struct lb_basket *basket, uint32_t item)
{
    for (size_t i = 0; i < basket->unmet_count; i++)
        if (basket->unmet[i] == item)
            return true;
    return false;
}

static void check_item(const struct lb_market *m, const struct lb_basket *basket, uint32_t item)
{
    const struct lb_parcel *parcel = NULL;
    const struct lb_parcel_line *line = find_line(basket, item, &parcel);
    int choice = naive_choice(m, item);
    cr_expect_eq(is_unmet(basket, item), choice < 0);
    cr_expect_eq(line != NULL, choice >= 0);
    if (!line || choice < 0)
        return;
    const struct lb_basket_offer *offer = &m->parts[item].offers[choice];
    int64_t packs = naive_packs(offer, m->needs[item].quantity);
    cr_expect_eq(line->offer, (uint32_t)choice);
    cr_expect_eq(line->packs, packs);
    const char *currency = m->suppliers[offer->supplier].currency;
    cr_expect_eq(line->price, naive_price(m, offer));
    cr_expect_eq(line->amount, packs * line->price);
    cr_expect_eq(line->deposit, packs * naive_convert(m, offer->currency, currency, offer->deposit, 1));
    cr_expect_eq(parcel->supplier, offer->supplier);
    cr_expect_str_eq(parcel->currency, currency);
}

static int64_t naive_shipping(const struct lb_supplier *supplier, int64_t goods)
{
    int64_t charge = -1;
    for (size_t i = 0; i < supplier->shipping_count; i++)
        if (supplier->shipping[i].goods_from <= goods)
            charge = supplier->shipping[i].charge; /* rows ascend */
    return charge;
}

static void check_parcel(const struct lb_market *m, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &m->suppliers[parcel->supplier];
    int64_t goods = 0, deposits = 0;
    for (size_t l = 0; l < parcel->line_count; l++) {
        goods += parcel->lines[l].amount;
        deposits += parcel->lines[l].deposit;
    }
    int64_t charge = naive_shipping(supplier, goods);
    int64_t shipping = charge < 0 ? 0 : charge;
    int64_t tax = supplier->tax < 0 ? 0 : divide_half_up((goods + shipping) * supplier->tax, 100000000);
    cr_expect_eq(parcel->goods, goods);
    cr_expect_eq(parcel->deposits, deposits);
    cr_expect_eq(parcel->shipping, shipping);
    cr_expect_eq(parcel->tax, tax);
    cr_expect_eq(parcel->total, goods + shipping + tax);
    cr_expect_eq(parcel->shipping_not_stated, supplier->shipping_count == 0);
    cr_expect_eq(parcel->below_shipping, supplier->shipping_count > 0 && charge < 0);
    cr_expect_eq(parcel->below_minimum, supplier->minimum_order > goods);
}

static void check_order_and_totals(const struct lb_market *m, const struct lb_basket *basket)
{
    for (size_t p = 1; p < basket->parcel_count; p++) {
        const struct lb_parcel *a = &basket->parcels[p - 1], *b = &basket->parcels[p];
        cr_expect(strcmp(m->suppliers[a->supplier].name, m->suppliers[b->supplier].name) < 0);
    }
    for (size_t t = 0; t < basket->total_count; t++) {
        int64_t sums[5] = {0};
        const struct lb_basket_total *total = &basket->totals[t];
        for (size_t p = 0; p < basket->parcel_count; p++) {
            const struct lb_parcel *parcel = &basket->parcels[p];
            if (strcmp(parcel->currency, total->currency) != 0)
                continue;
            sums[0] += parcel->goods, sums[1] += parcel->shipping, sums[2] += parcel->tax;
            sums[3] += parcel->deposits, sums[4] += parcel->total;
        }
        cr_expect(total->goods == sums[0] && total->shipping == sums[1] && total->tax == sums[2]);
        cr_expect(total->deposits == sums[3] && total->total == sums[4]);
        cr_expect(t == 0 || strcmp(basket->totals[t - 1].currency, total->currency) < 0);
    }
}

static struct lb_basket *cheapest(const struct lb_market *market)
{
    struct lb_error err = {0};
    struct lb_basket *basket = NULL;
    cr_assert_eq(lb_basket_cheapest(&basket, market, &err), LB_OK);
    return basket;
}

Test(basket, random_markets_agree_with_the_naive_recomputation)
{
    size_t met = 0, unmet = 0, foreign = 0;
    for (seed = 1; seed < 200000000u; seed += 40000) {
        uint32_t kept = seed;
        struct fair fair;
        roll_market(&fair);
        struct lb_basket *basket = cheapest(&fair.market);
        for (uint32_t i = 0; i < ITEMS; i++)
            check_item(&fair.market, basket, i);
        for (size_t p = 0; p < basket->parcel_count; p++) {
            check_parcel(&fair.market, &basket->parcels[p]);
            foreign += strcmp(basket->parcels[p].currency, fair.market.currency) != 0;
        }
        check_order_and_totals(&fair.market, basket);
        met += ITEMS - basket->unmet_count;
        unmet += basket->unmet_count;
        lb_basket_free(basket);
        seed = kept;
    }
    cr_expect(met > 5000 && unmet > 2000 && foreign > 2000, "%zu met, %zu unmet, %zu in another currency",
              met, unmet, foreign);
}

/* One supplier, one item, one offer: what the tests of edges change a little. */
static struct fair one_of_each(int64_t price, int64_t quantity)
{
    struct fair fair = {0};
    fair.suppliers[0] = (struct lb_supplier){
        .name = "alpha", .label = "Alpha", .currency = "EUR", .minimum_order = -1, .tax = 20000000};
    fair.offers[0][0] = (struct lb_basket_offer){
        .currency = "EUR", .price = price, .pack = 1000000, .minimum_packs = 1, .stock = -1};
    put_item(&fair, 0, quantity, 1);
    fair.market.currency = "EUR";
    return fair;
}

static struct lb_basket *settle(struct fair *fair)
{
    settle_market(fair, 1, 1, fair->rates[0].currency ? 1 : 0);
    return cheapest(&fair->market);
}

Test(basket, tax_is_rounded_half_up_once_a_parcel_and_deposits_stay_out)
{
    struct fair fair = one_of_each(125, 1000000);
    fair.suppliers[0].tax = 2000000; /* 2 % of 1.25 is 0.025 */
    fair.offers[0][0].deposit = 5000;
    struct lb_basket *basket = settle(&fair);
    cr_assert_eq(basket->parcel_count, 1);
    cr_expect_eq(basket->parcels[0].tax, 3);
    cr_expect_eq(basket->parcels[0].total, 128);
    cr_expect_eq(basket->parcels[0].deposits, 5000);
    cr_expect(basket->parcels[0].shipping_not_stated);
    lb_basket_free(basket);
}

Test(basket, one_millionth_more_than_a_pack_is_two_packs)
{
    struct fair fair = one_of_each(100, 1000001);
    struct lb_basket *basket = settle(&fair);
    cr_assert_eq(basket->parcel_count, 1);
    cr_expect_eq(basket->parcels[0].lines[0].packs, 2);
    lb_basket_free(basket);
}

Test(basket, shipping_steps_count_from_their_very_value)
{
    static const struct {
        int64_t goods, charge;
        bool below;
    } cases[] = {{999, 0, true}, {1000, 490, false}, {4999, 490, false}, {5000, 0, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct fair fair = one_of_each(cases[i].goods, 1000000);
        fair.shipping[0][0] = (struct lb_shipping){1000, 490};
        fair.shipping[0][1] = (struct lb_shipping){5000, 0};
        fair.suppliers[0].shipping = fair.shipping[0];
        fair.suppliers[0].shipping_count = 2;
        fair.suppliers[0].minimum_order = 1000; /* goods alone count: 9.99 with its tax is still below */
        struct lb_basket *basket = settle(&fair);
        cr_expect_eq(basket->parcels[0].shipping, cases[i].charge);
        cr_expect_eq(basket->parcels[0].below_shipping, cases[i].below);
        cr_expect_eq(basket->parcels[0].below_minimum, cases[i].below);
        lb_basket_free(basket);
    }
}

Test(basket, minor_digits_differ_between_currencies)
{
    struct fair fair = one_of_each(1000, 1000000);
    int64_t packs, cost;
    fair.offers[0][0].currency = "JPY";
    fair.rates[0] = (struct lb_rate){"JPY", "EUR", 6000}; /* 1000 JPY × 0.006 = 6.00 EUR */
    lb_basket_free(settle(&fair));
    cr_assert(lb_basket_cost(&fair.market, &fair.offers[0][0], 1000000, &packs, &cost));
    cr_expect_eq(cost, 600 * (int64_t)1000000);
    fair.rates[0] = (struct lb_rate){"EUR", "JPY", 160000000}; /* 1000 JPY ÷ 160 = 6.25 EUR */
    cr_assert(lb_basket_cost(&fair.market, &fair.offers[0][0], 1000000, &packs, &cost));
    cr_expect_eq(cost, 625 * (int64_t)1000000);
    fair.market.rate_count = 0;
    cr_expect_not(lb_basket_cost(&fair.market, &fair.offers[0][0], 1000000, &packs, &cost));
}

Test(basket, a_direct_rate_goes_before_the_inverse_of_another)
{
    struct fair fair = one_of_each(100, 1000000);
    int64_t packs, cost;
    fair.offers[0][0].currency = "BHD";
    fair.rates[0] = (struct lb_rate){"EUR", "BHD", 400000};
    fair.rates[1] = (struct lb_rate){"BHD", "EUR", 2450000}; /* 0.100 BHD × 2.45 = 0.245 EUR: 25 cents */
    lb_basket_free(settle(&fair));
    fair.market.rate_count = 2;
    cr_assert(lb_basket_cost(&fair.market, &fair.offers[0][0], 1000000, &packs, &cost));
    cr_expect_eq(cost, 25000000);
}

Test(basket, large_amounts_are_compared_exactly)
{
    struct fair fair = one_of_each(1000000000000, 1000 * (int64_t)1000000); /* 10^12 × 10^3 packs */
    fair.offers[0][1] = fair.offers[0][0];
    fair.offers[0][1].price--;
    fair.parts[0].offer_count = 2;
    struct lb_basket *basket = settle(&fair);
    cr_assert_eq(basket->parcel_count, 1);
    cr_expect_eq(basket->parcels[0].lines[0].offer, 1);
    cr_expect_eq(basket->parcels[0].goods, 999999999999 * (int64_t)1000);
    lb_basket_free(basket);
}

Test(basket, what_is_beyond_counting_is_unmet)
{
    struct fair fair = one_of_each(1000000000000, 1000000 * (int64_t)1000000); /* 10^12 × 10^6 packs */
    struct lb_basket *basket = settle(&fair);
    cr_expect(basket->unmet_count == 1 && basket->parcel_count == 0);
    lb_basket_free(basket);
    fair = one_of_each(LB_AMOUNT_MAX, 1000000);
    basket = settle(&fair);
    cr_expect(basket->unmet_count == 0 && basket->parcel_count == 1);
    lb_basket_free(basket);
    fair.offers[0][0].currency = "JPY"; /* through the largest rate */
    fair.rates[0] = (struct lb_rate){"JPY", "EUR", INT64_MAX};
    basket = settle(&fair);
    cr_expect(basket->unmet_count == 1 && basket->parcel_count == 0);
    lb_basket_free(basket);
}

Test(basket, an_empty_market_is_an_empty_basket)
{
    struct lb_market market = {.currency = ""};
    struct lb_basket *basket = cheapest(&market);
    cr_expect(!basket->parcel_count && !basket->total_count && !basket->unmet_count);
    lb_basket_free(basket);
    lb_basket_free(NULL);
}
