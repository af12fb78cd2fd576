/* A topological order with fixed ties, and what to say when there is none. Off before back; among what may
 * come off, in the order in which the closure reached it; what came off last goes back first. */
#include "plan/order.h"

#include <stdlib.h>
#include <string.h>

struct sorter {
    struct graph *g;
    uint32_t *start, *edge; /* edges by the step they leave */
    uint32_t *waiting;      /* by step: edges still in the way */
    uint64_t *rank;         /* by step: smaller goes first */
    uint32_t *heap;
    size_t heap_count;
};

#define BACK_RANK ((uint64_t)1 << 48)

static void heap_push(struct sorter *s, uint32_t step)
{
    size_t at = s->heap_count++;
    while (at && s->rank[s->heap[(at - 1) / 2]] > s->rank[step]) {
        s->heap[at] = s->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    s->heap[at] = step;
}

static uint32_t heap_pop(struct sorter *s)
{
    uint32_t top = s->heap[0], last = s->heap[--s->heap_count];
    size_t at = 0;
    for (size_t child; (child = 2 * at + 1) < s->heap_count; at = child) {
        if (child + 1 < s->heap_count && s->rank[s->heap[child + 1]] < s->rank[s->heap[child]])
            child++;
        if (s->rank[s->heap[child]] >= s->rank[last])
            break;
        s->heap[at] = s->heap[child];
    }
    s->heap[at] = last;
    return top;
}

/* Ranks are distinct: the step number breaks what is left, and steps are numbered in access order. A drain
 * comes as early and a fill as late as the rows allow. */
static void rank_steps(struct sorter *s)
{
    for (uint32_t i = 0; i < s->g->steps.count; i++) {
        enum lb_step_kind kind = s->g->steps.at[i].kind;
        bool off = kind == LB_STEP_OFF || kind == LB_STEP_DRAIN;
        uint64_t late = kind == LB_STEP_FILL || kind == LB_STEP_BLEED ? BACK_RANK : 0;
        uint64_t access = (uint64_t)s->g->nodes.at[i] < s->g->w->map->component_count ? BACK_RANK >> 1 : 0;
        s->rank[i] = off ? access + i : BACK_RANK + late + i;
    }
}

/* What came off last goes back first; known only once it has come off. */
static void rank_back(struct sorter *s, uint32_t off_step, size_t position)
{
    size_t node = s->g->nodes.at[off_step];
    if (s->g->steps.at[off_step].kind != LB_STEP_OFF || s->g->off[node] != off_step)
        return;
    uint64_t rank = BACK_RANK + 2 * (s->g->steps.count - position);
    s->rank[s->g->back[node]] = rank;
    if (s->g->tighten[node] != NO_STEP)
        s->rank[s->g->tighten[node]] = rank + 1;
}

/* Kahn's algorithm over the edges that count; returns how many steps found a place. */
static size_t place(struct sorter *s, uint32_t *order)
{
    size_t placed = 0;
    memset(s->waiting, 0, s->g->steps.count * sizeof *s->waiting);
    for (size_t i = 0; i < s->g->edges.count; i++)
        if (!s->g->edges.at[i].dropped)
            s->waiting[s->g->edges.at[i].after]++;
    s->heap_count = 0;
    rank_steps(s);
    for (uint32_t i = 0; i < s->g->steps.count; i++)
        if (!s->waiting[i])
            heap_push(s, i);
    while (s->heap_count) {
        uint32_t step = heap_pop(s);
        order[placed] = step;
        rank_back(s, step, placed++);
        for (uint32_t i = s->start[step]; i < s->start[step + 1]; i++) {
            const struct edge *edge = &s->g->edges.at[s->edge[i]];
            if (!edge->dropped && --s->waiting[edge->after] == 0)
                heap_push(s, edge->after);
        }
    }
    return placed;
}

/* One loop among the steps that found no place: every one of them waits for another one, so walking backwards
 * must come round. Writes the loop's edges, returns their number. */
static size_t find_loop(struct sorter *s, uint32_t *incoming, uint32_t *loop)
{
    const struct edge *edges = s->g->edges.at;
    uint32_t at = NO_STEP;
    size_t count = 0;
    memset(incoming, 0xff, s->g->steps.count * sizeof *incoming);
    for (uint32_t i = 0; i < s->g->edges.count; i++) {
        if (!edges[i].dropped && s->waiting[edges[i].before] && s->waiting[edges[i].after]) {
            incoming[edges[i].after] = i;
            at = edges[i].after;
        }
    }
    for (size_t i = 0; i < s->g->steps.count; i++)
        at = edges[incoming[at]].before;
    for (uint32_t stop = at; !count || at != stop; at = edges[incoming[at]].before)
        loop[count++] = incoming[at];
    return count;
}

/* The weakest wish in the loop gives way. False: there was none, the rows contradict each other. */
static bool drop_wish(struct sorter *s, const uint32_t *loop, size_t count)
{
    struct edge *weakest = NULL;
    for (size_t i = 0; i < count; i++) {
        struct edge *edge = &s->g->edges.at[loop[i]];
        if (edge->force != EDGE_HARD && (!weakest || edge->force > weakest->force))
            weakest = edge;
    }
    if (weakest)
        weakest->dropped = true;
    return weakest != NULL;
}

static bool same_row(const struct edge *a, const struct edge *b)
{
    return a->source == b->source && (a->source == EDGE_RULE || a->row == b->row);
}

/* Keeps only the edges of the rows in the set (and the rules, which no row can change). */
static void keep_only(struct graph *g, const struct edge *rows, size_t count)
{
    for (size_t e = 0; e < g->edges.count; e++) {
        struct edge *edge = &g->edges.at[e];
        bool keep = edge->source == EDGE_RULE;
        for (size_t i = 0; !keep && i < count; i++)
            keep = same_row(edge, &rows[i]);
        edge->dropped = !keep || edge->force != EDGE_HARD;
    }
}

/* The rows of a loop, thinned until each of them is needed for the contradiction. */
static size_t thin_rows(struct sorter *s, struct edge *rows, size_t count, uint32_t *scratch)
{
    for (size_t i = 0; i < count;) {
        struct edge out = rows[i];
        rows[i] = rows[count - 1];
        keep_only(s->g, rows, count - 1);
        if (place(s, scratch) < s->g->steps.count) {
            count--;
        } else {
            rows[count - 1] = rows[i];
            rows[i++] = out;
        }
    }
    return count;
}

static const struct lb_row *say_row(struct lb_buf *out, struct work *w, const struct edge *edge)
{
    const struct lb_map *map = w->map;
    const struct lb_row *row = NULL;
    if (edge->source == EDGE_SEQUENCE) {
        const struct lb_map_sequence *sequence = &map->sequences[edge->row];
        const struct lb_step_name *names[] = {&sequence->first, &sequence->then};
        row = &sequence->row;
        for (int i = 0; i < 2; i++)
            lb_buf_printf(out, "%s`%s %s`", i ? " before " : "", names[i]->verb,
                          (names[i]->thing.is_circuit ? map->circuits : map->components)[names[i]->thing.id]);
    } else if (edge->source == EDGE_ACCESS) {
        const struct lb_map_access *access = &map->access[edge->row];
        row = &access->row;
        lb_buf_printf(out, "%s needs %s out of the way",
                      (access->thing.is_circuit ? map->circuits : map->components)[access->thing.id],
                      map->components[access->needs]);
    } else {
        const struct lb_map_opens *opens = &map->opens[edge->row];
        row = &opens->row;
        lb_buf_printf(out, "%s opens %s, which is drained before and filled after",
                      map->components[opens->component], map->circuits[opens->circuit]);
    }
    lb_buf_printf(out, " (%s:%u)", map->sources[row->source], row->line);
    out->failed |= !lb_plan_blame(w, LB_CLASH_ORDER, row);
    return row;
}

static int by_row(const void *a, const void *b)
{
    const struct edge *p = a, *q = b;
    if (p->source != q->source)
        return p->source < q->source ? -1 : 1;
    return p->row < q->row ? -1 : p->row > q->row;
}

static lb_status report(struct sorter *s, const uint32_t *loop, size_t count, uint32_t *scratch)
{
    struct work *w = s->g->w;
    struct lb_buf words = {0};
    struct edge *rows = lb_plan_alloc(w, count + 1, sizeof *rows);
    const struct lb_row **blamed = lb_plan_alloc(w, count + 1, sizeof *blamed);
    size_t kept = 0;
    if (!rows || !blamed)
        return LB_NOMEM;
    for (size_t i = 0; i < count; i++) {
        bool known = s->g->edges.at[loop[i]].source == EDGE_RULE;
        for (size_t k = 0; !known && k < kept; k++)
            known = same_row(&rows[k], &s->g->edges.at[loop[i]]);
        if (!known)
            rows[kept++] = s->g->edges.at[loop[i]];
    }
    kept = thin_rows(s, rows, kept, scratch);
    qsort(rows, kept, sizeof *rows, by_row);
    lb_buf_puts(&words, "the order of work contradicts itself: ");
    for (size_t i = 0; i < kept; i++) {
        lb_buf_puts(&words, i ? "; " : "");
        blamed[i] = say_row(&words, w, &rows[i]);
    }
    lb_buf_puts(&words, ". Not all of these can hold: remove or change one of these rows.");
    lb_plan_say_doubtful(w, &words, blamed, kept);
    lb_status status = words.failed ? lb_fail_nomem(w->err) : lb_fail(w->err, LB_DATA, "%s", words.text);
    lb_buf_free(&words);
    return status;
}

static lb_status group_edges(struct sorter *s)
{
    struct graph *g = s->g;
    uint32_t *next = s->start + 1;
    for (size_t i = 0; i < g->edges.count; i++)
        next[g->edges.at[i].before + 1]++;
    for (size_t i = 1; i <= g->steps.count; i++)
        next[i] += next[i - 1];
    for (size_t i = 0; i < g->edges.count; i++)
        s->edge[next[g->edges.at[i].before]++] = (uint32_t)i;
    return LB_OK;
}

lb_status graph_sort(struct graph *g, uint32_t *order)
{
    size_t n = g->steps.count + 2;
    struct sorter s = {.g = g,
                       .start = lb_plan_alloc(g->w, n + 1, sizeof *s.start),
                       .edge = lb_plan_alloc(g->w, g->edges.count + 1, sizeof *s.edge),
                       .waiting = lb_plan_alloc(g->w, n, sizeof *s.waiting),
                       .rank = lb_plan_alloc(g->w, n, sizeof *s.rank),
                       .heap = lb_plan_alloc(g->w, n, sizeof *s.heap)};
    uint32_t *incoming = lb_plan_alloc(g->w, n, sizeof *incoming);
    uint32_t *loop = lb_plan_alloc(g->w, n, sizeof *loop);
    if (!s.start || !s.edge || !s.waiting || !s.rank || !s.heap || !incoming || !loop)
        return LB_NOMEM;
    lb_status status = group_edges(&s);
    while (!status && place(&s, order) < g->steps.count) {
        size_t count = find_loop(&s, incoming, loop);
        if (!drop_wish(&s, loop, count))
            status = report(&s, loop, count, order);
    }
    return status;
}
