#include "base/date.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <time.h>

static void reads(const char *text, const char *first, const char *last)
{
    struct lb_interval interval;
    struct lb_buf out = {0};
    const char *why = lb_date_parse(text, &interval);
    cr_assert_null(why, "%s %s", text, why);
    lb_date_print(&out, interval.first);
    cr_expect_str_eq(lb_buf_text(&out), first);
    lb_buf_clear(&out);
    lb_date_print(&out, interval.last);
    cr_expect_str_eq(lb_buf_text(&out), last);
    lb_buf_free(&out);
}

static void refuses(const char *text, const char *expected)
{
    struct lb_interval interval = {7, 8};
    const char *why = lb_date_parse(text, &interval);
    cr_assert_not_null(why, "%s", text);
    cr_expect_str_eq(why, expected);
    cr_expect(interval.first == 7 && interval.last == 8, "%s touched the interval", text);
}

Test(date, keeps_its_precision)
{
    reads("1999", "1999-01-01", "1999-12-31");
    reads("1999-06", "1999-06-01", "1999-06-30");
    reads("1999-06-15", "1999-06-15", "1999-06-15");
    reads("2000-02", "2000-02-01", "2000-02-29");
    reads("1900-02", "1900-02-01", "1900-02-28");
    reads("2024-02-29", "2024-02-29", "2024-02-29");
    reads("0001", "0001-01-01", "0001-12-31");
    reads("9999-12-31", "9999-12-31", "9999-12-31");
}

Test(date, names_what_does_not_exist)
{
    refuses("2001-13", "month 13 does not exist");
    refuses("2001-00-01", "month 00 does not exist");
    refuses("2001-99-99", "month 99 does not exist");
    refuses("2001-04-31", "day 31 does not exist in that month");
    refuses("1900-02-29", "day 29 does not exist in that month");
    refuses("2001-01-00", "day 00 does not exist in that month");
    refuses("0000", "year 0000 does not exist");
    refuses("0000-12-31", "year 0000 does not exist");
}

Test(date, refuses_what_is_no_date)
{
    const char *const ugly[] = {"",        "99",         "199",           "19999",      "1999-",
                                "1999-6",  "1999-6-1",   "1999/06/01",    "01.06.1999", "06/1999",
                                "199906",  "19990601",   " 1999",         "1999 ",      "-1999",
                                "+1999-1", "1999-06-1 ", "1999-06-15T00", "1999-0x-01", "1999-06--1",
                                "١٩٩٩",    "1999-W01-1", "abcd-ef-gh"};
    for (size_t i = 0; i < sizeof ugly / sizeof *ugly; i++)
        refuses(ugly[i], "is not a date (YYYY, YYYY-MM or YYYY-MM-DD)");
}

/* The C library's proleptic Gregorian calendar as referee, over all years that can be written. */
Test(date, agrees_with_the_c_library)
{
    static const char *const weekdays[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
    for (int64_t day = -719162; day <= 2932896; day += 11) {
        time_t seconds = (time_t)(day * 86400);
        struct tm tm;
        struct lb_interval interval;
        struct lb_buf out = {0};
        char expected[32];
        cr_assert_not_null(gmtime_r(&seconds, &tm));
        snprintf(expected, sizeof expected, "%04d-%02d-%02d", tm.tm_year + 1900, tm.tm_mon + 1, tm.tm_mday);
        lb_date_print(&out, (int32_t)day);
        cr_assert_str_eq(lb_buf_text(&out), expected);
        cr_assert_null(lb_date_parse(expected, &interval));
        cr_assert_eq(interval.first, day);
        cr_assert_eq(lb_date_year((int32_t)day), tm.tm_year + 1900);
        cr_assert_str_eq(lb_date_weekday((int32_t)day), weekdays[tm.tm_wday]);
        lb_buf_free(&out);
    }
}

Test(date, ends_of_years)
{
    struct lb_interval interval;
    for (int year = 1; year <= 9999; year++) {
        char text[16];
        snprintf(text, sizeof text, "%04d", year);
        cr_assert_null(lb_date_parse(text, &interval));
        cr_assert_eq(lb_date_year(interval.first), year);
        cr_assert_eq(lb_date_year(interval.last), year);
        cr_assert_eq(lb_date_year(interval.last + 1), year + 1);
    }
}

Test(date, open_ends_print_as_open)
{
    struct lb_buf out = {0};
    lb_date_print(&out, LB_DATE_MIN);
    lb_date_print(&out, LB_DATE_MAX);
    cr_expect_str_eq(lb_buf_text(&out), "....");
    cr_expect_lt(lb_date_year(LB_DATE_MIN), 0);
    cr_expect_gt(lb_date_year(LB_DATE_MAX), 9999);
    lb_buf_free(&out);
}

Test(date, months_on)
{
    static const struct {
        const char *from;
        int64_t months;
        const char *to;
    } rows[] = {
        {"2026-01-31", 0, "2026-01-31"},         {"2026-01-31", 1, "2026-02-28"},
        {"2024-01-31", 1, "2024-02-29"},         {"2026-11-15", 2, "2027-01-15"},
        {"2026-12-31", 12, "2027-12-31"},        {"1999-05-01", 120, "2009-05-01"},
        {"0001-01-01", 24, "0003-01-01"},        {"9999-11-30", 13, "9999-12-31"},
        {"2026-01-01", INT64_MAX, "9999-12-31"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct lb_interval from, to;
        cr_assert(!lb_date_parse(rows[i].from, &from) && !lb_date_parse(rows[i].to, &to));
        cr_expect_eq(lb_date_add_months(from.first, rows[i].months), to.first, "%s + %lld", rows[i].from,
                     (long long)rows[i].months);
    }
}
