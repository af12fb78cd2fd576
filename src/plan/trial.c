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

/* A plan in the making of which nothing is handed out. */
struct trial {
    struct lb_plan plan;
    struct lb_arena arena;
    struct work work;
};

static lb_status begin(struct trial *trial, const struct lb_map *map, const struct lb_target *targets,
                       size_t target_count, struct lb_error *err)
{
    *trial = (struct trial){.plan = {.map = map, .targets = targets},
                            .work = {.map = map,
                                     .targets = targets,
                                     .target_count = target_count,
                                     .err = err,
                                     .arena = &trial->arena,
                                     .plan = &trial->plan}};
    return lb_plan_index(&trial->work);
}

lb_status lb_plan_try(const struct lb_map *map, const struct lb_target *targets, size_t target_count,
                      struct lb_clash *clash, struct lb_error *err)
{
    struct trial trial;
    struct graph g = {.w = &trial.work};
    uint32_t *order;
    clash->kind = LB_CLASH_NONE;
    clash->rows.count = 0;
    lb_status status = begin(&trial, map, targets, target_count, err);
    trial.work.clash = clash;
    if (!status)
        status = lb_plan_close(&trial.work);
    if (!status)
        status = graph_order(&g, &order);
    graph_free(&g);
    lb_arena_free(&trial.arena);
    return status;
}

lb_status lb_plan_reach(const struct lb_map *map, const struct lb_target *targets, size_t target_count,
                        enum lb_level *levels, struct lb_error *err)
{
    struct trial trial;
    lb_status status = begin(&trial, map, targets, target_count, err);
    if (!status)
        status = lb_plan_spread(&trial.work);
    for (size_t i = 0; !status && i < trial.work.node_count; i++)
        levels[i] = trial.work.level[i];
    lb_arena_free(&trial.arena);
    return status;
}

void lb_clash_free(struct lb_clash *clash)
{
    free(clash->rows.at);
    memset(clash, 0, sizeof *clash);
}
