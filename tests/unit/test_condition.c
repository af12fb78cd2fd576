#include "garage/condition.h"

#include <criterion/criterion.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define COUNT(table) (sizeof(table) / sizeof(table)[0])

/* A vehicle as a list of key, value, key, value, …, NULL. */
static const char *look_up(void *context, const char *key)
{
    cr_assert_str_neq(key, "built"); /* it is given apart and never asked for */
    for (const char *const *pair = context; pair && *pair; pair += 2)
        if (strcasecmp(pair[0], key) == 0)
            return pair[1];
    return NULL;
}

static struct lb_interval dates(const char *text)
{
    struct lb_interval interval = {LB_DATE_MIN, LB_DATE_MAX};
    if (text)
        cr_assert_null(lb_date_parse(text, &interval), "%s", text);
    return interval;
}

static struct lb_condition *parse(const char *text)
{
    struct lb_error err = {0};
    struct lb_condition *condition = NULL;
    cr_assert_eq(lb_condition_parse(&condition, text, &err), LB_OK, "%s: %s", text, lb_error_text(&err));
    return condition;
}

struct noted {
    char keys[512];
};

static void note(void *context, const char *key, const char *turns_on)
{
    (void)turns_on;
    struct noted *noted = context;
    strncat(noted->keys, key, sizeof noted->keys - strlen(noted->keys) - 1);
    strncat(noted->keys, " ", sizeof noted->keys - strlen(noted->keys) - 1);
}

static enum lb_truth ask(const char *text, const char *const *pairs, struct lb_interval built,
                         struct noted *noted)
{
    struct lb_condition *condition = parse(text);
    struct lb_facts facts = {.fact = look_up, .context = (void *)pairs, .built = built};
    enum lb_truth truth = lb_condition_ask(condition, &facts, noted ? note : NULL, noted);
    lb_condition_free(condition);
    return truth;
}

static const char *const vehicle[] = {"engine", "K20A3",   "ac",    "yes",   "cylinders",
                                      "4.0",    "mileage", "low",   "since", "2003-05",
                                      "note",   " ",       "paint", "GRÜN",  NULL};

Test(condition, words_numbers_and_dates)
{
    const struct {
        const char *text;
        enum lb_truth truth;
    } cases[] = {
        {NULL, LB_TRUE},
        {"  ", LB_TRUE},
        {"engine = k20a3", LB_TRUE},
        {"ENGINE=k24|K20A3", LB_TRUE},
        {"engine = k20", LB_FALSE},
        {"engine != k20 | k24", LB_TRUE},
        {"engine != k20a3", LB_FALSE},
        {"paint = grün", LB_TRUE},
        {"cylinders = 4", LB_TRUE},
        {"cylinders != 4.00", LB_FALSE},
        {"cylinders > 3.5", LB_TRUE},
        {"cylinders < 4", LB_FALSE},
        {"cylinders <= 4", LB_TRUE},
        {"cylinders >= 5", LB_FALSE},
        {"mileage < 5", LB_UNKNOWN}, /* stated, but cannot be ordered */
        {"mileage = low", LB_TRUE},
        {"since < 2004", LB_TRUE},
        {"since >= 2003-06", LB_FALSE},
        {"since <= 2003-05-10", LB_UNKNOWN},
        {"gearbox = manual", LB_UNKNOWN},
        {"gearbox != manual", LB_UNKNOWN},
        {"note = x", LB_UNKNOWN}, /* blank is not stated */
        {"ac = yes ; engine = k20a3;", LB_TRUE},
        {"ac = yes ; gearbox = manual", LB_UNKNOWN},
        {"gearbox = manual ; ac = no", LB_FALSE},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        cr_expect_eq(ask(cases[i].text, vehicle, dates(NULL), NULL), cases[i].truth, "%s",
                     cases[i].text ? cases[i].text : "NULL");
}

Test(condition, built_is_an_interval)
{
    const struct {
        const char *built, *text;
        enum lb_truth truth;
    } cases[] = {
        {"2004-02", "built < 2004-03", LB_TRUE},
        {"2004-03", "built < 2004-03", LB_FALSE},
        {"2004", "built < 2004-03", LB_UNKNOWN},
        {"2004-03", "built <= 2004-03", LB_TRUE},
        {"2004-03-31", "built <= 2004-03", LB_TRUE},
        {"2004-04-01", "built <= 2004-03", LB_FALSE},
        {"2004", "built <= 2004-03", LB_UNKNOWN},
        {"2004-04-01", "built > 2004-03", LB_TRUE},
        {"2004-03-31", "built > 2004-03", LB_FALSE},
        {"2004-03-01", "built >= 2004-03", LB_TRUE},
        {"2004-02-29", "built >= 2004-03", LB_FALSE},
        {"2004", "built >= 2004-03", LB_UNKNOWN},
        {"2004-03-15", "built = 2004", LB_TRUE},
        {"2004", "built = 2004-03", LB_UNKNOWN},
        {"2003", "built = 2004-03", LB_FALSE},
        {"2004-03", "built = 2001|2004-03", LB_TRUE},
        {"2004", "built != 2004", LB_FALSE},
        {"2003", "built != 2004|2005", LB_TRUE},
        {"2004", "built != 2004-03", LB_UNKNOWN},
        {NULL, "built = 2004", LB_UNKNOWN},
        {NULL, "built < 2004", LB_UNKNOWN},
        {NULL, "built >= 0001", LB_UNKNOWN},
        {"2004", "year = 2004", LB_TRUE},
        {"2004-07", "year < 2004", LB_FALSE},
        {NULL, "year = 2004", LB_UNKNOWN},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        cr_expect_eq(ask(cases[i].text, NULL, dates(cases[i].built), NULL), cases[i].truth, "%s: %s",
                     cases[i].built ? cases[i].built : "not stated", cases[i].text);
}

Test(condition, a_stated_year_goes_before_built)
{
    const char *const stated[] = {"year", "2005", NULL};
    struct lb_interval two_years = {dates("2004").first, dates("2005").last};
    struct noted noted = {0};
    cr_expect_eq(ask("year = 2005", stated, dates("2004"), NULL), LB_TRUE); /* a model year may run ahead */
    cr_expect_eq(ask("year = 2005", NULL, two_years, &noted), LB_UNKNOWN);
    cr_expect_str_eq(noted.keys, "year ");
}

Test(condition, reports_the_unknown_only_when_they_matter)
{
    struct noted noted = {0};
    cr_expect_eq(ask("Gearbox = manual; built < 2004-03; ac = yes; abs = yes; gearbox != x", vehicle,
                     dates("2004"), &noted),
                 LB_UNKNOWN);
    cr_expect_str_eq(noted.keys, "gearbox built abs gearbox ");
    noted.keys[0] = '\0';
    cr_expect_eq(ask("gearbox = manual; abs = yes; ac = no", vehicle, dates(NULL), &noted), LB_FALSE);
    cr_expect_str_empty(noted.keys);
    cr_expect_eq(ask("ac = yes", vehicle, dates(NULL), &noted), LB_TRUE);
    cr_expect_str_empty(noted.keys);
}

Test(condition, no_facts_at_all)
{
    struct lb_condition *condition = parse("ac = yes");
    struct lb_facts facts = {.built = dates(NULL)};
    cr_expect_eq(lb_condition_ask(condition, &facts, NULL, NULL), LB_UNKNOWN);
    cr_expect_eq(lb_condition_ask(NULL, &facts, NULL, NULL), LB_TRUE);
    lb_condition_free(condition);
    lb_condition_free(NULL);
}

Test(condition, an_error_names_the_character_and_shows_a_clause)
{
    const struct {
        const char *text, *where, *what;
    } cases[] = {
        {"engine=", "character 8:", "a value is missing"},
        {"engine", "character 7:", "expected ="},
        {"= k20", "character 1:", "a key is missing"},
        {"motor = größe|", "character 15:", "a value is missing"},
        {"engine = a||b", "character 12:", "a value is missing"},
        {"engine = |a", "character 10:", "a value is missing"},
        {"ac = yes ;; abs = yes", "character 11:", "empty clause"},
        {"ac = yes ; ;", "character 12:", "empty clause"},
        {";", "character 1:", "empty clause"},
        {"; ac = yes", "character 1:", "empty clause"},
        {"ac = yes abs = no", "character 14:", "comparison sign inside a value"},
        {"ac == yes", "character 5:", "comparison sign inside a value"},
        {"ac ! yes", "character 4:", "expected ="},
        {"ac | yes = x", "character 4:", "expected ="},
        {"km < many", "character 6:", "need a number or a date"},
        {"km < 5|6", "character 7:", "take one value"},
        {"built = soon", "character 9:", "built needs a date: is not a date"},
        {"built < 2004-13", "character 9:", "built needs a date: month 13 does not exist"},
        {"ac = yes; built = 2004|12x", "character 24:", "built needs a date"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct lb_error err = {0};
        struct lb_condition *condition = (void *)&err;
        cr_expect_eq(lb_condition_parse(&condition, cases[i].text, &err), LB_DATA, "%s", cases[i].text);
        cr_expect_null(condition);
        cr_expect(strstr(lb_error_text(&err), cases[i].where), "%s: %s", cases[i].text, lb_error_text(&err));
        cr_expect(strstr(lb_error_text(&err), cases[i].what), "%s: %s", cases[i].text, lb_error_text(&err));
        cr_expect(strstr(lb_error_text(&err), "engine = k20|k24"));
        lb_error_free(&err);
        cr_expect_eq(lb_condition_parse(&condition, cases[i].text, NULL), LB_DATA);
    }
}

Test(condition, built_within)
{
    struct lb_interval year = dates("2004");
    cr_expect_eq(lb_built_within(year, year.first, year.last), LB_TRUE);
    cr_expect_eq(lb_built_within(year, LB_DATE_MIN, year.last), LB_TRUE);
    cr_expect_eq(lb_built_within(year, year.first + 1, LB_DATE_MAX), LB_UNKNOWN);
    cr_expect_eq(lb_built_within(year, year.last + 1, LB_DATE_MAX), LB_FALSE);
    cr_expect_eq(lb_built_within(year, LB_DATE_MIN, year.first - 1), LB_FALSE);
    cr_expect_eq(lb_built_within(year, year.first + 9, year.first + 3), LB_FALSE);
    cr_expect_eq(lb_built_within(dates(NULL), year.first, year.last), LB_UNKNOWN);
    cr_expect_eq(lb_built_within(dates(NULL), LB_DATE_MIN, LB_DATE_MAX), LB_TRUE);
}

static void keep_words(void *context, const char *key, const char *turns_on)
{
    strcat(strcat(strcat(context, key), ": "), turns_on);
    strcat(context, "\n");
}

Test(condition, says_what_a_fact_turns_on)
{
    const struct {
        const char *text, *words;
    } cases[] = {
        {"built >= 2004-03", "built: before or after 2004-03\n"},
        {"built <= 2004-02", "built: before or after 2004-03\n"},
        {"built < 2005", "built: before or after 2005\n"},
        {"gearbox = manual|automatic", "gearbox: manual or automatic or neither\n"},
        {"ac != no ; doors > 3", "ac: no or not\ndoors: up to 3 or more\n"},
    };
    const struct lb_facts facts = {.built = {LB_DATE_MIN, LB_DATE_MAX}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_condition *condition;
        char words[200] = "";
        cr_assert_eq(lb_condition_parse(&condition, cases[i].text, NULL), LB_OK);
        cr_expect_eq(lb_condition_ask(condition, &facts, keep_words, words), LB_UNKNOWN);
        cr_expect_str_eq(words, cases[i].words);
        lb_condition_free(condition);
    }
}
