/* The baskets that nothing beats in price, parcels and arrival. The cheapest basket within limits leaves two
 * places where others can be: one parcel less than it has, or a day earlier; each is a question of its own,
 * unless what is known answers it. */
#include "basket/front_walk.h"
#include "basket/solver.h"

#include <stdlib.h>

enum { QUICK = 16 }; /* a question takes no more than this part of all the time, as long as others wait */

static bool go_to(struct front_walk *walk, int64_t parcels, int64_t days)
{
    return parcels < 0 || days < 0 || LB_PUSH(&walk->ahead, ((struct front_zone){parcels, days}));
}

/* All others of the zone that it does not beat have a parcel less, or come a day earlier. */
static bool go_on(struct front_walk *walk, const struct front_zone *zone, const struct lb_basket *basket)
{
    return !basket || (go_to(walk, (int64_t)basket->parcel_count - 1, zone->days) &&
                       go_to(walk, zone->parcels, basket->days - 1));
}

static bool note(struct front_walk *walk, const struct front_zone *zone, const struct lb_basket *basket)
{
    return LB_PUSH(&walk->answers, ((struct front_answer){*zone, basket})) && go_on(walk, zone, basket);
}

/* Once is enough. */
static bool put_off(struct front_walk *walk, const struct front_zone *zone)
{
    return front_waits(walk, zone) || LB_PUSH(&walk->later, *zone);
}

/* Nothing in its zone is cheaper. */
static void prove(struct lb_basket *basket)
{
    basket->proved = true;
    basket->bound = basket_price(basket);
}

/* Takes what was answered; the basket is the walk's from here on. */
static lb_status take(struct front_walk *walk, const struct front_zone *zone, const struct front_known *known,
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

/* Asks with the lock let go. */
static lb_status ask(struct lb_basket **basket, struct front_walk *walk, const struct front_zone *zone,
                     const struct front_known *known, double seconds, struct lb_error *err)
{
    struct basket_question question = walk->question;
    question.parcels = zone->parcels;
    question.days = zone->days;
    question.cutoff = known->basket ? basket_price(known->basket) - 1 : BASKET_ANY;
    question.floor = known->floor;
    question.until = basket_now() + seconds;
    pthread_mutex_unlock(&walk->lock);
    lb_status status = basket_ask(basket, &question, err);
    pthread_mutex_lock(&walk->lock);
    return status;
}

static lb_status visit(struct front_walk *walk, const struct front_zone *zone, double seconds,
                       struct lb_error *err)
{
    struct front_known known = front_known(walk, zone);
    struct lb_basket *basket;
    if (known.answered && known.unproved)
        prove(known.unproved);
    if (known.answered)
        return note(walk, zone, known.basket) ? LB_OK : lb_fail_nomem(err);
    if (seconds < FRONT_TOO_SHORT)
        return put_off(walk, zone) ? LB_OK : lb_fail_nomem(err);
    lb_status status = ask(&basket, walk, zone, &known, seconds, err);
    return status ? status : take(walk, zone, &known, basket, err);
}

/* Whether all that was put off has been answered by now. */
static bool is_complete(const struct front_walk *walk)
{
    for (size_t i = 0; i < walk->later.count; i++)
        if (!front_was_visited(walk, &walk->later.at[i]))
            return false;
    return walk->first->proved;
}

static lb_status walk_all(struct front_walk *walk, struct lb_error *err)
{
    struct front_zone whole = {walk->question.parcels, walk->question.days};
    bool room = walk->first->proved ? note(walk, &whole, walk->first) : go_on(walk, &whole, walk->first);
    if (!room)
        return lb_fail_nomem(err);
    walk->err = err;
    pthread_mutex_init(&walk->lock, NULL);
    pthread_cond_init(&walk->changed, NULL);
    front_work(walk, visit);
    pthread_cond_destroy(&walk->changed);
    pthread_mutex_destroy(&walk->lock);
    return walk->status;
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
    struct front_walk walk = {
        .question = basket_question(market, limits), .first = first, .workers = limits->workers};
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
    free(walk.asked.at);
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
