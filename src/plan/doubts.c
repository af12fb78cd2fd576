/* Which conditions a component's being in the teardown hangs on: for every node and level the ways to get it
 * there, none as soon as one way uses true rows only. Ways only become fewer or narrower, so following the
 * rows of a node again whenever they changed ends. */
#include "plan/work.h"

void lb_plan_add_doubts(uint64_t *facts, const struct lb_row *row)
{
    for (uint32_t i = 0; i < row->doubt_count; i++)
        facts[row->doubts[i] / 64] |= (uint64_t)1 << (row->doubts[i] % 64);
}

/* A target is there under its own row's condition and the platform's. */
static bool add_target(struct work *w, struct ways *into, const struct lb_target *target, bool *grew)
{
    struct ways platform = {0};
    return ways_add(w, &platform, NULL, &w->map->platform, NULL) &&
           ways_add(w, into, &platform, &target->row, grew);
}

/* Who is a target, to be renewed or only off and on again, and what that hangs on. */
static lb_status mark_targets(struct work *w)
{
    size_t n = w->node_count + 1;
    w->is_target = lb_plan_alloc(w, n, sizeof *w->is_target);
    w->renew = lb_plan_alloc(w, n, sizeof *w->renew);
    w->renew_sure = lb_plan_alloc(w, n, sizeof *w->renew_sure);
    w->first_target = lb_plan_alloc(w, n, sizeof *w->first_target);
    w->renew_ways = lb_plan_alloc(w, n, sizeof *w->renew_ways);
    if (!w->is_target || !w->renew || !w->renew_sure || !w->first_target || !w->renew_ways)
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
        if (!add_target(w, &w->renew_ways[node], target, NULL))
            return LB_NOMEM;
    }
    return LB_OK;
}

struct pass {
    struct work *w;
    uint32_t *stack;
    bool *waiting;
    size_t count;
    bool failed;
};

static void wake(struct pass *pass, size_t node)
{
    if (pass->waiting[node])
        return;
    pass->waiting[node] = true;
    pass->stack[pass->count++] = (uint32_t)node;
}

static void add_to_node(struct pass *pass, size_t node, enum lb_level level, const struct ways *from,
                        const struct lb_row *row)
{
    struct work *w = pass->w;
    bool grew = false;
    for (int l = LB_LOOSENED; l <= (int)level; l++)
        if (w->sure_level[node] < (enum lb_level)l &&
            !ways_add(w, &w->ways[node * 3 + (size_t)l - 1], from, row, &grew))
            pass->failed = true;
    if (grew)
        wake(pass, node);
}

static void spread(struct pass *pass, size_t node)
{
    struct work *w = pass->w;
    for (uint32_t i = w->access_of.start[node]; i < w->access_of.start[node + 1]; i++) {
        const struct lb_map_access *row = &w->map->access[w->access_of.row[i]];
        enum lb_level trigger = access_trigger(row);
        if (trigger <= w->level[node])
            add_to_node(pass, row->needs, row->state, node_ways(w, node, trigger), &row->row);
    }
    if (node >= w->map->component_count)
        return;
    for (uint32_t i = w->opens_of.start[node]; i < w->opens_of.start[node + 1]; i++) {
        const struct lb_map_opens *row = &w->map->opens[w->opens_of.row[i]];
        if (row->at <= w->level[node])
            add_to_node(pass, node_of_circuit(w, row->circuit), LB_REMOVED, node_ways(w, node, row->at),
                        &row->row);
    }
}

static void start(struct pass *pass)
{
    struct work *w = pass->w;
    for (size_t i = 0; i < w->target_count; i++) {
        size_t node = node_of(w, w->targets[i].thing);
        for (int l = LB_LOOSENED; l <= LB_REMOVED; l++)
            if (w->sure_level[node] < (enum lb_level)l &&
                !add_target(w, &w->ways[node * 3 + (size_t)l - 1], &w->targets[i], NULL))
                pass->failed = true;
    }
    /* Provisional rows leave sure nodes too, so every node is followed at least once; in the order in which
     * the closure reached them, so that most are followed once only. */
    for (size_t i = w->order_count; i-- > 0;)
        wake(pass, w->order[i]);
}

static lb_status make_room(struct work *w)
{
    w->words = w->map->fact_count / 64 + 1;
    w->condition_words = w->map->condition_count / 64 + 1;
    w->ways = lb_plan_alloc(w, (w->node_count + 1) * 3, sizeof *w->ways);
    w->met = lb_plan_alloc(w, w->words, sizeof *w->met);
    w->row_of_condition = lb_plan_alloc(w, w->map->condition_count + 1, sizeof(const struct lb_row *));
    w->scratch_set = lb_plan_alloc(w, w->condition_words, sizeof *w->scratch_set);
    return w->ways && w->met && w->row_of_condition && w->scratch_set ? LB_OK : LB_NOMEM;
}

lb_status lb_plan_doubt(struct work *w)
{
    lb_status status = make_room(w);
    if (!status)
        status = mark_targets(w);
    struct pass pass = {.w = w,
                        .stack = lb_plan_alloc(w, w->node_count + 1, sizeof *pass.stack),
                        .waiting = lb_plan_alloc(w, w->node_count + 1, sizeof *pass.waiting)};
    if (status || !pass.stack || !pass.waiting)
        return LB_NOMEM;
    start(&pass);
    while (pass.count && !pass.failed) {
        size_t node = pass.stack[--pass.count];
        pass.waiting[node] = false;
        spread(&pass, node);
    }
    return pass.failed ? LB_NOMEM : LB_OK;
}
