/* O-rings against SAE AS568. Public tables disagree on some numbers; these are the ones read alike in two of
 * them. */
#include "base/spec.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>

static const struct {
    int dash;
    int32_t inside, section; /* micrometres */
} published[] = {
    /* SAE AS568, inside diameter and section, converted to mm with two decimals. */
    {10, 6070, 1780},   {12, 9250, 1780},   {14, 12420, 1780},  {16, 15600, 1780},  {18, 18770, 1780},
    {20, 21950, 1780},  {110, 9190, 2620},  {112, 12370, 2620}, {115, 17120, 2620}, {120, 25070, 2620},
    {210, 18640, 3530}, {214, 24990, 3530}, {218, 31340, 3530}, {222, 37690, 3530}, {325, 37470, 5330},
};

Test(o_rings, dash_numbers)
{
    for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
        int32_t inside = 0, section = 0;
        cr_expect(lb_o_ring_as568(published[i].dash, &inside, &section), "-%03d", published[i].dash);
        cr_expect_eq(inside, published[i].inside, "-%03d", published[i].dash);
        cr_expect_eq(section, published[i].section, "-%03d", published[i].dash);
    }
}

Test(o_rings, a_dash_number_meets_its_dimensions)
{
    for (size_t i = 0; i < sizeof published / sizeof published[0]; i++) {
        char dash[32], sizes[32];
        snprintf(dash, sizeof dash, "AS568-%03d", published[i].dash);
        snprintf(sizes, sizeof sizes, "%d.%02dx%d.%02d", published[i].inside / 1000,
                 published[i].inside % 1000 / 10, published[i].section / 1000,
                 published[i].section % 1000 / 10);
        struct lb_spec a = lb_spec_parse(dash), b = lb_spec_parse(sizes);
        cr_expect_eq(a.kind, LB_SPEC_O_RING, "%s", dash);
        cr_expect(lb_spec_meets(&a, &b) && lb_spec_meets(&b, &a), "%s %s", dash, sizes);
    }
}

Test(o_rings, sizes_are_the_inch_sizes)
{
    /* SAE AS568 states inches, here in thousandths; from memory, and a check on slips of the pen in the
     * metric column. */
    const int inches[][2] = {{4, 70},     {8, 176},    {10, 239},   {12, 364},  {14, 489},
                             {16, 614},   {18, 739},   {20, 864},   {24, 1114}, {110, 362},
                             {112, 487},  {115, 674},  {120, 987},  {210, 734}, {214, 984},
                             {218, 1234}, {222, 1484}, {226, 1984}, {325, 1475}};
    for (size_t i = 0; i < sizeof inches / sizeof inches[0]; i++) {
        int32_t inside = 0, section = 0;
        cr_expect(lb_o_ring_as568(inches[i][0], &inside, &section));
        cr_expect_leq(abs(inside * 10 - inches[i][1] * 254), 50, "-%03d", inches[i][0]); /* half of 0.01 mm */
    }
}

Test(o_rings, numbers_not_carried)
{
    /* -001 to -003 have sections of their own; the others are not numbers of the standard or not checked
     * twice. */
    const int others[] = {-1, 0, 1, 2, 3, 50, 99, 100, 211, 400, 500, 999, 1010};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        int32_t inside = 7, section = 7;
        cr_expect_not(lb_o_ring_as568(others[i], &inside, &section), "%d", others[i]);
        cr_expect_eq(inside, 7);
    }
}
