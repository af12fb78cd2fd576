#include "find/position_words.h"

#include <criterion/criterion.h>
#include <string.h>

static lb_position bits(const char *text)
{
    lb_position position = 0;
    cr_assert(lb_position_parse(text, &position), "%s", text);
    return position;
}

static lb_position of(const char *word)
{
    return lb_position_word(word, strlen(word));
}

Test(position_words, what_the_trade_writes)
{
    const char *const cases[][2] = {
        {"front", "front"}, {"frt", "front"},    {"fr", "front"},    {"rear", "rear"},   {"rr", "rear"},
        {"left", "left"},   {"lh", "left"},      {"l/h", "left"},    {"right", "right"}, {"rh", "right"},
        {"r/h", "right"},   {"upper", "upper"},  {"upr", "upper"},   {"top", "upper"},   {"lower", "lower"},
        {"lwr", "lower"},   {"bottom", "lower"}, {"inner", "inner"}, {"inr", "inner"},   {"outer", "outer"},
        {"otr", "outer"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        cr_expect_eq(of(cases[i][0]), bits(cases[i][1]), "%s", cases[i][0]);
}

/* Sides that change with the country, diameters, where the driver sits, and what only begins alike. */
Test(position_words, what_says_no_place)
{
    const char *const words[] = {"nearside", "offside", "ns",   "os",        "inside",  "outside",
                                 "lhd",      "rhd",     "l",    "r",         "h",       "fro",
                                 "fronts",   "",        "\xFF", "lower\xCC", "toplader"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        cr_expect_eq(of(words[i]), 0, "%s", words[i]);
    cr_expect_eq(lb_position_word("upperside", 5), bits("upper")); /* the length counts, no NUL is needed */
    cr_expect_eq(lb_position_word("upper", 4), 0);
}

Test(position_words, a_side_in_two_words)
{
    const char *const words[] = {"hose", "l", "h", "upr", "r", "h", "h", "l"};
    int taken;
    cr_expect_eq(lb_position_words(words, 8, 0, &taken), 0);
    cr_expect_eq(taken, 0);
    cr_expect_eq(lb_position_words(words, 8, 1, &taken), bits("left"));
    cr_expect_eq(taken, 2);
    cr_expect_eq(lb_position_words(words, 8, 3, &taken), bits("upper"));
    cr_expect_eq(taken, 1);
    cr_expect_eq(lb_position_words(words, 8, 4, &taken), bits("right"));
    cr_expect_eq(lb_position_words(words, 5, 4, &taken), 0, "the h is behind the end");
    cr_expect_eq(lb_position_words(words, 8, 7, &taken), 0);
    cr_expect_eq(lb_position_words(words, 8, 8, &taken), 0);
    cr_expect_eq(lb_position_words(words, 8, -1, &taken), 0);
    cr_expect_eq(lb_position_words(words, 0, 0, &taken), 0);
}

static bool among(const char *const *words, size_t count, const char *word)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(words[i], word) == 0)
            return true;
    return false;
}

/* For any set: every word listed contradicts it by base/position.h, and every word that does is listed. */
Test(position_words, opposites_contradict)
{
    const char *words[64];
    for (int wanted = 0; wanted < 256; wanted++) {
        size_t count = lb_position_opposites((lb_position)wanted, words, 64);
        cr_assert_leq(count, 64);
        for (size_t i = 0; i < count; i++)
            cr_expect_not(lb_position_match(of(words[i]), (lb_position)wanted), "%x %s", wanted, words[i]);
        static const char *const all[] = {"front", "fr",  "rear",  "rr",     "left",  "lh",  "right", "rh",
                                          "upper", "upr", "lower", "bottom", "inner", "inr", "outer", "otr"};
        for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
            cr_expect_eq(among(words, count, all[i]), !lb_position_match(of(all[i]), (lb_position)wanted),
                         "%x %s", wanted, all[i]);
    }
}

Test(position_words, no_more_than_there_is_room_for)
{
    const char *words[2] = {"untouched", "untouched"};
    size_t count = lb_position_opposites(bits("upper left"), words, 1);
    cr_expect_gt(count, 2);
    cr_expect(among(words, 1, "right"));
    cr_expect_str_eq(words[1], "untouched");
    cr_expect_eq(lb_position_opposites(bits("upper left"), NULL, 0), count);
    cr_expect_eq(lb_position_opposites(0, NULL, 0), 0);
    cr_expect_eq(lb_position_opposites(bits("left right"), NULL, 0), 0);
}
