#include "kit/jobs.h"

#include "catalog/spans.h"
#include "garage/applies.h"

#include <stdlib.h>
#include <string.h>

enum { JOB, COMPONENT, CIRCUIT, ACTION, WHEN };

const struct lb_job *lb_jobs_find(const struct lb_jobs *jobs, const char *name)
{
    for (size_t i = 0; i < jobs->items.count; i++)
        if (strcmp(jobs->items.at[i].name, name) == 0)
            return &jobs->items.at[i];
    return NULL;
}

/* Rows come by job, so that a new one is always the last. */
static lb_status find_job(struct lb_jobs *jobs, struct lb_statement *st, struct lb_job **out,
                          struct lb_error *err)
{
    struct lb_job job = {0};
    const char *name = lb_text(st, JOB);
    size_t count = jobs->items.count;
    if (count && strcmp(jobs->items.at[count - 1].name, name) == 0) {
        *out = &jobs->items.at[count - 1];
        return LB_OK;
    }
    lb_status status = lb_keep_text(st, JOB, &jobs->texts, &job.name, err);
    if (status)
        return status;
    if (!LB_PUSH(&jobs->items, job))
        return lb_fail_nomem(err);
    *out = &jobs->items.at[count];
    return LB_OK;
}

static lb_status read_row(struct lb_jobs *jobs, struct lb_statement *st, const struct lb_facts *facts,
                          struct lb_error *err)
{
    struct lb_job *job = NULL;
    struct lb_job_target target = {.circuit = lb_is_null(st, COMPONENT)};
    enum lb_truth truth;
    lb_status status = lb_need_texts(st, JOB, 1, err);
    if (!status)
        status = find_job(jobs, st, &job, err);
    if (!status)
        status = lb_applies(facts, lb_text(st, WHEN), NULL, NULL, NULL, NULL, &truth, err);
    if (status || truth == LB_FALSE)
        return status;
    status = lb_need_texts(st, target.circuit ? CIRCUIT : COMPONENT, 1, err);
    if (!status)
        status = lb_keep_text(st, target.circuit ? CIRCUIT : COMPONENT, &jobs->texts, &target.name, err);
    if (status)
        return status;
    target.refit = !lb_is_null(st, ACTION) && strcmp(lb_text(st, ACTION), "refit") == 0;
    return LB_PUSH(&job->targets, target) ? LB_OK : lb_fail_nomem(err);
}

lb_status lb_jobs_load(struct lb_jobs *out, struct lb_store *store, const struct lb_vehicle *vehicle,
                       const char *platform, struct lb_error *err)
{
    struct lb_facts facts = lb_vehicle_facts(vehicle);
    struct lb_statement *st;
    bool row;
    *out = (struct lb_jobs){0};
    lb_status status =
        lb_store_prepare(store, &st,
                         "SELECT r.job, r.component, r.circuit, r.action, r.\"when\"" LB_PLACED(
                             "jobs") "WHERE r.platform = ?1 ORDER BY r.job, s.name, " LB_PLACE_LINE,
                         err);
    if (status)
        return status;
    lb_bind_text(st, 1, platform);
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = read_row(out, st, &facts, err)))
            break;
    lb_statement_free(st);
    if (status)
        lb_jobs_free(out);
    return status;
}

bool lb_job_renews(const struct lb_job *job, const char *component)
{
    for (size_t i = 0; i < job->targets.count; i++) {
        const struct lb_job_target *target = &job->targets.at[i];
        if (!target->circuit && !target->refit && strcmp(target->name, component) == 0)
            return true;
    }
    return false;
}

void lb_jobs_free(struct lb_jobs *jobs)
{
    for (size_t i = 0; i < jobs->items.count; i++)
        free(jobs->items.at[i].targets.at);
    free(jobs->items.at);
    lb_arena_free(&jobs->texts);
    *jobs = (struct lb_jobs){0};
}
