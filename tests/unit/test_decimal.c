#include "base/decimal.h"

#include <criterion/criterion.h>
#include <string.h>

static void reads(const char *text, int64_t expected)
{
    int64_t value = 77;
    cr_assert(lb_decimal_parse(text, &value), "%s", text);
    cr_expect_eq(value, expected, "%s: %lld", text, (long long)value);
}

static void refuses(const char *text)
{
    int64_t value = 77;
    cr_expect_not(lb_decimal_parse(text, &value), "%s", text);
    cr_expect_eq(value, 77, "%s touched the value", text);
}

Test(decimal, reads_exactly)
{
    reads("0", 0);
    reads("-0", 0);
    reads("+1", 1000000);
    reads("1.5", 1500000);
    reads("-0.07", -70000);
    reads("0.000001", 1);
    reads("007", 7000000);
    reads("1.50000000000000000000", 1500000);
    reads("9000000000000", 9000000000000000000);
    reads("-9000000000000.000000", -9000000000000000000);
    reads("00000000000000000000000000000000000001", 1000000);
}

Test(decimal, refuses_what_is_no_number)
{
    const char *const ugly[] = {"",      " ",   "-",   "+",   ".",   "1.",        ".5",
                                "1.2.3", "1,5", "1e5", " 1",  "1 ",  "--1",       "+-1",
                                "0x1",   "1_0", "١",   "1\n", "1L",  "inf",       "nan",
                                "1 000", "−1",  "½",   "1..", "-.5", "0.0000001", "1.2345678"};
    for (size_t i = 0; i < sizeof ugly / sizeof *ugly; i++)
        refuses(ugly[i]);
}

Test(decimal, refuses_what_is_too_large)
{
    refuses("9000000000000.000001");
    refuses("-9000000000001");
    refuses("9223372036854775807");
    refuses("18446744073709551617"); /* 2^64 + 1 would wrap round to 1 */
    char nines[4001];
    memset(nines, '9', 4000);
    nines[4000] = '\0';
    refuses(nines);
}

Test(decimal, scan_says_why)
{
    int64_t value = 5;
    const char *rest = NULL;
    cr_expect_eq(lb_decimal_scan("1.005 EUR", 2, 1000, &value, &rest), LB_SCAN_TOO_FINE);
    cr_expect_str_eq(rest, " EUR");
    cr_expect_eq(lb_decimal_scan("10.01x", 2, 1000, &value, &rest), LB_SCAN_TOO_LARGE);
    cr_expect_str_eq(rest, "x");
    cr_expect_eq(lb_decimal_scan("x", 2, 1000, &value, &rest), LB_SCAN_NO_NUMBER);
    cr_expect_eq(value, 5);
    cr_expect_eq(lb_decimal_scan("10.00", 2, 1000, &value, &rest), LB_SCAN_OK);
    cr_expect_eq(value, 1000);
    cr_expect_eq(lb_decimal_scan("12.000", 0, 1000, &value, &rest), LB_SCAN_OK);
    cr_expect_eq(value, 12);
}

Test(decimal, refusal_says_why)
{
    cr_expect_str_eq(lb_decimal_refusal("1e5"), "is not a number");
    cr_expect_str_eq(lb_decimal_refusal("some"), "is not a number");
    cr_expect_str_eq(lb_decimal_refusal(""), "is not a number");
    cr_expect_str_eq(lb_decimal_refusal("9000000000001"), "is too large a number");
    cr_expect_str_eq(lb_decimal_refusal("-99999999999999999999 km"), "is too large a number");
    cr_expect_str_eq(lb_decimal_refusal("0.1234567"), "has more than six decimal places");
}

Test(decimal, prefix)
{
    int64_t value = 0;
    const char *rest = NULL;
    cr_assert(lb_decimal_parse_prefix("7.4 lbf.ft", &value, &rest));
    cr_expect_eq(value, 7400000);
    cr_expect_str_eq(rest, "lbf.ft");
    cr_assert(lb_decimal_parse_prefix("5.L", &value, &rest));
    cr_expect_eq(value, 5000000);
    cr_expect_str_eq(rest, ".L");
    cr_assert(lb_decimal_parse_prefix("-3\xC2\xA0\xE2\x80\xAF \t°C", &value, &rest), "no-break blanks");
    cr_expect_str_eq(rest, "°C");
    cr_assert(lb_decimal_parse_prefix("2\xC2", &value, &rest), "half of a no-break space");
    cr_expect_str_eq(rest, "\xC2");
    cr_expect_not(lb_decimal_parse_prefix(" 1", &value, &rest));
    cr_expect_not(lb_decimal_parse_prefix("1.2345678 L", &value, &rest));
}

static void prints(int64_t value, const char *expected)
{
    struct lb_buf out = {0};
    lb_decimal_print(&out, value);
    cr_expect_str_eq(lb_buf_text(&out), expected);
    lb_buf_free(&out);
}

Test(decimal, prints_the_shortest_exact_form)
{
    prints(0, "0");
    prints(1500000, "1.5");
    prints(2000000, "2");
    prints(-70000, "-0.07");
    prints(10000000, "10");
    prints(1, "0.000001");
    prints(-1000001, "-1.000001");
    prints(INT64_MAX, "9223372036854.775807");
    prints(INT64_MIN, "-9223372036854.775808");
}

Test(decimal, what_is_printed_reads_back)
{
    uint64_t seed = 1;
    for (int i = 0; i < 20000; i++) {
        seed = seed * 6364136223846793005u + 1442695040888963407u;
        int64_t value = (int64_t)(seed >> 1) >> (i % 62), back = 0;
        value = i % 2 ? -(value % 9000000000000000000) : value % 9000000000000000000;
        struct lb_buf out = {0};
        lb_decimal_print(&out, value);
        cr_assert(lb_decimal_parse(lb_buf_text(&out), &back), "%s", lb_buf_text(&out));
        cr_assert_eq(back, value);
        lb_buf_free(&out);
    }
}

Test(decimal, muldiv_rounds_half_away_and_saturates)
{
    cr_expect_eq(lb_decimal_muldiv(5, 1, 2), 3);
    cr_expect_eq(lb_decimal_muldiv(-5, 1, 2), -3);
    cr_expect_eq(lb_decimal_muldiv(5, -1, 2), -3);
    cr_expect_eq(lb_decimal_muldiv(4, 1, 3), 1);
    cr_expect_eq(lb_decimal_muldiv(-4, 1, 3), -1);
    cr_expect_eq(lb_decimal_muldiv(-5, 1, 3), -2);
    cr_expect_eq(lb_decimal_muldiv(0, INT64_MIN, 7), 0);
    cr_expect_eq(lb_decimal_muldiv(INT64_MAX, 1000000, 1000000), INT64_MAX);
    cr_expect_eq(lb_decimal_muldiv(INT64_MAX, 2, 1), INT64_MAX);
    cr_expect_eq(lb_decimal_muldiv(INT64_MAX, -2, 1), -INT64_MAX);
    cr_expect_eq(lb_decimal_muldiv(INT64_MIN, INT64_MIN, 1), INT64_MAX);
    cr_expect_eq(lb_decimal_muldiv(INT64_MIN, 1, 1), -INT64_MAX);
    cr_expect_eq(lb_decimal_muldiv(INT64_MAX, INT64_MAX, INT64_MAX), INT64_MAX);
}

Test(decimal, ceil_div)
{
    cr_expect_eq(lb_decimal_ceil_div(0, 3), 0);
    cr_expect_eq(lb_decimal_ceil_div(1, 3), 1);
    cr_expect_eq(lb_decimal_ceil_div(3, 3), 1);
    cr_expect_eq(lb_decimal_ceil_div(4, 3), 2);
    cr_expect_eq(lb_decimal_ceil_div(INT64_MAX, 1), INT64_MAX);
    cr_expect_eq(lb_decimal_ceil_div(INT64_MAX, INT64_MAX), 1);
}
