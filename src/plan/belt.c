/* With `radius` counted positive where the pulley lies left of the belt (it turns anticlockwise) and negative
 * where it lies right, the belt's line beside a pulley with centre c is c - radius · n, n pointing left of
 * the way it goes. Two such lines are one when the difference of the centres is span · u + (difference of
 * the radii) · n: that is all there is to outer and inner tangents. */
#include "plan/belt.h"

#include <math.h>
#include <string.h>

/* Below these nothing is told apart: mm, and radians (a thousandth of a millimetre on a metre). */
#define NEAR_MM    1e-6
#define NEAR_ANGLE 1e-9

/* One of the two ways in which the ribs may lie. */
struct attempt {
    const struct lb_pulley *pulleys;
    double radius[LB_BELT_MOST];    /* signed */
    double direction[LB_BELT_MOST]; /* of the piece that leaves the pulley */
    int turns;                      /* how often the belt goes round, anticlockwise counted positive */
    struct lb_belt belt;
};

static void fail(struct lb_belt *belt, enum lb_belt_fault fault, size_t at, size_t other)
{
    belt->fault = fault;
    belt->at = at;
    belt->other = other;
}

static size_t after(const struct lb_belt *belt, size_t i)
{
    return i + 1 < belt->count ? i + 1 : 0;
}

static bool sane(const struct lb_pulley *pulley)
{
    return fabs(pulley->x) <= LB_BELT_REACH && fabs(pulley->y) <= LB_BELT_REACH && pulley->diameter > 0 &&
           pulley->diameter <= LB_BELT_REACH; /* what is no number is none of it */
}

/* What is wrong whichever way the belt goes. */
static void judge(struct lb_belt *belt, const struct lb_pulley *pulleys, size_t count)
{
    *belt = (struct lb_belt){.count = count};
    if (count < 2 || count > LB_BELT_MOST) {
        fail(belt, count < 2 ? LB_BELT_FEW : LB_BELT_MANY, 0, 0);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        if (!sane(&pulleys[i])) {
            fail(belt, LB_BELT_SIZE, i, i);
            return;
        }
    }
    for (size_t i = 0; i < count; i++) {
        for (size_t j = i + 1; j < count; j++) {
            double apart = hypot(pulleys[j].x - pulleys[i].x, pulleys[j].y - pulleys[i].y);
            if (apart < (pulleys[i].diameter + pulleys[j].diameter) / 2 - NEAR_MM) {
                fail(belt, LB_BELT_OVERLAP, i, j);
                return;
            }
        }
    }
}

/* The straight piece from pulley i to pulley j. */
static void lay_span(struct attempt *a, size_t i, size_t j)
{
    const struct lb_pulley *from = &a->pulleys[i], *to = &a->pulleys[j];
    double x = to->x - from->x, y = to->y - from->y, apart = hypot(x, y), rise = a->radius[j] - a->radius[i];
    double square = (apart - rise) * (apart + rise);
    if (square <= NEAR_MM * NEAR_MM) {
        fail(&a->belt, LB_BELT_TANGENT, i, j);
        return;
    }
    double span = sqrt(square), angle = atan2(y, x) - atan2(rise, span);
    double left_x = -sin(angle), left_y = cos(angle);
    a->direction[i] = angle;
    a->belt.turns[i].span = span;
    a->belt.turns[i].off =
        (struct lb_belt_point){from->x - a->radius[i] * left_x, from->y - a->radius[i] * left_y};
    a->belt.turns[j].on =
        (struct lb_belt_point){to->x - a->radius[j] * left_x, to->y - a->radius[j] * left_y};
}

static void lay_arc(struct attempt *a, size_t before, size_t i)
{
    struct lb_belt_turn *turn = &a->belt.turns[i];
    double by = a->direction[i] - a->direction[before];
    turn->clockwise = a->radius[i] < 0;
    turn->wrap = fmod(turn->clockwise ? -by : by, 2 * M_PI);
    if (turn->wrap < 0)
        turn->wrap += 2 * M_PI;
    if (turn->wrap < NEAR_ANGLE || turn->wrap > 2 * M_PI - NEAR_ANGLE)
        fail(&a->belt, LB_BELT_BARE, i, i);
}

static bool spans_cross(const struct lb_belt *belt, size_t i, size_t j);
static double distance_to_span(const struct lb_belt *belt, size_t i, const struct lb_pulley *pulley);

/* No piece may run through a pulley, nor across another piece. */
static void look_for_crossings(struct attempt *a)
{
    struct lb_belt *belt = &a->belt;
    for (size_t i = 0; i < belt->count && !belt->fault; i++) {
        for (size_t j = 0; j < belt->count && !belt->fault; j++) {
            if (j != i && j != after(belt, i) &&
                distance_to_span(belt, i, &a->pulleys[j]) < a->pulleys[j].diameter / 2 - NEAR_MM)
                fail(belt, LB_BELT_THROUGH, i, j);
            else if (j > i && spans_cross(belt, i, j))
                fail(belt, LB_BELT_CROSSES, i, j);
        }
    }
}

static double side_of(struct lb_belt_point from, struct lb_belt_point to, struct lb_belt_point point)
{
    return (to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x);
}

static bool spans_cross(const struct lb_belt *belt, size_t i, size_t j)
{
    struct lb_belt_point a = belt->turns[i].off, b = belt->turns[after(belt, i)].on, c = belt->turns[j].off,
                         d = belt->turns[after(belt, j)].on;
    return side_of(a, b, c) * side_of(a, b, d) < 0 && side_of(c, d, a) * side_of(c, d, b) < 0;
}

static double distance_to_span(const struct lb_belt *belt, size_t i, const struct lb_pulley *pulley)
{
    struct lb_belt_point a = belt->turns[i].off, b = belt->turns[after(belt, i)].on;
    double x = b.x - a.x, y = b.y - a.y;
    double along = ((pulley->x - a.x) * x + (pulley->y - a.y) * y) / (x * x + y * y);
    along = fmin(fmax(along, 0), 1);
    return hypot(a.x + along * x - pulley->x, a.y + along * y - pulley->y);
}

/* A belt that does not cross itself turns once in all, one way or the other. */
static void judge_turns(struct attempt *a)
{
    struct lb_belt *belt = &a->belt;
    double whole = 0;
    size_t widest = 0;
    for (size_t i = 0; i < belt->count; i++) {
        whole += belt->turns[i].clockwise ? -belt->turns[i].wrap : belt->turns[i].wrap;
        widest = belt->turns[i].wrap > belt->turns[widest].wrap ? i : widest;
    }
    a->turns = (int)lround(whole / (2 * M_PI));
    belt->crossed = belt->count == 2 && a->turns == 0;
    if (a->turns < -1 || a->turns > 1)
        fail(belt, LB_BELT_ROUND, widest, widest);
    else if (!belt->crossed)
        look_for_crossings(a);
    if (!belt->fault && a->turns == 0 && !belt->crossed)
        fail(belt, LB_BELT_ROUND, widest, widest);
}

/* `side`: 1 with the ribs' pulleys left of the belt, -1 with them right of it. */
static void attempt(struct attempt *a, const struct lb_pulley *pulleys, size_t count, int side)
{
    struct lb_belt *belt = &a->belt;
    *a = (struct attempt){.pulleys = pulleys, .belt = {.count = count}};
    for (size_t i = 0; i < count; i++)
        a->radius[i] = (pulleys[i].back ? -side : side) * pulleys[i].diameter / 2;
    for (size_t i = 0; i < count && !belt->fault; i++)
        lay_span(a, i, after(belt, i));
    for (size_t i = 0; i < count && !belt->fault; i++)
        lay_arc(a, i, after(belt, i));
    if (!belt->fault)
        judge_turns(a);
    for (size_t i = 0; i < count && !belt->fault; i++)
        belt->length += belt->turns[i].span + pulleys[i].diameter / 2 * belt->turns[i].wrap;
}

/* Twice the area that the centres go round, anticlockwise counted positive. */
static double area_of(const struct lb_pulley *pulleys, size_t count)
{
    double area = 0;
    for (size_t i = 1; i + 1 < count; i++)
        area += (pulleys[i].x - pulleys[0].x) * (pulleys[i + 1].y - pulleys[0].y) -
                (pulleys[i + 1].x - pulleys[0].x) * (pulleys[i].y - pulleys[0].y);
    return area;
}

void lb_belt_run(struct lb_belt *belt, const struct lb_pulley *pulleys, size_t count)
{
    struct attempt likely, other;
    judge(belt, pulleys, count);
    if (belt->fault)
        return;
    int side = area_of(pulleys, count) > 0 ? 1 : -1; /* in a line: clockwise, as most engines turn */
    attempt(&likely, pulleys, count, side);
    *belt = likely.belt;
    if (!belt->fault)
        return;
    attempt(&other, pulleys, count, -side);
    if (!other.belt.fault)
        *belt = other.belt;
}

void lb_belt_explain(struct lb_buf *out, const struct lb_belt *belt, const char *belt_name,
                     const char *const *names)
{
    const char *at = belt->count && belt->count <= LB_BELT_MOST ? names[belt->at] : "",
               *other = belt->count && belt->count <= LB_BELT_MOST ? names[belt->other] : "";
    const char *next =
        belt->fault == LB_BELT_CROSSES || belt->fault == LB_BELT_THROUGH ? names[after(belt, belt->at)] : "";
    lb_buf_printf(out, "%s: ", belt_name);
    switch (belt->fault) {
    case LB_BELT_RUNS:
        lb_buf_puts(out, "it runs.");
        break;
    case LB_BELT_FEW:
        lb_buf_printf(out,
                      "a belt runs over two pulleys at the least, and the map has %zu%s%s. Add the others.",
                      belt->count, *at ? ": " : "", at);
        break;
    case LB_BELT_MANY:
        lb_buf_printf(out, "the map has %zu pulleys for it; more than %d are not drawn.", belt->count,
                      LB_BELT_MOST);
        break;
    case LB_BELT_SIZE:
        lb_buf_printf(
            out, "%s has no diameter, or is more than %d m away or across. Its x, y and diameter are mm.", at,
            LB_BELT_REACH / 1000);
        break;
    case LB_BELT_OVERLAP:
        lb_buf_printf(out, "%s and %s overlap as the map places them. Check their x, y and diameter.", at,
                      other);
        break;
    case LB_BELT_TANGENT:
        lb_buf_printf(out, "there is no room for the belt between %s and %s. Check their x, y and diameter.",
                      at, other);
        break;
    case LB_BELT_BARE:
        lb_buf_printf(out, "it would not touch %s. Check its x, y and side, and its place in the order.", at);
        break;
    case LB_BELT_ROUND:
        lb_buf_printf(
            out, "it would have to go all the way round %s. Check its side, and its place in the order.", at);
        break;
    case LB_BELT_THROUGH:
        lb_buf_printf(out, "from %s to %s it would run through %s. Check the order, and their x and y.", at,
                      next, other);
        break;
    case LB_BELT_CROSSES:
        lb_buf_printf(out,
                      "it would cross itself where it leaves %s and %s. Check the order, and which have "
                      "its back.",
                      at, other);
        break;
    }
}
