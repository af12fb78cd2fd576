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

int64_t brute_divisor(int64_t a, int64_t b)
{
    return b ? brute_divisor(b, a % b) : a;
}

/* So much of a need is a pack (or what the shelf has) of a part of which its option asks `quantity`. */
static int64_t divide_by_part(int64_t grain, const struct lb_basket_part *part, int64_t need,
                              int64_t quantity)
{
    brute_wide packs[BRUTE_OFFERS + 1] = {part->on_hand};
    for (size_t i = 0; i < part->offer_count; i++)
        packs[i + 1] = part->offers[i].pack;
    for (size_t i = 0; quantity && i <= part->offer_count; i++)
        if (packs[i] * need % quantity == 0)
            grain = brute_divisor((int64_t)(packs[i] * need / quantity), grain);
    return grain;
}

static bool is_in_boxes(const struct lb_market *market, size_t need)
{
    for (size_t c = 0; c < market->content_count; c++)
        for (size_t i = 0; i < market->contents[c].cover_count; i++)
            if (market->contents[c].covers[i].need == need)
                return true;
    return false;
}

/* What divides all that boxes hold and needs want, and what packs of the options' parts leave to the boxes.
 */
static int64_t find_grain(const struct lb_market *market)
{
    int64_t grain = 0;
    for (size_t c = 0; c < market->content_count; c++)
        grain = brute_divisor(market->contents[c].quantity, grain);
    for (size_t n = 0; n < market->need_count; n++) {
        const struct lb_basket_need *need = &market->needs[n];
        grain = brute_divisor(need->quantity, grain);
        for (size_t i = 0; is_in_boxes(market, n) && i < need->option_count; i++) {
            const struct lb_basket_option *option = &need->options[i];
            grain = divide_by_part(grain, &market->parts[option->part], need->quantity, option->quantity);
            for (size_t k = 0; k < option->companion_count; k++)
                grain = divide_by_part(grain, &market->parts[option->companions[k].part], need->quantity,
                                       option->companions[k].quantity);
        }
    }
    return grain;
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

static bool later(const struct brute_basket *a, const struct brute_basket *b)
{
    return a->price != b->price ? a->price > b->price : a->parcels > b->parcels;
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
    for (; at && later(&points[at - 1], basket); at--)
        points[at] = points[at - 1];
    points[at] = *basket;
    *count = kept + 1;
}

size_t brute_front(const struct lb_market *market, const struct lb_basket_limits *limits,
                   struct brute_basket points[BRUTE_POINTS])
{
    static const bool shut[BRUTE_SUPPLIERS] = {true, true, true, true, true, true};
    size_t count = 0;
    int most = limits->parcels ? limits->parcels : (int)market->supplier_count;
    for (int parcels = most; parcels >= 0; parcels--) {
        struct lb_basket_limits tighter = *limits;
        tighter.parcels = parcels;
        tighter.closed = parcels ? limits->closed : shut; /* 0 parcels would be any number */
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
