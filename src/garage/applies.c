#include "garage/applies.h"
#include "garage/condition_parts.h"

/* The days that a row is for. Both cells were checked at import; what cannot be read leaves its end open. */
static struct lb_interval read_span(const char *built_from, const char *built_to)
{
    struct lb_interval from, to, span = {LB_DATE_MIN, LB_DATE_MAX};
    if (built_from && !lb_date_parse(built_from, &from))
        span.first = from.first;
    if (built_to && !lb_date_parse(built_to, &to))
        span.last = to.last;
    return span;
}

/* Which of the two ends the vehicle's build date leaves open. */
static void report(struct lb_interval built, struct lb_interval span, const char *built_from,
                   const char *built_to, lb_unknown_fact *unknown, void *context)
{
    struct lb_buf words = {0};
    if (built_from && built.first < span.first && built.last >= span.first) {
        lb_buf_puts(&words, "before or after ");
        lb_condition_write_date(&words, built_from, span.first);
        unknown(context, "built", lb_buf_text(&words));
        lb_buf_clear(&words);
    }
    if (built_to && built.last > span.last && built.first <= span.last) {
        lb_buf_puts(&words, "before or after ");
        lb_condition_write_date(&words, built_to, span.last + 1);
        unknown(context, "built", lb_buf_text(&words));
    }
    lb_buf_free(&words);
}

lb_status lb_applies(const struct lb_facts *facts, const char *when, const char *built_from,
                     const char *built_to, lb_unknown_fact *unknown, void *context, enum lb_truth *out,
                     struct lb_error *err)
{
    struct lb_condition *condition = NULL;
    struct lb_interval span = read_span(built_from, built_to);
    enum lb_truth built = lb_built_within(facts->built, span.first, span.last);
    *out = built;
    if (built == LB_FALSE)
        return LB_OK;
    lb_status status = lb_condition_parse(&condition, when, err);
    if (status)
        return status;
    *out = lb_condition_ask(condition, facts, unknown, context);
    lb_condition_free(condition);
    if (*out == LB_FALSE || built == LB_TRUE)
        return LB_OK;
    *out = LB_UNKNOWN;
    if (unknown)
        report(facts->built, span, built_from, built_to, unknown, context);
    return LB_OK;
}
