#include "plan/work.h"

#include <stdlib.h>
#include <string.h>

/* The plan and the memory of everything it points to. */
struct owned_plan {
    struct lb_plan plan;
    struct lb_arena arena;
};

const char *lb_reason_name(enum lb_reason reason)
{
    static const char *const names[] = {"target", "single-use", "sealing",
                                        "fluid",  "consumable", "missed-before"};
    return names[reason];
}

const char *lb_level_name(enum lb_level level)
{
    static const char *const names[] = {"untouched", "loosened", "aside", "removed"};
    return names[level];
}

void *lb_plan_alloc(struct work *w, size_t count, size_t size)
{
    void *memory = count < SIZE_MAX / 2 / size ? lb_arena_alloc(w->arena, count * size) : NULL;
    if (!memory)
        lb_fail_nomem(w->err);
    return memory;
}

lb_status lb_plan_make(struct lb_plan **out, const struct lb_map *map, const struct lb_target *targets,
                       size_t target_count, struct lb_error *err)
{
    static lb_status (*const stages[])(struct work *) = {
        lb_plan_index,   lb_plan_close,    lb_plan_doubt, lb_plan_need,
        lb_plan_suggest, lb_plan_question, lb_plan_order, lb_plan_gather,
    };
    *out = NULL;
    struct owned_plan *owned = calloc(1, sizeof *owned);
    if (!owned)
        return lb_fail_nomem(err);
    struct work w = {.map = map,
                     .targets = targets,
                     .target_count = target_count,
                     .err = err,
                     .arena = &owned->arena,
                     .plan = &owned->plan};
    owned->plan.map = map;
    owned->plan.targets = targets;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](&w);
    lb_names_free(&w.consumed);
    if (status)
        lb_plan_free(&owned->plan);
    else
        *out = &owned->plan;
    return status;
}

void lb_plan_free(struct lb_plan *plan)
{
    if (!plan)
        return;
    struct owned_plan *owned = (struct owned_plan *)plan; /* its first member */
    lb_arena_free(&owned->arena);
    free(owned);
}
