/* Which jobs go together: each of them, each two and groups that grow from two are planned, and what the plan
 * of all needs less than the plans of each is what that saves. */
#include "kit/due_together.h"
#include "plan/plan.h"

#include <stdlib.h>
#include <string.h>

/* Jobs by their numbers, and what doing them together saves. */
struct group {
    size_t at[JOBS_MOST], count;
    struct lb_due_saving saves;
};

static struct lb_due_saving weigh_plan(const struct lb_plan *plan)
{
    struct lb_due_saving sum = {.steps = (int64_t)plan->step_count};
    for (size_t i = 0; i < plan->need_count; i++) {
        const struct lb_need *need = &plan->needs[i];
        bool loose = need->reason == LB_SINGLE_USE || need->reason == LB_SEALING;
        if (loose && need->article.dimension == LB_COUNT)
            sum.pieces += need->article.quantity;
        if (need->reason == LB_FLUID && need->article.dimension == LB_VOLUME)
            sum.litres += need->article.quantity;
    }
    return sum;
}

/* What jobs need when they are done together; *makes_sense false: their map contradicts itself, which `kit
 * build` says. */
static lb_status weigh(const struct together *t, const struct group *group, struct lb_due_saving *out,
                       bool *makes_sense)
{
    const struct lb_survey *survey = t->w->survey;
    struct lb_plan *plan = NULL;
    struct lb_error err = {0};
    size_t count = 0;
    for (size_t i = 0; i < group->count; i++)
        count += t->chosen.at[group->at[i]].target_count;
    struct lb_target *targets = malloc((count + 1) * sizeof *targets);
    if (!targets)
        return lb_fail_nomem(t->w->err);
    count = 0;
    for (size_t i = 0; i < group->count; i++) {
        const struct chosen *job = &t->chosen.at[group->at[i]];
        memcpy(targets + count, job->targets, job->target_count * sizeof *targets);
        count += job->target_count;
    }
    lb_status status = lb_plan_make(&plan, &survey->map, targets, count, &err);
    *makes_sense = status == LB_OK && count;
    if (!status)
        *out = weigh_plan(plan);
    lb_plan_free(plan);
    lb_error_free(&err);
    free(targets);
    return status == LB_OK || status == LB_DATA ? LB_OK : lb_fail_nomem(t->w->err);
}

static int compare(const struct lb_due_saving *a, const struct lb_due_saving *b)
{
    if (a->steps != b->steps)
        return a->steps > b->steps ? -1 : 1;
    if (a->pieces != b->pieces)
        return a->pieces > b->pieces ? -1 : 1;
    return (a->litres < b->litres) - (a->litres > b->litres);
}

/* What the group saves against its jobs apart; nothing when it cannot be planned. */
static lb_status find_saving(const struct together *t, struct group *group)
{
    struct lb_due_saving all = {0}, apart = {0};
    bool makes_sense;
    group->saves = (struct lb_due_saving){0};
    lb_status status = weigh(t, group, &all, &makes_sense);
    if (status || !makes_sense)
        return status;
    for (size_t i = 0; i < group->count; i++) {
        const struct lb_due_saving *alone = &t->chosen.at[group->at[i]].alone;
        apart.steps += alone->steps;
        apart.pieces += alone->pieces;
        apart.litres += alone->litres;
    }
    group->saves =
        (struct lb_due_saving){.steps = apart.steps > all.steps ? apart.steps - all.steps : 0,
                               .pieces = apart.pieces > all.pieces ? apart.pieces - all.pieces : 0,
                               .litres = apart.litres > all.litres ? apart.litres - all.litres : 0};
    return LB_OK;
}

/* Is it a fair part of it? */
static bool is_much(int64_t saved, int64_t of)
{
    enum { SHARE = 4 };
    return saved > 0 && saved >= (of + SHARE - 1) / SHARE;
}

/* Is it worth while to have one more in the group: does it save a quarter of what that job takes alone? One
 * that only shares the earth lead with the others does not. */
static bool joins(const struct group *before, const struct group *after, const struct chosen *job)
{
    const struct lb_due_saving *b = &before->saves, *a = &after->saves;
    return is_much(a->steps - b->steps, job->alone.steps) ||
           is_much(a->pieces - b->pieces, job->alone.pieces) ||
           is_much(a->litres - b->litres, job->alone.litres);
}

static bool saves_something(const struct lb_due_saving *saving)
{
    return saving->steps || saving->pieces || saving->litres;
}

/* The best one more; `grown` stays as the group is when there is none. */
static lb_status grow_once(const struct together *t, struct group *group, bool *grown)
{
    struct group best = *group;
    lb_status status = LB_OK;
    *grown = false;
    for (size_t j = 0; !status && j < t->chosen.count; j++) {
        const struct chosen *job = &t->chosen.at[j];
        struct group more = *group;
        bool inside = !job->planned || job->grouped;
        for (size_t i = 0; i < group->count; i++)
            inside |= group->at[i] == j;
        if (inside)
            continue;
        more.at[more.count++] = j;
        status = find_saving(t, &more);
        if (!status && joins(group, &more, job) && compare(&more.saves, &best.saves) < 0) {
            best = more;
            *grown = true;
        }
    }
    *group = best;
    return status;
}

static int by_number(const void *a, const void *b)
{
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return (x > y) - (x < y);
}

static lb_status keep_group(struct together *t, struct group *group)
{
    struct lb_due_group kept = {.job_count = group->count, .saves = group->saves};
    struct lb_want *jobs = lb_arena_alloc(&t->w->arena, group->count * sizeof *jobs);
    if (!jobs)
        return lb_fail_nomem(t->w->err);
    qsort(group->at, group->count, sizeof *group->at, by_number);
    for (size_t i = 0; i < group->count; i++) {
        jobs[i] = t->chosen.at[group->at[i]].want;
        t->chosen.at[group->at[i]].grouped = true;
    }
    kept.jobs = jobs;
    return LB_PUSH(&t->groups, kept) ? LB_OK : lb_fail_nomem(t->w->err);
}

/* The best two of those that are in no group yet. */
static lb_status best_pair(const struct together *t, struct group *best)
{
    lb_status status = LB_OK;
    *best = (struct group){0};
    for (size_t i = 0; i < t->chosen.count; i++)
        for (size_t j = i + 1; !status && j < t->chosen.count; j++) {
            struct group pair = {.at = {i, j}, .count = 2};
            const struct chosen *a = &t->chosen.at[i], *b = &t->chosen.at[j];
            if (!a->planned || !b->planned || a->grouped || b->grouped)
                continue;
            status = find_saving(t, &pair);
            if (!status && compare(&pair.saves, &best->saves) < 0)
                *best = pair;
        }
    return status;
}

static int by_saving(const void *a, const void *b)
{
    const struct lb_due_group *x = a, *y = b;
    int order = compare(&x->saves, &y->saves);
    return order ? order : strcmp(x->jobs[0].name, y->jobs[0].name);
}

lb_status due_groups(struct together *t)
{
    struct group group;
    lb_status status = LB_OK;
    for (size_t j = 0; !status && j < t->chosen.count; j++) {
        struct chosen *job = &t->chosen.at[j];
        status = weigh(t, &(struct group){.at = {j}, .count = 1}, &job->alone, &job->planned);
    }
    while (!status && !(status = best_pair(t, &group)) && saves_something(&group.saves)) {
        bool grown = true;
        while (!status && grown && group.count < JOBS_MOST)
            status = grow_once(t, &group, &grown);
        if (!status)
            status = keep_group(t, &group);
    }
    if (!status && t->groups.count)
        qsort(t->groups.at, t->groups.count, sizeof *t->groups.at, by_saving);
    return status;
}
