#include "plan/order.h"

#include <stdlib.h>

/* Components in the order in which they come apart. */
static lb_status list_teardown(struct work *w, const struct graph *g, const uint32_t *order)
{
    struct lb_teardown *teardown = lb_plan_alloc(w, w->order_count + 1, sizeof *teardown);
    if (!teardown)
        return LB_NOMEM;
    for (size_t i = 0; i < g->steps.count; i++) {
        uint32_t node = g->nodes.at[order[i]];
        if (node >= w->map->component_count || g->off[node] != order[i])
            continue;
        teardown[w->plan->teardown_count++] = (struct lb_teardown){
            node, w->level[node], w->sure_level[node] == w->level[node], w->is_target[node]};
    }
    w->plan->teardown = teardown;
    return LB_OK;
}

static lb_status list_steps(struct work *w, const struct graph *g, const uint32_t *order)
{
    struct lb_step *steps = lb_plan_alloc(w, g->steps.count + 1, sizeof *steps);
    if (!steps)
        return LB_NOMEM;
    for (size_t i = 0; i < g->steps.count; i++)
        steps[i] = g->steps.at[order[i]];
    w->plan->steps = steps;
    w->plan->step_count = g->steps.count;
    return list_teardown(w, g, order);
}

lb_status graph_order(struct graph *g, uint32_t **order)
{
    *order = NULL;
    lb_status status = graph_build(g);
    if (status)
        return status;
    *order = lb_plan_alloc(g->w, g->steps.count + 1, sizeof **order);
    return *order ? graph_sort(g, *order) : LB_NOMEM;
}

void graph_free(struct graph *g)
{
    free(g->steps.at);
    free(g->nodes.at);
    free(g->edges.at);
}

lb_status lb_plan_order(struct work *w)
{
    struct graph g = {.w = w};
    uint32_t *order;
    lb_status status = graph_order(&g, &order);
    if (!status)
        status = list_steps(w, &g, order);
    graph_free(&g);
    return status;
}
