/* Which readings count. Every account of them has a price; the cheapest one is found reading by reading. */
#include "garage/odometer.h"

#include "base/decimal.h"
#include "garage/odometer_parts.h"

#include <math.h>
#include <stdlib.h>

enum {
    LOOK_BACK = 32, /* readings; as many less one in a row may be wrong */
    SLOPES = 4,     /* readings apart that a slope is taken of, at the most */
};

/* What it costs to take a reading for wrong, and what stands between two that are not. That one is wrong is
 * likelier than that an odometer was exchanged and nobody said so, unless two readings would have to be
 * wrong; an exchange is likelier when the new odometer can have begun at 0. What is odd on both sides of a
 * reading (12) makes it wrong, what is odd on one side does not: that may have been a long journey. */
enum { COST_WRONG = 10, COST_SWAP = 16, COST_SWAP_AT_ZERO = 9, COST_ODD = 6, COST_IMPOSSIBLE = 30 };

static const double slack = 2;            /* km that a reading may be less than the one before: rounded */
static const double odd = 4;              /* times the usual deviation */
static const double gross = 6;            /* times the usual distance, */
static const double gross_journey = 1500; /* and a long journey, in km */
static const double zero_start = 3;       /* times the usual distance */
static const double usual_unknown = 100;  /* km a day */

struct judge {
    const struct lb_reading *readings;
    size_t count;
    double rate, deviation; /* km a day, and the usual root of variance a day; 0: not known */
    int *cost;              /* by reading that counts: of all up to it */
    size_t *before;         /* the one that counts before it; itself: none */
};

static double km_between(const struct lb_reading *a, const struct lb_reading *b)
{
    return (double)(b->km - a->km) / (double)LB_MILLION;
}

/* Two readings of one day have up to a day between them. */
static double days_between(const struct lb_reading *a, const struct lb_reading *b)
{
    return b->day > a->day ? (double)b->day - a->day : 1;
}

static bool swapped_between(const struct judge *j, size_t a, size_t b)
{
    for (size_t i = a + 1; i <= b; i++)
        if (j->readings[i].swapped)
            return true;
    return false;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The lower one of two in the middle; reorders the values. */
static double median(double *values, size_t count)
{
    if (!count)
        return 0;
    qsort(values, count, sizeof *values, by_value);
    return values[(count - 1) / 2];
}

static bool possible(double km, double days)
{
    return km >= 0 && km <= LB_ODOMETER_DAY_MOST * days;
}

/* The median of slopes (Theil and Sen; Sen, J. Amer. Statist. Assoc. 63, 1968), of near readings only. */
static void find_usual(struct judge *j, double *values)
{
    size_t count = 0;
    for (size_t i = 0; i < j->count; i++)
        for (size_t k = i + 1; k < j->count && k <= i + SLOPES; k++) {
            double km = km_between(&j->readings[i], &j->readings[k]);
            double days = days_between(&j->readings[i], &j->readings[k]);
            if (possible(km, days) && !swapped_between(j, i, k))
                values[count++] = km / days;
        }
    j->rate = median(values, count);
    count = 0;
    for (size_t i = 0; i + 1 < j->count; i++) {
        double km = km_between(&j->readings[i], &j->readings[i + 1]);
        double days = days_between(&j->readings[i], &j->readings[i + 1]);
        if (possible(km, days) && !swapped_between(j, i, i + 1))
            values[count++] = fabs(km - j->rate * days) / sqrt(days);
    }
    /* 1.4826: from the median of deviations to the root of a normal variance. Few readings may agree by
     * chance, so it is at least what driving every other day would make it. */
    j->deviation = fmax(1.4826 * median(values, count), j->rate);
}

static bool is_gross(const struct judge *j, size_t a, size_t b)
{
    double km = km_between(&j->readings[a], &j->readings[b]);
    return j->rate > 0 &&
           km > gross * j->rate * days_between(&j->readings[a], &j->readings[b]) + gross_journey;
}

/* What it costs that both count and none between them does, those apart. */
static int cost_between(const struct judge *j, size_t a, size_t b)
{
    double km = km_between(&j->readings[a], &j->readings[b]);
    double days = days_between(&j->readings[a], &j->readings[b]);
    if (swapped_between(j, a, b))
        return 0;
    if (km < -slack) {
        double new_one = (double)j->readings[b].km / (double)LB_MILLION;
        double usual = (j->rate > 0 ? j->rate : usual_unknown) * days;
        return new_one <= zero_start * usual ? COST_SWAP_AT_ZERO : COST_SWAP;
    }
    if (km > LB_ODOMETER_DAY_MOST * days)
        return COST_IMPOSSIBLE;
    return j->rate > 0 && fabs(km - j->rate * days) > odd * j->deviation * sqrt(days) ? COST_ODD : 0;
}

static void find_account(struct judge *j)
{
    for (size_t i = 0; i < j->count; i++) {
        j->cost[i] = (int)(i < LOOK_BACK ? i : LOOK_BACK) * COST_WRONG;
        j->before[i] = i;
        for (size_t back = 1; back <= LOOK_BACK && back <= i; back++) {
            size_t k = i - back;
            int cost = j->cost[k] + (int)(back - 1) * COST_WRONG + cost_between(j, k, i);
            if (cost < j->cost[i]) {
                j->cost[i] = cost;
                j->before[i] = k;
            }
        }
    }
}

/* Which one counts last. Of equals the earlier: the later reading is the odd one. */
static size_t find_last(const struct judge *j)
{
    size_t best = 0;
    int least = INT32_MAX;
    for (size_t back = 0; back < LOOK_BACK && back < j->count; back++) {
        size_t i = j->count - 1 - back;
        int cost = j->cost[i] + (int)back * COST_WRONG;
        if (cost <= least) {
            least = cost;
            best = i;
        }
    }
    /* The newest reading alone says that far more was driven than ever: the next one will tell. */
    size_t before = j->before[best];
    if (before != best && j->before[before] != before && !swapped_between(j, before, best) &&
        is_gross(j, before, best) && !is_gross(j, j->before[before], before))
        return before;
    return best;
}

static void keep_points(struct lb_odometer *o, const struct judge *j)
{
    for (size_t i = 0; i < j->count; i++)
        o->uses[i] = LB_READING_WRONG;
    o->point_count = 0;
    for (size_t i = find_last(j);; i = j->before[i]) {
        o->uses[i] = LB_READING_COUNTS;
        o->point_count++;
        if (j->before[i] == i)
            break;
    }
    o->wrong_count = j->count - o->point_count;
    for (size_t i = 0; i < j->count && !o->first_swapped; i++) {
        o->first_swapped = j->readings[i].swapped;
        if (o->uses[i] != LB_READING_WRONG)
            break;
    }
    for (size_t i = 0, at = 0; i < j->count; i++)
        if (o->uses[i] != LB_READING_WRONG)
            o->points[at++] = (struct lb_odometer_point){j->readings[i].day, i, j->readings[i].km, 0, 0};
}

/* What lies between the points: counted, or blind as the odometer was exchanged. */
static void measure_points(struct lb_odometer *o, const struct judge *j)
{
    for (size_t p = 1; p < o->point_count; p++) {
        const struct lb_odometer_point *a = &o->points[p - 1];
        struct lb_odometer_point *b = &o->points[p];
        bool said = swapped_between(j, a->reading, b->reading);
        double km = km_between(&j->readings[a->reading], &j->readings[b->reading]);
        double days = days_between(&j->readings[a->reading], &j->readings[b->reading]);
        bool swap = said || km < -slack || km > LB_ODOMETER_DAY_MOST * days;
        if (swap && !said) {
            o->uses[b->reading] = LB_READING_SWAP;
            o->swap_count++;
        }
        b->counted = a->counted + (swap || km < 0 ? 0 : b->shown - a->shown);
        b->blind = a->blind + (swap ? b->day - a->day : 0);
    }
}

static lb_status judge_readings(struct lb_odometer *o, struct judge *j)
{
    double *slopes = malloc(j->count * SLOPES * sizeof *slopes);
    j->cost = malloc(j->count * sizeof *j->cost);
    j->before = malloc(j->count * sizeof *j->before);
    bool made = slopes && j->cost && j->before;
    if (made) {
        find_usual(j, slopes);
        find_account(j);
        keep_points(o, j);
        measure_points(o, j);
    }
    free(slopes);
    free(j->cost);
    free(j->before);
    return made ? LB_OK : LB_NOMEM;
}

lb_status lb_odometer_make(struct lb_odometer *out, const struct lb_reading *readings, size_t count,
                           struct lb_error *err)
{
    struct judge j = {.readings = readings, .count = count};
    *out = (struct lb_odometer){0};
    if (!count)
        return LB_OK;
    out->points = calloc(count, sizeof *out->points);
    out->uses = calloc(count, sizeof *out->uses);
    if (!out->points || !out->uses || judge_readings(out, &j)) {
        lb_odometer_free(out);
        return lb_fail_nomem(err);
    }
    odometer_rate(out);
    return LB_OK;
}

void lb_odometer_free(struct lb_odometer *odometer)
{
    free(odometer->points);
    free(odometer->uses);
    *odometer = (struct lb_odometer){0};
}

const struct lb_odometer_point *lb_odometer_last(const struct lb_odometer *odometer)
{
    return odometer->point_count ? &odometer->points[odometer->point_count - 1] : NULL;
}
