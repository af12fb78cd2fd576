#include "base/measure.h"

#include <criterion/criterion.h>
#include <string.h>

static void reads(const char *cell, enum lb_dimension wanted, int64_t expected)
{
    int64_t value = 77;
    const char *why = lb_measure_parse(cell, wanted, &value);
    cr_assert_null(why, "%s %s", cell, why);
    cr_expect_eq(value, expected, "%s: %lld", cell, (long long)value);
}

static void refuses(const char *cell, enum lb_dimension wanted, const char *expected)
{
    int64_t value = 77;
    const char *why = lb_measure_parse(cell, wanted, &value);
    cr_assert_not_null(why, "%s", cell);
    cr_expect_str_eq(why, expected, "%s: %s", cell, why);
    cr_expect_eq(value, 77, "%s touched the value", cell);
}

static void is_unit(const char *name, enum lb_dimension hint, enum lb_dimension expected)
{
    struct lb_unit unit = lb_unit_find(name, hint);
    cr_expect_eq(unit.dimension, expected, "%s is %d", name, unit.dimension);
    cr_expect_gt(unit.factor, 0);
    cr_expect_gt(unit.divisor, 0);
}

Test(measure, without_unit_it_is_the_base_unit)
{
    for (enum lb_dimension d = LB_COUNT; d <= LB_OTHER_UNIT; d++)
        reads("2.5", d, 2500000);
}

Test(measure, reads_what_people_write)
{
    reads("7.4 lbf.ft", LB_TORQUE, 10033053);
    reads("10Nm", LB_TORQUE, 10000000);
    reads("10 N·m", LB_TORQUE, 10000000);
    reads("1 gal", LB_VOLUME, 3785412);
    reads("250 mL", LB_VOLUME, 250000);
    reads("250 ML", LB_VOLUME, 250000);
    reads("50000 mi", LB_DISTANCE, 80467200000);
    reads("50k", LB_DISTANCE, 50000000000);
    reads("60k miles", LB_DISTANCE, 96560640000);
    reads("-37 C", LB_TEMPERATURE, -37000000);
    reads("-34.6 °F", LB_TEMPERATURE, -37000000);
    reads("32 F", LB_TEMPERATURE, 0);
    reads("0 K", LB_TEMPERATURE, -273150000);
    reads("1\"", LB_LENGTH, 25400000);
    reads("1 \u2033", LB_LENGTH, 25400000);
    reads("50\u00A0%", LB_SHARE, 50000000);
    reads("90°", LB_ANGLE, 90000000);
    reads("90º", LB_ANGLE, 90000000); /* the ordinal sign, next to the degree sign on some keyboards */
    reads("  4 pcs", LB_COUNT, 4000000);
    reads("4 H87", LB_COUNT, 4000000);
    reads("1 tube", LB_OTHER_UNIT, 1000000);
}

Test(measure, names_of_one_unit)
{
    const char *const names[] = {"lbf.ft", "lbf·ft",   "lbf⋅ft", "lbf*ft",      "LBF FT", "ft-lb", "ft·lbf",
                                 "lb-ft",  "ft. lbs.", "lb ft",  "foot-pounds", "M92",    "m92"};
    struct lb_unit wanted = lb_unit_find("lbf.ft", LB_TORQUE);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct lb_unit unit = lb_unit_find(names[i], LB_TORQUE);
        cr_expect(unit.dimension == LB_TORQUE && unit.factor == wanted.factor, "%s", names[i]);
    }
}

Test(measure, a_word_with_two_meanings)
{
    is_unit("oz", LB_COUNT, LB_MASS);
    is_unit("oz", LB_MASS, LB_MASS);
    is_unit("oz", LB_VOLUME, LB_VOLUME);
    is_unit("K", LB_TEMPERATURE, LB_TEMPERATURE);
    is_unit("K", LB_DISTANCE, LB_DISTANCE);
    is_unit("C", LB_TEMPERATURE, LB_TEMPERATURE);
    is_unit("m", LB_LENGTH, LB_LENGTH);
    /* for a mile some write m: a thousandfold mistake, so a distance does not take it */
    refuses("50000 m", LB_DISTANCE, "is a length, not a distance");
}

Test(measure, says_what_it_is_instead)
{
    refuses("10 mm", LB_TORQUE, "is a length, not a torque");
    refuses("10 Nm", LB_LENGTH, "is a torque, not a length");
    refuses("5 kg", LB_VOLUME, "is a mass, not a volume");
    refuses("5 L", LB_MASS, "is a volume, not a mass");
    refuses("5 %", LB_COUNT, "is a share in percent, not a count");
    refuses("5 km", LB_LENGTH, "is a distance, not a length");
    refuses("5 °C", LB_ANGLE, "is a temperature, not an angle");
    refuses("5 deg", LB_TEMPERATURE, "is an angle, not a temperature");
    refuses("5 each", LB_SHARE, "is a count, not a share in percent");
    refuses("5 L", LB_OTHER_UNIT, "is a volume, not a unit of its own");
    refuses("1 tube", LB_VOLUME, "has a unit that is not known");
    refuses("1 F17", LB_TORQUE, "has a unit that is not known"); /* lbf/ft */
}

Test(measure, refuses_what_is_no_number)
{
    const char *const ugly[] = {"",   " ",       "L",        "one",    "1,5 L",   "1.5.2",
                                "1.", "1/2 in",  "3 1/2 in", "1-2",    "5 - 6 L", "1,000 km",
                                "~5", "5..6 Nm", "1:2",      "− 5 °C", "+ 5",     "5 5"};
    for (size_t i = 0; i < sizeof ugly / sizeof *ugly; i++)
        refuses(ugly[i], LB_VOLUME, "is not a number");
    refuses("1e5", LB_DISTANCE, "has a unit that is not known");
    refuses("0.0000001 L", LB_VOLUME, "has more than six decimal places");
    refuses("9999999999999999999 L", LB_VOLUME, "is too large a number");
    refuses("9000000000000 kg", LB_MASS, "is too large a number");
    refuses("-9000000000000 kg", LB_MASS, "is too large a number");
    refuses("5 \xFF", LB_VOLUME, "has a unit that is not known");
    refuses("5 \xC2", LB_VOLUME, "has a unit that is not known");
}

Test(measure, unknown_words_are_units_of_their_own)
{
    const char *const words[] = {"tube",     "set",     "pair",     "-",      ".",  "*",
                                 "\xC2\xB7", "l/100km", "lb ft lb", "litrex", "lit"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        is_unit(words[i], LB_VOLUME, LB_OTHER_UNIT);
    char longest[5001];
    memset(longest, 'm', 5000);
    longest[5000] = '\0';
    is_unit(longest, LB_LENGTH, LB_OTHER_UNIT);
    memset(longest, '.', 4999);
    is_unit(longest, LB_LENGTH, LB_LENGTH);
    is_unit("", LB_VOLUME, LB_COUNT);
    is_unit("  ", LB_VOLUME, LB_COUNT);
}

Test(measure, symbols_find_their_own_base_unit)
{
    for (enum lb_dimension d = LB_COUNT; d < LB_OTHER_UNIT; d++) {
        struct lb_unit unit = lb_unit_find(lb_unit_symbol(d), d);
        cr_expect_eq(unit.dimension, d);
        cr_expect_eq(lb_unit_to_base(unit, 123456), 123456);
    }
    cr_expect_str_eq(lb_unit_symbol(LB_OTHER_UNIT), "");
    cr_expect_str_eq(lb_unit_symbol(LB_TORQUE), "N·m");
}

Test(measure, conversion_is_exact_or_saturates)
{
    struct lb_unit mile = lb_unit_find("mi", LB_DISTANCE), fahrenheit = lb_unit_find("F", LB_TEMPERATURE);
    cr_expect_eq(lb_unit_to_base(mile, 15625), 25146, "a fraction, no binary float");
    cr_expect_eq(lb_unit_to_base(lb_unit_find("kg", LB_MASS), INT64_MAX), INT64_MAX);
    cr_expect_eq(lb_unit_to_base(lb_unit_find("kg", LB_MASS), INT64_MIN), -INT64_MAX);
    cr_expect_lt(lb_unit_to_base(fahrenheit, INT64_MIN), 0, "no wrap round zero");
    cr_expect_eq(lb_unit_to_base(fahrenheit, -40000000), -40000000);
}
