/* Money: an integer count of a currency's minor units, with the currency.
 * Source: ISO 4217 List One (published 2024-06-25): codes and minor digits; funds and metals with "N.A." are
 * no money. */
#ifndef LB_BASE_MONEY_H
#define LB_BASE_MONEY_H

#include "base/buf.h"

#include <stdbool.h>
#include <stdint.h>

/* Minor digits (0 to 4) of an ISO 4217 code in upper case, or -1 when it is none. */
int lb_currency_digits(const char *code);
/* Parses a decimal with at most the currency's minor digits (trailing zeros beyond them are let pass).
 * Returns NULL and fills *minor, or returns why not, in words (static text). Range ±9e15. */
const char *lb_money_parse(const char *text, const char *currency, int64_t *minor);
/* "12.50", "1250" (JPY), "-0.05": without the code. A currency that is none: the bare count of minor units.
 */
void lb_money_print(struct lb_buf *out, int64_t minor, const char *currency);
/* amount × percent, half up (away from zero) to a whole minor unit; percent in millionths of a percent point.
 */
int64_t lb_money_percent(int64_t minor, int64_t percent);

#endif
