/* Which vehicles conditions tell apart, against looking at every one of them. */
#include "garage/variants.h"

#include "base/date.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CONDITIONS_MOST = 6 };

static struct lb_condition *parse(const char *text)
{
    struct lb_condition *condition = NULL;
    struct lb_error err = {0};
    cr_assert_eq(lb_condition_parse(&condition, text, &err), LB_OK, "%s: %s", text, lb_error_text(&err));
    return condition;
}

static int32_t day_of(const char *text)
{
    struct lb_interval day;
    cr_assert_null(lb_date_parse(text, &day));
    return day.first;
}

/* Texts in, the answer out; `fails` begin behind the empty text. */
static bool ask(struct lb_variants *v, const char *const *texts, bool others, struct lb_buf *who)
{
    struct lb_condition *conditions[8] = {0};
    size_t count = 0, holds = 0;
    bool fails = false, found;
    for (; *texts; texts++) {
        if (!**texts) {
            fails = true;
            continue;
        }
        holds += !fails;
        conditions[count++] = parse(*texts);
    }
    const struct lb_condition *borrowed[8];
    memcpy(borrowed, conditions, sizeof borrowed);
    const struct lb_variant_question question = {.holds = borrowed,
                                                 .hold_count = holds,
                                                 .fails = borrowed + holds,
                                                 .fail_count = count - holds,
                                                 .others = others};
    cr_assert_eq(lb_variants_find(v, &question, &found, who, NULL), LB_OK);
    for (size_t i = 0; i < count; i++)
        lb_condition_free(conditions[i]);
    return found;
}

#define ASK(others, ...) ask(&v, (const char *const[]){__VA_ARGS__, NULL}, others, NULL)

Test(variants, what_can_be)
{
    struct lb_variants v = {0};
    cr_expect(ASK(true, "engine = a"));
    cr_expect_not(ASK(true, "engine = a ; engine = b"));
    cr_expect(ASK(true, "engine = a|b ; engine = b|c"));
    cr_expect(ASK(true, "engine != a ; engine != b"));
    cr_expect_not(ASK(true, "engine = A", "engine != a"));
    cr_expect_not(ASK(true, "built >= 2005 ; built < 2004"));
    cr_expect(ASK(true, "built >= 2004-03 ; built < 2004-04"));
    cr_expect_not(ASK(true, "built > 2004 ; built < 2005"));
    cr_expect_not(ASK(true, "year > 2003 ; year < 2004"));
    cr_expect(ASK(true, "rate > 3.5 ; rate < 3.6"));
    cr_expect_not(ASK(true, "rate > 3.5 ; rate <= 3.5"));
    cr_expect(ASK(true, "plate >= 2004-03-15 ; plate <= 2004-03-15"));
    cr_expect_not(ASK(true, "plate > 2004-03-15 ; plate < 2004-03-16"));
    cr_expect_not(ASK(true, "ac = yes", "", "ac != no"));
    lb_variants_free(&v);
}

Test(variants, values_that_nobody_names)
{
    struct lb_variants v = {0};
    struct lb_buf who = {0};
    struct lb_condition *a = parse("engine = a"), *b = parse("engine = b"), *ac = parse("ac = yes");
    /* a single word leaves another one open, two are taken for all there are unless asked for others */
    cr_assert(lb_variants_learn(&v, a));
    cr_expect(ASK(false, "", "engine = a"));
    cr_assert(lb_variants_learn(&v, b) && lb_variants_learn(&v, ac));
    cr_expect_not(ASK(false, "", "engine = a", "engine = b"));
    cr_expect(ASK(true, "", "engine = a", "engine = b"));
    cr_expect(ASK(false, "", "engine = a"));
    /* a switch is on or off, and nothing else */
    cr_expect_not(ASK(true, "", "ac = yes", "ac = no"));
    const char *const off[] = {"", "ac = yes", "engine = a", NULL};
    cr_expect(ask(&v, off, false, &who));
    cr_expect_str_eq(lb_buf_text(&who), "ac = no ; engine = b");
    lb_buf_free(&who);
    lb_condition_free(a);
    lb_condition_free(b);
    lb_condition_free(ac);
    lb_variants_free(&v);
}

Test(variants, listed_values_and_build_dates)
{
    struct lb_variants v = {0};
    cr_assert(lb_variants_list(&v, "engine", "a | b"));
    cr_assert(lb_variants_built(&v, (struct lb_interval){day_of("2001-09-01"), day_of("2004-12-31")}));
    cr_assert(lb_variants_built(&v, (struct lb_interval){day_of("2008-01-01"), day_of("2008-12-31")}));
    cr_expect(ASK(true, "engine = B"));
    cr_expect_not(ASK(true, "engine = c"));
    cr_expect_not(ASK(true, "engine != a ; engine != b"));
    cr_expect(ASK(true, "built < 2002"));
    cr_expect_not(ASK(true, "built < 2001-09"));
    cr_expect_not(ASK(true, "built >= 2005 ; built < 2008"));
    cr_expect(ASK(true, "built >= 2005"));
    cr_expect_not(ASK(true, "built > 2008"));
    lb_variants_free(&v);
}

Test(variants, many_facts_end_in_time)
{
    struct lb_variants v = {0};
    struct lb_buf text = {0};
    for (int i = 0; i < 60; i++)
        lb_buf_printf(&text, "%sf%d = a|b|c", i ? " ; " : "", i);
    cr_expect(ASK(true, text.text));
    cr_expect_not(ASK(true, text.text, "f59 = d"));
    lb_buf_free(&text);
    lb_variants_free(&v);
}

/* A vehicle of the brute force: every kind of word, every day of some months and one later, halves of
 * numbers. */
struct vehicle {
    const char *engine, *ac;
    char rate[16];
};

static const char *fact_of(void *context, const char *key)
{
    const struct vehicle *vehicle = context;
    return strcmp(key, "engine") == 0 ? vehicle->engine
           : strcmp(key, "ac") == 0   ? vehicle->ac
           : strcmp(key, "rate") == 0 ? vehicle->rate
                                      : NULL;
}

static bool is_such(const struct vehicle *vehicle, int32_t day, struct lb_condition *const *conditions,
                    size_t count, size_t holds)
{
    struct lb_facts facts = {fact_of, (void *)vehicle, {day, day}};
    for (size_t i = 0; i < count; i++)
        if (lb_condition_ask(conditions[i], &facts, NULL, NULL) != (i < holds ? LB_TRUE : LB_FALSE))
            return false;
    return true;
}

static bool brute(struct lb_condition *const *conditions, size_t count, size_t holds)
{
    static const char *const engines[] = {"a", "b", "c", "another"}, *const switches[] = {"yes", "no"};
    int32_t first = day_of("2003-11-01"), last = day_of("2004-05-31");
    for (int e = 0; e < 4; e++)
        for (int s = 0; s < 2; s++)
            for (int r = 0; r <= 12; r++) {
                struct vehicle vehicle = {.engine = engines[e], .ac = switches[s]};
                snprintf(vehicle.rate, sizeof vehicle.rate, "%d.%d", r / 2, r % 2 * 5);
                for (int32_t day = first; day <= last; day++)
                    if (is_such(&vehicle, day, conditions, count, holds))
                        return true;
                if (is_such(&vehicle, day_of("2005-06-01"), conditions, count, holds))
                    return true;
            }
    return false;
}

static const char *random_clause(void)
{
    static const char *const clauses[] = {
        "engine = a",       "engine = b",      "engine = a|c",       "engine != a",        "engine != b|c",
        "ac = yes",         "ac = no",         "ac != yes",          "rate < 2.5",         "rate >= 2.5",
        "rate > 4.5",       "rate <= 1",       "rate = 3.5",         "rate != 4.5",        "built < 2004-03",
        "built >= 2004-03", "built > 2004-01", "built <= 2004-02",   "built = 2004-02-15", "built != 2004",
        "built = 2003-12",  "built < 2004",    "built >= 2004-02-15"};
    return clauses[rand() % (int)(sizeof clauses / sizeof *clauses)];
}

Test(variants, as_looking_at_every_vehicle)
{
    int yes = 0, no = 0;
    srand(6);
    for (int round = 0; round < 400; round++) {
        struct lb_condition *conditions[CONDITIONS_MOST];
        const struct lb_condition *borrowed[CONDITIONS_MOST];
        size_t count = 1 + (size_t)(rand() % CONDITIONS_MOST), holds = (size_t)rand() % (count + 1);
        struct lb_variants v = {0};
        struct lb_buf said = {0};
        bool found;
        for (size_t i = 0; i < count; i++) {
            char text[128];
            int length = snprintf(text, sizeof text, "%s", random_clause());
            for (int more = rand() % 3; more > 0; more--)
                length += snprintf(text + length, sizeof text - (size_t)length, " ; %s", random_clause());
            borrowed[i] = conditions[i] = parse(text);
            lb_buf_printf(&said, "%s(%s) ", i < holds ? "" : "not ", text);
            cr_assert(lb_variants_learn(&v, conditions[i]));
        }
        const struct lb_variant_question question = {.holds = borrowed,
                                                     .hold_count = holds,
                                                     .fails = borrowed + holds,
                                                     .fail_count = count - holds,
                                                     .others = true};
        cr_assert_eq(lb_variants_find(&v, &question, &found, NULL, NULL), LB_OK);
        cr_expect_eq(found, brute(conditions, count, holds), "round %d: %s", round, lb_buf_text(&said));
        (found ? &yes : &no)[0]++;
        lb_buf_free(&said);
        for (size_t i = 0; i < count; i++)
            lb_condition_free(conditions[i]);
        lb_variants_free(&v);
    }
    cr_expect(yes > 50 && no > 50, "%d found, %d not", yes, no);
}
