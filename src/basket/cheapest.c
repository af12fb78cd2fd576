/* Each item at its cheapest offer, shipping left aside: amounts are exact, comparisons go through rates. */
#include "base/decimal.h"
#include "base/money.h"
#include "basket/parcels.h"

#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

#define WIDE_MAX ((((wide)1 << 126) - 1) * 2 + 1)

/* How amounts of one currency become millionths of a minor unit of another: × times ÷ by. */
struct conversion {
    wide times, by;
};

static wide power_of_ten(int exponent)
{
    wide power = 1;
    while (exponent-- > 0)
        power *= 10;
    return power;
}

/* A rate from one to the other, or the inverse of the one the other way; the direct one counts where both are
 * stated. False: no rate leads there. */
static bool find_conversion(const struct lb_market *market, const char *from, struct conversion *out)
{
    const struct lb_rate *direct = NULL, *inverse = NULL;
    *out = (struct conversion){LB_MILLION, 1};
    if (strcmp(from, market->currency) == 0)
        return true;
    for (size_t i = 0; i < market->rate_count; i++) {
        const struct lb_rate *rate = &market->rates[i];
        if (rate->rate <= 0)
            continue;
        if (!direct && strcmp(rate->currency, from) == 0 && strcmp(rate->in, market->currency) == 0)
            direct = rate;
        if (!inverse && strcmp(rate->currency, market->currency) == 0 && strcmp(rate->in, from) == 0)
            inverse = rate;
    }
    int from_digits = lb_currency_digits(from), to_digits = lb_currency_digits(market->currency);
    if ((!direct && !inverse) || from_digits < 0 || to_digits < 0)
        return false;
    if (direct)
        out->times = direct->rate;
    else
        *out = (struct conversion){(wide)LB_MILLION * LB_MILLION, inverse->rate};
    out->times *= power_of_ten(to_digits - from_digits);
    out->by *= power_of_ten(from_digits - to_digits);
    return true;
}

/* Half up; saturates. Neither amount nor conversion is negative. */
static wide convert(int64_t amount, struct conversion conversion)
{
    wide product;
    if (__builtin_mul_overflow((wide)amount, conversion.times, &product))
        return WIDE_MAX;
    wide left = product % conversion.by;
    return product / conversion.by + (left >= conversion.by - left);
}

/* What an offer asks for a quantity; false: stock short, or an amount that does not fit into an int64_t. */
static bool price_offer(const struct lb_basket_offer *offer, int64_t quantity, struct basket_choice *out)
{
    int64_t deposit = offer->deposit > 0 ? offer->deposit : 0;
    out->packs = offer->pack > 0 ? lb_decimal_ceil_div(quantity > 0 ? quantity : 0, offer->pack) : 0;
    if (out->packs < offer->minimum_packs)
        out->packs = offer->minimum_packs;
    if (offer->pack <= 0 || offer->price < 0 || (offer->stock >= 0 && offer->stock < out->packs))
        return false;
    return !__builtin_mul_overflow(out->packs, offer->price, &out->amount) &&
           !__builtin_mul_overflow(out->packs, deposit, &out->deposit);
}

static bool cost_offer(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                       struct basket_choice *out, wide *cost)
{
    struct conversion conversion;
    if (!price_offer(offer, quantity, out) || offer->supplier >= market->supplier_count ||
        !find_conversion(market, offer->currency, &conversion))
        return false;
    *cost = convert(out->amount, conversion);
    return true;
}

bool lb_basket_cost(const struct lb_market *market, const struct lb_basket_offer *offer, int64_t quantity,
                    int64_t *packs, int64_t *cost)
{
    struct basket_choice choice;
    wide exact = 0;
    bool can = cost_offer(market, offer, quantity, &choice, &exact);
    *packs = choice.packs;
    *cost = exact > INT64_MAX ? INT64_MAX : (int64_t)exact;
    return can;
}

int basket_compare_suppliers(const struct lb_market *market, uint32_t a, uint32_t b)
{
    int order = strcmp(market->suppliers[a].name, market->suppliers[b].name);
    return order ? order : (a > b) - (a < b);
}

static struct basket_choice choose(const struct lb_market *market, const struct lb_basket_item *item)
{
    struct basket_choice best = {0};
    wide best_cost = 0;
    for (size_t i = 0; i < item->offer_count; i++) {
        const struct lb_basket_offer *offer = &item->offers[i];
        struct basket_choice choice = {.met = true, .offer = (uint32_t)i};
        wide cost;
        if (!cost_offer(market, offer, item->quantity, &choice, &cost))
            continue;
        if (best.met &&
            (cost > best_cost ||
             (cost == best_cost &&
              basket_compare_suppliers(market, offer->supplier, item->offers[best.offer].supplier) >= 0)))
            continue;
        best = choice;
        best_cost = cost;
    }
    return best;
}

static lb_status list_unmet(struct basket_build *build, const struct lb_market *market,
                            const struct basket_choice *choices, struct lb_error *err)
{
    uint32_t *unmet = lb_arena_alloc(&build->arena, (market->item_count + 1) * sizeof *unmet);
    if (!unmet)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < market->item_count; i++)
        if (!choices[i].met)
            unmet[build->basket.unmet_count++] = (uint32_t)i;
    build->basket.unmet = unmet;
    return LB_OK;
}

lb_status lb_basket_cheapest(struct lb_basket **out, const struct lb_market *market, struct lb_error *err)
{
    *out = NULL;
    struct basket_build *build = calloc(1, sizeof *build);
    struct basket_choice *choices = calloc(market->item_count + 1, sizeof *choices);
    lb_status status = build && choices ? LB_OK : lb_fail_nomem(err);
    for (size_t i = 0; !status && i < market->item_count; i++)
        choices[i] = choose(market, &market->items[i]);
    if (!status)
        status = basket_parcels(build, market, choices, err);
    if (!status)
        status = list_unmet(build, market, choices, err);
    free(choices);
    if (status)
        lb_basket_free(build ? &build->basket : NULL);
    else
        *out = &build->basket;
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
