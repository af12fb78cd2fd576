/* Calendar dates with honest precision: 1999 is the interval from 1 January to 31 December.
 * Source: ISO 8601-1:2019, 5.2.2 (YYYY, YYYY-MM, YYYY-MM-DD), years 1 to 9999, proleptic Gregorian. */
#ifndef LB_BASE_DATE_H
#define LB_BASE_DATE_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

/* Days since 1970-01-01; first <= last, both inclusive. */
struct lb_interval {
    int32_t first, last;
};

#define LB_DATE_MIN INT32_MIN /* open ends */
#define LB_DATE_MAX INT32_MAX

/* No blanks around it. Returns NULL, or why `text` is no date, in words (static text), e.g. "month 13 does
 * not exist"; *out is then untouched. */
const char *lb_date_parse(const char *text, struct lb_interval *out);
/* "Mon" to "Sun"; static text. */
const char *lb_date_weekday(int32_t day);
/* YYYY-MM-DD; an open end (LB_DATE_MIN, LB_DATE_MAX) as `..` (ISO 8601-2:2019, 4.4). */
void lb_date_print(struct lb_buf *out, int32_t day);
int lb_date_year(int32_t day);
/* So many months on (0 or more), on the same day of the month or, where it has none, its last; not beyond
 * 9999-12-31. */
int32_t lb_date_add_months(int32_t day, int64_t months);
/* YYYY-MM-DDThh:mm:ssZ; seconds since 1970-01-01, UTC. */
void lb_date_print_time(struct lb_buf *out, int64_t seconds);

#endif
