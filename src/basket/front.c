/* The baskets that nothing beats in price, parcels and arrival. The cheapest basket within limits leaves two
 * places where others can be: one parcel less than it has, or a day earlier; each is a question of its own,
 * unless what is known answers it. */
#include "basket/question.h"
#include "basket/solver.h"

#include "base/vec.h"

#include <stdlib.h>

struct zone {
    int64_t parcels, days; /* at most */
};

/* The cheapest basket of a zone; NULL: there is none. */
struct answer {
    struct zone zone;
    const struct lb_basket *basket;
};

enum { QUICK = 16 }; /* a question takes no more than this part of all the time, as long as others wait */

struct walk {
    struct basket_question question;
    const struct lb_basket *first;
    LB_VEC(struct zone) ahead;
    LB_VEC(struct zone) later; /* not answered quickly: asked again when no others wait */
    LB_VEC(struct answer) answers;
    LB_VEC(struct lb_basket *) points; /* owned */
    double until, quick;
};

static bool reaches(const struct zone *outer, const struct zone *inner)
{
    return outer->parcels >= inner->parcels && outer->days >= inner->days;
}

static bool lies_in(const struct lb_basket *basket, const struct zone *zone)
{
    return (int64_t)basket->parcel_count <= zone->parcels && basket->days <= zone->days;
}

/* What is known about a zone before it is asked about. */
struct known {
    bool answered;
    const struct lb_basket *basket; /* the cheapest one known in it */
    struct lb_basket *unproved;     /* the same, when it is not known to be the cheapest of any zone */
    int64_t floor;
};

static int64_t price_or_any(const struct lb_basket *basket)
{
    return basket ? basket_price(basket) : BASKET_ANY;
}

/* What was found but not proved can be the best known all the same. */
static void look_at_points(const struct walk *walk, const struct zone *zone, struct known *known)
{
    for (size_t i = 0; i < walk->points.count; i++) {
        struct lb_basket *point = walk->points.at[i];
        if (!point->found || point->proved || !lies_in(point, zone) ||
            basket_price(point) >= price_or_any(known->basket))
            continue;
        known->basket = known->unproved = point;
    }
}

static struct known known_of(const struct walk *walk, const struct zone *zone)
{
    struct known known = {.floor = INT64_MIN};
    for (size_t i = 0; i < walk->answers.count; i++) {
        const struct answer *answer = &walk->answers.at[i];
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

static bool go_to(struct walk *walk, int64_t parcels, int64_t days)
{
    return parcels < 0 || days < 0 || LB_PUSH(&walk->ahead, ((struct zone){parcels, days}));
}

/* All others of the zone that it does not beat have a parcel less, or come a day earlier. */
static bool go_on(struct walk *walk, const struct zone *zone, const struct lb_basket *basket)
{
    return !basket || (go_to(walk, (int64_t)basket->parcel_count - 1, zone->days) &&
                       go_to(walk, zone->parcels, basket->days - 1));
}

static bool note(struct walk *walk, const struct zone *zone, const struct lb_basket *basket)
{
    return LB_PUSH(&walk->answers, ((struct answer){*zone, basket})) && go_on(walk, zone, basket);
}

static bool waits(const struct walk *walk, const struct zone *zone)
{
    for (size_t i = 0; i < walk->later.count; i++)
        if (reaches(&walk->later.at[i], zone) && reaches(zone, &walk->later.at[i]))
            return true;
    return false;
}

/* Once is enough. */
static bool put_off(struct walk *walk, const struct zone *zone)
{
    return waits(walk, zone) || LB_PUSH(&walk->later, *zone);
}

/* Nothing in its zone is cheaper. */
static void prove(struct lb_basket *basket)
{
    basket->proved = true;
    basket->bound = basket_price(basket);
}

/* Takes what was answered; the basket is the walk's from here on. */
static lb_status take(struct walk *walk, const struct zone *zone, const struct known *known,
                      struct lb_basket *basket, struct lb_error *err)
{
    const struct lb_basket *best = basket->found ? basket : known->basket;
    bool proved = basket->proved, room = LB_PUSH(&walk->points, basket);
    if (!room)
        lb_basket_free(basket);
    else if (proved && best && best == known->unproved)
        prove(known->unproved);
    if (room)
        room = proved ? note(walk, zone, best) : put_off(walk, zone) && go_on(walk, zone, best);
    return room ? LB_OK : lb_fail_nomem(err);
}

static lb_status visit(struct walk *walk, const struct zone *zone, double seconds, struct lb_error *err)
{
    struct known known = known_of(walk, zone);
    struct lb_basket *basket;
    if (known.answered && known.unproved)
        prove(known.unproved);
    if (known.answered)
        return note(walk, zone, known.basket) ? LB_OK : lb_fail_nomem(err);
    if (seconds < 0.001)
        return put_off(walk, zone) ? LB_OK : lb_fail_nomem(err);
    walk->question.parcels = zone->parcels;
    walk->question.days = zone->days;
    walk->question.cutoff = known.basket ? basket_price(known.basket) - 1 : BASKET_ANY;
    walk->question.floor = known.floor;
    walk->question.until = basket_now() + seconds;
    lb_status status = basket_ask(&basket, &walk->question, err);
    return status ? status : take(walk, zone, &known, basket, err);
}

/* Whether a zone was answered before, and with it what lies ahead of it. */
static bool was_visited(const struct walk *walk, const struct zone *zone)
{
    for (size_t i = 0; i < walk->answers.count; i++)
        if (reaches(&walk->answers.at[i].zone, zone) && reaches(zone, &walk->answers.at[i].zone))
            return true;
    return false;
}

static double smaller(double a, double b)
{
    return a < b ? a : b;
}

static lb_status walk_on(struct walk *walk, struct lb_error *err)
{
    lb_status status = LB_OK;
    while (!status && walk->ahead.count) {
        struct zone zone = walk->ahead.at[--walk->ahead.count];
        if (!was_visited(walk, &zone) && !waits(walk, &zone))
            status = visit(walk, &zone, smaller(walk->quick, walk->until - basket_now()), err);
    }
    return status;
}

/* What was put off, once more, with an even share of the time that is left each; and what comes of it. */
static lb_status walk_again(struct walk *walk, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t next = 0; !status && next < walk->later.count; next++) {
        struct zone zone = walk->later.at[next];
        double seconds = (walk->until - basket_now()) / (double)(walk->later.count - next);
        if (!was_visited(walk, &zone) && seconds >= 0.001)
            status = visit(walk, &zone, seconds, err);
        if (!status)
            status = walk_on(walk, err);
    }
    return status;
}

/* Whether all that was put off has been answered by now. */
static bool is_complete(const struct walk *walk)
{
    for (size_t i = 0; i < walk->later.count; i++)
        if (!was_visited(walk, &walk->later.at[i]))
            return false;
    return walk->first->proved;
}

static lb_status walk_all(struct walk *walk, struct lb_error *err)
{
    struct zone whole = {walk->question.parcels, walk->question.days};
    bool room = walk->first->proved ? note(walk, &whole, walk->first) : go_on(walk, &whole, walk->first);
    lb_status status = room ? walk_on(walk, err) : lb_fail_nomem(err);
    return status ? status : walk_again(walk, err);
}

static int compare_points(const void *left, const void *right)
{
    const struct lb_basket *a = *(struct lb_basket *const *)left, *b = *(struct lb_basket *const *)right;
    int64_t prices[] = {basket_price(a), basket_price(b)};
    if (prices[0] != prices[1])
        return prices[0] < prices[1] ? -1 : 1;
    if (a->parcel_count != b->parcel_count)
        return a->parcel_count < b->parcel_count ? -1 : 1;
    return (a->days > b->days) - (a->days < b->days);
}

/* In all three at least as good: also when it is equal. */
static bool beats(const struct lb_basket *a, const struct lb_basket *b)
{
    return basket_price(a) <= basket_price(b) && a->parcel_count <= b->parcel_count && a->days <= b->days;
}

/* Moves what remains to the beginning and frees the others. */
static size_t weed(struct lb_basket **points, size_t count, const struct lb_basket *first)
{
    size_t kept = 0;
    if (count)
        qsort(points, count, sizeof *points, compare_points);
    for (size_t i = 0; i < count; i++) {
        bool beaten = !points[i]->found || !points[i]->proved || beats(first, points[i]);
        for (size_t k = 0; !beaten && k < kept; k++)
            beaten = beats(points[k], points[i]);
        if (beaten)
            lb_basket_free(points[i]);
        else
            points[kept++] = points[i];
    }
    return kept;
}

lb_status lb_front_solve(struct lb_front **out, const struct lb_market *market,
                         const struct lb_basket_limits *limits, const struct lb_basket *first,
                         struct lb_error *err)
{
    struct walk walk = {.question = basket_question(market, limits), .first = first};
    struct lb_front *front = calloc(1, sizeof *front);
    lb_status status = front ? LB_OK : lb_fail_nomem(err);
    walk.until = walk.question.until;
    walk.quick = limits->seconds / QUICK;
    if (!status && first->found)
        status = walk_all(&walk, err);
    bool complete = is_complete(&walk);
    walk.points.count = weed(walk.points.at, walk.points.count, first);
    free(walk.ahead.at);
    free(walk.later.at);
    free(walk.answers.at);
    *out = front;
    if (front)
        *front = (struct lb_front){walk.points.at, walk.points.count, complete};
    if (!status)
        return LB_OK;
    lb_front_free(front);
    *out = NULL;
    return status;
}

void lb_front_free(struct lb_front *front)
{
    if (!front)
        return;
    for (size_t i = 0; i < front->count; i++)
        lb_basket_free(front->points[i]);
    free(front->points);
    free(front);
}
