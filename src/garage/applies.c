#include "garage/applies.h"

static enum lb_truth ask_built(const struct lb_facts *facts, const char *built_from, const char *built_to)
{
    struct lb_interval from = {LB_DATE_MIN, LB_DATE_MAX}, to = from;
    if (!built_from && !built_to)
        return LB_TRUE;
    /* Both were checked at import; what cannot be read leaves its end open. */
    if (built_from && lb_date_parse(built_from, &from))
        from.first = LB_DATE_MIN;
    if (built_to && lb_date_parse(built_to, &to))
        to.last = LB_DATE_MAX;
    return lb_built_within(facts->built, from.first, to.last);
}

lb_status lb_applies(const struct lb_facts *facts, const char *when, const char *built_from, const char *built_to,
                     void (*unknown)(void *context, const char *key), void *context, enum lb_truth *out,
                     struct lb_error *err)
{
    struct lb_condition *condition = NULL;
    enum lb_truth built = ask_built(facts, built_from, built_to);
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
        unknown(context, "built");
    return LB_OK;
}
