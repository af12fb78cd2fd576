/* The run of a belt: against published lengths and their closed forms, against convex hulls, and against a
 * run that is laid by bisection and measured in small pieces. */
#include "plan/belt.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

static double length_of(const struct lb_pulley *pulleys, size_t count)
{
    struct lb_belt belt;
    lb_belt_run(&belt, pulleys, count);
    cr_assert_eq(belt.fault, LB_BELT_RUNS, "fault %d at %zu, %zu", belt.fault, belt.at, belt.other);
    return belt.length;
}

static unsigned long state;

static double roll(double from, double to)
{
    state = state * 6364136223846793005UL + 1442695040888963407UL;
    return from + (to - from) * (double)(state >> 11) / (double)(1UL << 53);
}

/* Encyclopaedia Britannica 1911, "Pulley": the open belt, exact form with arcsine. The figures are those of
 * outside-checks.md. */
Test(belt_run, published_open_belts)
{
    const struct lb_pulley mill[] = {{0, 0, 1600, false}, {12000, 0, 500, false}};
    const struct lb_pulley equal[] = {{0, 0, 100, false}, {500, 0, 100, false}};
    cr_expect_float_eq(length_of(mill, 2), 27323.885, 5e-4);
    cr_expect_float_eq(length_of(equal, 2), 1314.159, 5e-4);
    cr_expect_float_eq(length_of(equal, 2), 1000 + 100 * PI, 1e-6);
}

Test(belt_run, closed_forms_of_two_pulleys)
{
    state = 1;
    for (int i = 0; i < 2000; i++) {
        double R = roll(5, 400), r = roll(5, 400), C = R + r + roll(1, 3000), turn = roll(0, 2 * PI);
        struct lb_pulley run[] = {{roll(-500, 500), roll(-500, 500), 2 * R, false}, {0, 0, 2 * r, false}};
        run[1].x = run[0].x + C * cos(turn);
        run[1].y = run[0].y + C * sin(turn);
        double open = 2 * sqrt(C * C - (R - r) * (R - r)) + PI * (R + r) + 2 * (R - r) * asin((R - r) / C);
        double crossed = 2 * sqrt(C * C - (R + r) * (R + r)) + (R + r) * (PI + 2 * asin((R + r) / C));
        cr_expect_float_eq(length_of(run, 2), open, 1e-6);
        run[i % 2].back = true;
        cr_expect_float_eq(length_of(run, 2), crossed, 1e-6);
    }
}

Test(belt_run, crossed_pulleys_turn_against_each_other)
{
    struct lb_pulley run[] = {{0, 0, 100, false}, {500, 0, 60, true}};
    struct lb_belt belt;
    lb_belt_run(&belt, run, 2);
    cr_expect(belt.crossed);
    cr_expect_neq(belt.turns[0].clockwise, belt.turns[1].clockwise);
    run[1].back = false;
    lb_belt_run(&belt, run, 2);
    cr_expect_not(belt.crossed);
    cr_expect_eq(belt.turns[0].clockwise, belt.turns[1].clockwise);
}

static int compare_points(const void *a, const void *b)
{
    const struct lb_belt_point *p = a, *q = b;
    return p->x < q->x ? -1 : p->x > q->x ? 1 : p->y < q->y ? -1 : p->y > q->y;
}

static double cross(struct lb_belt_point o, struct lb_belt_point a, struct lb_belt_point b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/* The perimeter of the points' convex hull; sorts them. */
static double hull(struct lb_belt_point *points, size_t count)
{
    struct lb_belt_point *on = malloc(2 * count * sizeof *on);
    size_t kept = 0;
    qsort(points, count, sizeof *points, compare_points);
    for (size_t i = 0; i < count; on[kept++] = points[i++])
        while (kept >= 2 && cross(on[kept - 2], on[kept - 1], points[i]) <= 0)
            kept--;
    for (size_t i = count - 1, lower = kept + 1; i-- > 0; on[kept++] = points[i])
        while (kept >= lower && cross(on[kept - 2], on[kept - 1], points[i]) <= 0)
            kept--;
    double length = 0;
    for (size_t i = 0; i + 1 < kept; i++)
        length += hypot(on[i + 1].x - on[i].x, on[i + 1].y - on[i].y);
    free(on);
    return length;
}

/* A belt whose ribs touch every pulley and that has nothing at its back is the hull of the circles. */
Test(belt_run, ribs_only_is_the_hull_of_the_circles)
{
    enum { POINTS = 3000 };
    struct lb_belt_point *points = malloc(8 * POINTS * sizeof *points);
    state = 7;
    for (int i = 0; i < 60; i++) {
        struct lb_pulley run[8];
        size_t count = 3 + (size_t)i % 6;
        for (size_t p = 0; p < count; p++) {
            double angle = 2 * PI * (double)p / (double)count * (i % 2 ? 1 : -1);
            run[p] = (struct lb_pulley){500 * cos(angle) + roll(-30, 30), 400 * sin(angle) + roll(-30, 30),
                                        roll(60, 180), false};
            for (size_t k = 0; k < POINTS; k++)
                points[p * POINTS + k] =
                    (struct lb_belt_point){run[p].x + run[p].diameter / 2 * cos(2 * PI * (double)k / POINTS),
                                           run[p].y + run[p].diameter / 2 * sin(2 * PI * (double)k / POINTS)};
        }
        double expected = hull(points, count * POINTS);
        cr_expect_float_eq(length_of(run, count), expected, expected * 1e-6);
    }
    free(points);
}

/* The other way to a tangent: a line with normal (cos t, sin t) has pulley i at the signed distance of its
 * radius; t is found by going round and halving. `turn`: 1 anticlockwise (left of the belt), -1 clockwise. */
static double miss(const struct lb_pulley *a, const struct lb_pulley *b, const int *turn, double t)
{
    return cos(t) * (b->x - a->x) + sin(t) * (b->y - a->y) -
           (turn[1] * b->diameter / 2 - turn[0] * a->diameter / 2);
}

static double tangent(const struct lb_pulley *a, const struct lb_pulley *b, const int *turn)
{
    enum { STEPS = 720 };
    for (int i = 0; i < STEPS; i++) {
        double low = 2 * PI * i / STEPS, high = 2 * PI * (i + 1) / STEPS, low_miss = miss(a, b, turn, low);
        if (low_miss * miss(a, b, turn, high) > 0)
            continue;
        for (int k = 0; k < 80; k++) {
            double middle = (low + high) / 2;
            if (low_miss * miss(a, b, turn, middle) > 0)
                low = middle;
            else
                high = middle;
        }
        /* The belt goes from a to b with its left side towards the normal. */
        if (sin(low) * (b->x - a->x) - cos(low) * (b->y - a->y) > 0)
            return low;
    }
    cr_assert_fail("no tangent");
    return 0;
}

/* Walks the run in small straight pieces. turn: as above, one a pulley. */
static double walk(const struct lb_pulley *run, size_t count, const int *turn)
{
    enum { PIECES = 40000 };
    double length = 0;
    for (size_t i = 0; i < count; i++) {
        const struct lb_pulley *before = &run[(i + count - 1) % count], *here = &run[i],
                               *next = &run[(i + 1) % count];
        const int coming[] = {turn[(i + count - 1) % count], turn[i]},
                  going[] = {turn[i], turn[(i + 1) % count]};
        double in = tangent(before, here, coming), out = tangent(here, next, going),
               radius = here->diameter / 2;
        double arc = turn[i] * (out - in);
        while (arc < 0)
            arc += 2 * PI;
        while (arc >= 2 * PI)
            arc -= 2 * PI;
        struct lb_belt_point at = {here->x - turn[i] * radius * cos(in),
                                   here->y - turn[i] * radius * sin(in)};
        for (int k = 1; k <= PIECES; k++) {
            double t = in + turn[i] * arc * k / PIECES;
            struct lb_belt_point to = {here->x - turn[i] * radius * cos(t),
                                       here->y - turn[i] * radius * sin(t)};
            length += hypot(to.x - at.x, to.y - at.y);
            at = to;
        }
        struct lb_belt_point end = {next->x - going[1] * next->diameter / 2 * cos(out),
                                    next->y - going[1] * next->diameter / 2 * sin(out)};
        length += hypot(end.x - at.x, end.y - at.y);
    }
    return length;
}

/* An invented engine: crankshaft, compressor, idler at the back of the belt, alternator, pump. */
static const struct lb_pulley five[] = {{0, 0, 150, false},
                                        {-235, -15, 118, false},
                                        {-295, 105, 70, true},
                                        {-250, 225, 58, false},
                                        {90, 240, 120, false}};
static const int five_turns[] = {-1, -1, 1, -1, -1};

Test(belt_run, five_pulleys_with_an_idler_at_the_back)
{
    struct lb_belt belt;
    lb_belt_run(&belt, five, 5);
    cr_assert_eq(belt.fault, LB_BELT_RUNS);
    cr_expect_float_eq(belt.length, walk(five, 5, five_turns), 1e-6);
    for (int i = 0; i < 5; i++)
        cr_expect_eq(belt.turns[i].clockwise, five_turns[i] < 0, "pulley %d", i);
}

/* The same engine moved about a little, so that no figure is a special one. */
Test(belt_run, shaken_runs_against_the_walk)
{
    state = 3;
    for (int i = 0; i < 40; i++) {
        struct lb_pulley run[5];
        for (int p = 0; p < 5; p++)
            run[p] = (struct lb_pulley){five[p].x + roll(-8, 8), five[p].y + roll(-8, 8),
                                        five[p].diameter + roll(-8, 8), five[p].back};
        cr_expect_float_eq(length_of(run, 5), walk(run, 5, five_turns), 1e-6);
    }
}

Test(belt_run, where_it_stands_and_where_it_begins_make_no_difference)
{
    double expected = length_of(five, 5);
    state = 11;
    for (int i = 0; i < 500; i++) {
        struct lb_pulley run[5];
        double angle = roll(0, 2 * PI), x = roll(-2000, 2000), y = roll(-2000, 2000);
        size_t first = (size_t)roll(0, 5);
        for (size_t p = 0; p < 5; p++) {
            size_t from = (i & 1 ? 5 - p + first : p + first) % 5;
            double mirrored = i & 2 ? -five[from].x : five[from].x;
            run[p] = five[from];
            run[p].x = x + mirrored * cos(angle) - five[from].y * sin(angle);
            run[p].y = y + mirrored * sin(angle) + five[from].y * cos(angle);
        }
        cr_expect_float_eq(length_of(run, 5), expected, 1e-6);
    }
}

/* A belt over two wheels that lie in a line with one at its back between them has two runs, and the order
 * says which. */
Test(belt_run, the_order_decides_between_two_runs)
{
    const struct lb_pulley up[] = {{-200, 0, 100, false}, {200, 0, 100, false}, {0, 10, 60, true}};
    const struct lb_pulley down[] = {{200, 0, 100, false}, {-200, 0, 100, false}, {0, 10, 60, true}};
    const int left[] = {1, 1, -1}, right[] = {-1, -1, 1};
    cr_expect_float_eq(length_of(up, 3), walk(up, 3, left), 1e-6);
    cr_expect_float_eq(length_of(down, 3), walk(down, 3, right), 1e-6);
}

static void expect_fault(const struct lb_pulley *run, size_t count, enum lb_belt_fault fault, size_t at,
                         size_t other)
{
    struct lb_belt belt;
    static const char *const names[] = {"first", "second", "third", "fourth", "fifth"};
    struct lb_buf words = {0};
    lb_belt_run(&belt, run, count);
    cr_expect_eq(belt.fault, fault, "fault %d, expected %d", belt.fault, fault);
    cr_expect_eq(belt.at, at, "at %zu", belt.at);
    cr_expect_eq(belt.other, other, "other %zu", belt.other);
    lb_belt_explain(&words, &belt, "fan belt", names);
    cr_expect(!count || count > LB_BELT_MOST || strstr(lb_buf_text(&words), names[at]), "%s",
              lb_buf_text(&words));
    lb_buf_free(&words);
}

#define FAULT(fault, at, other, ...)                                                                         \
    expect_fault((const struct lb_pulley[]){__VA_ARGS__},                                                    \
                 sizeof((const struct lb_pulley[]){__VA_ARGS__}) / sizeof(struct lb_pulley), fault, at,      \
                 other)

Test(belt_run, what_cannot_be)
{
    struct lb_pulley many[LB_BELT_MOST + 1] = {{0}};
    expect_fault(NULL, 0, LB_BELT_FEW, 0, 0);
    expect_fault(many, LB_BELT_MOST + 1, LB_BELT_MANY, 0, 0);
    FAULT(LB_BELT_FEW, 0, 0, {0, 0, 100, false});
    FAULT(LB_BELT_SIZE, 1, 1, {0, 0, 100, false}, {300, 0, 0, false});
    FAULT(LB_BELT_SIZE, 1, 1, {0, 0, 100, false}, {NAN, 0, 50, false});
    FAULT(LB_BELT_SIZE, 0, 0, {1e9, 0, 100, false}, {300, 0, 10, false});
    /* Overlapping, one in the other, twice the same. */
    FAULT(LB_BELT_OVERLAP, 0, 1, {0, 0, 100, false}, {60, 0, 50, false});
    FAULT(LB_BELT_OVERLAP, 0, 1, {0, 0, 100, false}, {10, 0, 20, false});
    FAULT(LB_BELT_OVERLAP, 0, 2, {0, 0, 100, false}, {300, 0, 50, false}, {0, 0, 100, false});
    /* Circles that touch leave no way between them. */
    FAULT(LB_BELT_TANGENT, 0, 1, {0, 0, 100, false}, {100, 0, 100, true});
    /* Inside the others, where the ribs do not come by. */
    FAULT(LB_BELT_ROUND, 2, 2, {-300, 0, 100, false}, {300, 0, 100, false}, {0, 20, 20, false},
          {0, 400, 100, false});
    /* Just reached. */
    FAULT(LB_BELT_BARE, 2, 2, {-300, 0, 100, false}, {300, 0, 100, false}, {0, 0, 100, false});
    /* In the way of the piece from the first to the second. */
    FAULT(LB_BELT_THROUGH, 0, 3, {-300, 0, 100, false}, {300, 0, 100, false}, {0, 400, 100, false},
          {0, -40, 40, true});
    /* Beyond it. */
    FAULT(LB_BELT_CROSSES, 0, 2, {-300, 0, 100, false}, {300, 0, 100, false}, {0, 400, 100, false},
          {0, -140, 40, true});
}

/* Any run at all is told, and what is told to run is whole: finite, every arc between nothing and once
 * round, and its turns adding up to one. */
Test(belt_run, any_pulleys)
{
    int ran = 0;
    state = 23;
    for (int i = 0; i < 20000; i++) {
        struct lb_pulley run[6];
        struct lb_belt belt;
        size_t count = 2 + (size_t)roll(0, 5);
        double whole = 0, length = 0;
        for (size_t p = 0; p < count; p++)
            run[p] = (struct lb_pulley){roll(-400, 400), roll(-400, 400), roll(20, 120), roll(0, 1) < .3};
        lb_belt_run(&belt, run, count);
        if (belt.fault || belt.crossed)
            continue;
        ran++;
        for (size_t p = 0; p < count; p++) {
            const struct lb_belt_turn *turn = &belt.turns[p], *next = &belt.turns[(p + 1) % count];
            cr_expect(turn->wrap > 0 && turn->wrap < 2 * PI);
            cr_expect_float_eq(turn->span, hypot(next->on.x - turn->off.x, next->on.y - turn->off.y), 1e-6);
            cr_expect_float_eq(hypot(turn->on.x - run[p].x, turn->on.y - run[p].y), run[p].diameter / 2,
                               1e-6);
            whole += turn->clockwise ? -turn->wrap : turn->wrap;
            length += turn->span + turn->wrap * run[p].diameter / 2;
        }
        cr_expect_float_eq(fabs(whole), 2 * PI, 1e-9);
        cr_expect_float_eq(length, belt.length, 1e-6);
    }
    cr_expect_gt(ran, 500, "%d", ran);
}
