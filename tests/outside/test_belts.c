/* V-ribbed belts against ISO 9981. */
#include "base/spec.h"

#include <criterion/criterion.h>

Test(belts, pk_profile)
{
    /* ISO 9981, designation: number of ribs, profile PK (rib pitch 3.56 mm), effective length in
     * mm: 6PK2120 is 6 ribs, 2120 mm. */
    struct lb_spec belt = lb_spec_parse("6PK2120");
    cr_expect_eq(belt.kind, LB_SPEC_BELT);
    cr_expect_eq(belt.ribs, 6);
    cr_expect_eq(belt.length, 2120000);
}

Test(belts, another_rib_or_length_is_another_belt)
{
    struct lb_spec wanted = lb_spec_parse("6PK2120");
    const char *const others[] = {"5PK2120", "7PK2120", "6PK2115", "6PJ2120", "6DPK2120", "2120"};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        struct lb_spec offered = lb_spec_parse(others[i]);
        cr_expect_not(lb_spec_meets(&offered, &wanted), "%s", others[i]);
    }
}
