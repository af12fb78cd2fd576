/* The basket against an exhaustive search that shares no code with it, on small random markets with all that
 * the contract knows; and every sum once more from the lines. */
#include "market/brute.h"
#include "market/market_text.h"
#include "market/readd.h"
#include "market/roll.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

enum { MARKETS = 500, FRONTS = 150, FRONT_SEED = 100000 };

struct fair {
    char *words;
    struct market_text *text;
};

static struct fair open_fair(uint64_t seed, int needs, int suppliers)
{
    struct fair fair = {.words = roll_market(seed, needs, suppliers)};
    struct lb_error err = {0};
    cr_assert_not_null(fair.words);
    lb_status status = market_text_parse(&fair.text, fair.words, &err);
    cr_assert_eq(status, LB_OK, "market %d: %s", (int)seed, lb_error_text(&err));
    fair.text->limits.seconds = 60;
    return fair;
}

static void close_fair(struct fair *fair)
{
    market_text_free(fair->text);
    free(fair->words);
}

static struct lb_basket *solve(const struct fair *fair)
{
    struct lb_basket *basket;
    struct lb_error err = {0};
    lb_status status = lb_basket_solve(&basket, &fair->text->market, &fair->text->limits, &err);
    cr_assert_eq(status, LB_OK, "%s\n%s", lb_error_text(&err), fair->words);
    return basket;
}

/* Suppliers as the exhaustive search notes them: a bit each, by the rank of the name. */
static uint32_t suppliers_of(const struct lb_market *market, const struct lb_basket *basket)
{
    uint32_t bits = 0;
    for (size_t i = 0; i < basket->parcel_count; i++) {
        int rank = 0;
        for (size_t s = 0; s < market->supplier_count; s++)
            rank +=
                strcmp(market->suppliers[s].name, market->suppliers[basket->parcels[i].supplier].name) < 0;
        bits |= 1u << rank;
    }
    return bits;
}

static int64_t price_of(const struct lb_basket *basket)
{
    return basket->total.total + basket->premium;
}

/* Equal prices may be split into total and premium either way. */
static bool same(const struct lb_market *market, const struct lb_basket *basket,
                 const struct brute_basket *best)
{
    return basket->found == best->found &&
           (!best->found ||
            (price_of(basket) == best->price && basket->parcel_count == (size_t)best->parcels &&
             basket->days == best->days && suppliers_of(market, basket) == best->suppliers));
}

static void hold_against(uint64_t seed)
{
    struct fair fair = open_fair(seed, 4, 4);
    const struct lb_market *market = &fair.text->market;
    struct lb_basket *basket = solve(&fair);
    struct brute_basket best = brute_solve(market, &fair.text->limits);
    cr_expect(same(market, basket, &best),
              "market %d: found %d, %lld + %lld, %zu parcels, %lld days, suppliers %x; by trying everything "
              "%d, %lld + %lld, %d, %lld, %x\n%s",
              (int)seed, basket->found, (long long)basket->total.total, (long long)basket->premium,
              basket->parcel_count, (long long)basket->days, suppliers_of(market, basket), best.found,
              (long long)best.total, (long long)best.premium, best.parcels, (long long)best.days,
              best.suppliers, fair.words);
    cr_expect(basket->proved, "market %d is not proved\n%s", (int)seed, fair.words);
    cr_expect(!best.found || basket->bound <= best.price, "market %d: bound %lld\n%s", (int)seed,
              (long long)basket->bound, fair.words);
    const char *wrong = basket->found ? readd_basket(market, &fair.text->limits, basket) : NULL;
    cr_expect(!wrong, "market %d: %s\n%s", (int)seed, wrong, fair.words);
    lb_basket_free(basket);
    close_fair(&fair);
}

/* Once got wrong: a row of shipping that ends, the shelf, boxes as padding, as much of a need as a pack
 * leaves to boxes. */
static const uint64_t read_wrong[] = {579,  844,  1059, 1262, 1555, 1557, 2106, 2144,
                                      2576, 2684, 2725, 3031, 3066, 3191, 3638, 4228};

Test(basket_exact, equals_trying_everything)
{
    const char *more = getenv("LB_MARKETS"); /* as many as one has time for */
    uint64_t markets = more ? strtoull(more, NULL, 10) : MARKETS;
    for (uint64_t seed = 0; seed < markets; seed++)
        hold_against(seed);
    for (size_t i = 0; i < sizeof read_wrong / sizeof *read_wrong; i++)
        hold_against(read_wrong[i]);
}

static bool same_point(const struct lb_basket *basket, const struct brute_basket *point)
{
    return basket->total.total + basket->premium == point->price &&
           basket->parcel_count == (size_t)point->parcels && basket->days == point->days;
}

/* `points` begins with what lb_basket_solve gives, which the front leaves out. */
static void compare_front(uint64_t seed, const struct fair *fair, const struct lb_front *front,
                          const struct brute_basket *points, size_t count)
{
    cr_expect(front->complete && front->count + 1 == count, "market %d: %zu and the first, not %zu\n%s",
              (int)seed, front->count, count, fair->words);
    for (size_t i = 0; i < front->count && i + 1 < count; i++) {
        cr_expect(same_point(front->points[i], &points[i + 1]),
                  "market %d, point %zu: %lld, %zu, %lld; not %lld, %d, %lld\n%s", (int)seed, i,
                  (long long)(front->points[i]->total.total + front->points[i]->premium),
                  front->points[i]->parcel_count, (long long)front->points[i]->days,
                  (long long)points[i + 1].price, points[i + 1].parcels, (long long)points[i + 1].days,
                  fair->words);
        const char *wrong = readd_basket(&fair->text->market, &fair->text->limits, front->points[i]);
        cr_expect(!wrong, "market %d, point %zu: %s\n%s", (int)seed, i, wrong, fair->words);
    }
}

static void hold_front_against(uint64_t seed)
{
    struct fair fair = open_fair(seed, 3, 4);
    struct lb_basket *basket = solve(&fair);
    struct lb_error err = {0};
    struct brute_basket points[BRUTE_POINTS];
    if (basket->found) {
        struct lb_front *front;
        lb_status status = lb_front_solve(&front, &fair.text->market, &fair.text->limits, basket, &err);
        cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
        size_t count = brute_front(&fair.text->market, &fair.text->limits, points);
        compare_front(seed, &fair, front, points, count);
        lb_front_free(front);
    }
    lb_basket_free(basket);
    close_fair(&fair);
}

Test(basket_exact, front_is_all_that_nothing_beats)
{
    for (uint64_t seed = FRONT_SEED; seed < FRONT_SEED + FRONTS; seed++)
        hold_front_against(seed);
    hold_front_against(103409); /* boxes on the shelf that are enough for what is in them */
    hold_front_against(110299); /* what comes along sets how much is left to boxes */
    hold_front_against(114751); /* nothing needs to be bought */
}

Test(basket_exact, a_market_says_where_it_is_wrong)
{
    static const struct {
        const char *text, *words;
    } wrong[] = {
        {"market EUR\nship 0 10\nend\n", "line 2"},
        {"market EUR\nneed 1000000\noption 0 1000000 0\nend\n", "part or need"},
        {"market EUR\npart x\nend\n", "\"x\" is no whole number"},
        {"market EUR\npart 0\n", "no end"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        struct market_text *text;
        struct lb_error err = {0};
        cr_expect_eq(market_text_parse(&text, wrong[i].text, &err), LB_DATA);
        cr_expect_null(text);
        cr_expect_not_null(strstr(lb_error_text(&err), wrong[i].words), "%s", lb_error_text(&err));
        lb_error_free(&err);
    }
}
