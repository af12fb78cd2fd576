/* Which facts are asked first: cases by hand. */
#include "ask_help.h"

/* The number of a condition, one for each text. */
static unsigned number(struct ask_kit *kit, const char *text, size_t length)
{
    char *own = kit->texts[kit->condition_count];
    snprintf(own, sizeof kit->texts[0], "%.*s", (int)length, text);
    for (unsigned c = 0; c < kit->condition_count; c++)
        if (strcmp(kit->texts[c], own) == 0)
            return c;
    kit->conditions[kit->condition_count].when = own;
    return kit->condition_count++;
}

/* `a = 1 + b = 2, c = 3`: ways between commas, conditions between pluses. */
static void add_line(struct ask_kit *kit, const char *text)
{
    struct ask_line *line = &kit->lines[kit->line_count++];
    line->count = 1;
    while (*text) {
        struct ask_way *way = &line->ways[line->count - 1];
        size_t length = strcspn(text, "+,");
        way->conditions[way->count++] = number(kit, text, length);
        line->count += text[length] == ',';
        text += length + (text[length] != '\0');
    }
}

static void expect_asked(const struct ask_kit *kit, const char *want, bool exact, const char *what)
{
    struct ask_map *made = ask_make(kit, &ask_nothing);
    char seen[512] = "";
    for (size_t i = 0; i < made->plan->ask_first_count; i++) {
        strcat(seen, i ? " " : "");
        strcat(seen, made->map.facts[made->plan->ask_first[i]]);
    }
    cr_expect_str_eq(seen, want, "%s: asks \"%s\", not \"%s\"", what, seen, want);
    cr_expect_eq(made->plan->ask_first_exact, exact, "%s", what);
    ask_free(made);
}

enum { TABLE_LINES = 5 };
static const struct {
    const char *what, *lines[TABLE_LINES], *want;
} table[] = {
    {"nothing asks", {NULL}, ""},
    {"one fact", {"ac = yes"}, "ac"},
    {"both are needed when the first may hold", {"a = 1 + b = 1"}, "a b"},
    {"a way that excludes itself needs no more than what refutes it", {"a = 1 + a = 2 + b = 1"}, "a"},
    {"the same within one condition", {"a = 1 ; b = 1 ; a != 1"}, "a"},
    {"ordered numbers exclude each other too", {"n < 4 + n >= 4.0 + b = 1"}, "n"},
    {"and dates", {"since < 2004-03 + since >= 2004-04 + b = 1"}, "since"},
    {"between two numbers there is room", {"n > 4 + n < 4.1 + b = 1"}, "b n"},
    {"years are whole", {"year > 2004 + year < 2005 + b = 1"}, "year"},
    {"either of two refutes: the one that settles the other line",
     {"a = 1 + a = 2 + b = 1 + b = 2", "b = 3"},
     "b"},
    {"either of two refutes: by name", {"b = 1 + b = 2 + a = 1 + a = 2"}, "a"},
    {"a way that needs more says nothing", {"a = 1, a = 1 + b = 1"}, "a"},
    {"one way or the other holds", {"a = 1, a != 1"}, "a"},
    {"one of the ways may stay open", {"a = 1, a != 1 + b = 1"}, "a b"},
    {"what decides in both ways", {"a = 1 + b = 1, a != 1 + b = 1"}, "a b"},
    {"what settles most comes first", {"b = 1", "b = 2", "a = 1"}, "b a"},
    {"it settles none alone but two soon", {"c = 1 + d = 1", "c = 2 + d = 1", "a = 1"}, "a c d"},
    {"soonest, then names", {"d = 1", "c = 1", "c = 1 + d = 1"}, "c d"},
    {"a build date tells the year", {"year = 2004", "built >= 2005-06"}, "built"},
    {"a year does not tell the build date", {"year = 2004"}, "year"},
    {"the build date refutes what the year asks",
     {"year = 2004 ; x = 1 + built >= 2005", "built < 2003"},
     "built"},
    {"a word where numbers are ordered", {"n = low, n < 4"}, "n"},
    {"a fact that only a way with more facts names", {"a = 1, b = 1 + a = 1, c = 1"}, "a c"},
};

Test(ask_first, table)
{
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        struct ask_kit kit = {0};
        for (size_t l = 0; l < TABLE_LINES && table[i].lines[l]; l++)
            add_line(&kit, table[i].lines[l]);
        expect_asked(&kit, table[i].want, true, table[i].what);
    }
}

Test(ask_first, known_facts_ask_nothing)
{
    struct ask_kit kit = {0};
    struct ask_known known = {.count = 1, .keys = {"a"}, .values = {"1"}, .built = ask_nothing.built};
    add_line(&kit, "a = 1");
    add_line(&kit, "a = 2 + b = 1");
    add_line(&kit, "a = 1 + c = 1");
    struct ask_map *made = ask_make(&kit, &known);
    cr_assert_eq(made->plan->ask_first_count, 1);
    cr_expect_str_eq(made->map.facts[made->plan->ask_first[0]], "c");
    ask_free(made);
}

Test(ask_first, a_map_that_was_not_taken_apart_asks_all)
{
    struct ask_kit kit = {.plain = true};
    add_line(&kit, "a = 1 + a = 2 + b = 1");
    add_line(&kit, "c = 1");
    expect_asked(&kit, "c a b", false, "plain");
}

/* What no row can judge: the line hangs on all its facts, and it is said that fewer might do. */
Test(ask_first, what_cannot_be_told_apart_asks_all)
{
    struct ask_kit kit = {0};
    add_line(&kit, "n = low + n < 4 + a = 1 + a = 2");
    expect_asked(&kit, "a n", false, "low");
    struct ask_kit many = {0};
    char text[24];
    for (int i = 0; i < 60; i++) {
        snprintf(text, sizeof text, "m = v%d", i);
        number(&many, text, strlen(text));
    }
    add_line(&many, "m = v3 + m = v4 + b = 1");
    expect_asked(&many, "m", true, "61 values");
    add_line(&many, "m < 5");
    expect_asked(&many, "m b", false, "words and an order");
}

Test(ask_first, too_many_ways_ask_all)
{
    struct ask_kit kit = {0};
    add_line(&kit, "a = 1, b = 1, c = 1, d = 1, e = 1, f = 1, g = 1, h = 1, i = 1 + i = 2 + j = 1");
    expect_asked(&kit, "a b c d e f g h i j", false, "nine ways");
}

/* Sixteen facts: the greedy choice still leaves out what is not needed. */
Test(ask_first, above_fifteen_facts_it_is_greedy)
{
    struct ask_kit kit = {0};
    char text[64];
    for (int i = 0; i < 15; i++) {
        snprintf(text, sizeof text, "f%c = 1 + f%c = 2 + z = 1", 'a' + i, 'a' + i);
        add_line(&kit, text);
    }
    add_line(&kit, "fo = 3");
    add_line(&kit, "fo = 4");
    expect_asked(&kit, "fo fa fb fc fd fe ff fg fh fi fj fk fl fm fn", false, "sixteen");
    kit.line_count = 14;
    expect_asked(&kit, "fa fb fc fd fe ff fg fh fi fj fk fl fm fn", true, "fifteen");
}
