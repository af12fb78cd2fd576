#include "base/position.h"

#include <criterion/criterion.h>

static lb_position at(const char *text)
{
    lb_position position = 0xAA;
    cr_assert(lb_position_parse(text, &position), "%s", text);
    return position;
}

Test(position, reads_words_in_any_dress)
{
    cr_expect_eq(at("front left"), at(" LEFT-front "));
    cr_expect_eq(at("front,left"), at("Front/Left"));
    cr_expect_eq(at(""), 0);
    cr_expect_eq(at(" \t"), 0);
    cr_expect_eq(at(NULL), 0);
    cr_expect_neq(at("upper"), at("inner"));
}

Test(position, refuses_other_words_and_leaves_the_result_alone)
{
    const char *const bad[] = {"front centre", "fron", "fronts", "frontleft", "left;right", "l"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        lb_position position = 0x55;
        cr_expect_not(lb_position_parse(bad[i], &position), "%s", bad[i]);
        cr_expect_eq(position, 0x55);
    }
}

Test(position, matches_unless_contradicted)
{
    const struct {
        const char *a, *b;
        bool match;
    } cases[] = {
        {"", "", true},
        {"", "rear", true},
        {"front", "front left", true},
        {"front", "left", true},
        {"front left", "left lower", true},
        {"left", "right", false},
        {"front left", "front right", false},
        {"upper", "lower", false},
        {"inner", "outer", false},
        {"left right", "left", true},
        {"left right", "rear right", true},
        {"left/right front", "rear left", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        cr_expect_eq(lb_position_match(at(cases[i].a), at(cases[i].b)), cases[i].match, "%s / %s", cases[i].a,
                     cases[i].b);
        cr_expect_eq(lb_position_match(at(cases[i].b), at(cases[i].a)), cases[i].match);
    }
}

static bool naive_match(unsigned a, unsigned b)
{
    for (unsigned pair = 0; pair < 4; pair++) {
        unsigned of_a = a >> (2 * pair) & 3, of_b = b >> (2 * pair) & 3;
        if (of_a && of_b && (of_a & of_b) == 0)
            return false;
    }
    return true;
}

Test(position, agrees_with_the_pairwise_rule_on_every_pair_of_sets)
{
    for (unsigned a = 0; a < 256; a++)
        for (unsigned b = 0; b < 256; b++)
            cr_assert_eq(lb_position_match((lb_position)a, (lb_position)b), naive_match(a, b));
}
