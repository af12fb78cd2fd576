/* Random conditions against an evaluator that knows no shortcuts: words by their letters, numbers as doubles,
 * and intervals day by day. */
#include "garage/condition.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define COUNT(table) (sizeof(table) / sizeof(table)[0])

enum { MOST_CLAUSES = 4, MOST_VALUES = 3, KEYS = 5, POOL = 6, BUILT = 4 };
enum sort { WORDS, NUMBERS, DATES };

static const char *const signs[] = {"=", "!=", "<", "<=", ">", ">="};

/* What a key may be compared with; the facts are drawn from the same pool. */
static const struct {
    const char *key;
    enum sort sort;
    const char *values[POOL];
} keys[KEYS] = {
    {"engine", WORDS, {"k20", "K24", "k20a3", "4", "low", "yes"}},
    {"ac", WORDS, {"yes", "NO", "no", "Yes", "none", "low"}},
    {"cylinders", NUMBERS, {"4", "4.0", "6", "-1", "0.5", "06"}},
    {"since", DATES, {"2003-12", "2004-01-15", "2004-02", "2004-01-31", "2004-02-01", "2003-11-30"}},
    {"built", DATES, {"2003-12", "2004-01-15", "2004-02", "2004-01-31", "2004-02-01", "2003-11-30"}},
};

struct random_clause {
    unsigned key, sign, count;
    const char *values[MOST_VALUES];
};

struct random_case {
    struct random_clause clauses[MOST_CLAUSES];
    unsigned count;
    const char *facts[KEYS]; /* NULL: not stated */
    struct lb_interval built;
};

static unsigned state;

static unsigned pick(unsigned below)
{
    state = state * 1664525U + 1013904223U;
    return (state >> 8) % below;
}

static void draw(struct random_case *c)
{
    c->count = 1 + pick(MOST_CLAUSES);
    for (unsigned i = 0; i < c->count; i++) {
        struct random_clause *clause = &c->clauses[i];
        clause->key = pick(KEYS);
        clause->sign = keys[clause->key].sort == WORDS ? pick(2) : pick(COUNT(signs));
        clause->count = clause->sign < 2 ? 1 + pick(MOST_VALUES) : 1;
        for (unsigned v = 0; v < clause->count; v++)
            clause->values[v] = keys[clause->key].values[pick(POOL)];
    }
    for (unsigned k = 0; k < KEYS; k++) /* now and then a fact of another sort */
        c->facts[k] = pick(3) == 0 ? NULL : keys[pick(9) ? k : pick(KEYS)].values[pick(POOL)];
    c->built = (struct lb_interval){LB_DATE_MIN, LB_DATE_MAX};
    if (pick(4)) {
        c->built.first = 12388 + (int)pick(70); /* from 2003-12-02 */
        c->built.last = c->built.first + (int)pick(40);
    }
}

static void write_out(const struct random_case *c, char *out, size_t size)
{
    int at = 0;
    for (unsigned i = 0; i < c->count; i++) {
        const struct random_clause *clause = &c->clauses[i];
        at += snprintf(out + at, size - (size_t)at, "%s%s %s", i ? " ; " : "", keys[clause->key].key,
                       signs[clause->sign]);
        for (unsigned v = 0; v < clause->count; v++)
            at += snprintf(out + at, size - (size_t)at, "%s%s", v ? "|" : " ", clause->values[v]);
    }
}

static bool as_number(const char *text, double *number)
{
    char *end;
    *number = strtod(text, &end);
    return !*end;
}

static bool holds(int order, unsigned sign)
{
    switch (sign) {
    case 2:
        return order < 0;
    case 3:
        return order <= 0;
    case 4:
        return order > 0;
    default:
        return order >= 0;
    }
}

/* Every day of the fact is tried; a day is before, inside or after the value. */
static enum lb_truth naive_interval(struct lb_interval fact, unsigned sign, const char *text)
{
    struct lb_interval value;
    bool some = false, all = true;
    cr_assert_null(lb_date_parse(text, &value));
    if (fact.first == LB_DATE_MIN)
        return LB_UNKNOWN;
    for (int day = fact.first; day <= fact.last; day++) {
        int order = day < value.first ? -1 : day > value.last;
        bool one = sign < 2 ? order == 0 : holds(order, sign);
        some = some || one;
        all = all && one;
    }
    return all ? LB_TRUE : some ? LB_UNKNOWN : LB_FALSE;
}

static enum lb_truth naive_equal(const char *fact, const char *value)
{
    double a, b;
    if (as_number(fact, &a) && as_number(value, &b))
        return a < b || a > b ? LB_FALSE : LB_TRUE;
    return strcasecmp(fact, value) == 0 ? LB_TRUE : LB_FALSE;
}

static enum lb_truth naive_order(const char *fact, unsigned sign, const char *value)
{
    double a, b;
    struct lb_interval date;
    if (as_number(fact, &a) && as_number(value, &b))
        return holds(a < b ? -1 : a > b, sign) ? LB_TRUE : LB_FALSE;
    if (!lb_date_parse(value, &date) && !lb_date_parse(fact, &date))
        return naive_interval(date, sign, value);
    return LB_UNKNOWN;
}

static enum lb_truth naive_clause(const struct random_case *c, const struct random_clause *clause)
{
    const char *fact = c->facts[clause->key];
    enum lb_truth any = LB_FALSE;
    for (unsigned v = 0; v < clause->count; v++) {
        const char *value = clause->values[v];
        enum lb_truth one = clause->key == BUILT ? naive_interval(c->built, clause->sign, value)
                            : !fact              ? LB_UNKNOWN
                            : clause->sign < 2   ? naive_equal(fact, value)
                                                 : naive_order(fact, clause->sign, value);
        any = one > any ? one : any;
    }
    return clause->sign != 1 ? any : any == LB_UNKNOWN ? LB_UNKNOWN : any == LB_TRUE ? LB_FALSE : LB_TRUE;
}

static enum lb_truth naive(const struct random_case *c, char *unknown, size_t size)
{
    enum lb_truth all = LB_TRUE;
    *unknown = '\0';
    for (unsigned i = 0; i < c->count; i++) {
        enum lb_truth one = naive_clause(c, &c->clauses[i]);
        if (one == LB_UNKNOWN) {
            strncat(unknown, keys[c->clauses[i].key].key, size - strlen(unknown) - 2);
            strcat(unknown, " ");
        }
        all = one < all ? one : all;
    }
    if (all != LB_UNKNOWN)
        *unknown = '\0';
    return all;
}

static const char *look_up(void *context, const char *key)
{
    const struct random_case *c = context;
    for (unsigned k = 0; k < BUILT; k++)
        if (strcmp(keys[k].key, key) == 0)
            return c->facts[k];
    return NULL;
}

static void note(void *context, const char *key, const char *turns_on)
{
    (void)turns_on;
    strcat(context, key);
    strcat(context, " ");
}

Test(condition_random, agrees_with_the_naive_evaluator)
{
    unsigned seen[3] = {0};
    state = 20240301;
    for (int i = 0; i < 50000; i++) {
        struct random_case c;
        char text[512], expected[128], reported[128] = "";
        struct lb_condition *condition;
        draw(&c);
        write_out(&c, text, sizeof text);
        cr_assert_eq(lb_condition_parse(&condition, text, NULL), LB_OK, "%s", text);
        struct lb_facts facts = {.fact = look_up, .context = &c, .built = c.built};
        enum lb_truth truth = lb_condition_ask(condition, &facts, note, reported);
        cr_assert_eq(truth, naive(&c, expected, sizeof expected), "case %d: %s", i, text);
        cr_assert_str_eq(reported, expected, "case %d: %s", i, text);
        seen[truth]++;
        lb_condition_free(condition);
    }
    for (int truth = LB_FALSE; truth <= LB_TRUE;
         truth++) /* the cases say something only if all three come up */
        cr_assert_gt(seen[truth], 1000);
}

Test(condition_random, any_text_is_read_or_refused)
{
    static const char *const pieces[] = {"built", "ac",  "=", "!=",   "<", "<=", "|",    ";", " ", "2004-03",
                                         "4",     "yes", "ü", "\xFF", "!", ">",  "year", "-", "\t"};
    state = 7;
    for (int i = 0; i < 50000; i++) {
        char text[128] = "";
        for (unsigned n = pick(12); n > 0; n--)
            strcat(text, pieces[pick(COUNT(pieces))]);
        struct lb_condition *condition;
        struct lb_error err = {0};
        struct lb_facts facts = {.built = {12418, 12448}};
        if (lb_condition_parse(&condition, text, &err) == LB_OK)
            lb_condition_ask(condition, &facts, NULL, NULL);
        else
            cr_assert(strstr(lb_error_text(&err), "character "), "%s", text);
        lb_condition_free(condition);
        lb_error_free(&err);
    }
}
