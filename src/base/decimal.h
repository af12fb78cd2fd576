/* Exact decimals: a quantity is an integer count of millionths, never a binary float.
 *
 *     int64_t q;
 *     enum lb_decimal r = lb_decimal_parse("1.5", &q);          // q == 1500000
 *     lb_decimal_print(&out, q);                                 // "1.5"
 */
#ifndef LB_BASE_DECIMAL_H
#define LB_BASE_DECIMAL_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

#define LB_MILLION ((int64_t)1000000) /* one unit of anything decimal */

/* Parses the whole of `text`: optional sign, digits, optional `.` and 1 to 6 digits (more only when they are zeros).
 * False, *value untouched: not such a number or outside ±9e12. No exponent, no separators, no blanks. */
bool lb_decimal_parse(const char *text, int64_t *value);
/* Reads a leading number; *rest is what follows it, blanks skipped. False: no number there. */
bool lb_decimal_parse_prefix(const char *text, int64_t *value, const char **rest);
/* Shortest exact form: 1500000 -> 1.5, 2000000 -> 2, -70000 -> -0.07. */
void lb_decimal_print(struct lb_buf *out, int64_t value);
/* a × b ÷ c in 128 bits, rounded half away from zero; c > 0. Saturates at ±INT64_MAX. */
int64_t lb_decimal_muldiv(int64_t a, int64_t b, int64_t c);
/* ceil(a / b) for a >= 0, b > 0. */
int64_t lb_decimal_ceil_div(int64_t a, int64_t b);

#endif
