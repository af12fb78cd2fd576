/* 49 CFR 565.15, "Content requirements" of vehicle identification numbers: Table III (values of letters), IV
 * (weights), V (check character), VII (model year). ISO 3779: 17 characters without I, O and Q. */
#include "base/vin.h"

#include <criterion/criterion.h>
#include <string.h>

static struct lb_vin parsed(const char *text)
{
    struct lb_vin vin;
    const char *why = lb_vin_parse(text, &vin);
    cr_assert_null(why, "%s %s", text, why);
    return vin;
}

/* Sums worked out from Tables III and IV apart from this program. 1M8GDM9AXKP042788 is the example that is
 * passed on everywhere for X; seventeen ones are the usual self-test of a reader. */
Test(vin, sums_and_check_characters)
{
    static const struct {
        const char *text;
        int sum;
        char check;
    } known[] = {{"1G4AH59H45G118341", 411, '4'},
                 {"1J9RP1A36A1644345", 314, '6'},
                 {"1M8GDM9AXKP042788", 351, 'X'},
                 {"11111111111111111", 89, '1'}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        struct lb_vin vin = parsed(known[i].text);
        cr_expect_eq(vin.sum, known[i].sum, "%s: %d", known[i].text, vin.sum);
        cr_expect_eq(vin.expected, known[i].check, "%s: %c", known[i].text, vin.expected);
    }
    cr_expect(parsed("1M8GDM9AXKP042788").check_ok);
    cr_expect(parsed("11111111111111111").check_ok);
    cr_expect(parsed("1G4AH59H45G118341").check_ok);
}

/* Invented numbers that the npm package vin-validator (its own code, run over 20000 random ones without a
 * difference) accepts. */
Test(vin, another_program_accepts)
{
    const char *const good[] = {"X1AVJB5K4D4UG1JXE", "M4NXGYED1JEXN61R7", "ANLHFYK035XMG0GEN",
                                "LYKWN4E0023NUJ70V", "H0U11WLE2DP1G9W03", "KHTTBT1L7T5MJDZHA",
                                "K4U89PSL8TXVGNT4Z", "RUAPSE902WRG05DTA"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        struct lb_vin vin = parsed(good[i]);
        cr_expect(vin.check_ok && !vin.check_filler, "%s", good[i]);
    }
}

/* The trap: outside its market position 9 is often a filler, and a mismatch says nothing. So it is told and
 * never refused. */
Test(vin, a_mismatch_is_no_refusal)
{
    struct lb_vin filler = parsed("WVWZZZ1JZXW000001"); /* invented in a European pattern */
    cr_expect(filler.check_filler);
    cr_expect_not(filler.check_ok);
    struct lb_vin wrong = parsed("1M8GDM9A1KP042788");
    cr_expect_not(wrong.check_ok);
    cr_expect_not(wrong.check_filler);
    cr_expect_eq(wrong.expected, 'X');
}

/* One wrong character in any position but the ninth changes the sum by value times weight; the check sees
 * every change between two digits, because no weight is a multiple of 11 and no two digits differ by 11. */
Test(vin, the_check_sees_one_wrong_digit)
{
    const char *good = "11111111111111111";
    for (size_t i = 0; i < 17; i++)
        for (char digit = '0'; digit <= '9'; digit++) {
            char text[18];
            strcpy(text, good);
            text[i] = digit;
            cr_expect_eq(parsed(text).check_ok, digit == '1', "%s", text);
        }
}

static int year_of(char position7, char position10)
{
    char text[18] = "11111111111111111";
    text[6] = position7;
    text[9] = position10;
    return parsed(text).model_year;
}

/* Table VII: the code letter of each year. 565.15(d)(1) (clause from memory): a number in position 7 of a
 * passenger car or a light multipurpose vehicle or truck means 1980 to 2009, a letter 2010 to 2039. */
Test(vin, model_years)
{
    const char *codes = "ABCDEFGHJKLMNPRSTVWXY123456789";
    for (int i = 0; codes[i]; i++) {
        cr_expect_eq(year_of('5', codes[i]), 1980 + i, "%c", codes[i]);
        cr_expect_eq(year_of('B', codes[i]), 2010 + i, "%c", codes[i]);
    }
    cr_expect_eq(year_of('5', 'Y'), 2000);
    cr_expect_eq(year_of('5', '1'), 2001);
    cr_expect_eq(year_of('A', 'A'), 2010);
    cr_expect_eq(year_of('5', '0'), 0);
    cr_expect_eq(year_of('5', 'U'), 0);
    cr_expect_eq(year_of('5', 'Z'), 0);
    cr_expect_eq(parsed("1M8GDM9AXKP042788").model_year, 1989);
}

Test(vin, as_people_type_it)
{
    cr_expect_str_eq(parsed(" 1m8-gdm9-axk p042788\t").text, "1M8GDM9AXKP042788");
}

Test(vin, what_is_no_vin)
{
    static const struct {
        const char *text, *why;
    } bad[] = {{"", "has fewer than 17 characters"},
               {" - ", "has fewer than 17 characters"},
               {"1M8GDM9AXKP04278", "has fewer than 17 characters"},
               {"1M8GDM9AXKP0427889", "has more than 17 characters"},
               {"1M8GDM9AXKPO42788", "has a letter I, O or Q, which no VIN has (1 or 0 is meant)"},
               {"iiiiiiiiiiiiiiiii", "has a letter I, O or Q, which no VIN has (1 or 0 is meant)"},
               {"1M8GDM9AXKP04278Q", "has a letter I, O or Q, which no VIN has (1 or 0 is meant)"},
               {"1M8GDM9AXKP04278\xC3\x84", "has a character that is neither a letter A to Z nor a digit"},
               {"1M8GDM9AXKP04278*", "has a character that is neither a letter A to Z nor a digit"}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct lb_vin vin;
        const char *why = lb_vin_parse(bad[i].text, &vin);
        cr_assert_not_null(why, "%s", bad[i].text);
        cr_expect_str_eq(why, bad[i].why);
        cr_expect_str_empty(vin.text);
    }
}
