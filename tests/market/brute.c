#include "market/brute_hunt.h"

#include <stdlib.h>
#include <string.h>

void brute_must(bool holds)
{
    if (!holds)
        abort();
}

static int64_t not_negative(int64_t value)
{
    return value > 0 ? value : 0;
}

/* The offer in its supplier's currency, pack by pack; not usable: closed, no rate, or too late. */
static struct brute_priced price_offer(const struct brute_hunt *hunt, const struct lb_basket_offer *offer)
{
    const struct brute_seller *seller = &hunt->sellers[offer->supplier];
    struct brute_priced priced = {.days = not_negative(offer->lead_days) +
                                          not_negative(seller->terms->ship_days)};
    struct brute_rate rate;
    if (!seller->open || !brute_find_rate(hunt->market, offer->currency, seller->terms->currency, &rate) ||
        (hunt->limits->arrive_days >= 0 && priced.days > hunt->limits->arrive_days))
        return priced;
    priced.usable = true;
    priced.price = brute_convert(offer->price, rate);
    double tax = seller->terms->tax > 0 ? (double)seller->terms->tax / 1e8 : 0;
    priced.least = (double)priced.price * (1 + tax) * (double)seller->rate.times / (double)seller->rate.by /
                   (double)offer->pack / BRUTE_FINE;
    return priced;
}

static int64_t divisor(int64_t a, int64_t b)
{
    return b ? divisor(b, a % b) : a;
}

/* Half of what divides all that boxes hold and needs want. */
static int64_t find_grain(const struct lb_market *market)
{
    int64_t grain = 0;
    for (size_t n = 0; n < market->need_count; n++)
        grain = divisor(market->needs[n].quantity, grain);
    for (size_t c = 0; c < market->content_count; c++)
        grain = divisor(market->contents[c].quantity, grain);
    return grain > 1 ? grain / 2 : 1;
}

/* Of a box so many are of use as hold all that its contents are wanted for. */
static void look_into(struct brute_hunt *hunt, const struct lb_basket_content *content)
{
    int64_t wanted = 0;
    for (size_t i = 0; i < content->cover_count; i++) {
        wanted += hunt->market->needs[content->covers[i].need].quantity;
        hunt->of_use[content->part] |= !content->covers[i].opener_count;
    }
    int64_t boxes = (wanted + content->quantity - 1) / content->quantity;
    hunt->box[content->part] = true;
    if (hunt->boxes_of_use[content->part] < boxes)
        hunt->boxes_of_use[content->part] = boxes;
}

static void prepare(struct brute_hunt *hunt, const struct lb_market *market,
                    const struct lb_basket_limits *limits)
{
    memset(hunt, 0, sizeof *hunt);
    hunt->market = market;
    hunt->limits = limits;
    hunt->grain = find_grain(market);
    brute_must(market->supplier_count <= BRUTE_SUPPLIERS && market->part_count <= BRUTE_PARTS &&
               market->need_count <= BRUTE_NEEDS);
    brute_sellers(hunt->sellers, market, limits);
    for (size_t p = 0; p < market->part_count; p++) {
        brute_must(market->parts[p].offer_count <= BRUTE_OFFERS);
        for (size_t i = 0; i < market->parts[p].offer_count; i++)
            hunt->priced[p][i] = price_offer(hunt, &market->parts[p].offers[i]);
    }
    for (size_t c = 0; c < market->content_count; c++)
        look_into(hunt, &market->contents[c]);
}

/* Parts that some need is answered by (or that have something in them for any need), with what they are
 * wanted for before boxes and shelf. */
static void ask(struct brute_hunt *hunt)
{
    memcpy(hunt->asked, hunt->of_use, sizeof hunt->asked);
    memset(hunt->wish, 0, sizeof hunt->wish);
    for (size_t n = 0; n < hunt->market->need_count; n++) {
        const struct lb_basket_option *option = &hunt->market->needs[n].options[hunt->option[n]];
        hunt->asked[option->part] = true;
        hunt->wish[option->part] += option->quantity * BRUTE_FINE;
        for (size_t c = 0; c < option->companion_count; c++) {
            hunt->asked[option->companions[c].part] = true;
            hunt->wish[option->companions[c].part] += option->companions[c].quantity * BRUTE_FINE;
        }
    }
}

static void choose(struct brute_hunt *hunt, size_t need)
{
    if (!brute_may_win(hunt, 0))
        return;
    if (need == hunt->market->need_count) {
        ask(hunt);
        brute_open_boxes(hunt);
        return;
    }
    for (size_t i = 0; i < hunt->market->needs[need].option_count; i++) {
        hunt->option[need] = (int)i;
        choose(hunt, need + 1);
    }
    hunt->option[need] = BRUTE_OPEN;
}

struct brute_basket brute_solve(const struct lb_market *market, const struct lb_basket_limits *limits)
{
    static struct brute_hunt hunt; /* large */
    prepare(&hunt, market, limits);
    for (size_t n = 0; n < market->need_count; n++)
        hunt.option[n] = BRUTE_OPEN;
    choose(&hunt, 0);
    hunt.surplus = 2;
    choose(&hunt, 0);
    return hunt.best;
}

/* --- the front: the best for every number of parcels and every day, without what is beaten */

static bool beats(const struct brute_basket *a, const struct brute_basket *b)
{
    return a->price <= b->price && a->parcels <= b->parcels && a->days <= b->days;
}

static void keep(struct brute_basket *points, size_t *count, const struct brute_basket *basket)
{
    size_t kept = 0;
    for (size_t i = 0; i < *count; i++)
        if (beats(&points[i], basket))
            return;
    for (size_t i = 0; i < *count; i++)
        if (!beats(basket, &points[i]))
            points[kept++] = points[i];
    brute_must(kept < BRUTE_POINTS);
    size_t at = kept;
    for (; at && points[at - 1].price > basket->price; at--)
        points[at] = points[at - 1];
    points[at] = *basket;
    *count = kept + 1;
}

size_t brute_front(const struct lb_market *market, const struct lb_basket_limits *limits,
                   struct brute_basket points[BRUTE_POINTS])
{
    size_t count = 0;
    int most = limits->parcels ? limits->parcels : (int)market->supplier_count;
    for (int parcels = most; parcels >= 1; parcels--) {
        struct lb_basket_limits tighter = *limits;
        tighter.parcels = parcels;
        struct brute_basket basket = brute_solve(market, &tighter);
        for (; basket.found; basket = brute_solve(market, &tighter)) {
            keep(points, &count, &basket);
            if (!basket.days)
                break;
            tighter.arrive_days = basket.days - 1;
        }
    }
    return count;
}
