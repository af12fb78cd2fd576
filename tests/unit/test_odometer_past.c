/* On which day a distance was reached, up to the last reading: tables by hand, and histories of slow years
 * and fast ones of which every day is known. */
#include "base/decimal.h"
#include "garage/odometer.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>

#include "dice_help.h"
#include "odometer_help.h"

/* From a reading, from a day or from new on: the likely day and the range; b: before the first reading. */
struct past_row {
    const char *readings;
    enum { AT_READING, ON_DAY, NEW_ON } from;
    int32_t begin;
    int64_t km;
    const char *want;
};

static void expect_past(const struct past_row *row)
{
    struct lb_odometer o = make_odometer(row->readings);
    struct lb_driven since;
    char seen[80];
    size_t reading = row->from == AT_READING ? (size_t)row->begin : LB_NO_READING;
    int32_t day = row->begin;
    if (row->from == AT_READING) {
        struct lb_reading readings[ODOMETER_ROOM];
        read_odometer(row->readings, readings);
        day = readings[reading].day;
    }
    bool known = row->from == NEW_ON ? lb_odometer_driven_new(&o, day, &since)
                                     : lb_odometer_driven(&o, reading, day, &since);
    cr_assert(known);
    struct lb_forecast f = lb_odometer_forecast(&o, &since, row->km * LB_MILLION);
    if (!f.known)
        snprintf(seen, sizeof seen, "unknown");
    else if (!f.ranged)
        snprintf(seen, sizeof seen, "%d", f.day);
    else if (f.latest == LB_DATE_MAX)
        snprintf(seen, sizeof seen, "%d %d..%s", f.day, f.earliest, f.before_first ? " b" : "");
    else
        snprintf(seen, sizeof seen, "%d %d..%d%s", f.day, f.earliest, f.latest, f.before_first ? " b" : "");
    cr_expect_str_eq(seen, row->want, "%s, from %d, %lld km: %s instead of %s", row->readings, row->begin,
                     (long long)row->km, seen, row->want);
    lb_odometer_free(&o);
}

Test(odometer_past, between_two_readings)
{
    /* a fast year, a slow one, a fast one: 50, 10 and 50 km a day */
    static const char readings[] = "0:1000 400:21000 800:25000 1000:35000";
    static const struct past_row rows[] = {
        {readings, AT_READING, 0, 10000, "200 0..400"},
        {readings, AT_READING, 0, 20000,
         "400 0..400"}, /* a reading shows it; it may have shown so for long */
        {readings, AT_READING, 0, 22000, "600 400..800"}, /* today's rate, 34, would say 647 */
        {readings, AT_READING, 0, 34000, "1000 800..1000"},
        {readings, AT_READING, 1, 1000, "500 400..800"},
        /* begun between two: by then 10,000 km were driven, or as little as none, or all 20,000 */
        {readings, ON_DAY, 200, 5000, "300 200..1000"},
        {readings, ON_DAY, 200, 11000, "500 200..1000"},
        {readings, ON_DAY, 200, 20000, "920 200..3273"}, /* if none were, 6000 km are missing */
        {readings, ON_DAY, 600, 2000, "800 600..1000"},
        {readings, ON_DAY, 600, 5000, "860 800..1000"},
        /* one that is denied by the others says nothing */
        {"0:1000 400:21000 600:230000 800:25000 1000:35000", AT_READING, 0, 22000, "600 400..800"},
        /* it stood still */
        {"0:1000 100:5000 200:5000 300:9000", AT_READING, 0, 4000, "100 0..100"},
        {"0:1000 100:5000 200:5000 300:9000", AT_READING, 0, 4001, "200 200..300"},
        /* without a rate, too */
        {"100:1000 103:1600", AT_READING, 0, 200, "101 100..103"},
        /* two of one day */
        {"0:1000 10:1500 10:1520 20:2000", AT_READING, 0, 510, "10 10..10"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        expect_past(&rows[i]);
}

Test(odometer_past, before_the_first_reading)
{
    static const struct past_row rows[] = {
        /* new on day 0, and nobody looked for a thousand days */
        {"1000:50000 1100:51000", NEW_ON, 0, 20000, "400 0..1000 b"},
        {"1000:50000 1100:51000", NEW_ON, 0, 50000, "1000 0..1000"},
        {"1000:50000 1100:51000", NEW_ON, 0, 50500, "1050 1000..1100"},
        {"1000:50000", NEW_ON, 0, 20000, "400 0..1000 b"},
        {"1000:50000", NEW_ON, 0, 60000, "unknown"},
        /* that was another odometer: nobody knows what the one before showed */
        {"1000:500s 1100:4500 1200:8500", NEW_ON, 0, 4000, "100 0..1100 b"},
        {"1000:500s", NEW_ON, 0, 400, "unknown"},
        /* renewed on day 0: at 40 km a day, of which nobody knows */
        {"1000:50000 1100:54000 1200:58000", ON_DAY, 0, 4000, "100 0..1100 b"},
        {"1000:50000 1100:54000 1200:58000", ON_DAY, 0, 6000, "150 0..1200 b"},
        {"1000:50000 1100:54000 1200:58000", ON_DAY, 0, 44000, "1100 0..2100"},
        {"1000:50000 1100:54000", ON_DAY, 0, 4001, "100 0.. b"}, /* one stretch says not how it varies */
        {"1000:50000", ON_DAY, 0, 4000, "unknown"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        expect_past(&rows[i]);
}

Test(odometer_past, another_odometer)
{
    /* 40 km a day, then 100; from 200 to 230 no odometer tells, taken for 60 km a day: 1800 */
    static const char readings[] = "0:1000 200:9000 230:100s 330:10100";
    static const struct past_row rows[] = {
        {readings, AT_READING, 0, 4000, "100 0..200"},
        {readings, AT_READING, 0, 8000, "200 0..200"},
        {readings, AT_READING, 0, 8600, "210 200..330"},
        {readings, AT_READING, 0, 12800, "260 200..330"}, /* 3000 of 10000 behind the gap */
        {readings, AT_READING, 2, 5000, "280 230..330"},
        {readings, ON_DAY, 215, 1900, "240 215..330"}, /* 15 of the 30 days, 900 km */
        {"0:1000 200:9000 230:100 330:10100", AT_READING, 0, 12800, "260 200..330"}, /* and not said */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        expect_past(&rows[i]);
}

/* --- histories of which every day is known --- */

enum { YEARS = 15, DAYS = YEARS * 365, READINGS_MOST = 40, HISTORIES = 20000 };

struct life {
    int64_t total[DAYS + 1]; /* millionths of a km at the end of each day; [0]: before the first */
    struct lb_reading readings[READINGS_MOST];
    int64_t at[READINGS_MOST]; /* truly driven */
    size_t count, swap;        /* swap: at which reading another odometer counts; `count`: none */
    bool whole;                /* readings are in whole km */
};

/* Each year at a rate of its own, from next to nothing to a taxi's. */
static void live(struct dice *d, struct life *l)
{
    static const int rates[] = {1, 8, 25, 60, 200};
    int rate = 0;
    l->total[0] = 0;
    for (int day = 0; day < DAYS; day++) {
        if (day % 365 == 0)
            rate = rates[roll_between(d, 0, 4)];
        int64_t km = roll_between(d, 0, 2) ? roll_between(d, 0, 3 * rate * 1000) * (LB_MILLION / 1000) : 0;
        l->total[day + 1] = l->total[day] + km;
    }
}

static void look_at_it(struct dice *d, struct life *l)
{
    int64_t shift = 0, before = 0;
    int32_t day = roll_between(d, 0, 1200);
    l->whole = roll_between(d, 0, 1);
    l->count = 0;
    size_t swap = !l->whole && roll_between(d, 0, 1) ? (size_t)roll_between(d, 1, 8) : READINGS_MOST;
    l->swap = READINGS_MOST;
    for (; day < DAYS && l->count < READINGS_MOST;
         day += roll_between(d, 0, 9) ? roll_between(d, 5, 500) : 0) {
        size_t i = l->count++;
        int64_t low = i && l->readings[i - 1].day == day ? l->at[i - 1] : l->total[day];
        l->at[i] = low + (int64_t)(roll_share(d) * (double)(l->total[day + 1] - low));
        bool said = i == swap && roll_between(d, 0, 1);
        if (i == swap) {
            shift = (int64_t)roll_between(d, 0, said ? 200000 : 100) * LB_MILLION - l->at[i];
            said = said || l->at[i] + shift > before - 3 * LB_MILLION; /* else nobody could see it */
            l->swap = i;
        }
        before = l->at[i] + shift;
        l->readings[i] = (struct lb_reading){day, l->whole ? before - before % LB_MILLION : before, said};
    }
}

/* What is asked: so much since then. */
struct question {
    enum { SINCE_READING, SINCE_DAY, SINCE_NEW } kind;
    size_t reading; /* the first one at the beginning or behind it */
    int32_t day;    /* SINCE_NEW: the first that it can have been built on */
    int64_t begun;  /* truly driven by then */
    int64_t lead;   /* of what the first one shows, how much was driven since */
    int64_t km;
};

/* What readings show to have been driven since, up to one of them. */
static int64_t shown_since(const struct life *l, const struct question *q, size_t last)
{
    int64_t sum = q->lead;
    for (size_t i = q->reading + 1; i <= last; i++)
        sum += i == l->swap ? 0 : l->readings[i].km - l->readings[i - 1].km;
    return sum;
}

static void make_question(struct dice *d, const struct life *l, struct question *q)
{
    *q = (struct question){.kind = roll_between(d, 0, 2)};
    if (q->kind == SINCE_READING) {
        q->reading = (size_t)roll_between(d, 0, (int)l->count - 1);
        q->day = l->readings[q->reading].day;
        q->begun = l->whole ? l->readings[q->reading].km : l->at[q->reading];
    } else if (q->kind == SINCE_DAY) {
        q->day = roll_between(d, 0, l->readings[l->count - 1].day);
        while (q->reading < l->count && l->readings[q->reading].day < q->day)
            q->reading++;
        if (l->readings[q->reading].day == q->day)
            q->day--; /* a day without a reading; it may be the one before the first */
        q->begun = l->total[q->day + 1];
        q->begun -= l->whole ? q->begun % LB_MILLION : 0; /* what was shown then */
        while (q->reading && l->readings[q->reading - 1].day > q->day)
            q->reading--;
    } else {
        q->day = -roll_between(d, 0, 364);
        q->lead = l->readings[0].km;
    }
    int64_t most = q->kind == SINCE_READING && !l->whole ? l->at[l->count - 1] - q->begun
                                                         : shown_since(l, q, l->count - 1);
    q->km = 1 + (int64_t)(roll_share(d) * (double)most);
    if (l->whole || roll_between(d, 0, 1))
        q->km += LB_MILLION - q->km % LB_MILLION;
}

/* By what the odometer shows, when that is whole km. */
static int32_t true_day(const struct life *l, const struct question *q)
{
    int32_t day = q->day > 0 ? q->day : 0;
    while (day < DAYS - 1) {
        int64_t now = l->total[day + 1];
        if ((l->whole ? now - now % LB_MILLION : now) >= q->begun + q->km)
            break;
        day++;
    }
    return day;
}

struct tally {
    int asked, surely, equal, before_first, unsure, unsure_in;
};

/* When nothing is blind, by hand: between which readings it must have been. */
static void expect_brackets(struct tally *t, const struct life *l, const struct question *q,
                            const struct lb_forecast *f, uint64_t seed)
{
    int32_t earliest = q->day, latest = LB_DATE_MAX;
    int64_t begin = q->kind == SINCE_READING ? l->readings[q->reading].km : 0;
    for (size_t i = q->reading; i < l->count; i++) {
        if (l->readings[i].km - begin < q->km)
            earliest = l->readings[i].day;
        if (l->readings[i].km - begin >= q->km && latest == LB_DATE_MAX)
            latest = l->readings[i].day;
    }
    cr_assert(f->earliest == earliest && f->latest == latest, "history %d: %d..%d instead of %d..%d",
              (int)seed, f->earliest, f->latest, earliest, latest);
    t->equal++;
}

static void ask_when(struct tally *t, const struct life *l, const struct question *q, uint64_t seed)
{
    struct lb_odometer o;
    struct lb_driven since;
    cr_assert_eq(lb_odometer_make(&o, l->readings, l->count, NULL), LB_OK);
    if (q->kind == SINCE_NEW)
        cr_assert(lb_odometer_driven_new(&o, q->day, &since));
    else
        cr_assert(
            lb_odometer_driven(&o, q->kind == SINCE_READING ? q->reading : LB_NO_READING, q->day, &since));
    struct lb_forecast f = lb_odometer_forecast(&o, &since, q->km);
    int32_t truth = true_day(l, q);
    t->asked++;
    /* An exchange that was not said may be taken for readings that are wrong; the report says so. */
    bool understood = l->swap == READINGS_MOST || !o.wrong_count;
    if (f.known && understood && q->km <= shown_since(l, q, lb_odometer_last(&o)->reading)) {
        t->surely++;
        t->before_first += f.before_first;
        cr_assert(f.ranged && f.earliest <= truth && truth <= f.latest,
                  "history %d, since %d, %lld km: %d is not in %d..%d (%d)", (int)seed, q->day,
                  (long long)(q->km / LB_MILLION), truth, f.earliest, f.latest, f.day);
        cr_assert(f.earliest <= f.day && f.day <= f.latest);
        if (q->kind != SINCE_DAY && l->swap == READINGS_MOST && !o.wrong_count)
            expect_brackets(t, l, q, &f, seed);
    } else if (f.known && f.ranged) {
        t->unsure++;
        t->unsure_in += f.earliest <= truth && truth <= f.latest;
    }
    lb_odometer_free(&o);
}

/* A slow year and a fast one, looked at now and then: the true day lies in the range, always. */
Test(odometer_past, the_true_day_lies_in_the_range)
{
    static struct life l;
    struct question q;
    struct tally t = {0};
    for (uint64_t seed = 1; seed <= HISTORIES; seed++) {
        struct dice d = {seed * 977};
        live(&d, &l);
        look_at_it(&d, &l);
        if (l.count < 3)
            continue;
        make_question(&d, &l, &q);
        ask_when(&t, &l, &q, seed);
    }
    cr_log_info(
        "%d asked: %d by readings alone, all in the range, %d of them before the first, %d as by hand; "
        "of the other %d, %d in the range",
        t.asked, t.surely, t.before_first, t.equal, t.unsure, t.unsure_in);
    cr_expect(t.surely > HISTORIES / 2 && t.before_first > HISTORIES / 50 && t.equal > HISTORIES / 5);
}
