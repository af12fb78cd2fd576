/* What is wanted of each part is known: all numbers of packs of all offers. */
#include "market/brute_hunt.h"

void brute_take(struct brute_hunt *hunt, size_t part, size_t offer, int64_t packs)
{
    uint32_t seller = hunt->market->parts[part].offers[offer].supplier;
    int64_t before = hunt->packs[part][offer];
    hunt->packs[part][offer] += packs;
    hunt->goods[seller] += packs * hunt->priced[part][offer].price;
    hunt->lines[seller] += (hunt->packs[part][offer] > 0) - (before > 0);
}

static bool too_many_parcels(const struct brute_hunt *hunt)
{
    int parcels = 0;
    for (size_t s = 0; s < hunt->market->supplier_count; s++)
        parcels += hunt->lines[s] > 0;
    return hunt->limits->parcels && parcels > hunt->limits->parcels;
}

bool brute_may_win(const struct brute_hunt *hunt, double more)
{
    if (too_many_parcels(hunt))
        return false;
    if (!hunt->best.found)
        return true;
    for (size_t s = 0; s < hunt->market->supplier_count; s++)
        if (hunt->lines[s])
            more += brute_parcel_least(&hunt->sellers[s], hunt->goods[s]);
    for (size_t n = 0; n < hunt->market->need_count; n++)
        if (hunt->option[n] != BRUTE_OPEN)
            more += (double)hunt->market->needs[n].options[hunt->option[n]].premium;
    return more * (1 - 1e-9) - 1e-6 <= (double)hunt->best.price;
}

int64_t brute_most_packs(const struct brute_hunt *hunt, const struct lb_basket_offer *offer, int64_t want)
{
    if (want <= 0)
        return 0;
    int64_t pack = offer->pack * BRUTE_FINE, packs = (want + pack - 1) / pack;
    if (packs < offer->minimum_packs)
        packs = offer->minimum_packs;
    packs += hunt->surplus;
    return offer->stock >= 0 && offer->stock < packs ? offer->stock : packs;
}

int64_t brute_bought(const struct brute_hunt *hunt, size_t part)
{
    int64_t sum = 0;
    for (size_t i = 0; i < hunt->market->parts[part].offer_count; i++)
        sum += hunt->packs[part][i] * hunt->market->parts[part].offers[i].pack;
    return sum * BRUTE_FINE;
}

/* The basket is full: is it better? By price, parcels, arrival, then by the first supplier that differs. */
static bool better(const struct brute_basket *a, const struct brute_basket *b)
{
    if (!b->found || a->price != b->price)
        return !b->found || a->price < b->price;
    if (a->parcels != b->parcels)
        return a->parcels < b->parcels;
    if (a->days != b->days)
        return a->days < b->days;
    uint32_t differ = a->suppliers ^ b->suppliers;
    return differ && (a->suppliers & (differ & -differ));
}

static bool add_parcels(const struct brute_hunt *hunt, struct brute_basket *basket)
{
    for (size_t s = 0; s < hunt->market->supplier_count; s++) {
        int64_t cost;
        if (!hunt->lines[s])
            continue;
        if (!brute_parcel(&hunt->sellers[s], hunt->goods[s], &cost))
            return false;
        basket->total += cost;
        basket->parcels++;
        basket->suppliers |= 1u << hunt->sellers[s].rank;
    }
    return !too_many_parcels(hunt);
}

static void weigh(struct brute_hunt *hunt)
{
    struct brute_basket basket = {.found = true};
    if (!add_parcels(hunt, &basket))
        return;
    for (size_t n = 0; n < hunt->market->need_count; n++)
        if (hunt->option[n] != BRUTE_OPEN)
            basket.premium += hunt->market->needs[n].options[hunt->option[n]].premium;
    for (size_t p = 0; p < hunt->market->part_count; p++)
        for (size_t i = 0; i < hunt->market->parts[p].offer_count; i++)
            if (hunt->packs[p][i] && hunt->priced[p][i].days > basket.days)
                basket.days = hunt->priced[p][i].days;
    basket.price = basket.total + basket.premium;
    if (better(&basket, &hunt->best))
        hunt->best = basket;
}

/* At least what `left` of a part costs at its cheapest offer. */
static double least_for(const struct brute_hunt *hunt, size_t part, int64_t left)
{
    double least = -1;
    for (size_t i = 0; left > 0 && i < hunt->market->parts[part].offer_count; i++)
        if (hunt->priced[part][i].usable && (least < 0 || hunt->priced[part][i].least < least))
            least = hunt->priced[part][i].least;
    return left > 0 && least > 0 ? least * (double)left : 0;
}

static double least_after(const struct brute_hunt *hunt, size_t part)
{
    double sum = 0;
    for (size_t p = part + 1; p < hunt->market->part_count; p++)
        if (!hunt->box[p])
            sum += least_for(hunt, p, hunt->want[p]);
    return sum;
}

static void buy_part(struct brute_hunt *hunt, size_t part);

static void buy_offer(struct brute_hunt *hunt, size_t part, size_t offer, double after)
{
    const struct lb_basket_part *goods = &hunt->market->parts[part];
    if (!brute_may_win(hunt, after + least_for(hunt, part, hunt->want[part] - brute_bought(hunt, part))))
        return;
    if (offer == goods->offer_count) {
        if (brute_bought(hunt, part) >= hunt->want[part])
            buy_part(hunt, part + 1);
        return;
    }
    buy_offer(hunt, part, offer + 1, after);
    if (!hunt->priced[part][offer].usable)
        return;
    int64_t least = goods->offers[offer].minimum_packs > 1 ? goods->offers[offer].minimum_packs : 1;
    for (int64_t packs = least; packs <= brute_most_packs(hunt, &goods->offers[offer], hunt->want[part]);
         packs++) {
        brute_take(hunt, part, offer, packs);
        buy_offer(hunt, part, offer + 1, after);
        brute_take(hunt, part, offer, -packs);
    }
}

static void buy_part(struct brute_hunt *hunt, size_t part)
{
    while (part < hunt->market->part_count && (hunt->box[part] || !hunt->want[part]))
        part++;
    if (part == hunt->market->part_count)
        weigh(hunt);
    else
        buy_offer(hunt, part, 0, least_after(hunt, part));
}

void brute_buy(struct brute_hunt *hunt)
{
    buy_part(hunt, 0);
}
