/* Readings written as text, for the suites of the odometer. */
#ifndef LB_TESTS_ODOMETER_HELP_H
#define LB_TESTS_ODOMETER_HELP_H

#include "base/decimal.h"
#include "garage/odometer.h"

#include <criterion/criterion.h>
#include <stdlib.h>

enum { ODOMETER_ROOM = 64 };

/* "day:km" with s behind it for a swap that was said. */
static inline size_t read_odometer(const char *text, struct lb_reading *out)
{
    size_t count = 0;
    for (const char *at = text; *at;) {
        char *end;
        struct lb_reading r = {.day = (int32_t)strtol(at, &end, 10)};
        cr_assert_eq(*end, ':');
        r.km = strtoll(end + 1, &end, 10) * LB_MILLION;
        r.swapped = *end == 's';
        at = end + r.swapped;
        at += *at == ' ';
        cr_assert(count < ODOMETER_ROOM);
        out[count++] = r;
    }
    return count;
}

static inline struct lb_odometer make_odometer(const char *text)
{
    struct lb_reading readings[ODOMETER_ROOM];
    struct lb_odometer o;
    size_t count = read_odometer(text, readings);
    cr_assert_eq(lb_odometer_make(&o, readings, count, NULL), LB_OK);
    return o;
}

#endif
