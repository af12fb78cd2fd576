#include "importers/recast.h"

#include "base/ascii.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"

#include <string.h>

__extension__ typedef __int128 wide;

void lb_recast_narrow(struct lb_buf *out, const char *text)
{
    for (const unsigned char *p = (const unsigned char *)text; *p;) {
        if (p[0] == 0xEF && p[1] == 0xBC && p[2] >= 0x81 && p[2] <= 0xBF) { /* U+FF01 to U+FF3F */
            lb_buf_putc(out, (char)(p[2] - 0x81 + '!'));
            p += 3;
        } else if (p[0] == 0xEF && p[1] == 0xBD && p[2] >= 0x80 && p[2] <= 0x9E) { /* U+FF40 to U+FF5E */
            lb_buf_putc(out, (char)(p[2] - 0x80 + '`'));
            p += 3;
        } else if (p[0] == 0xE3 && p[1] == 0x80 && p[2] == 0x80) { /* the ideographic space */
            lb_buf_putc(out, ' ');
            p += 3;
        } else {
            lb_buf_putc(out, (char)*p++);
        }
    }
}

/* The bytes of one blank: also the no-break, the narrow no-break and the thin one. */
static size_t blank(const char *p)
{
    if (*p == ' ' || *p == '\t')
        return 1;
    if (strncmp(p, "\u00A0", 2) == 0)
        return 2;
    return strncmp(p, "\u202F", 3) == 0 || strncmp(p, "\u2009", 3) == 0 ? 3 : 0;
}

static size_t mark_length(const char *p, char mark)
{
    if (mark == ' ')
        return blank(p);
    if (mark == '\'' && strncmp(p, "\u2019", 3) == 0)
        return 3;
    return mark && *p == mark;
}

static size_t digits(const char *p)
{
    size_t count = 0;
    while (lb_ascii_digit(p[count]))
        count++;
    return count;
}

/* Digits, in threes where `thousands` stands between them. A blank that no three digits follow ends the
 * number. */
static const char *whole_part(struct lb_buf *out, const char **at, char thousands)
{
    const char *p = *at;
    size_t count = digits(p), mark;
    if (!count)
        return "is not a number";
    lb_buf_append(out, p, count);
    p += count;
    while ((mark = mark_length(p, thousands)) && lb_ascii_digit(p[mark])) {
        if (count > 3 || **at == '0' || digits(p + mark) != 3)
            return "does not set its thousands in threes";
        lb_buf_append(out, p + mark, 3);
        p += mark + 3;
    }
    *at = p;
    return NULL;
}

/* `12,-` and `12,--`: no minor units. */
static size_t dashes(const char *p)
{
    size_t length = 0;
    while (p[length] == '-' || strncmp(p + length, "\u2013", 3) == 0 || strncmp(p + length, "\u2014", 3) == 0)
        length += p[length] == '-' ? 1 : 3;
    return length;
}

const char *lb_recast_number(struct lb_buf *out, const char *text, char decimal, char thousands,
                             const char **rest)
{
    const char *p = text;
    decimal = decimal ? decimal : '.';
    size_t minus = *p == '-' ? 1 : strncmp(p, "\u2212", 3) == 0 ? 3 : 0;
    if (minus)
        lb_buf_putc(out, '-');
    p += minus ? minus : *p == '+';
    const char *why = whole_part(out, &p, thousands);
    if (why)
        return why;
    if (*p == decimal && lb_ascii_digit(p[1])) {
        lb_buf_putc(out, '.');
        lb_buf_append(out, p + 1, digits(p + 1));
        p += 1 + digits(p + 1);
    } else if (*p == decimal && dashes(p + 1)) {
        p += 1 + dashes(p + 1);
    }
    if (*p && strchr(".,'", *p))
        return decimal == ',' ? "is not a number as this file writes them, with a decimal comma"
                              : "is not a number as this file writes them, with a decimal point";
    for (size_t skip; (skip = blank(p));)
        p += skip;
    *rest = p;
    return NULL;
}

static bool refuse(struct lb_buf *reason, const char *text, const char *why)
{
    lb_buf_printf(reason, "\"%.*s\" %s", (int)lb_text_fit(text, 60), text, why);
    return false;
}

/* price × pack ÷ per, in millionths; false: not exact even there, or too large. */
static bool scale(int64_t price, int64_t pack, int64_t per, int64_t *out)
{
    wide product = (wide)price * pack;
    if (product % per != 0 || product / per > (wide)INT64_MAX || product / per < -(wide)INT64_MAX)
        return false;
    *out = (int64_t)(product / per);
    return true;
}

static bool is_minor(int64_t millionths, const char *currency)
{
    int places = currency ? lb_currency_digits(currency) : -1;
    int64_t unit = LB_MILLION;
    for (int i = 0; i < places; i++)
        unit /= 10;
    return places < 0 || millionths % unit == 0; /* a currency that is none is refused elsewhere */
}

bool lb_recast_per(const char *price, int64_t per, const char *pack, const char *currency,
                   struct lb_buf *price_out, struct lb_buf *pack_out, struct lb_buf *reason)
{
    int64_t amount, pieces, total;
    if (per == 0 || !*price) {
        lb_buf_puts(price_out, price);
        lb_buf_puts(pack_out, pack);
        return true;
    }
    if (per < 0)
        return refuse(reason, price, "is a price for less than nothing");
    if (!*pack) {
        lb_buf_puts(price_out, price);
        lb_decimal_print(pack_out, per);
        return true;
    }
    if (!lb_decimal_parse(pack, &pieces))
        return refuse(reason, pack, "is a pack in a unit, and the price is one for so many pieces");
    if (!lb_decimal_parse(price, &amount))
        return refuse(reason, price, "is not an amount of money");
    if (!scale(amount, pieces, per, &total) || !is_minor(total, currency)) {
        refuse(reason, price, "for ");
        lb_decimal_print(reason, per);
        lb_buf_printf(reason, " comes to no whole amount of money for a pack of %s", pack);
        return false;
    }
    lb_decimal_print(price_out, total);
    lb_buf_puts(pack_out, pack);
    return true;
}

bool lb_recast_pieces(const char *pieces, const char *pack, bool up, struct lb_buf *out,
                      struct lb_buf *reason)
{
    int64_t count, each = LB_MILLION;
    if (!lb_decimal_parse(pieces, &count) || count < 0) {
        lb_buf_puts(out, pieces); /* no number, or a negative one: what reads it next says so */
        return true;
    }
    if (*pack && (!lb_decimal_parse(pack, &each) || each <= 0))
        return refuse(reason, pack, "is a pack that pieces cannot be counted in");
    lb_decimal_print(out, LB_MILLION * (up ? lb_decimal_ceil_div(count, each) : count / each));
    return true;
}
