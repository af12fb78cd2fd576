/* Cautions and the order of work, as far as the service map says otherwise. */
#include "kit/drift_parts.h"

#include <string.h>

static lb_status name_texts(struct drifting *d, struct lb_names *names, const char *const *texts,
                            size_t count)
{
    uint32_t id;
    for (size_t i = 0; i < count; i++)
        if (!lb_names_add(names, texts[i], &id))
            return lb_fail_nomem(d->err);
    return LB_OK;
}

/* Says which texts the one list has and the other has not. */
static lb_status say_missing(struct drifting *d, const struct lb_names *has, const struct lb_names *lacks,
                             const char *what)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < has->count; i++)
        if (lb_names_find(lacks, has->at[i]) == LB_NO_NAME)
            status = drift_say(d, LB_DRIFT_MAP, 0, "%s: %s", what, has->at[i]);
    return status;
}

/* Where the steps that both have come in another order for the first time. */
static lb_status say_order(struct drifting *d, const struct lb_names *was, const struct lb_names *now)
{
    size_t i = 0, k = 0;
    while (i < was->count && k < now->count) {
        if (lb_names_find(now, was->at[i]) == LB_NO_NAME)
            i++;
        else if (lb_names_find(was, now->at[k]) == LB_NO_NAME)
            k++;
        else if (strcmp(was->at[i], now->at[k]) != 0)
            return drift_say(d, LB_DRIFT_MAP, 0, "order of work: \"%s\" now comes before \"%s\"", now->at[k],
                             was->at[i]);
        else
            i++, k++;
    }
    return LB_OK;
}

struct texts {
    const char *const *was, *const *now;
    size_t was_count, now_count;
};

static lb_status compare_texts(struct drifting *d, const struct texts *texts, const char *gone,
                               const char *new, bool ordered)
{
    struct lb_names was = {0}, now = {0};
    lb_status status = name_texts(d, &was, texts->was, texts->was_count);
    if (!status)
        status = name_texts(d, &now, texts->now, texts->now_count);
    if (!status)
        status = say_missing(d, &was, &now, gone);
    if (!status)
        status = say_missing(d, &now, &was, new);
    if (!status && ordered)
        status = say_order(d, &was, &now);
    lb_names_free(&was);
    lb_names_free(&now);
    return status;
}

lb_status drift_work(struct drifting *d)
{
    const struct lb_kit_lock *was = d->was, *now = d->now;
    const struct texts cautions = {was->cautions.at, now->cautions.at, was->cautions.count,
                                   now->cautions.count};
    const struct texts steps = {was->steps.at, now->steps.at, was->steps.count, now->steps.count};
    lb_status status = compare_texts(d, &cautions, "caution that is gone", "new caution", false);
    return status ? status : compare_texts(d, &steps, "no longer to be done", "now also to be done", true);
}
