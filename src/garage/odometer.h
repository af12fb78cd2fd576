/* What a vehicle's odometer readings say: which of them count, how far it goes a day, and on which day it
 * will have gone a given distance. Pure: no SQL, no clock.
 *
 * Readings are people's: a digit is dropped or doubled, months go by without one, the odometer is exchanged.
 * The least costly account of all of them is taken: each reading counts, or was written down wrong, and
 * between two that count the vehicle drove a likely distance, or another odometer counts since. One that was
 * exchanged without a word is known by its showing less; one that shows more cannot be told from a journey.
 *
 * The distance of t days is taken as of mean r·t and variance s²·t (days that do not depend on each other),
 * so r is all distance by all days, and s² is the mean of (d − r·t)²/t over the stretches between readings,
 * which are one more than its degrees of freedom. The day on which D is reached is where |D − r·t| is
 * Student's quantile times the root of s²·(t + t²/T), T being the days that r was taken from: the second term
 * is how little is known of r. (Fieller, "Some problems in interval estimation", J. Roy. Statist. Soc. B 16,
 * 1954.)
 *
 * What was reached up to the last reading is not forecast. Its day is interpolated between the two readings
 * around it, or between the day from which it counts and the reading behind it; days of which no odometer
 * tells are shared out by r. Its range is where it must lie by the readings alone, however much or little was
 * driven on which day: from the last reading that cannot have reached it to the first that must have.
 *
 *     struct lb_odometer odometer;
 *     struct lb_driven since;
 *     status = lb_odometer_make(&odometer, readings, count, &err);
 *     if (lb_odometer_driven(&odometer, 3, readings[3].day, &since))
 *         forecast = lb_odometer_forecast(&odometer, &since, 90000 * LB_MILLION);
 *     lb_odometer_free(&odometer);
 */
#ifndef LB_GARAGE_ODOMETER_H
#define LB_GARAGE_ODOMETER_H

#include "base/date.h"
#include "base/error.h"

#include <stddef.h>

enum {
    LB_ODOMETER_DAY_MOST = 2000,     /* km in a day, beyond which a reading is doubted */
    LB_ODOMETER_MOST = 100000000,    /* km that are taken for a reading */
    LB_ODOMETER_FIRST_DAY = -719162, /* 0001-01-01; no forecast is earlier, */
    LB_ODOMETER_LAST_DAY = 2932896,  /* 9999-12-31, and none later */
};

struct lb_reading {
    int32_t day;  /* since 1970-01-01 */
    int64_t km;   /* what the odometer showed, millionths of a km, 0 to LB_ODOMETER_MOST km */
    bool swapped; /* another odometer counts from here, by what the owner says */
};

enum lb_reading_use {
    LB_READING_COUNTS,
    LB_READING_SWAP,  /* counts; nobody said so, but another odometer counts from here */
    LB_READING_WRONG, /* left out */
};

/* A reading that counts. */
struct lb_odometer_point {
    int32_t day;
    size_t reading;  /* its index */
    int64_t shown;   /* as in the reading */
    int64_t counted; /* millionths of a km that odometers counted since the first point */
    int32_t blind;   /* days since then of which no odometer tells, as it was exchanged */
};

struct lb_odometer {
    struct lb_odometer_point *points; /* by day */
    enum lb_reading_use *uses;        /* by reading */
    size_t point_count, wrong_count, swap_count;
    bool first_swapped; /* the first point is not of the odometer that the vehicle was new with */
    bool has_rate;      /* two readings that count, a week or more apart, by one odometer */
    int64_t per_day;    /* millionths of a km */
    double rate;        /* km a day */
    double spread;      /* variance of a day's distance, km² */
    double days;        /* that the rate was taken from */
    size_t stretches;   /* between readings; one alone says nothing of the spread */
};

/* The readings are in order of their days; those of one day in the order in which they were taken. LB_NOMEM
 * is the only failure. */
LB_CHECK lb_status lb_odometer_make(struct lb_odometer *out, const struct lb_reading *readings, size_t count,
                                    struct lb_error *err);
void lb_odometer_free(struct lb_odometer *odometer);
/* The last reading that counts; NULL: none. */
const struct lb_odometer_point *lb_odometer_last(const struct lb_odometer *odometer);

/* What was driven from some day up to the last reading that counts. */
struct lb_driven {
    int64_t km;    /* that odometers counted, millionths */
    int32_t blind; /* days besides, of which no odometer tells; below 0: it begins after the last reading */
    double doubt;  /* variance of km, in days of driving */
    int32_t day;   /* on which it begins */
    size_t point;  /* the first one at its beginning or behind it; point_count: none */
    /* From the beginning to that point: at the least and at the most, millionths of a km; not bounded: no
     * odometer tells of it. */
    int64_t lead_least, lead_most;
    bool lead_bounded;
};

#define LB_NO_READING SIZE_MAX
/* From a reading on (`reading` its index), or from a day (LB_NO_READING, or a reading that was left out).
 * False: no reading counts. */
bool lb_odometer_driven(const struct lb_odometer *odometer, size_t reading, int32_t day,
                        struct lb_driven *out);
/* Since the vehicle was new, on `day`. */
bool lb_odometer_driven_new(const struct lb_odometer *odometer, int32_t day, struct lb_driven *out);
/* All of it in millionths of a km, days of which no odometer tells by the rate; false: they are some, and no
 * rate is known. */
bool lb_odometer_distance(const struct lb_odometer *odometer, const struct lb_driven *driven, int64_t *km);

struct lb_forecast {
    bool known;        /* false: no rate */
    bool ranged;       /* earliest and latest are known */
    bool before_first; /* it was reached before the first reading that counts */
    int32_t day;       /* the likely one */
    /* It lies between them in 8 of 10 cases; surely, when it was reached up to the last reading by what
     * odometers counted. latest LB_DATE_MAX: open. */
    int32_t earliest, latest;
};

/* The day on which `distance` (millionths of a km) has been driven since then. */
struct lb_forecast lb_odometer_forecast(const struct lb_odometer *odometer, const struct lb_driven *since,
                                        int64_t distance);

#endif
