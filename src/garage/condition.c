#include "garage/condition.h"

#include "base/decimal.h"
#include "base/text.h"
#include "garage/condition_parts.h"

#include <stdio.h>
#include <string.h>

static enum lb_truth negated(enum lb_truth truth)
{
    return truth == LB_UNKNOWN ? LB_UNKNOWN : truth == LB_TRUE ? LB_FALSE : LB_TRUE;
}

static enum lb_truth truth_of(bool holds)
{
    return holds ? LB_TRUE : LB_FALSE;
}

static enum lb_truth interval_below(struct lb_interval a, int32_t day)
{
    return a.last < day ? LB_TRUE : a.first >= day ? LB_FALSE : LB_UNKNOWN;
}

static enum lb_truth interval_at_most(struct lb_interval a, int32_t day)
{
    return a.last <= day ? LB_TRUE : a.first > day ? LB_FALSE : LB_UNKNOWN;
}

/* A value is the whole of its year, month or day: `< 2004` is before it begins, `<= 2004` until it has ended.
 */
static enum lb_truth interval_order(struct lb_interval fact, enum relation relation, struct lb_interval value)
{
    switch (relation) {
    case IS_BELOW:
        return interval_below(fact, value.first);
    case IS_AT_LEAST:
        return negated(interval_below(fact, value.first));
    case IS_AT_MOST:
        return interval_at_most(fact, value.last);
    default:
        return negated(interval_at_most(fact, value.last));
    }
}

static enum lb_truth number_order(int64_t fact, enum relation relation, int64_t value)
{
    switch (relation) {
    case IS_BELOW:
        return truth_of(fact < value);
    case IS_AT_LEAST:
        return truth_of(fact >= value);
    case IS_AT_MOST:
        return truth_of(fact <= value);
    default:
        return truth_of(fact > value);
    }
}

static enum lb_truth built_among(struct lb_interval built, const struct value *values)
{
    enum lb_truth found = LB_FALSE;
    for (; values; values = values->next) {
        enum lb_truth one = lb_built_within(built, values->date.first, values->date.last);
        found = one > found ? one : found;
    }
    return found;
}

static enum lb_truth ask_built(const struct clause *clause, struct lb_interval built)
{
    if (clause->relation == IS_ONE_OF)
        return built_among(built, clause->values);
    if (clause->relation == IS_NONE_OF)
        return negated(built_among(built, clause->values));
    return interval_order(built, clause->relation, clause->values->date);
}

static bool is_among(const char *fact, const struct value *values)
{
    int64_t number;
    bool is_number = lb_decimal_parse(fact, &number);
    for (; values; values = values->next) {
        if (is_number && values->is_number ? number == values->number
                                           : lb_text_equal_nocase(fact, values->text))
            return true;
    }
    return false;
}

static enum lb_truth ask_order(const struct clause *clause, const char *fact)
{
    const struct value *value = clause->values;
    int64_t number;
    struct lb_interval date;
    if (value->is_number && lb_decimal_parse(fact, &number))
        return number_order(number, clause->relation, value->number);
    if (value->is_date && !lb_date_parse(fact, &date))
        return interval_order(date, clause->relation, value->date);
    return LB_UNKNOWN; /* `mileage < 5` of "low": stated, but nothing that can be ordered */
}

/* The fact as stated, or the year that the whole of `built` lies in; NULL: not known. */
static const char *find_fact(const struct lb_facts *facts, const char *key, char year[16])
{
    const char *stated = facts->fact ? facts->fact(facts->context, key) : NULL;
    if (stated && stated[strspn(stated, LB_CONDITION_BLANKS)])
        return stated;
    if (strcmp(key, "year") != 0 || facts->built.first == LB_DATE_MIN || facts->built.last == LB_DATE_MAX ||
        lb_date_year(facts->built.first) != lb_date_year(facts->built.last))
        return NULL;
    snprintf(year, 16, "%d", lb_date_year(facts->built.first));
    return year;
}

enum lb_truth lb_condition_ask_clause(const struct clause *clause, const struct lb_facts *facts)
{
    char year[16];
    if (strcmp(clause->key, "built") == 0)
        return ask_built(clause, facts->built);
    const char *fact = find_fact(facts, clause->key, year);
    if (!fact)
        return LB_UNKNOWN;
    if (clause->relation == IS_ONE_OF)
        return truth_of(is_among(fact, clause->values));
    if (clause->relation == IS_NONE_OF)
        return truth_of(!is_among(fact, clause->values));
    return ask_order(clause, fact);
}

void lb_condition_write_date(struct lb_buf *out, const char *text, int32_t day)
{
    size_t start = out->length, precision = strlen(text);
    lb_date_print(out, day);
    if (!out->failed && out->length - start > precision) {
        out->length = start + precision;
        out->text[out->length] = '\0';
    }
}

/* What the owner has to tell apart to decide a clause. A date is named by the first day of its later side. */
static void report(const struct clause *clause, lb_unknown_fact *unknown, void *context)
{
    struct lb_buf words = {0};
    const struct value *value = clause->values;
    bool later = clause->relation == IS_AT_MOST || clause->relation == IS_ABOVE;
    if (clause->relation == IS_ONE_OF || clause->relation == IS_NONE_OF) {
        for (; value; value = value->next)
            lb_buf_printf(&words, "%s%s", value->text,
                          value->next               ? " or "
                          : value == clause->values ? " or not"
                                                    : " or neither");
    } else if (value->is_date && strcmp(clause->key, "year") != 0 &&
               (!value->is_number || strcmp(clause->key, "built") == 0)) {
        lb_buf_puts(&words, "before or after ");
        lb_condition_write_date(&words, value->text, later ? value->date.last + 1 : value->date.first);
    } else {
        lb_buf_printf(&words, "%s %s or %s", later ? "up to" : "below", value->text, later ? "more" : "not");
    }
    unknown(context, clause->key, lb_buf_text(&words));
    lb_buf_free(&words);
}

enum lb_truth lb_condition_ask(const struct lb_condition *condition, const struct lb_facts *facts,
                               lb_unknown_fact *unknown, void *context)
{
    enum lb_truth result = LB_TRUE;
    for (const struct clause *c = condition ? condition->clauses : NULL; c && result != LB_FALSE;
         c = c->next) {
        enum lb_truth one = lb_condition_ask_clause(c, facts);
        result = one < result ? one : result;
    }
    if (result != LB_UNKNOWN || !unknown)
        return result;
    /* Only now is it certain that no clause is false and the open ones matter. */
    for (const struct clause *c = condition->clauses; c; c = c->next)
        if (lb_condition_ask_clause(c, facts) == LB_UNKNOWN)
            report(c, unknown, context);
    return result;
}

enum lb_truth lb_built_within(struct lb_interval built, int32_t from, int32_t to)
{
    if (from > to || built.last < from || built.first > to)
        return LB_FALSE;
    return built.first >= from && built.last <= to ? LB_TRUE : LB_UNKNOWN;
}
