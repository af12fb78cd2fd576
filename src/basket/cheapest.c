/* Each need at its cheapest offer, shipping left aside: amounts are exact, comparisons go through rates. */
#include "base/decimal.h"
#include "basket/conversion.h"
#include "basket/parcels.h"

#include <stdlib.h>

/* What an offer asks for a quantity, in millionths of a minor unit; false: stock short, no rate, or more than
 * LB_AMOUNT_MAX. */
static bool cost_offer(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                       int64_t *packs, basket_wide *cost)
{
    struct basket_conversion conversion;
    int64_t price, amount;
    *packs = offer->pack > 0 ? lb_decimal_ceil_div(quantity > 0 ? quantity : 0, offer->pack) : 0;
    if (*packs < offer->minimum_packs)
        *packs = offer->minimum_packs;
    if ((offer->stock >= 0 && offer->stock < *packs) || !basket_pack_price(market, offer, &price) ||
        __builtin_mul_overflow(*packs, price, &amount) || amount > LB_AMOUNT_MAX ||
        !basket_find_conversion(market, market->suppliers[offer->supplier].currency, market->currency,
                                &conversion))
        return false;
    *cost = basket_convert_finely(amount, &conversion);
    return true;
}

bool lb_basket_cost(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                    int64_t *packs, int64_t *cost)
{
    basket_wide exact = 0;
    bool can = cost_offer(market, offer, quantity, packs, &exact);
    *cost = exact > INT64_MAX ? INT64_MAX : (int64_t)exact;
    return can;
}

/* One offer, for so much of its part. */
struct pick {
    bool met;
    struct basket_purchase purchase;
    basket_wide cost;
};

static struct pick pick_offer(const struct lb_market *market, uint32_t part, int64_t quantity)
{
    const struct lb_basket_part *goods = &market->parts[part];
    struct pick best = {0};
    for (uint32_t i = 0; i < goods->offer_count; i++) {
        const struct lb_basket_offer *offer = &goods->offers[i];
        struct pick pick = {true, {part, i, 0}, 0};
        if (!cost_offer(market, offer, quantity, &pick.purchase.packs, &pick.cost))
            continue;
        if (!best.met || pick.cost < best.cost ||
            (pick.cost == best.cost &&
             basket_compare_suppliers(market, offer->supplier, goods->offers[best.purchase.offer].supplier) <
                 0))
            best = pick;
    }
    return best;
}

/* What must be bought of each part. */
struct wanted {
    int64_t *quantities; /* by part */
    int64_t *left;       /* on the shelf, by part */
};

static int64_t after_shelf(const struct wanted *wanted, uint32_t part, int64_t quantity)
{
    int64_t taken = wanted->left[part] < quantity ? wanted->left[part] : quantity;
    return quantity - taken;
}

/* What an option costs by itself; false: some part of it cannot be had. */
static bool price_option(const struct lb_market *market, const struct wanted *wanted,
                         const struct lb_basket_option *option, basket_wide *cost)
{
    *cost = 0;
    if (option->quantity <= 0)
        return false; /* boxes cover nothing here */
    for (size_t i = 0; i <= option->companion_count; i++) {
        uint32_t part = i ? option->companions[i - 1].part : option->part;
        int64_t quantity =
            after_shelf(wanted, part, i ? option->companions[i - 1].quantity : option->quantity);
        struct pick pick = quantity ? pick_offer(market, part, quantity) : (struct pick){.met = true};
        if (!pick.met)
            return false;
        *cost += pick.cost;
    }
    return true;
}

static void want(struct wanted *wanted, uint32_t part, int64_t quantity)
{
    int64_t bought = after_shelf(wanted, part, quantity);
    wanted->left[part] -= quantity - bought;
    wanted->quantities[part] += bought;
}

static uint32_t choose_option(const struct lb_market *market, const struct wanted *wanted,
                              const struct lb_basket_need *need)
{
    uint32_t best = UINT32_MAX;
    basket_wide cost, best_cost = 0;
    for (uint32_t i = 0; i < need->option_count; i++) {
        if (!price_option(market, wanted, &need->options[i], &cost) ||
            (best != UINT32_MAX && cost >= best_cost))
            continue;
        best = i;
        best_cost = cost;
    }
    return best;
}

static lb_status choose_all(struct basket_build *build, const struct lb_market *market, struct wanted *wanted,
                            struct lb_error *err)
{
    struct lb_basket *basket = &build->basket;
    struct lb_basket_answer *answers =
        lb_arena_alloc(&build->arena, (market->need_count + 1) * sizeof *answers);
    uint32_t *unmet = lb_arena_alloc(&build->arena, (market->need_count + 1) * sizeof *unmet);
    if (!answers || !unmet)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < market->need_count; i++) {
        const struct lb_basket_need *need = &market->needs[i];
        uint32_t best = choose_option(market, wanted, need);
        answers[i] = (struct lb_basket_answer){.option = best};
        if (best == UINT32_MAX) {
            unmet[basket->unmet_count++] = (uint32_t)i;
            continue;
        }
        const struct lb_basket_option *option = &need->options[best];
        answers[i].bought = option->quantity;
        want(wanted, option->part, option->quantity);
        for (size_t c = 0; c < option->companion_count; c++)
            want(wanted, option->companions[c].part, option->companions[c].quantity);
    }
    basket->answers = answers;
    basket->unmet = unmet;
    return LB_OK;
}

/* Needs that met one by one may be too much for the stock together: their part is then left out. */
static lb_status buy(struct basket_build *build, const struct lb_market *market, const struct wanted *wanted,
                     struct lb_error *err)
{
    struct basket_purchase *purchases = calloc(market->part_count + 1, sizeof *purchases);
    lb_status status = purchases ? LB_OK : lb_fail_nomem(err);
    size_t count = 0;
    for (uint32_t part = 0; !status && part < market->part_count; part++) {
        if (!wanted->quantities[part])
            continue;
        struct pick pick = pick_offer(market, part, wanted->quantities[part]);
        if (pick.met)
            purchases[count++] = pick.purchase;
    }
    if (!status)
        status = basket_parcels(build, market, purchases, count, err);
    free(purchases);
    return status;
}

/* The needs whose part the pooled quantity was too much for. */
static void list_short(struct basket_build *build, const struct lb_market *market,
                       const struct wanted *wanted)
{
    struct lb_basket *basket = &build->basket;
    uint32_t *unmet = (uint32_t *)basket->unmet;
    for (uint32_t i = 0; i < market->need_count; i++) {
        uint32_t option = basket->answers[i].option;
        if (option == UINT32_MAX)
            continue;
        uint32_t part = market->needs[i].options[option].part;
        if (wanted->quantities[part] && !pick_offer(market, part, wanted->quantities[part]).met)
            unmet[basket->unmet_count++] = i;
    }
}

lb_status lb_basket_cheapest(struct lb_basket **out, const struct lb_market *market, struct lb_error *err)
{
    *out = NULL;
    struct basket_build *build = calloc(1, sizeof *build);
    struct wanted wanted = {calloc(market->part_count + 1, sizeof *wanted.quantities),
                            calloc(market->part_count + 1, sizeof *wanted.left)};
    lb_status status = build && wanted.quantities && wanted.left ? LB_OK : lb_fail_nomem(err);
    for (size_t i = 0; !status && i < market->part_count; i++)
        wanted.left[i] = market->parts[i].on_hand;
    if (!status)
        status = choose_all(build, market, &wanted, err);
    if (!status)
        status = buy(build, market, &wanted, err);
    if (!status) {
        list_short(build, market, &wanted);
        build->basket.found = !build->basket.unmet_count;
        *out = &build->basket;
    } else {
        lb_basket_free(build ? &build->basket : NULL);
    }
    free(wanted.quantities);
    free(wanted.left);
    return status;
}

void lb_basket_free(struct lb_basket *basket)
{
    if (!basket)
        return;
    struct basket_build *build = (struct basket_build *)basket; /* its first member */
    lb_arena_free(&build->arena);
    free(build);
}
