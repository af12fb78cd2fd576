/* Which jobs do what is due. */
#include "kit/due_together.h"

#include <stdlib.h>
#include <string.h>

static bool is_due(const struct lb_due_item *item)
{
    return item->state == LB_DUE_OVERDUE || item->state == LB_DUE_SOON;
}

/* How many of the items that are due and have no job yet it renews; 0: less than half of what it renews and
 * wears is due, so that it would throw good parts away. *spare: what it renews besides. */
static size_t count_due(const struct together *t, const struct lb_job *job, size_t *spare)
{
    size_t fresh = 0, due = 0, not_due = 0, renewed = 0;
    for (size_t i = 0; i < t->w->items.count; i++) {
        const struct lb_due_item *item = &t->w->items.at[i];
        if (!lb_job_renews(job, item->component))
            continue;
        fresh += is_due(item) && !t->done[i];
        due += is_due(item);
        not_due += !is_due(item);
    }
    for (size_t i = 0; i < job->targets.count; i++)
        renewed += !job->targets.at[i].refit;
    *spare = renewed - (due < renewed ? due : renewed);
    return due >= not_due ? fresh : 0;
}

static const struct lb_job *best_job(const struct together *t)
{
    const struct lb_job *best = NULL;
    size_t most = 0, least = 0;
    for (size_t i = 0; i < t->w->jobs.items.count; i++) {
        const struct lb_job *job = &t->w->jobs.items.at[i];
        size_t spare, due = count_due(t, job, &spare);
        if (due > most || (due && due == most && spare < least)) {
            best = job;
            most = due;
            least = spare;
        }
    }
    return best;
}

static uint32_t find_name(const char *const *names, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(names[i], name) == 0)
            return (uint32_t)i;
    return LB_NO_NAME;
}

static void add_target(const struct together *t, struct chosen *job, const char *name, bool circuit,
                       bool refit)
{
    const struct lb_map *map = &t->w->survey->map;
    uint32_t id = circuit ? find_name(map->circuits, map->circuit_count, name)
                          : find_name(map->components, map->component_count, name);
    if (id != LB_NO_NAME)
        job->targets[job->target_count++] = (struct lb_target){
            .row = {.source = LB_NO_NAME}, .thing = {.is_circuit = circuit, .id = id}, .refit = refit};
}

/* `job` NULL: the component alone. */
static lb_status choose(struct together *t, const struct lb_job *job, size_t item)
{
    struct due_work *w = t->w;
    struct chosen chosen = {.first = SIZE_MAX};
    const char *name = job ? job->name : w->items.at[item].component;
    chosen.want = (struct lb_want){job ? LB_WANT_JOB : LB_WANT_REPLACE, (char *)name};
    chosen.targets = lb_arena_alloc(&w->arena, (job ? job->targets.count : 1) * sizeof *chosen.targets);
    if (!chosen.targets)
        return lb_fail_nomem(w->err);
    for (size_t i = 0; i < w->items.count; i++) {
        if (!is_due(&w->items.at[i]) || (job ? !lb_job_renews(job, w->items.at[i].component) : i != item))
            continue;
        t->done[i] = true;
        chosen.first = i < chosen.first ? i : chosen.first;
    }
    for (size_t i = 0; job && i < job->targets.count; i++)
        add_target(t, &chosen, job->targets.at[i].name, job->targets.at[i].circuit, job->targets.at[i].refit);
    if (!job)
        add_target(t, &chosen, name, false, false);
    return LB_PUSH(&t->chosen, chosen) ? LB_OK : lb_fail_nomem(w->err);
}

static int by_first(const void *a, const void *b)
{
    const struct chosen *x = a, *y = b;
    if (x->first != y->first)
        return x->first < y->first ? -1 : 1;
    return strcmp(x->want.name, y->want.name);
}

static lb_status choose_all(struct together *t)
{
    struct due_work *w = t->w;
    const struct lb_job *job;
    lb_status status = LB_OK;
    while (!status && (job = best_job(t)))
        status = choose(t, job, 0);
    for (size_t i = 0; !status && i < w->items.count; i++)
        if (is_due(&w->items.at[i]) && !t->done[i])
            status = choose(t, NULL, i);
    if (!status && t->chosen.count)
        qsort(t->chosen.at, t->chosen.count, sizeof *t->chosen.at, by_first);
    if (t->chosen.count > JOBS_MOST) {
        w->due.left_out = t->chosen.count - JOBS_MOST;
        t->chosen.count = JOBS_MOST;
    }
    return status;
}

/* The groups go where all the rest lives. */
static lb_status hand_out(struct together *t)
{
    struct due_work *w = t->w;
    struct lb_due_group *groups = lb_arena_alloc(&w->arena, (t->groups.count + 1) * sizeof *groups);
    if (!groups)
        return lb_fail_nomem(w->err);
    if (t->groups.count)
        memcpy(groups, t->groups.at, t->groups.count * sizeof *groups);
    w->due.groups = groups;
    w->due.group_count = t->groups.count;
    return LB_OK;
}

lb_status due_together(struct due_work *w)
{
    struct together t = {.w = w};
    if (!w->survey)
        return LB_OK;
    t.done = calloc(w->items.count + 1, sizeof *t.done);
    lb_status status = t.done ? choose_all(&t) : lb_fail_nomem(w->err);
    if (!status)
        status = due_groups(&t);
    if (!status)
        status = hand_out(&t);
    free(t.done);
    free(t.chosen.at);
    free(t.groups.at);
    return status;
}
