/* How far a vehicle goes a day, and when it will have gone how far. */
#include "base/decimal.h"
#include "garage/odometer_parts.h"

#include <math.h>

enum { RATE_DAYS_LEAST = 7 };

/* Student's distribution, what 9 of 10 lie below, by degrees of freedom: two-sided that is 80 %. Source:
 * NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2 (from memory; test_odometer.c integrates the
 * density). */
static double student(size_t freedom)
{
    static const double table[] = {3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372,
                                   1.363, 1.356, 1.350, 1.345, 1.341, 1.337, 1.333, 1.330, 1.328, 1.325,
                                   1.323, 1.321, 1.319, 1.318, 1.316, 1.315, 1.314, 1.313, 1.311, 1.310};
    const double normal = 1.28155;
    size_t known = sizeof table / sizeof *table;
    if (freedom <= known)
        return table[freedom - 1];
    /* The first term of the expansion of its quantile about the normal one (Abramowitz and Stegun 26.7.5). */
    return normal + (normal * normal * normal + normal) / (4 * (double)freedom);
}

/* A stretch between two points that one odometer counted. */
static bool counted_between(const struct lb_odometer_point *a, const struct lb_odometer_point *b, double *km,
                            double *days)
{
    *km = (double)(b->counted - a->counted) / (double)LB_MILLION;
    *days = (double)b->day - a->day;
    return a->blind == b->blind && b->day > a->day;
}

void odometer_rate(struct lb_odometer *o)
{
    double km, days, all_km = 0, squares = 0;
    o->days = 0;
    o->stretches = 0;
    for (size_t p = 1; p < o->point_count; p++) {
        /* What was driven between two readings of one day counts, but is no stretch of days. */
        bool stretch = counted_between(&o->points[p - 1], &o->points[p], &km, &days);
        all_km += km;
        o->days += stretch ? days : 0;
        o->stretches += stretch;
    }
    o->has_rate = o->days >= RATE_DAYS_LEAST;
    if (!o->has_rate)
        return;
    o->rate = all_km / o->days;
    o->per_day = llround(o->rate * (double)LB_MILLION);
    for (size_t p = 1; p < o->point_count; p++)
        if (counted_between(&o->points[p - 1], &o->points[p], &km, &days))
            squares += (km - o->rate * days) * (km - o->rate * days) / days;
    o->spread = o->stretches > 1 ? squares / (double)(o->stretches - 1) : 0;
}

/* Between two points that one odometer counted, the distance is shared out by days. In the middle of a long
 * gap least is known of it. */
static void share_out(const struct lb_odometer_point *a, const struct lb_odometer_point *b,
                      struct lb_driven *out)
{
    double before = (double)out->day - a->day, after = (double)b->day - out->day;
    out->km += lb_decimal_muldiv(b->counted - a->counted, b->day - out->day, b->day - a->day);
    out->doubt = before * after / (before + after);
    out->lead_most = b->counted - a->counted;
}

/* The first point at that day or later, that of the reading if it is one of them. */
static size_t find_point(const struct lb_odometer *o, size_t reading, int32_t day)
{
    size_t p = 0;
    while (p < o->point_count && o->points[p].day < day)
        p++;
    for (size_t same = p; same < o->point_count && o->points[same].day == day; same++)
        if (o->points[same].reading == reading)
            return same;
    return p;
}

bool lb_odometer_driven(const struct lb_odometer *o, size_t reading, int32_t day, struct lb_driven *out)
{
    const struct lb_odometer_point *last = lb_odometer_last(o);
    *out = (struct lb_driven){.day = day, .lead_bounded = true};
    if (!last)
        return false;
    out->point = find_point(o, reading, day);
    if (out->point == o->point_count) {
        out->blind = last->day - day;
        return true;
    }
    const struct lb_odometer_point *next = &o->points[out->point];
    out->km = last->counted - next->counted;
    out->blind = last->blind - next->blind;
    if (next->day == day)
        return true;
    if (out->point && next[-1].blind == next->blind) {
        share_out(&next[-1], next, out);
        return true;
    }
    out->lead_bounded = false;
    out->blind += next->day - day;
    return true;
}

bool lb_odometer_driven_new(const struct lb_odometer *o, int32_t day, struct lb_driven *out)
{
    const struct lb_odometer_point *last = lb_odometer_last(o);
    if (!last || o->first_swapped || o->points[0].day < day)
        return lb_odometer_driven(o, LB_NO_READING, day, out);
    *out = (struct lb_driven){.km = o->points[0].shown + last->counted,
                              .blind = last->blind,
                              .day = day,
                              .lead_least = o->points[0].shown,
                              .lead_most = o->points[0].shown,
                              .lead_bounded = true};
    return true;
}

/* Keeps sums of two distances within 64 bits. */
static const double most = 1e18;

bool lb_odometer_distance(const struct lb_odometer *o, const struct lb_driven *driven, int64_t *km)
{
    *km = driven->km;
    if (driven->blind && !o->has_rate)
        return false;
    double blind = (double)o->per_day * driven->blind;
    *km += (int64_t)fmax(-most, fmin(most, blind));
    return true;
}

int32_t odometer_day_after(int32_t day, double days)
{
    double sum = day + 0.5 + days;
    if (sum >= LB_ODOMETER_LAST_DAY)
        return LB_ODOMETER_LAST_DAY;
    return sum <= LB_ODOMETER_FIRST_DAY ? LB_ODOMETER_FIRST_DAY : (int32_t)floor(sum);
}

/* Both roots of (r²−q²s²/T)·t² − (2rD + q²s²)·t + D² − q²s²·doubt; t counts the blind days too. */
static void find_range(const struct lb_odometer *o, const struct lb_driven *since, double ahead,
                       struct lb_forecast *f)
{
    const struct lb_odometer_point *last = lb_odometer_last(o);
    double q = student(o->stretches - 1), noise = q * q * o->spread;
    double square = o->rate * o->rate - noise / o->days, linear = 2 * o->rate * ahead + noise;
    double constant = ahead * ahead - noise * since->doubt;
    double root = sqrt(fmax(0, linear * linear - 4 * square * constant));
    f->ranged = true;
    f->earliest = odometer_day_after(last->day, 2 * constant / (linear + root) - since->blind);
    f->latest = square > 0 ? odometer_day_after(last->day, (linear + root) / (2 * square) - since->blind)
                           : LB_DATE_MAX;
}

int32_t odometer_latest(const struct lb_odometer *o, int64_t distance)
{
    const struct lb_driven since = {0};
    struct lb_forecast f = {.latest = LB_DATE_MAX};
    if (o->stretches > 1)
        find_range(o, &since, (double)distance / (double)LB_MILLION, &f);
    return f.latest;
}

struct lb_forecast lb_odometer_forecast(const struct lb_odometer *o, const struct lb_driven *since,
                                        int64_t distance)
{
    struct lb_forecast f = {0};
    const struct lb_odometer_point *last = lb_odometer_last(o);
    double ahead = (double)(distance - since->km) / (double)LB_MILLION;
    if (!last || odometer_past(o, since, distance, &f) || !o->has_rate || o->rate <= 0)
        return f;
    f.known = true;
    f.day = odometer_day_after(last->day, ahead / o->rate - since->blind);
    if (o->stretches > 1 && ahead > 0)
        find_range(o, since, ahead, &f);
    return f;
}
