/* One value of a lock's text. */
#include "base/ascii.h"
#include "base/date.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"
#include "kit/lock_reader.h"

#include <string.h>

lb_status lock_refuse(struct lock_reader *r, const char *why, const char *what)
{
    return lb_fail_at(r->err, r->name, r->row, 0, "%s:%ld: no locked kit says this: %s%.*s.", r->name, r->row,
                      why, LB_FIT(what, 100));
}

static int hex(char c)
{
    if (lb_ascii_digit(c))
        return c - '0';
    return c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

/* What `\n`, `\\` and `\x1f` stand for, in the place where they stood. False: a backslash before something
 * else. */
static bool plain(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++) {
        int byte = (unsigned char)*from;
        if (byte == '\\') {
            from++;
            byte = *from == 'n' ? '\n' : *from == '\\' ? '\\' : -1;
            if (*from == 'x' && hex(from[1]) >= 0 && hex(from[2]) >= 0) {
                byte = hex(from[1]) * 16 + hex(from[2]);
                from += 2;
            }
            if (byte <= 0)
                return false;
        }
        *to++ = (char)byte;
    }
    *to = '\0';
    return true;
}

static lb_status read_words(struct lock_reader *r, const struct lock_field *field, char *value)
{
    if (!plain(value))
        return lock_refuse(r, "a backslash stands before n, another one, or x and two digits only: ", value);
    char *kept = lb_arena_text(&r->lock->texts, value, strlen(value));
    memcpy(r->record + field->at, &kept, sizeof kept);
    return kept ? LB_OK : lb_fail_nomem(r->err);
}

static bool read_money(const struct lock_reader *r, const char *value, int64_t *number)
{
    const char *rest, *currency = ((const struct lb_lock_offer *)r->record)->currency;
    if (currency && lb_currency_digits(currency) >= 0)
        return !lb_money_parse(value, currency, number) && *number >= 0;
    return lb_decimal_scan(value, 0, INT64_MAX, number, &rest) == LB_SCAN_OK && !*rest && *number >= 0;
}

static lb_status read_number(struct lock_reader *r, const struct lock_field *field, const char *value)
{
    int64_t number = 0;
    const char *rest;
    bool good = false;
    if (field->type == LOCK_QUANTITY)
        good = lb_decimal_parse(value, &number);
    else if (field->type == LOCK_MONEY)
        good = read_money(r, value, &number);
    else
        good = lb_decimal_scan(value, 0, INT64_MAX, &number, &rest) == LB_SCAN_OK && !*rest && number >= 0;
    memcpy(r->record + field->at, &number, sizeof number);
    return good ? LB_OK : lock_refuse(r, "no such number can be: ", value);
}

static lb_status read_day(struct lock_reader *r, const struct lock_field *field, const char *value)
{
    struct lb_interval day;
    if (lb_date_parse(value, &day) || day.first != day.last)
        return lock_refuse(r, "no day: ", value);
    memcpy(r->record + field->at, &day.first, sizeof day.first);
    return LB_OK;
}

static lb_status read_named(struct lock_reader *r, const struct lock_field *field, const char *value)
{
    int word = 0;
    while (word <= field->most && strcmp(field->named(word), value) != 0)
        word++;
    if (word > field->most)
        return lock_refuse(r, "not one of the words that may stand here: ", value);
    bool flag = word == 1;
    if (field->type == LOCK_FLAG)
        memcpy(r->record + field->at, &flag, sizeof flag);
    else
        memcpy(r->record + field->at, &word, sizeof word);
    return LB_OK;
}

lb_status lock_read_value(struct lock_reader *r, const struct lock_field *field, char *value)
{
    switch (field->type) {
    case LOCK_WORDS:
        return read_words(r, field, value);
    case LOCK_DAY:
        return read_day(r, field, value);
    case LOCK_NAMED:
    case LOCK_FLAG:
        return read_named(r, field, value);
    case LOCK_QUANTITY:
    case LOCK_COUNT:
    case LOCK_MONEY:
        break;
    }
    return read_number(r, field, value);
}
