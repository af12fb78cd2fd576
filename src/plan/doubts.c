/* Which facts a component's being in the teardown hangs on. A set of facts per node and level: the union over
 * all ways to get it there, empty as soon as one way uses true rows only. Sets only grow, so following the
 * rows of a node again whenever its set grew ends; with one machine word of facts that is a few passes over
 * the rows. */
#include "plan/work.h"

#include <string.h>

bool lb_plan_add_doubts(const struct work *w, uint64_t *set, const uint64_t *more, const struct lb_row *row)
{
    bool grew = false;
    for (size_t i = 0; more && i < w->words; i++) {
        grew |= (more[i] & ~set[i]) != 0;
        set[i] |= more[i];
    }
    for (uint32_t i = 0; i < row->doubt_count; i++) {
        uint64_t bit = (uint64_t)1 << (row->doubts[i] % 64);
        uint64_t *word = &set[row->doubts[i] / 64];
        grew |= (*word & bit) == 0;
        *word |= bit;
    }
    return grew;
}

/* Who is a target, to be renewed or only off and on again, and what that hangs on. */
static lb_status mark_targets(struct work *w)
{
    size_t n = w->node_count + 1;
    w->is_target = lb_plan_alloc(w, n, sizeof *w->is_target);
    w->renew = lb_plan_alloc(w, n, sizeof *w->renew);
    w->renew_sure = lb_plan_alloc(w, n, sizeof *w->renew_sure);
    w->first_target = lb_plan_alloc(w, n, sizeof *w->first_target);
    w->renew_doubts = lb_plan_alloc(w, n * w->words, sizeof *w->renew_doubts);
    if (!w->is_target || !w->renew || !w->renew_sure || !w->first_target || !w->renew_doubts)
        return LB_NOMEM;
    for (size_t i = w->target_count; i-- > 0;) {
        const struct lb_target *target = &w->targets[i];
        size_t node = node_of(w, target->thing);
        w->is_target[node] = true;
        w->first_target[node] = (uint32_t)i;
        if (target->refit)
            continue;
        w->renew[node] = true;
        w->renew_sure[node] |= certain(&target->row) && certain(&w->map->platform);
        lb_plan_add_doubts(w, w->renew_doubts + node * w->words, NULL, &target->row);
        lb_plan_add_doubts(w, w->renew_doubts + node * w->words, NULL, &w->map->platform);
    }
    return LB_OK;
}

struct pass {
    struct work *w;
    uint32_t *stack;
    bool *waiting;
    size_t count;
};

static void add_to_node(struct pass *pass, size_t node, enum lb_level level, const uint64_t *more,
                        const struct lb_row *row)
{
    struct work *w = pass->w;
    bool grew = false;
    for (int l = LB_LOOSENED; l <= (int)level; l++) {
        uint64_t *set = w->doubts + (node * 3 + (size_t)l - 1) * w->words;
        if (w->sure_level[node] < (enum lb_level)l)
            grew |= lb_plan_add_doubts(w, set, more, row);
    }
    if (grew && !pass->waiting[node]) {
        pass->waiting[node] = true;
        pass->stack[pass->count++] = (uint32_t)node;
    }
}

static void spread(struct pass *pass, size_t node)
{
    struct work *w = pass->w;
    for (uint32_t i = w->access_of.start[node]; i < w->access_of.start[node + 1]; i++) {
        const struct lb_map_access *row = &w->map->access[w->access_of.row[i]];
        enum lb_level trigger = access_trigger(row);
        if (trigger <= w->level[node])
            add_to_node(pass, row->needs, row->state, node_doubts(w, node, trigger), &row->row);
    }
    if (node >= w->map->component_count)
        return;
    for (uint32_t i = w->opens_of.start[node]; i < w->opens_of.start[node + 1]; i++) {
        const struct lb_map_opens *row = &w->map->opens[w->opens_of.row[i]];
        if (row->at <= w->level[node])
            add_to_node(pass, node_of_circuit(w, row->circuit), LB_REMOVED, node_doubts(w, node, row->at),
                        &row->row);
    }
}

static void start(struct pass *pass)
{
    struct work *w = pass->w;
    for (size_t i = 0; i < w->target_count; i++) {
        size_t node = node_of(w, w->targets[i].thing);
        add_to_node(pass, node, LB_REMOVED, NULL, &w->targets[i].row);
        add_to_node(pass, node, LB_REMOVED, NULL, &w->map->platform);
    }
    /* Provisional rows leave sure nodes too, so every node is followed at least once. */
    for (size_t i = 0; i < w->order_count; i++) {
        uint32_t node = w->order[i];
        if (!pass->waiting[node]) {
            pass->waiting[node] = true;
            pass->stack[pass->count++] = node;
        }
    }
}

lb_status lb_plan_doubt(struct work *w)
{
    w->words = (w->map->fact_count + 63) / 64;
    if (!w->words)
        w->words = 1;
    w->doubts = lb_plan_alloc(w, (w->node_count + 1) * 3 * w->words, sizeof *w->doubts);
    w->met = lb_plan_alloc(w, w->words, sizeof *w->met);
    struct pass pass = {.w = w,
                        .stack = lb_plan_alloc(w, w->node_count + 1, sizeof *pass.stack),
                        .waiting = lb_plan_alloc(w, w->node_count + 1, sizeof *pass.waiting)};
    if (!w->doubts || !w->met || !pass.stack || !pass.waiting)
        return LB_NOMEM;
    lb_status status = mark_targets(w);
    if (status)
        return status;
    start(&pass);
    while (pass.count) {
        size_t node = pass.stack[--pass.count];
        pass.waiting[node] = false;
        spread(&pass, node);
    }
    return LB_OK;
}
