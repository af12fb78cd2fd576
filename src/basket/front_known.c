#include "basket/front_walk.h"

static bool reaches(const struct front_zone *outer, const struct front_zone *inner)
{
    return outer->parcels >= inner->parcels && outer->days >= inner->days;
}

bool front_is_same(const struct front_zone *a, const struct front_zone *b)
{
    return reaches(a, b) && reaches(b, a);
}

static bool lies_in(const struct lb_basket *basket, const struct front_zone *zone)
{
    return (int64_t)basket->parcel_count <= zone->parcels && basket->days <= zone->days;
}

static int64_t price_or_any(const struct lb_basket *basket)
{
    return basket ? basket_price(basket) : BASKET_ANY;
}

/* What was found but not proved can be the best known all the same. */
static void look_at_points(const struct front_walk *walk, const struct front_zone *zone,
                           struct front_known *known)
{
    for (size_t i = 0; i < walk->points.count; i++) {
        struct lb_basket *point = walk->points.at[i];
        if (!point->found || point->proved || !lies_in(point, zone) ||
            basket_price(point) >= price_or_any(known->basket))
            continue;
        known->basket = known->unproved = point;
    }
}

struct front_known front_known(const struct front_walk *walk, const struct front_zone *zone)
{
    struct front_known known = {.floor = INT64_MIN};
    for (size_t i = 0; i < walk->answers.count; i++) {
        const struct front_answer *answer = &walk->answers.at[i];
        const struct lb_basket *basket = answer->basket;
        bool whole = reaches(&answer->zone, zone);
        known.answered |= whole && !basket;
        if (!basket)
            continue;
        if (whole && basket_price(basket) > known.floor)
            known.floor = basket_price(basket);
        if (lies_in(basket, zone) && basket_price(basket) < price_or_any(known.basket))
            known.basket = basket;
    }
    look_at_points(walk, zone, &known);
    known.answered |= known.basket && basket_price(known.basket) <= known.floor;
    return known;
}

bool front_was_visited(const struct front_walk *walk, const struct front_zone *zone)
{
    for (size_t i = 0; i < walk->answers.count; i++)
        if (front_is_same(&walk->answers.at[i].zone, zone))
            return true;
    return false;
}

bool front_waits(const struct front_walk *walk, const struct front_zone *zone)
{
    for (size_t i = 0; i < walk->later.count; i++)
        if (front_is_same(&walk->later.at[i], zone))
            return true;
    return false;
}

bool front_is_asked(const struct front_walk *walk, const struct front_zone *zone)
{
    for (size_t i = 0; i < walk->asked.count; i++)
        if (front_is_same(&walk->asked.at[i], zone))
            return true;
    return false;
}
