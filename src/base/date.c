#include "base/date.h"

#include "base/ascii.h"

#include <string.h>

/* The refusals are static text and still name the number: ten of them a line. */
#define TEN(what, t, tail)                                                                                   \
    what t "0" tail, what t "1" tail, what t "2" tail, what t "3" tail, what t "4" tail, what t "5" tail,    \
        what t "6" tail, what t "7" tail, what t "8" tail, what t "9" tail
#define HUNDRED(what, tail)                                                                                  \
    TEN(what, "0", tail), TEN(what, "1", tail), TEN(what, "2", tail), TEN(what, "3", tail),                  \
        TEN(what, "4", tail), TEN(what, "5", tail), TEN(what, "6", tail), TEN(what, "7", tail),              \
        TEN(what, "8", tail), TEN(what, "9", tail)

static const char *const no_month[100] = {HUNDRED("month ", " does not exist")};
static const char *const no_day[100] = {HUNDRED("day ", " does not exist in that month")};
static const char no_date[] = "is not a date (YYYY, YYYY-MM or YYYY-MM-DD)";

static bool leap(int year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int month_days(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && leap(year));
}

/* Days from 0001-01-01 to 1970-01-01. */
#define EPOCH 719162

static int32_t day_number(int year, int month, int day)
{
    int before = year - 1;
    int32_t count = before * 365 + before / 4 - before / 100 + before / 400;
    for (int m = 1; m < month; m++)
        count += month_days(year, m);
    return count + day - 1 - EPOCH;
}

/* `count` digits at text; -1: they are not all digits (a NUL is none, so this never reads past the end). */
static int digits(const char *text, int count)
{
    int value = 0;
    for (int i = 0; i < count; i++) {
        if (!lb_ascii_digit(text[i]))
            return -1;
        value = value * 10 + text[i] - '0';
    }
    return value;
}

const char *lb_date_parse(const char *text, struct lb_interval *out)
{
    size_t length = strlen(text);
    bool has_month = length == 7 || length == 10, has_day = length == 10;
    if (length != 4 && !has_month)
        return no_date;
    int year = digits(text, 4);
    int month = has_month && text[4] == '-' ? digits(text + 5, 2) : -1;
    int day = has_day && text[7] == '-' ? digits(text + 8, 2) : -1;
    if (year < 0 || (has_month && month < 0) || (has_day && day < 0))
        return no_date;
    if (!year)
        return "year 0000 does not exist";
    if (has_month && (month < 1 || month > 12))
        return no_month[month];
    if (has_day && (day < 1 || day > month_days(year, month)))
        return no_day[day];
    int last_month = has_month ? month : 12;
    out->first = day_number(year, has_month ? month : 1, has_day ? day : 1);
    out->last = day_number(year, last_month, has_day ? day : month_days(year, last_month));
    return NULL;
}

/* Day 0 was a Thursday (The Open Group Base Specifications Issue 7, <time.h>: tm_wday of the Epoch is 4). */
const char *lb_date_weekday(int32_t day)
{
    static const char *const names[] = {"Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"};
    return names[(day % 7 + 7) % 7];
}

struct civil {
    int year, month, day;
};

/* The 400-year cycle of 146097 days makes the year exact without a search over years. */
static struct civil civil_of(int32_t day_since_1970)
{
    int64_t day = (int64_t)day_since_1970 + EPOCH;
    int64_t cycle = day >= 0 ? day / 146097 : -((-day + 146096) / 146097);
    int left = (int)(day - cycle * 146097);
    int century = left / 36524 - left / 146096; /* the last day of the cycle belongs to its fourth century */
    left -= century * 36524;
    int four = left / 1461;
    left -= four * 1461;
    int one = left / 365 - left / 1460;
    left -= one * 365;
    struct civil date = {.year = (int)(cycle * 400) + century * 100 + four * 4 + one + 1, .month = 1};
    int length;
    while (left >= (length = month_days(date.year, date.month))) {
        left -= length;
        date.month++;
    }
    date.day = left + 1;
    return date;
}

void lb_date_print(struct lb_buf *out, int32_t day)
{
    if (day == LB_DATE_MIN || day == LB_DATE_MAX) {
        lb_buf_puts(out, "..");
        return;
    }
    struct civil date = civil_of(day);
    lb_buf_printf(out, "%04d-%02d-%02d", date.year, date.month, date.day);
}

int lb_date_year(int32_t day)
{
    return civil_of(day).year;
}

int32_t lb_date_add_months(int32_t day, int64_t months)
{
    const int last_year = 9999;
    struct civil date = civil_of(day);
    if (months > 12 * last_year)
        return day_number(last_year, 12, 31);
    int64_t month = date.year * 12 + date.month - 1 + months;
    if (month / 12 > last_year)
        return day_number(last_year, 12, 31);
    date.year = (int)(month / 12);
    date.month = (int)(month % 12) + 1;
    int length = month_days(date.year, date.month);
    return day_number(date.year, date.month, date.day < length ? date.day : length);
}

void lb_date_print_time(struct lb_buf *out, int64_t seconds)
{
    int64_t day = seconds / 86400 - (seconds % 86400 < 0);
    int left = (int)(seconds - day * 86400);
    lb_date_print(out, (int32_t)day);
    lb_buf_printf(out, "T%02d:%02d:%02dZ", left / 3600, left / 60 % 60, left % 60);
}
