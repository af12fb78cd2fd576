/* Can the work be ordered: each job, and each component that no job takes off. */
#include "kit/map_trial.h"

#include <stdlib.h>

enum { ALONE_MOST = 2000 }; /* components that are tried each alone */

static lb_status try_jobs(struct trial *t)
{
    struct checker *c = t->c;
    struct lb_buf name = {0};
    lb_status status = LB_OK;
    uint32_t *first = check_alloc(c, c->jobs.count + 1, sizeof *first);
    uint32_t *next = check_alloc(c, c->job_rows.count + 1, sizeof *next);
    for (size_t i = 0; !c->failed && i < c->jobs.count; i++)
        first[i] = LB_NO_NAME;
    for (size_t i = c->job_rows.count; !c->failed && i-- > 0;) {
        next[i] = first[c->job_rows.at[i].job];
        first[c->job_rows.at[i].job] = (uint32_t)i;
    }
    for (size_t job = 0; !status && !c->failed && job < c->jobs.count; job++) {
        for (uint32_t i = first[job]; i != LB_NO_NAME; i = next[i])
            TRIAL_TAKE(t, &t->all.targets, c->job_rows.at[i].target);
        lb_buf_clear(&name);
        lb_buf_printf(&name, "the job %s", c->jobs.at[job]);
        c->failed |= name.failed;
        status = trial_run(t, lb_buf_text(&name));
    }
    lb_buf_free(&name);
    return status;
}

static bool no_job_removes(const struct checker *c, size_t component)
{
    return c->component_of[component] && c->levels[component] < LB_REMOVED;
}

static void take_component(struct trial *t, size_t component)
{
    TRIAL_TAKE(t, &t->all.targets,
               ((struct lb_target){.row = {.source = LB_NO_NAME}, .thing = {.id = (uint32_t)component}}));
}

/* What the owner may ask for with --replace and no job covers: all together first, which nearly always goes
 * well, else one by one. */
static lb_status try_components(struct trial *t)
{
    struct checker *c = t->c;
    struct lb_buf name = {0};
    size_t alone = 0;
    bool clash = false;
    for (size_t i = 0; i < c->map->component_count; i++)
        if (no_job_removes(c, i))
            take_component(t, i);
    lb_status status = c->failed || !t->all.targets.count ? LB_OK : trial_run_all(t, &clash);
    for (size_t i = 0; clash && !status && !c->failed && i < c->map->component_count; i++) {
        if (!no_job_removes(c, i) || ++alone > ALONE_MOST)
            continue;
        take_component(t, i);
        lb_buf_clear(&name);
        lb_buf_printf(&name, "replacing %s", c->map->components[i]);
        c->failed |= name.failed;
        status = trial_run(t, lb_buf_text(&name));
    }
    t->stopped |= alone > ALONE_MOST;
    lb_buf_free(&name);
    return status;
}

static void tell(struct trial *t)
{
    struct checker *c = t->c;
    for (size_t i = 0; i < t->found.count && !c->failed; i++) {
        const struct found *found = &t->found.at[i];
        struct lb_buf words = {0};
        lb_buf_printf(&words, "%s Met in %s", found->words, found->where);
        if (found->count > 1)
            lb_buf_printf(&words, " and %zu more", found->count - 1);
        if (found->who[0])
            lb_buf_printf(&words, ", for a vehicle with %s", found->who);
        lb_buf_putc(&words, '.');
        c->failed |= words.failed;
        check_find(c, LB_ERROR, found->code, found->row, "%s", lb_buf_text(&words));
        lb_buf_free(&words);
    }
    if (t->stopped)
        check_find(
            c, LB_NOTE, "not-finished", c->rows.at[0].row,
            "the map is so large that not every job was tried for every vehicle: a contradiction may be "
            "left.");
}

static void tell_itself(struct checker *c)
{
    for (size_t i = 0; i < c->map->access_count; i++) {
        const struct lb_map_access *row = &c->map->access[i];
        if (!row->thing.is_circuit && row->thing.id == row->needs)
            check_find(c, LB_ERROR, "needs-itself", &row->row,
                       "%s needs itself out of the way. Correct one of the two names, or remove the row.",
                       c->map->components[row->needs]);
    }
}

lb_status check_order(struct checker *c)
{
    struct trial t;
    lb_status status = trial_begin(&t, c);
    tell_itself(c);
    if (!status)
        status = try_jobs(&t);
    if (!status && !c->failed)
        status = try_components(&t);
    if (!status && !c->failed)
        tell(&t);
    trial_end(&t);
    return status;
}
