#include "base/decimal.h"

#include "base/ascii.h"

#include <inttypes.h>
#include <string.h>

/* 9e12 in millionths: the largest round number below INT64_MAX. */
#define LIMIT ((int64_t)9000000000000 * LB_MILLION)

__extension__ typedef __int128 wide;

/* false: *value would pass limit; it is then left as it was */
static bool push_digit(int64_t *value, int digit, int64_t limit)
{
    if (*value > (limit - digit) / 10)
        return false;
    *value = *value * 10 + digit;
    return true;
}

enum lb_scan lb_decimal_scan(const char *text, int places, int64_t limit, int64_t *value, const char **rest)
{
    const char *p = text;
    bool negative = *p == '-';
    if (*p == '-' || *p == '+')
        p++;
    if (!lb_ascii_digit(*p))
        return LB_SCAN_NO_NUMBER;
    int64_t amount = 0;
    bool fits = true, fine = false;
    for (; lb_ascii_digit(*p); p++)
        fits = fits && push_digit(&amount, *p - '0', limit);
    if (*p == '.' && lb_ascii_digit(p[1])) {
        for (p++; lb_ascii_digit(*p); p++) {
            if (places > 0)
                fits = fits && push_digit(&amount, *p - '0', limit);
            else
                fine = fine || *p != '0';
            places -= places > 0;
        }
    }
    for (; places > 0; places--)
        fits = fits && push_digit(&amount, 0, limit);
    *rest = p;
    if (!fits)
        return LB_SCAN_TOO_LARGE;
    if (fine)
        return LB_SCAN_TOO_FINE;
    *value = negative ? -amount : amount;
    return LB_SCAN_OK;
}

bool lb_decimal_parse(const char *text, int64_t *value)
{
    const char *rest;
    int64_t read;
    if (lb_decimal_scan(text, 6, LIMIT, &read, &rest) != LB_SCAN_OK || *rest)
        return false;
    *value = read;
    return true;
}

/* The bytes of one blank at p, or 0. Typographers set a no-break space (U+00A0, U+202F) between number and
 * unit. */
static size_t blank(const char *p)
{
    if (*p == ' ' || *p == '\t')
        return 1;
    if (!strncmp(p, "\xC2\xA0", 2))
        return 2;
    return strncmp(p, "\xE2\x80\xAF", 3) ? 0 : 3;
}

bool lb_decimal_parse_prefix(const char *text, int64_t *value, const char **rest)
{
    const char *after;
    int64_t read;
    if (lb_decimal_scan(text, 6, LIMIT, &read, &after) != LB_SCAN_OK)
        return false;
    for (size_t skip; (skip = blank(after));)
        after += skip;
    *value = read;
    *rest = after;
    return true;
}

const char *lb_decimal_refusal(const char *text)
{
    const char *rest;
    int64_t read;
    switch (lb_decimal_scan(text, 6, LIMIT, &read, &rest)) {
    case LB_SCAN_TOO_FINE:
        return "has more than six decimal places";
    case LB_SCAN_TOO_LARGE:
        return "is too large a number";
    default:
        return "is not a number";
    }
}

/* The magnitude without the overflow that -INT64_MIN would be. */
static uint64_t magnitude(int64_t value)
{
    return value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
}

void lb_decimal_print_places(struct lb_buf *out, int64_t value, int places)
{
    uint64_t unit = 1;
    for (int i = 0; i < places; i++)
        unit *= 10;
    uint64_t amount = magnitude(value);
    lb_buf_printf(out, "%s%" PRIu64, value < 0 ? "-" : "", amount / unit);
    if (places > 0)
        lb_buf_printf(out, ".%0*" PRIu64, places, amount % unit);
}

void lb_decimal_print(struct lb_buf *out, int64_t value)
{
    int places = 6;
    while (places > 0 && value % 10 == 0) {
        value /= 10;
        places--;
    }
    lb_decimal_print_places(out, value, places);
}

int64_t lb_decimal_muldiv(int64_t a, int64_t b, int64_t c)
{
    int64_t narrow;
    if (!__builtin_mul_overflow(a, b, &narrow) && narrow >= 0) /* mostly; a division of 128 bits is slow */
        return narrow / c + (narrow % c >= c - narrow % c);
    wide product = (wide)a * b;
    wide quotient = product / c;
    wide left = product % c;
    if (left < 0)
        left = -left;
    if (left >= c - left)
        quotient += product < 0 ? -1 : 1;
    if (quotient > INT64_MAX)
        return INT64_MAX;
    return quotient < -INT64_MAX ? -INT64_MAX : (int64_t)quotient;
}

int64_t lb_decimal_muldiv_up(int64_t a, int64_t b, int64_t c)
{
    wide quotient = ((wide)a * b + c - 1) / c;
    return quotient > INT64_MAX ? INT64_MAX : (int64_t)quotient;
}

int64_t lb_decimal_ceil_div(int64_t a, int64_t b)
{
    return a / b + (a % b != 0);
}
