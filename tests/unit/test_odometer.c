/* Readings of an odometer: faults one by one in tables, and the forecast's range on a thousand histories of
 * which the truth is known. */
#include "base/decimal.h"
#include "garage/odometer.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "dice_help.h"
#include "odometer_help.h"

/* One letter a reading: c counts, s another odometer, w wrong. */
static void expect_uses(const char *text, const char *want, double rate)
{
    struct lb_reading readings[ODOMETER_ROOM];
    char seen[ODOMETER_ROOM + 1] = {0};
    struct lb_odometer o = make_odometer(text);
    size_t count = read_odometer(text, readings);
    for (size_t i = 0; i < count; i++)
        seen[i] = "csw"[o.uses[i]];
    cr_expect_str_eq(seen, want, "%s: %s instead of %s", text, seen, want);
    cr_expect_float_eq(o.rate, rate, rate / 1000 + 0.001, "%s: %.3f instead of %.3f", text, o.rate, rate);
    lb_odometer_free(&o);
}

Test(odometer, nothing_and_one_reading_give_no_rate)
{
    struct lb_odometer o = make_odometer("");
    struct lb_driven driven;
    cr_expect(!lb_odometer_last(&o) && !o.has_rate && !lb_odometer_driven(&o, 0, 100, &driven));
    cr_expect_not(lb_odometer_driven_new(&o, 0, &driven));
    lb_odometer_free(&o);
    o = make_odometer("100:50000");
    cr_expect_not(o.has_rate);
    cr_assert(lb_odometer_driven(&o, 0, 100, &driven));
    cr_expect(driven.km == 0 && driven.blind == 0);
    cr_expect_not(lb_odometer_forecast(&o, &driven, 1000 * LB_MILLION).known);
    int64_t km;
    cr_assert(lb_odometer_driven(&o, LB_NO_READING, 90, &driven));
    cr_expect(driven.blind == 10 && !lb_odometer_distance(&o, &driven, &km));
    cr_assert(lb_odometer_driven_new(&o, 0, &driven));
    cr_expect(lb_odometer_distance(&o, &driven, &km) && km == 50000 * LB_MILLION);
    lb_odometer_free(&o);
    o = make_odometer("100:50000 103:50600"); /* three days are no rate */
    cr_expect(!o.has_rate && o.point_count == 2);
    lb_odometer_free(&o);
}

Test(odometer, clean_readings)
{
    expect_uses("0:1000 30:2200 60:3400", "ccc", 40);
    expect_uses("0:1000 10:1500 10:1520 20:2000", "cccc", 50); /* two of one day */
    expect_uses("0:1000 30:1000 60:1000", "ccc", 0);           /* it stands */
    expect_uses("0:1000 30:2200 400:17000 430:18200", "cccc", 40);
    expect_uses("0:1000 30:2200 60:2199 90:3399", "cccc", 26.667); /* rounded once down: no swap */
}

Test(odometer, one_typing_error)
{
    /* a digit dropped, doubled, two swapped; in the middle, first, last */
    expect_uses("0:121000 30:122200 60:12340 90:124600 120:125800", "ccwcc", 40);
    expect_uses("0:121000 30:122200 60:1233400 90:124600 120:125800", "ccwcc", 40);
    expect_uses("0:121000 30:122200 60:132400 90:124600 120:125800", "ccwcc", 40);
    expect_uses("0:12100 30:122200 60:123400 90:124600 120:125800", "wcccc", 40);
    expect_uses("0:1211000 30:122200 60:123400 90:124600 120:125800", "wcccc", 40);
    expect_uses("0:121000 30:122200 60:123400 90:124600 120:12580", "ccccw", 40);
    expect_uses("0:121000 30:122200 60:123400 90:124600 120:1255800", "ccccw", 40);
    expect_uses("0:121000 30:122200 60:123400 90:124600 120:152800", "ccccw", 40);
    /* one above, which the next ones deny */
    expect_uses("0:10000 30:11200 60:15400 90:13600 120:14800", "ccwcc", 40);
}

Test(odometer, a_long_journey_is_none)
{
    expect_uses("0:10000 30:11200 60:15400 90:16600 120:17800", "ccccc", 65);
    expect_uses("0:10000 30:11200 60:12400 90:16600", "cccc", 73.333);
    /* a new habit: doubted once, believed when it goes on */
    expect_uses("0:10000 30:11200 60:12400 90:13600 120:23600", "ccccw", 40);
    expect_uses("0:10000 30:11200 60:12400 90:13600 120:23600 150:33600", "cccccc", 157.333);
}

Test(odometer, swaps)
{
    /* said, and not said; to nothing and to a used one */
    expect_uses("0:180000 30:181200 60:100s 90:1300 120:2500", "ccccc", 40);
    expect_uses("0:180000 30:181200 60:100 90:1300 120:2500", "ccscc", 40);
    expect_uses("0:180000 30:181200 60:95000 90:96200 120:97400", "ccscc", 40);
    expect_uses("0:180000 30:500 60:1700 90:2900", "cscc", 40); /* begun at 0 after the first */
    expect_uses("0:95000 30:96200 60:180000s 90:181200", "cccc", 40);
    /* both faults in one history */
    expect_uses("0:180000 30:181200 60:100 90:1300 120:25500 150:3700", "ccscwc", 40);
    struct lb_odometer o = make_odometer("0:180000 30:181200 60:100 90:1300 120:2500");
    struct lb_driven driven;
    int64_t km;
    cr_expect(o.swap_count == 1 && o.wrong_count == 0);
    cr_assert(lb_odometer_driven(&o, 0, 0, &driven));
    cr_expect(driven.km == 3600 * LB_MILLION && driven.blind == 30);
    cr_expect(lb_odometer_distance(&o, &driven, &km) && km == 4800 * LB_MILLION);
    cr_assert(lb_odometer_driven_new(&o, -1000, &driven));
    cr_expect(driven.km == 183600 * LB_MILLION && driven.blind == 30);
    lb_odometer_free(&o);
}

Test(odometer, distance_from_a_day_without_a_reading)
{
    struct lb_odometer o = make_odometer("100:10000 130:11200 230:15200");
    struct lb_driven driven;
    int64_t km;
    const struct {
        int32_t day;
        int64_t km;
    } rows[] = {{100, 5200}, {115, 4600}, {130, 4000}, {180, 2000}, {230, 0}, {250, -800}, {90, 5600}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        cr_assert(lb_odometer_driven(&o, LB_NO_READING, rows[i].day, &driven));
        cr_expect(lb_odometer_distance(&o, &driven, &km) && km == rows[i].km * LB_MILLION, "day %d: %lld",
                  rows[i].day, (long long)km);
    }
    cr_assert(lb_odometer_driven(&o, LB_NO_READING, 180, &driven));
    cr_expect_float_eq(driven.doubt, 25, 1e-9); /* 50 × 50 / 100 */
    lb_odometer_free(&o);
}

Test(odometer, forecast_of_a_steady_vehicle)
{
    struct lb_odometer o = make_odometer("0:10000 30:11200 60:12400 90:13600");
    struct lb_driven since;
    const struct {
        size_t reading;
        int64_t km;
        int32_t day;
    } rows[] = {{0, 10000, 250}, {3, 4000, 190}, {3, 40, 91}, {0, 1200, 30}, {0, 3600, 90}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        cr_assert(lb_odometer_driven(&o, rows[i].reading, (int32_t)rows[i].reading * 30, &since));
        struct lb_forecast f = lb_odometer_forecast(&o, &since, rows[i].km * LB_MILLION);
        cr_expect(f.known && f.day == rows[i].day, "%zu + %lld: day %d", rows[i].reading,
                  (long long)rows[i].km, f.day);
        if (f.day > 90) /* what was reached before has the readings around it */
            cr_expect(f.ranged && f.earliest == f.day && f.latest == f.day);
    }
    lb_odometer_free(&o);
    o = make_odometer("0:1000 30:1000 60:1000");
    cr_assert(lb_odometer_driven(&o, 2, 60, &since));
    cr_expect_not(lb_odometer_forecast(&o, &since, LB_MILLION).known); /* never */
    lb_odometer_free(&o);
    o = make_odometer("0:1000 30:2200"); /* one stretch says nothing of how it varies */
    cr_assert(lb_odometer_driven(&o, 1, 30, &since));
    struct lb_forecast f = lb_odometer_forecast(&o, &since, 400 * LB_MILLION);
    cr_expect(f.known && !f.ranged && f.day == 40);
    lb_odometer_free(&o);
    o = make_odometer("0:1000 30:1001 60:5000"); /* two stretches as unlike as can be: it may take for ever */
    cr_assert(lb_odometer_driven(&o, 2, 60, &since));
    f = lb_odometer_forecast(&o, &since, 90000 * LB_MILLION);
    cr_expect(f.known && f.ranged && f.latest == LB_DATE_MAX && f.earliest > 60 && f.earliest < f.day);
    lb_odometer_free(&o);
}

/* The range, by hand: 3 stretches of 10 days with 300, 400 and 500 km: r 40, s² = (100² + 100²)/10/2 = 1000,
 * T 30; Student's quantile of 2 degrees of freedom is 1.886 = q. Whoever puts the answer back into
 * |4000 − 40 t| = q·sqrt(1000·(t + t²/30)) gets both sides alike. */
Test(odometer, range_solves_its_equation)
{
    struct lb_odometer o = make_odometer("0:1000 10:1300 20:1700 30:2200");
    struct lb_driven since;
    cr_expect_float_eq(o.spread, 1000, 1e-6);
    cr_assert(lb_odometer_driven(&o, 3, 30, &since));
    struct lb_forecast f = lb_odometer_forecast(&o, &since, 4000 * LB_MILLION);
    const double ends[] = {(double)f.earliest - 30, (double)f.latest - 30};
    cr_expect_eq(f.day, 130);
    for (int i = 0; i < 2; i++) {
        double t = ends[i], z = fabs(4000 - 40 * t) / sqrt(1000 * (t + t * t / 30));
        double next = fabs(4000 - 40 * (t + 1)) / sqrt(1000 * (t + 1 + (t + 1) * (t + 1) / 30));
        cr_expect(fabs(z - 1.886) <= fabs(next - z), "t %.0f: z %.3f", t, z);
    }
    lb_odometer_free(&o);
}

/* --- a thousand histories --- */

static double exponential(struct dice *d, double mean)
{
    return -mean * log(1 - roll_share(d));
}

enum { DAYS = 12000 };

struct history {
    struct lb_reading readings[ODOMETER_ROOM];
    size_t count, renewed;    /* renewed: at which reading, one that is as it should be */
    double total[DAYS];       /* at the end of each day */
    double at[ODOMETER_ROOM]; /* truly driven at each reading */
    double rate;              /* truly, on average */
    size_t wrong, swap;       /* which reading has the fault; LB_NO_READING: none */
};

/* To work and back on weekdays and about on weekends; now and then; on the road for a living. A long journey
 * once a year or so. */
static double drive(struct dice *d, int kind, double scale, int day)
{
    double km = 0;
    bool weekend = day % 7 >= 5;
    if (kind == 0)
        km = weekend               ? (roll_share(d) < 0.5 ? exponential(d, 60) : 0)
             : roll_share(d) < 0.9 ? 30 + 10 * roll_share(d)
                                   : 0;
    else if (kind == 1)
        km = roll_share(d) < 0.35 ? exponential(d, 50) : 0;
    else
        km = !weekend && roll_share(d) < 0.8 ? exponential(d, 130) : 0;
    if (roll_share(d) < 1 / 400.0)
        km += 500 + 400 * roll_share(d);
    return km * scale;
}

static double mean_drive(int kind, double scale)
{
    const double daily[] = {(5 * 0.9 * 35 + 2 * 0.5 * 60) / 7, 0.35 * 50, 5 * 0.8 * 130 / 7.0};
    return (daily[kind] + 700 / 400.0) * scale;
}

/* A digit dropped, one doubled, or two neighbours swapped. */
static int64_t mistype(struct dice *d, int64_t km)
{
    char text[32], out[40];
    int length = snprintf(text, sizeof text, "%lld", (long long)km), at = roll_between(d, 0, length - 1);
    switch (roll_between(d, 0, 2)) {
    case 0:
        snprintf(out, sizeof out, "%.*s%s", at, text, text + at + 1);
        break;
    case 1:
        snprintf(out, sizeof out, "%.*s%c%s", at, text, text[at], text + at);
        break;
    default:
        strcpy(out, text);
        if (at + 1 < length) {
            out[at] = text[at + 1];
            out[at + 1] = text[at];
        }
    }
    return strtoll(out, NULL, 10);
}

static void take_readings(struct dice *d, struct history *h)
{
    int day = roll_between(d, 0, 6);
    size_t gap = (size_t)roll_between(d, 1, (int)h->count - 1);
    double start = roll_between(d, 0, 250000), shift = 0;
    for (size_t i = 0; i < h->count; i++) {
        if (i)
            day += i == gap ? roll_between(d, 100, 300) : roll_between(d, 5, 60);
        double part = roll_share(d), before = day ? h->total[day - 1] : 0;
        h->at[i] = before + part * (h->total[day] - before);
        bool said = i == h->swap && roll_share(d) < 0.5;
        if (i ==
            h->swap) /* a new one, or one of a breaker's yard; what shows more is told only if it is said */
            shift =
                (roll_share(d) < 0.5 ? roll_between(d, 0, 200) : (said ? 250000 : start) * roll_share(d)) -
                start - h->at[i];
        h->readings[i].day = day;
        h->readings[i].km = (int64_t)(start + h->at[i] + shift) * LB_MILLION;
        h->readings[i].swapped = said;
    }
    if (h->wrong < h->count)
        h->readings[h->wrong].km = mistype(d, h->readings[h->wrong].km / LB_MILLION) * LB_MILLION;
}

static void make_history(struct history *h, uint64_t seed)
{
    struct dice d = {seed * 0x5851F42D4C957F2D + 1};
    int kind = roll_between(&d, 0, 2);
    double scale = 0.4 + 1.2 * roll_share(&d), sum = 0;
    for (int day = 0; day < DAYS; day++)
        h->total[day] = sum += drive(&d, kind, scale, day);
    h->rate = mean_drive(kind, scale);
    h->count = (size_t)roll_between(&d, 5, 30);
    h->swap = roll_share(&d) < 0.5 ? (size_t)roll_between(&d, 2, (int)h->count - 2) : LB_NO_READING;
    h->wrong = roll_share(&d) < 0.7 ? (size_t)roll_between(&d, 0, (int)h->count - 1) : LB_NO_READING;
    if (h->wrong == h->swap)
        h->wrong = LB_NO_READING;
    h->renewed = (size_t)roll_between(&d, 0, (int)h->count - 1);
    if (h->renewed == h->wrong)
        h->renewed = h->wrong ? h->wrong - 1 : 1;
    take_readings(&d, h);
}

/* On which day so much has been driven since the renewal. */
static int32_t true_day(const struct history *h, double km)
{
    int32_t day = h->readings[h->renewed].day;
    while (day < DAYS - 1 && h->total[day] < h->at[h->renewed] + km)
        day++;
    return day;
}

struct tally {
    int ranged, covered, early, late;
    double errors[1000]; /* of the rate, as a share */
    int error_count;
};

static void count_history(struct tally *t, const struct history *h, uint64_t seed)
{
    struct lb_odometer o;
    struct lb_driven since;
    struct dice d = {seed + 77};
    cr_assert_eq(lb_odometer_make(&o, h->readings, h->count, NULL), LB_OK);
    int64_t km = (int64_t)(h->at[h->count - 1] - h->at[h->renewed] + h->rate * roll_between(&d, 20, 500));
    cr_assert(lb_odometer_driven(&o, h->renewed, h->readings[h->renewed].day, &since));
    struct lb_forecast f = lb_odometer_forecast(&o, &since, km * LB_MILLION);
    int32_t truth = true_day(h, (double)km);
    cr_assert(truth < DAYS - 1);
    if (o.has_rate)
        t->errors[t->error_count++] = fabs(o.rate / h->rate - 1);
    if (f.ranged) {
        t->ranged++;
        t->covered += f.earliest <= truth && truth <= f.latest;
        t->early += truth < f.earliest;
        t->late += truth > f.latest;
    }
    lb_odometer_free(&o);
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

Test(odometer, eight_of_ten_lie_in_the_range)
{
    static struct history h;
    static struct tally t;
    for (uint64_t seed = 1; seed <= 1000; seed++) {
        make_history(&h, seed);
        count_history(&t, &h, seed);
    }
    qsort(t.errors, (size_t)t.error_count, sizeof *t.errors, by_size);
    double share = (double)t.covered / t.ranged, middle = t.errors[t.error_count / 2];
    cr_log_info(
        "%d ranges, %.1f %% cover the day (%d earlier, %d later); rate off by %.1f %% (median), %.1f %% "
        "(9 of 10)",
        t.ranged, share * 100, t.early, t.late, middle * 100, t.errors[t.error_count * 9 / 10] * 100);
    cr_expect_geq(t.ranged, 990);
    cr_expect(share >= 0.75 && share <= 0.85, "%.3f", share);
    cr_expect_lt(middle, 0.08);
}

/* Whatever stands in the log: nothing overflows, what counts is in order, and the range is around the day. */
Test(odometer, any_readings)
{
    for (uint64_t seed = 1; seed <= 3000; seed++) {
        struct dice d = {seed * 31};
        struct lb_reading readings[ODOMETER_ROOM];
        size_t count = (size_t)roll_between(&d, 1, ODOMETER_ROOM);
        int32_t day = LB_ODOMETER_FIRST_DAY, step = roll_between(&d, 0, 1) ? 90 : 90000;
        int64_t most = roll_between(&d, 0, 1) ? LB_ODOMETER_MOST : 3000;
        for (size_t i = 0; i < count; i++) {
            day += roll_between(&d, 0, step) * roll_between(&d, 0, 1);
            day = day < LB_ODOMETER_LAST_DAY ? day : LB_ODOMETER_LAST_DAY;
            int64_t km = (int64_t)(roll_share(&d) * (double)most) * LB_MILLION;
            readings[i] = (struct lb_reading){day, km, roll_between(&d, 0, 9) == 0};
        }
        struct lb_odometer o;
        struct lb_driven since;
        int64_t km;
        cr_assert_eq(lb_odometer_make(&o, readings, count, NULL), LB_OK);
        cr_assert(o.point_count && o.point_count + o.wrong_count == count);
        for (size_t p = 1; p < o.point_count; p++)
            cr_assert(o.points[p].counted >= o.points[p - 1].counted &&
                      o.points[p].blind >= o.points[p - 1].blind && o.points[p].day >= o.points[p - 1].day);
        cr_assert(isfinite(o.rate) && o.rate >= 0 && isfinite(o.spread));
        size_t reading = (size_t)roll_between(&d, 0, (int)count - 1);
        cr_assert(lb_odometer_driven(&o, reading, readings[reading].day, &since));
        cr_assert_eq(lb_odometer_distance(&o, &since, &km), o.has_rate || !since.blind);
        struct lb_forecast f = lb_odometer_forecast(&o, &since, roll_between(&d, 1, 1000000) * LB_MILLION);
        cr_assert(!f.ranged || (f.earliest <= f.day && f.day <= f.latest), "seed %d: %d %d %d", (int)seed,
                  f.earliest, f.day, f.latest);
        cr_assert(lb_odometer_driven_new(&o, readings[0].day, &since));
        lb_odometer_free(&o);
    }
}
