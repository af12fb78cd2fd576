#include "plan/trial.h"
#include "plan/order.h"

#include <stdlib.h>
#include <string.h>

bool lb_plan_blame(struct work *w, int kind, const struct lb_row *row)
{
    if (!w->clash)
        return true;
    w->clash->kind = kind;
    return LB_PUSH(&w->clash->rows, row);
}

void lb_plan_say_doubtful(struct work *w, struct lb_buf *out, const struct lb_row *const *rows, size_t count)
{
    uint64_t *facts = lb_plan_alloc(w, w->map->fact_count / 64 + 1, sizeof *facts);
    const char *before = " Or state ";
    out->failed |= !facts;
    for (size_t i = 0; facts && i < count; i++)
        lb_plan_add_doubts(facts, rows[i]);
    for (size_t i = 0; facts && i < w->map->fact_count; i++) {
        if (!(facts[i / 64] >> (i % 64) & 1))
            continue;
        lb_buf_printf(out, "%s%s", before, w->map->facts[i]);
        before = ", ";
    }
    if (before[0] == ',')
        lb_buf_puts(out, " (lastbolt vehicle set VEHICLE FACT=VALUE): some of these rows may not apply.");
}

lb_status lb_plan_try(const struct lb_map *map, const struct lb_target *targets, size_t target_count,
                      struct lb_clash *clash, struct lb_error *err)
{
    struct lb_plan plan = {.map = map, .targets = targets};
    struct lb_arena arena = {0};
    struct work w = {.map = map,
                     .targets = targets,
                     .target_count = target_count,
                     .err = err,
                     .arena = &arena,
                     .plan = &plan,
                     .clash = clash};
    clash->kind = LB_CLASH_NONE;
    clash->rows.count = 0;
    struct graph g = {.w = &w};
    uint32_t *order;
    lb_status status = lb_plan_index(&w);
    if (!status)
        status = lb_plan_close(&w);
    if (!status)
        status = graph_order(&g, &order);
    graph_free(&g);
    lb_arena_free(&arena);
    return status;
}

lb_status lb_plan_reach(const struct lb_map *map, const struct lb_target *targets, size_t target_count,
                        enum lb_level *levels, struct lb_error *err)
{
    struct lb_plan plan = {.map = map, .targets = targets};
    struct lb_arena arena = {0};
    struct work w = {.map = map,
                     .targets = targets,
                     .target_count = target_count,
                     .err = err,
                     .arena = &arena,
                     .plan = &plan};
    lb_status status = lb_plan_index(&w);
    if (!status)
        status = lb_plan_spread(&w);
    for (size_t i = 0; !status && i < w.node_count; i++)
        levels[i] = w.level[i];
    lb_arena_free(&arena);
    return status;
}

void lb_clash_free(struct lb_clash *clash)
{
    free(clash->rows.at);
    memset(clash, 0, sizeof *clash);
}
