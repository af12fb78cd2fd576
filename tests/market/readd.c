#include "market/readd.h"
#include "market/brute_price.h"

#include <string.h>

enum { MILLION = 1000000, MOST_SELLERS = 64 };

struct sums {
    int64_t goods, shipping, tax, deposits, days;
};

static int64_t not_negative(int64_t value)
{
    return value > 0 ? value : 0;
}

static const char *add_line(const struct lb_market *market, const struct lb_parcel *parcel,
                            const struct lb_parcel_line *line, struct sums *sums)
{
    const struct lb_basket_offer *offer = &market->parts[line->part].offers[line->offer];
    struct brute_rate rate;
    if (offer->supplier != parcel->supplier)
        return "a line lies in another supplier's parcel";
    if (!brute_find_rate(market, offer->currency, parcel->currency, &rate))
        return "a line has no rate into its parcel's currency";
    if (line->packs <= 0 || line->packs < offer->minimum_packs ||
        (offer->stock >= 0 && line->packs > offer->stock))
        return "a line's packs are against minimum or stock";
    if (line->price != brute_convert(offer->price, rate) || line->amount != line->packs * line->price ||
        line->deposit != line->packs * brute_convert(not_negative(offer->deposit), rate))
        return "a line's price, amount or deposit is wrong";
    int64_t days =
        not_negative(offer->lead_days) + not_negative(market->suppliers[parcel->supplier].ship_days);
    sums->goods += line->amount;
    sums->deposits += line->deposit;
    sums->days = days > sums->days ? days : sums->days;
    return NULL;
}

static const char *compare_parcel(const struct brute_seller *seller, const struct lb_parcel *parcel,
                                  const struct sums *sums)
{
    int64_t cost, again = brute_convert(parcel->goods, seller->rate) +
                          brute_convert(parcel->shipping, seller->rate) +
                          brute_convert(parcel->tax, seller->rate);
    if (parcel->goods != sums->goods || parcel->deposits != sums->deposits)
        return "a parcel's goods or deposits are not those of its lines";
    if (parcel->total != parcel->goods + parcel->shipping + parcel->tax || parcel->days != sums->days)
        return "a parcel's total or arrival is wrong";
    if (!seller->open || parcel->below_minimum || parcel->below_shipping ||
        !brute_parcel(seller, parcel->goods, &cost))
        return "a parcel cannot be ordered";
    return cost != again ? "a parcel's shipping or tax is wrong" : NULL;
}

static const char *add_parcel(const struct lb_market *market, const struct brute_seller *seller,
                              const struct lb_parcel *parcel, struct sums *all)
{
    struct sums sums = {0};
    const char *wrong = NULL;
    for (size_t i = 0; !wrong && i < parcel->line_count; i++)
        wrong = add_line(market, parcel, &parcel->lines[i], &sums);
    if (!wrong)
        wrong = compare_parcel(seller, parcel, &sums);
    all->goods += brute_convert(parcel->goods, seller->rate);
    all->shipping += brute_convert(parcel->shipping, seller->rate);
    all->tax += brute_convert(parcel->tax, seller->rate);
    all->deposits += brute_convert(parcel->deposits, seller->rate);
    all->days = sums.days > all->days ? sums.days : all->days;
    return wrong;
}

static const char *add_parcels(const struct lb_market *market, const struct lb_basket_limits *limits,
                               const struct lb_basket *basket)
{
    struct brute_seller sellers[MOST_SELLERS];
    struct sums all = {0};
    const struct lb_basket_total *total = &basket->total;
    const char *wrong = market->supplier_count > MOST_SELLERS ? "more suppliers than this test can do" : NULL;
    if (!wrong)
        brute_sellers(sellers, market, limits);
    for (size_t i = 0; !wrong && i < basket->parcel_count; i++) {
        const struct lb_parcel *parcel = &basket->parcels[i];
        if (i && strcmp(market->suppliers[parcel[-1].supplier].name,
                        market->suppliers[parcel->supplier].name) >= 0)
            return "parcels are not one a supplier, by name";
        wrong = add_parcel(market, &sellers[parcel->supplier], parcel, &all);
    }
    if (!wrong && (total->goods != all.goods || total->shipping != all.shipping || total->tax != all.tax ||
                   total->deposits != all.deposits || total->total != all.goods + all.shipping + all.tax))
        return "the total is not that of the parcels";
    if (!wrong && (basket->days != all.days || (limits->arrive_days >= 0 && all.days > limits->arrive_days) ||
                   (limits->parcels && basket->parcel_count > (size_t)limits->parcels)))
        return "arrival or number of parcels is wrong, or against the limits";
    return wrong;
}

static int64_t bought_of(const struct lb_market *market, const struct lb_basket *basket, uint32_t part)
{
    int64_t units = market->parts[part].on_hand;
    for (size_t i = 0; i < basket->parcel_count; i++)
        for (size_t k = 0; k < basket->parcels[i].line_count; k++)
            if (basket->parcels[i].lines[k].part == part)
                units += basket->parcels[i].lines[k].packs *
                         market->parts[part].offers[basket->parcels[i].lines[k].offer].pack;
    return units;
}

/* What the needs take of a part, as the answers have it; each is rounded up to a millionth. */
static int64_t taken_of(const struct lb_market *market, const struct lb_basket *basket, uint32_t part)
{
    int64_t taken = 0;
    for (size_t n = 0; n < market->need_count; n++) {
        const struct lb_basket_answer *answer = &basket->answers[n];
        if (answer->option == UINT32_MAX)
            continue;
        const struct lb_basket_option *option = &market->needs[n].options[answer->option];
        taken += option->part == part ? answer->bought : 0;
        for (size_t c = 0; option->quantity && c < option->companion_count; c++)
            if (option->companions[c].part == part)
                taken +=
                    (int64_t)((brute_wide)answer->bought * option->companions[c].quantity / option->quantity);
    }
    return taken;
}

static bool is_answered(const struct lb_basket_need *need, const struct lb_basket_answer *answer)
{
    if (answer->option == UINT32_MAX)
        return answer->covered >= need->quantity;
    brute_wide asked = need->options[answer->option].quantity;
    return answer->covered >= need->quantity ||
           (asked > 0 &&
            (brute_wide)answer->bought * need->quantity + asked * answer->covered >= asked * need->quantity);
}

/* What could be in boxes for the need, were it all for this one. */
static int64_t in_boxes(const struct lb_market *market, const struct lb_basket *basket, size_t need)
{
    int64_t held = 0;
    for (size_t c = 0; c < market->content_count; c++)
        for (size_t i = 0; i < market->contents[c].cover_count; i++)
            if (market->contents[c].covers[i].need == need)
                held += bought_of(market, basket, market->contents[c].part) / MILLION *
                        market->contents[c].quantity;
    return held;
}

static const char *look_at_needs(const struct lb_market *market, const struct lb_basket *basket)
{
    for (size_t n = 0; n < market->need_count; n++) {
        if (!is_answered(&market->needs[n], &basket->answers[n]))
            return "a need is not met by its answer";
        if (basket->answers[n].covered > in_boxes(market, basket, n))
            return "boxes cover more than they hold";
    }
    for (uint32_t p = 0; p < market->part_count; p++)
        if (taken_of(market, basket, p) > bought_of(market, basket, p) + (int64_t)market->need_count)
            return "of a part less is bought than the answers say";
    return NULL;
}

const char *readd_basket(const struct lb_market *market, const struct lb_basket_limits *limits,
                         const struct lb_basket *basket)
{
    const char *wrong = add_parcels(market, limits, basket);
    return wrong ? wrong : look_at_needs(market, basket);
}
