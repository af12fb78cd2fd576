/* ASHRAE Handbook, Fundamentals, "Physical Properties of Secondary Coolants": freezing points of aqueous
 * solutions of ethylene glycol, by volume. Not the column by mass, which is another number. */
#include "base/glycol.h"

#include <criterion/criterion.h>
#include <stdlib.h>

#define LEAST 100000 /* 0.1 K in millionths, as finely as the table is printed */

static const struct {
    double percent, celsius;
} ashrae[] = {{4.4, -1.4},   {8.9, -3.2},   {18.1, -7.8},  {22.9, -10.7}, {27.7, -14.1}, {32.6, -17.9},
              {37.5, -22.3}, {42.5, -27.5}, {47.6, -33.8}, {50.6, -37.9}, {57.8, -48.3}};

#define ROWS (sizeof ashrae / sizeof *ashrae)

static int64_t millionths(double value)
{
    return (int64_t)(value * 1e6 + (value < 0 ? -0.5 : 0.5));
}

Test(glycol, freezing_points_of_the_table)
{
    for (size_t i = 0; i < ROWS; i++) {
        int64_t celsius = 0, share = 0;
        cr_assert(lb_glycol_freezing(millionths(ashrae[i].percent), &celsius));
        cr_expect_leq(llabs(celsius - millionths(ashrae[i].celsius)), LEAST, "%g %%", ashrae[i].percent);
        cr_assert(lb_glycol_share(millionths(ashrae[i].celsius), &share));
        cr_expect_eq(share, millionths(ashrae[i].percent), "%g °C", ashrae[i].celsius);
    }
}

/* Common practice, no source: half and half is said to protect to about -37 °C. */
Test(glycol, half_and_half)
{
    int64_t celsius = 0;
    cr_assert(lb_glycol_freezing(50000000, &celsius));
    cr_expect_leq(llabs(celsius + 37000000), 500000);
}

Test(glycol, no_data_past_the_last_row)
{
    int64_t value = 7;
    cr_expect_not(lb_glycol_share(-48300001, &value));
    cr_expect_not(lb_glycol_share(INT64_MIN, &value));
    cr_expect_not(lb_glycol_freezing(57800001, &value));
    cr_expect_not(lb_glycol_freezing(100000000, &value), "pure glycol freezes earlier again");
    cr_expect_not(lb_glycol_freezing(INT64_MAX, &value));
    cr_expect_not(lb_glycol_freezing(-1, &value));
    cr_expect_eq(value, 7);
}

Test(glycol, no_frost_needs_none)
{
    int64_t value = 7;
    cr_expect(lb_glycol_share(0, &value) && value == 0);
    cr_expect(lb_glycol_share(INT64_MAX, &value) && value == 0);
    cr_expect(lb_glycol_freezing(0, &value) && value == 0);
    cr_expect(lb_glycol_share(-1, &value) && value == 4, "4.4 / 1.4 millionths, rounded up");
}

/* Whatever the temperature, the share that is named for it protects to it, and one millionth of a percent
 * less does not. */
Test(glycol, the_share_protects_and_is_the_least)
{
    int64_t before = 0;
    for (int64_t celsius = 0; celsius >= LB_GLYCOL_COLDEST; celsius -= 997) {
        int64_t share = 0, freezing = 0;
        cr_assert(lb_glycol_share(celsius, &share));
        cr_assert(lb_glycol_freezing(share, &freezing));
        cr_assert_leq(freezing, celsius);
        cr_assert_geq(share, before, "colder never needs less");
        if (share > 0) {
            cr_assert(lb_glycol_freezing(share - 1, &freezing));
            cr_assert_gt(freezing, celsius - 1);
        }
        before = share;
    }
}
