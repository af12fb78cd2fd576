/* GS1 General Specifications, 7.9, and GS1's worked examples of the check digit. */
#include "base/gtin.h"

#include <criterion/criterion.h>
#include <string.h>

Test(gtin, worked_examples)
{
    cr_expect_eq(lb_gtin_check_digit("629104150021"), '3');
    cr_expect_eq(lb_gtin_check_digit("730001100001"), '7');
    cr_expect_eq(lb_gtin_check_digit("890400021003"), '7');
    cr_expect_null(lb_gtin_validate("6291041500213"));
}

/* Random numbers that the npm package gtin and the Python package stdnum both accept; over 40000 random ones
 * the three agree. */
Test(gtin, other_programs_accept)
{
    const char *const good[] = {"31564977",      "29476770",       "61095755",       "355780415156",
                                "665999910855",  "286845673979",   "3577335813942",  "8387541704003",
                                "2223970578470", "09196361358964", "33143769066950", "44774403592113"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        char digits[16];
        size_t length = strlen(good[i]);
        strcpy(digits, good[i]);
        cr_expect_null(lb_gtin_validate(digits), "%s", digits);
        digits[length - 1] = '\0';
        cr_expect_eq(lb_gtin_check_digit(digits), good[i][length - 1], "%s", good[i]);
    }
}

/* Why the weights are 3 and 1: neither shares a factor with 10, so every single wrong digit shows. */
Test(gtin, sees_one_wrong_digit)
{
    const char *good = "6291041500213";
    for (size_t i = 0; good[i]; i++)
        for (char digit = '0'; digit <= '9'; digit++) {
            char text[16];
            strcpy(text, good);
            text[i] = digit;
            cr_expect_eq(lb_gtin_validate(text) == NULL, digit == good[i], "%s", text);
        }
}

/* 7.9: leading zeros fill a shorter number up to 14 digits and change nothing. */
Test(gtin, leading_zeros_change_nothing)
{
    cr_expect_null(lb_gtin_validate("31564977"));
    cr_expect_null(lb_gtin_validate("00000031564977"));
    cr_expect_null(lb_gtin_validate("06291041500213"));
}

Test(gtin, as_people_type_it)
{
    cr_expect_null(lb_gtin_validate(" 6 291041-500213\t"));
}

Test(gtin, what_is_none)
{
    static const struct {
        const char *text, *why;
    } bad[] = {{"", "does not have 8, 12, 13 or 14 digits"},
               {"6291041500", "does not have 8, 12, 13 or 14 digits"},
               {"123456789", "does not have 8, 12, 13 or 14 digits"},
               {"629104150021300", "has more than 14 digits"},
               {"6291041500214", "has a wrong check digit"},
               {"629104150021X", "has a character that is no digit"},
               {"6.29104E+12", "has a character that is no digit"}, /* what a spreadsheet leaves of one */
               {"٦٢٩١٠٤١٥", "has a character that is no digit"},
               {"00000000", "is all zeros"}, /* the trap: the sum is right */
               {"0000000000000", "is all zeros"}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        const char *why = lb_gtin_validate(bad[i].text);
        cr_assert_not_null(why, "%s", bad[i].text);
        cr_expect_str_eq(why, bad[i].why);
    }
    const char *const lengths[] = {
        "",        "1",       "123456", "12345678", "1234567890", "12345678901234", "123456789012345678",
        "12345 7", "123456a", "-123456"};
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++)
        cr_expect_eq(lb_gtin_check_digit(lengths[i]), 0, "%s", lengths[i]);
}
