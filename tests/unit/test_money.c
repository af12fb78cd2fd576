#include "base/money.h"

#include <criterion/criterion.h>

static void reads(const char *text, const char *currency, int64_t expected)
{
    int64_t minor = 77;
    const char *why = lb_money_parse(text, currency, &minor);
    cr_assert_null(why, "%s %s %s", text, currency, why);
    cr_expect_eq(minor, expected, "%s %s: %lld", text, currency, (long long)minor);
}

static void refuses(const char *text, const char *currency, const char *expected)
{
    int64_t minor = 77;
    const char *why = lb_money_parse(text, currency, &minor);
    cr_assert_not_null(why, "%s %s", text, currency);
    cr_expect_str_eq(why, expected);
    cr_expect_eq(minor, 77);
}

Test(money, reads_minor_units)
{
    reads("12.50", "EUR", 1250);
    reads("12.5", "EUR", 1250);
    reads("12", "EUR", 1200);
    reads("12.5000", "EUR", 1250);
    reads("-0.05", "EUR", -5);
    reads("-0.00", "EUR", 0);
    reads("1250", "JPY", 1250);
    reads("1250.00", "JPY", 1250);
    reads("1.234", "KWD", 1234);
    reads("1.2345", "CLF", 12345);
    reads("90000000000000.00", "EUR", 9000000000000000);
    reads("-9000000000000000", "JPY", -9000000000000000);
}

Test(money, refuses_rather_than_rounds)
{
    refuses("12.505", "EUR", "has more decimal places than its currency");
    refuses("12.5", "JPY", "has more decimal places than its currency");
    refuses("90000000000000.01", "EUR", "is too large an amount");
    refuses("99999999999999999999999999", "JPY", "is too large an amount");
}

Test(money, refuses_what_is_no_amount)
{
    const char *const ugly[] = {"",      "EUR 1", "1 EUR", "€5",   "1,50", "1.234,50", "1,234.50",
                                "1'000", "1e3",   " 1",    "1 ",   "1.",   ".50",      "--1",
                                "free",  "n/a",   "1.2.3", "=1+1", "$1",   "1.5-"};
    for (size_t i = 0; i < sizeof ugly / sizeof *ugly; i++)
        refuses(ugly[i], "EUR", "is not an amount of money");
}

Test(money, refuses_what_is_no_currency)
{
    const char *const ugly[] = {"", "eur", "EU", "EURO", "E R", "XXX", "XAU", "ZZZ", "   ", "AED ", "D A"};
    for (size_t i = 0; i < sizeof ugly / sizeof *ugly; i++)
        refuses("1", ugly[i], "has a currency that ISO 4217 does not list");
}

static void prints(int64_t minor, const char *currency, const char *expected)
{
    struct lb_buf out = {0};
    lb_money_print(&out, minor, currency);
    cr_expect_str_eq(lb_buf_text(&out), expected);
    lb_buf_free(&out);
}

Test(money, prints_all_minor_digits)
{
    prints(1250, "EUR", "12.50");
    prints(1250, "JPY", "1250");
    prints(-5, "EUR", "-0.05");
    prints(0, "EUR", "0.00");
    prints(5, "KWD", "0.005");
    prints(-12345, "CLF", "-1.2345");
    prints(1250, "???", "1250");
    prints(INT64_MIN, "EUR", "-92233720368547758.08");
}

Test(money, percent_rounds_half_away_from_zero)
{
    cr_expect_eq(lb_money_percent(1000, 19000000), 190);
    cr_expect_eq(lb_money_percent(50, 1000000), 1, "0.5 of a cent");
    cr_expect_eq(lb_money_percent(49, 1000000), 0);
    cr_expect_eq(lb_money_percent(-50, 1000000), -1);
    cr_expect_eq(lb_money_percent(10010, 7700000), 771, "7.7 %% of 100.10 is 7.7077");
    cr_expect_eq(lb_money_percent(9000000000000000, 100000000), 9000000000000000);
}
