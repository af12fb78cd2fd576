/* The baskets that nothing beats: on a market with known answers, and against asking for every pair of
 * limits.
 */
#include "basket_help.h"
#include "market/roll.h"

#include <stdlib.h>

enum { DAYS = 16, PARCELS = 4, MARKETS = 60, MOST = PARCELS * (DAYS + 1) };

struct point {
    int64_t price, parcels, days;
};

static struct lb_front *front_of(const struct market_text *text, const struct lb_basket *first)
{
    struct lb_front *front;
    struct lb_error err = {0};
    cr_assert_eq(lb_front_solve(&front, &text->market, &text->limits, first, &err), LB_OK, "%s",
                 lb_error_text(&err));
    return front;
}

static struct point point_of(const struct lb_basket *basket)
{
    return (struct point){price_of(basket), (int64_t)basket->parcel_count, basket->days};
}

static bool beats(struct point a, struct point b)
{
    return a.price <= b.price && a.parcels <= b.parcels && a.days <= b.days;
}

static void expect_points(const char *words, const struct point *points, size_t count)
{
    struct market_text *text = market_of(words);
    struct lb_basket *first = basket_of(text);
    struct lb_front *front = front_of(text, first);
    cr_expect(front->complete);
    cr_assert_eq(front->count, count, "%zu points\n%s", front->count, words);
    for (size_t i = 0; i < count; i++) {
        struct point point = point_of(front->points[i]);
        cr_expect(front->points[i]->proved);
        cr_expect(point.price == points[i].price && point.parcels == points[i].parcels &&
                      point.days == points[i].days,
                  "%lld, %lld, %lld", (long long)point.price, (long long)point.parcels,
                  (long long)point.days);
    }
    lb_front_free(front);
    lb_basket_free(first);
    market_text_free(text);
}

#define TWO_NEEDS "need 1000000\noption 0 1000000 0\nneed 1000000\noption 1 1000000 0\n"

/* Each part is cheapest somewhere else; charlie has both; delta has both tomorrow. */
static const char four[] = "market EUR\n"
                           "supplier alpha EUR -1 4 -1\nsupplier bravo EUR -1 6 -1\n"
                           "supplier charlie EUR -1 5 -1\nsupplier delta EUR -1 1 -1\n"
                           "part 0\noffer 0 EUR 100 0 1000000 1 -1 0\noffer 2 EUR 150 0 1000000 1 -1 0\n"
                           "offer 3 EUR 300 0 1000000 1 -1 0\n"
                           "part 0\noffer 1 EUR 100 0 1000000 1 -1 0\noffer 2 EUR 150 0 1000000 1 -1 0\n"
                           "offer 3 EUR 300 0 1000000 1 -1 0\n";

Test(basket_front, known_points_of_a_small_market)
{
    char words[1000];
    static const struct point all[] = {{250, 2, 5}, {300, 1, 5}, {400, 2, 4}, {600, 1, 1}};
    snprintf(words, sizeof words, "%s%send\n", four, TWO_NEEDS);
    expect_points(words, all, 4); /* beside 200, 2, 6 */
    static const struct point single[] = {{600, 1, 1}};
    snprintf(words, sizeof words, "%s%slimit parcels 1\nend\n", four, TWO_NEEDS);
    expect_points(words, single, 1);
    snprintf(words, sizeof words, "%s%slimit days 3\nend\n", four, TWO_NEEDS);
    expect_points(words, NULL, 0);
}

Test(basket_front, a_basket_of_nothing_bought_is_a_point)
{
    static const struct point shelf[] = {{90, 0, 0}};
    expect_points("market EUR\nsupplier alpha EUR -1 1 -1\n"
                  "part 1000000\npart 0\noffer 0 EUR 80 0 1000000 1 -1 0\n"
                  "need 1000000\noption 1 1000000 0\noption 0 1000000 90\nend\n",
                  shelf, 1);
}

Test(basket_front, equal_ones_are_one_point)
{
    expect_points("market EUR\nsupplier alpha EUR -1 1 -1\nsupplier bravo EUR -1 1 -1\n"
                  "part 0\noffer 0 EUR 80 0 1000000 1 -1 0\noffer 1 EUR 80 0 1000000 1 -1 0\n"
                  "need 1000000\noption 0 1000000 0\nend\n",
                  NULL, 0);
    struct market_text *text = market_of("market EUR\npart 0\nneed 1000000\noption 0 1000000 0\nend\n");
    struct lb_basket *first = basket_of(text);
    struct lb_front *front = front_of(text, first);
    cr_expect(front->complete && !front->count);
    lb_front_free(front);
    lb_front_free(NULL);
    lb_basket_free(first);
    market_text_free(text);
}

Test(basket_front, without_time_it_is_not_complete)
{
    char words[1000];
    snprintf(words, sizeof words, "%s%send\n", four, TWO_NEEDS);
    struct market_text *text = market_of(words);
    struct lb_basket *first = basket_of(text);
    text->limits.seconds = 1e-9;
    struct lb_front *front = front_of(text, first);
    cr_expect(!front->complete && !front->count);
    lb_front_free(front);
    lb_basket_free(first);
    market_text_free(text);
}

/* One question of the grid; false: the solver could not prove its answer. */
static bool ask(struct market_text *text, int parcels, int64_t days, struct point *point, bool *found)
{
    struct lb_basket_limits kept = text->limits;
    text->limits.parcels = parcels;
    text->limits.arrive_days = days;
    struct lb_basket *basket = basket_of(text);
    bool proved = basket->proved;
    *found = basket->found;
    *point = point_of(basket);
    lb_basket_free(basket);
    text->limits = kept;
    return proved;
}

/* All answers of the grid that no other beats, equal ones once; false: some are not proved. */
static bool grid(struct market_text *text, struct point *points, size_t *count)
{
    int most = text->limits.parcels ? text->limits.parcels : PARCELS;
    int64_t late = text->limits.arrive_days >= 0 ? text->limits.arrive_days : DAYS;
    *count = 0;
    for (int parcels = 1; parcels <= most; parcels++) {
        for (int64_t days = 0; days <= late; days++) {
            struct point point;
            bool found, beaten = false;
            if (!ask(text, parcels, days, &point, &found))
                return false;
            for (size_t i = 0; i < *count; i++)
                beaten |= beats(points[i], point);
            if (!found || beaten)
                continue;
            size_t kept = 0;
            for (size_t i = 0; i < *count; i++)
                if (!beats(point, points[i]))
                    points[kept++] = points[i];
            points[kept] = point;
            *count = kept + 1;
        }
    }
    return true;
}

static bool in(const struct point *points, size_t count, const struct lb_basket *basket)
{
    struct point point = point_of(basket);
    for (size_t i = 0; i < count; i++)
        if (beats(points[i], point) && beats(point, points[i]))
            return true;
    return false;
}

/* Whether it could be compared. */
static bool hold_against_grid(uint64_t seed)
{
    char *words = roll_market(seed, 3, PARCELS);
    struct market_text *text = market_of(words);
    struct lb_basket *first = basket_of(text);
    struct point points[MOST];
    size_t count;
    bool compared = first->found && grid(text, points, &count);
    if (compared) {
        text->limits.workers = (int)(seed % 5);
        struct lb_front *front = front_of(text, first);
        cr_expect(front->complete, "%s", words);
        cr_expect_eq(front->count + 1, count, "market %d: %zu + 1, not %zu\n%s", (int)seed, front->count,
                     count, words);
        cr_expect(in(points, count, first), "market %d: the first\n%s", (int)seed, words);
        for (size_t i = 0; i < front->count; i++)
            cr_expect(in(points, count, front->points[i]), "market %d: %zu\n%s", (int)seed, i, words);
        for (size_t i = 1; i < front->count; i++)
            cr_expect_leq(price_of(front->points[i - 1]), price_of(front->points[i]));
        lb_front_free(front);
    }
    lb_basket_free(first);
    market_text_free(text);
    free(words);
    return compared;
}

Test(basket_front, equals_asking_for_every_pair_of_limits)
{
    int compared = 0;
    for (uint64_t seed = 200000; seed < 200000 + MARKETS; seed++)
        compared += hold_against_grid(seed);
    cr_expect_gt(compared, MARKETS / 2, "%d", compared);
}
