/* Exact decimals: a quantity is an integer count of millionths, never a binary float.
 *
 *     int64_t q;
 *     if (lb_decimal_parse("1.5", &q))        // q == 1500000
 *         lb_decimal_print(&out, q);          // "1.5"
 */
#ifndef LB_BASE_DECIMAL_H
#define LB_BASE_DECIMAL_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

#define LB_MILLION ((int64_t)1000000) /* one unit of anything decimal */

enum lb_scan {
    LB_SCAN_OK,
    LB_SCAN_NO_NUMBER,
    LB_SCAN_TOO_FINE,  /* more decimal places than asked for, and not all zeros */
    LB_SCAN_TOO_LARGE, /* beyond ±limit */
};

/* The one reader of numbers: a sign, digits, `.` and digits at the start of `text`, as a count of 10^-places
 * (places 0 to 6). `*rest` is the first byte after the number, also when it is too fine or too large. `.5` is
 * no number; in `5.` the number is 5 and the dot is rest. */
enum lb_scan lb_decimal_scan(const char *text, int places, int64_t limit, int64_t *value, const char **rest);
/* Appends `value` as a number with exactly `places` decimal places. */
void lb_decimal_print_places(struct lb_buf *out, int64_t value, int places);

/* Parses the whole of `text`: optional sign, digits, optional `.` and 1 to 6 digits (more only when they are
 * zeros). False, *value untouched: not such a number or outside ±9e12. No exponent, no separators, no blanks.
 */
bool lb_decimal_parse(const char *text, int64_t *value);
/* Reads a leading number; *rest is what follows it, blanks (also the no-break ones) skipped. False: no number
 * there, or one that lb_decimal_parse would refuse; nothing is touched. */
bool lb_decimal_parse_prefix(const char *text, int64_t *value, const char **rest);
/* Why one of them refused the text, to follow it in a message: "is not a number". */
const char *lb_decimal_refusal(const char *text);
/* Shortest exact form: 1500000 -> 1.5, 2000000 -> 2, -70000 -> -0.07. */
void lb_decimal_print(struct lb_buf *out, int64_t value);
/* a × b ÷ c in 128 bits, rounded half away from zero; c > 0. Saturates at ±INT64_MAX. */
int64_t lb_decimal_muldiv(int64_t a, int64_t b, int64_t c);
/* ceil(a × b ÷ c) in 128 bits for a, b >= 0, c > 0. Saturates at INT64_MAX. */
int64_t lb_decimal_muldiv_up(int64_t a, int64_t b, int64_t c);
/* ceil(a / b) for a >= 0, b > 0. */
int64_t lb_decimal_ceil_div(int64_t a, int64_t b);
/* The less of two. */
static inline int64_t lb_least(int64_t a, int64_t b)
{
    return a < b ? a : b;
}

#endif
