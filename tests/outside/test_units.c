/* GNU units 2.22, `units -t -o '%.15g' HAVE WANT`, and NIST SP 811 (2008), B.8, which gives the same factors
 * to seven digits. */
#include "base/measure.h"

#include <criterion/criterion.h>
#include <math.h>

/* One of the unit in the base unit, to the digits of a double: only the test divides in floating point. */
static double factor(const char *name, enum lb_dimension dimension)
{
    struct lb_unit unit = lb_unit_find(name, dimension);
    cr_assert_eq(unit.dimension, dimension, "%s", name);
    return (double)unit.factor / (double)unit.divisor;
}

static void is(const char *name, enum lb_dimension dimension, double expected)
{
    double found = factor(name, dimension);
    cr_expect_lt(fabs(found - expected), 1e-11 * expected, "%s: %.15g, not %.15g", name, found, expected);
}

Test(units, torque)
{
    is("lbf·ft", LB_TORQUE, 1.3558179483314);     /* 'lbf*foot' 'N*m' */
    is("lbf·in", LB_TORQUE, 0.112984829027617);   /* 'lbf*inch' 'N*m' */
    is("kgf·m", LB_TORQUE, 9.80665);              /* 'kgf*m' 'N*m' */
    is("kgf·cm", LB_TORQUE, 0.0980665);           /* 'kgf*cm' 'N*m' */
    is("ozf·in", LB_TORQUE, 0.00706155181422604); /* 'ounce*gravity*inch' 'N*m' */
    is("cN·m", LB_TORQUE, 0.01);
    is("daN·m", LB_TORQUE, 10);
    is("kN·m", LB_TORQUE, 1000);
}

Test(units, volume)
{
    is("US gal", LB_VOLUME, 3.785411784);       /* 'gallon' 'L' */
    is("imp gal", LB_VOLUME, 4.54609);          /* 'brgallon' 'L' */
    is("US qt", LB_VOLUME, 0.946352946);        /* 'quart' 'L' */
    is("imp qt", LB_VOLUME, 1.1365225);         /* 'brquart' 'L' */
    is("US pt", LB_VOLUME, 0.473176473);        /* 'pint' 'L' */
    is("imp pt", LB_VOLUME, 0.56826125);        /* 'brpint' 'L' */
    is("US fl oz", LB_VOLUME, 0.0295735295625); /* 'floz' 'L' */
    is("imp fl oz", LB_VOLUME, 0.0284130625);   /* 'brfloz' 'L' */
    is("cc", LB_VOLUME, 0.001);                 /* 'cc' 'L' */
    is("gal", LB_VOLUME, 3.785411784);          /* without a word the US one, as formats say */
}

Test(units, mass)
{
    is("oz", LB_MASS, 28.349523125); /* 'oz' 'g' */
    is("lb", LB_MASS, 453.59237);    /* 'lb' 'g' */
    is("kg", LB_MASS, 1000);
    is("mg", LB_MASS, 0.001);
}

Test(units, length_and_distance)
{
    is("in", LB_LENGTH, 25.4);       /* 'inch' 'mm' */
    is("ft", LB_LENGTH, 304.8);      /* 'ft' 'mm' */
    is("yd", LB_LENGTH, 914.4);      /* 'yard' 'mm' */
    is("mi", LB_DISTANCE, 1.609344); /* 'mile' 'km' */
}

/* `units 'tempF(-34)' tempC` and so on. */
Test(units, temperature)
{
    static const struct {
        const char *cell;
        double celsius;
    } known[] = {{"-34 °F", -36.6666666667}, {"-40 °F", -40},  {"32 °F", 0},    {"212 °F", 100},
                 {"250 K", -23.15},          {"0 K", -273.15}, {"98.6 °F", 37}, {"-20 °F", -28.8888888889}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        int64_t value = 0;
        cr_assert_null(lb_measure_parse(known[i].cell, LB_TEMPERATURE, &value));
        cr_expect_lt(fabs((double)value / 1e6 - known[i].celsius), 0.6e-6, "%s", known[i].cell);
    }
}

/* UN/CEFACT Recommendation 20 (revision 17, 2021), Annex I: common codes and their conversion factors. The
 * annex prints up to seven digits. H87 and EA: each. */
Test(units, trade_codes)
{
    static const struct {
        const char *code;
        enum lb_dimension dimension;
        double factor;
    } annex[] = {
        {"H87", LB_COUNT, 1},
        {"EA", LB_COUNT, 1},
        {"LTR", LB_VOLUME, 1},
        {"MLT", LB_VOLUME, 0.001},
        {"CLT", LB_VOLUME, 0.01},
        {"DLT", LB_VOLUME, 0.1},
        {"DMQ", LB_VOLUME, 1},
        {"CMQ", LB_VOLUME, 0.001},
        {"GLL", LB_VOLUME, 3.785412},
        {"QTL", LB_VOLUME, 0.9463529},
        {"QTI", LB_VOLUME, 1.1365225},
        {"PTL", LB_VOLUME, 0.4731765},
        {"PTI", LB_VOLUME, 0.568261},
        {"OZA", LB_VOLUME, 0.02957353},
        {"OZI", LB_VOLUME, 0.02841306},
        {"GLI", LB_VOLUME, 4.546092},
        {"GRM", LB_MASS, 1},
        {"KGM", LB_MASS, 1000},
        {"MTR", LB_LENGTH, 1000},
        {"MMT", LB_LENGTH, 1},
        {"INH", LB_LENGTH, 25.4},
        {"FOT", LB_LENGTH, 304.8},
        {"KMT", LB_DISTANCE, 1},
        {"SMI", LB_DISTANCE, 1.609344},
        {"NU", LB_TORQUE, 1},
        {"DN", LB_TORQUE, 0.1},
        {"J72", LB_TORQUE, 0.01},
        {"F88", LB_TORQUE, 0.01},
        {"M92", LB_TORQUE, 1.355818},
        {"F21", LB_TORQUE, 0.112985},
        {"L41", LB_TORQUE, 0.007061552},
        {"B38", LB_TORQUE, 9.80665},
        {"DD", LB_ANGLE, 1},
    };
    for (size_t i = 0; i < sizeof annex / sizeof *annex; i++) {
        double found = factor(annex[i].code, annex[i].dimension);
        cr_expect_lt(fabs(found - annex[i].factor), 2e-6 * annex[i].factor, "%s: %.9g", annex[i].code, found);
    }
}

/* Traps: QT is a deprecated code but a usual word; F17 is lbf/ft (a force per length) and no torque. */
Test(units, codes_that_look_alike)
{
    cr_expect_eq(lb_unit_find("F17", LB_TORQUE).dimension, LB_OTHER_UNIT);
    is("qt", LB_VOLUME, 0.946352946);
}

/* Common practice, no source: 7.4 lbf·ft is printed beside 10 N·m, 16.4 beside 22. */
Test(units, torques_printed_in_pairs)
{
    static const struct {
        const char *pounds;
        double newtons;
    } pairs[] = {{"7.4 lbf.ft", 10}, {"16.4 lbf.ft", 22}};
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        int64_t value = 0;
        cr_assert_null(lb_measure_parse(pairs[i].pounds, LB_TORQUE, &value));
        cr_expect_lt(fabs((double)value / 1e6 - pairs[i].newtons), 0.5);
    }
}
