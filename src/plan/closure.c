/* §3.1: what has to be out of the way, and how far. The closure is taken twice: through true rows only, which
 * says what is sure, then through provisional rows too. A circuit that gets opened is drained, so the access
 * rows that draining it needs belong to the closure as well. */
#include "plan/work.h"

#include <stdlib.h>

struct queue {
    uint32_t *node; /* every node is in it at most once */
    size_t head, count, room;
    bool *waiting;
    enum lb_level *done; /* rows up to this level have been followed */
};

struct run {
    struct work *w;
    struct queue queue;
    enum lb_level *level;
    bool provisional; /* follow provisional rows too */
};

static void raise_to(struct run *run, size_t node, enum lb_level level, struct lb_cause cause)
{
    struct work *w = run->w;
    struct queue *q = &run->queue;
    if (run->level[node] >= level)
        return;
    run->level[node] = level;
    if (w->level[node] < level)
        w->cause[node] = cause;
    if (!q->waiting[node]) {
        q->waiting[node] = true;
        q->node[(q->head + q->count++) % q->room] = (uint32_t)node;
    }
}

static void follow(struct run *run, size_t node)
{
    struct work *w = run->w;
    enum lb_level from = run->queue.done[node], to = run->level[node];
    run->queue.done[node] = to;
    for (uint32_t i = w->access_of.start[node]; i < w->access_of.start[node + 1]; i++) {
        uint32_t index = w->access_of.row[i];
        const struct lb_map_access *row = &w->map->access[index];
        enum lb_level trigger = access_trigger(row);
        if (trigger > from && trigger <= to && (run->provisional || certain(&row->row)))
            raise_to(run, row->needs, row->state, (struct lb_cause){LB_CAUSE_ACCESS, index});
    }
    if (node >= w->map->component_count)
        return;
    for (uint32_t i = w->opens_of.start[node]; i < w->opens_of.start[node + 1]; i++) {
        uint32_t index = w->opens_of.row[i];
        const struct lb_map_opens *row = &w->map->opens[index];
        if (row->at > from && row->at <= to && (run->provisional || certain(&row->row)))
            raise_to(run, node_of_circuit(w, row->circuit), LB_REMOVED,
                     (struct lb_cause){LB_CAUSE_OPENS, index});
    }
}

static void start(struct run *run)
{
    struct work *w = run->w;
    for (size_t i = 0; i < w->target_count; i++) {
        const struct lb_target *target = &w->targets[i];
        bool sure = certain(&target->row) && certain(&w->map->platform);
        if (run->provisional || sure)
            raise_to(run, node_of(w, target->thing), LB_REMOVED,
                     (struct lb_cause){LB_CAUSE_TARGET, (uint32_t)i});
    }
}

static lb_status run_closure(struct work *w, bool provisional, enum lb_level *level)
{
    struct run run = {.w = w, .level = level, .provisional = provisional};
    struct queue *q = &run.queue;
    q->room = w->node_count + 1;
    q->node = lb_plan_alloc(w, q->room, sizeof *q->node);
    q->waiting = lb_plan_alloc(w, q->room, sizeof *q->waiting);
    q->done = lb_plan_alloc(w, q->room, sizeof *q->done);
    if (!q->node || !q->waiting || !q->done)
        return LB_NOMEM;
    start(&run);
    while (q->count) {
        size_t node = q->node[q->head];
        q->head = (q->head + 1) % q->room;
        q->count--;
        q->waiting[node] = false;
        if (provisional && q->done[node] == LB_UNTOUCHED)
            w->order[w->order_count++] = (uint32_t)node;
        follow(&run, node);
    }
    return LB_OK;
}

/* A depth-first walk over the access rows that took hold, kept on a stack of its own: maps can be deep. */
struct walk {
    uint32_t *path, *edge; /* edge[i]: the next access row of path[i] to look at */
    unsigned char *colour; /* 0 new, 1 on the path, 2 done */
    size_t depth;
};

static lb_status report_loop(struct work *w, const struct walk *walk, uint32_t back_to)
{
    struct lb_buf words = {0};
    size_t i = 0, count = 0;
    const struct lb_row **rows = lb_plan_alloc(w, walk->depth + 1, sizeof *rows);
    words.failed = !rows;
    while (walk->path[i] != back_to)
        i++;
    lb_buf_puts(&words, "access goes round in a circle: ");
    for (size_t first = i; i < walk->depth; i++) {
        const struct lb_map_access *row = &w->map->access[w->access_of.row[walk->edge[i] - 1]];
        lb_buf_printf(&words, "%s%s needs %s (%s:%u)", i > first ? ", " : "",
                      w->map->components[row->thing.id], w->map->components[row->needs],
                      w->map->sources[row->row.source], row->row.line);
        words.failed |= !lb_plan_blame(w, LB_CLASH_ACCESS, &row->row);
        if (rows)
            rows[count++] = &row->row;
    }
    lb_buf_puts(&words, ". Remove or change one of these rows.");
    if (rows)
        lb_plan_say_doubtful(w, &words, rows, count);
    lb_status status = words.failed ? lb_fail_nomem(w->err) : lb_fail(w->err, LB_DATA, "%s", words.text);
    lb_buf_free(&words);
    return status;
}

static void enter(struct work *w, struct walk *walk, uint32_t node)
{
    walk->colour[node] = 1;
    walk->path[walk->depth] = node;
    walk->edge[walk->depth++] = w->access_of.start[node];
}

static lb_status walk_from(struct work *w, struct walk *walk, uint32_t node)
{
    enter(w, walk, node);
    while (walk->depth) {
        uint32_t at = walk->path[walk->depth - 1];
        uint32_t *edge = &walk->edge[walk->depth - 1];
        if (*edge == w->access_of.start[at + 1]) {
            walk->colour[at] = 2;
            walk->depth--;
            continue;
        }
        const struct lb_map_access *row = &w->map->access[w->access_of.row[(*edge)++]];
        if (access_trigger(row) > w->level[at])
            continue;
        if (walk->colour[row->needs] == 1)
            return report_loop(w, walk, row->needs);
        if (walk->colour[row->needs] == 0)
            enter(w, walk, row->needs);
    }
    return LB_OK;
}

static lb_status refuse_loops(struct work *w)
{
    size_t count = w->map->component_count;
    struct walk walk = {.path = lb_plan_alloc(w, count + 1, sizeof *walk.path),
                        .edge = lb_plan_alloc(w, count + 1, sizeof *walk.edge),
                        .colour = lb_plan_alloc(w, count + 1, 1)};
    if (!walk.path || !walk.edge || !walk.colour)
        return LB_NOMEM;
    for (size_t i = 0; i < w->order_count; i++) {
        uint32_t node = w->order[i];
        if (node >= count || walk.colour[node])
            continue;
        lb_status status = walk_from(w, &walk, node);
        if (status)
            return status;
    }
    return LB_OK;
}

lb_status lb_plan_spread(struct work *w)
{
    size_t n = w->node_count + 1;
    w->level = lb_plan_alloc(w, n, sizeof *w->level);
    w->sure_level = lb_plan_alloc(w, n, sizeof *w->sure_level);
    w->cause = lb_plan_alloc(w, n, sizeof *w->cause);
    w->order = lb_plan_alloc(w, n, sizeof *w->order);
    if (!w->level || !w->sure_level || !w->cause || !w->order)
        return LB_NOMEM;
    /* The sure run keeps its own levels; causes are written while w->level is behind, so true rows come
     * first. */
    lb_status status = run_closure(w, false, w->sure_level);
    if (status)
        return status;
    for (size_t i = 0; i < w->node_count; i++)
        w->level[i] = w->sure_level[i];
    enum lb_level *full = lb_plan_alloc(w, n, sizeof *full);
    if (!full)
        return LB_NOMEM;
    status = run_closure(w, true, full);
    w->level = full;
    w->plan->levels = w->level;
    w->plan->causes = w->cause;
    return status;
}

lb_status lb_plan_close(struct work *w)
{
    lb_status status = lb_plan_spread(w);
    return status ? status : refuse_loops(w);
}
