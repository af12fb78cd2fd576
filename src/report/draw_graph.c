#include "report/draw_graph.h"

#include "base/text.h"
#include "report/page.h"
#include "report/svg.h"

#include <stdlib.h>
#include <string.h>

enum { NAME_COLUMNS = 60, LINE = LB_SVG_SIZE + 3 };

/* What is needed to make one graph. */
struct maker {
    struct draw_graph *graph;
    const struct lb_kit *kit;
    size_t *of_component, *of_circuit; /* node + 1; 0: none */
    bool *edge, *sure;                 /* from × to */
    int *height;                       /* the longest way from the node down to what is freed last */
};

const char *draw_name(struct lb_arena *arena, const struct lb_kit *kit, const struct lb_thing *thing)
{
    const struct lb_map *map = kit->plan->map;
    const char *name = thing->is_circuit ? map->circuits[thing->id] : kit->component_names[thing->id];
    struct lb_buf words = {0};
    char *kept = NULL;
    size_t fits = lb_text_fit(name, NAME_COLUMNS);
    if (thing->is_circuit)
        lb_page_plain(&words, name);
    else
        lb_buf_append(&words, name, fits);
    if (!thing->is_circuit && name[fits])
        lb_buf_puts(&words, "\xe2\x80\xa6");
    if (!words.failed)
        kept = lb_arena_text(arena, lb_buf_text(&words), words.length);
    lb_buf_free(&words);
    return kept;
}

static const struct lb_target *target_of(const struct lb_plan *plan, bool circuit, uint32_t id)
{
    const struct lb_cause *cause = &plan->causes[circuit ? plan->map->component_count + id : id];
    return cause->kind == LB_CAUSE_TARGET ? &plan->targets[cause->index] : NULL;
}

static enum draw_what what_of(const struct lb_plan *plan, const struct lb_teardown *teardown)
{
    const struct lb_target *target = target_of(plan, false, teardown->component);
    if (teardown->target)
        return target && target->refit ? DRAW_REFIT : DRAW_RENEW;
    return teardown->level == LB_ASIDE      ? DRAW_ASIDE
           : teardown->level == LB_LOOSENED ? DRAW_LOOSEN
                                            : DRAW_REMOVE;
}

/* "support" for an engine whose weight is to be taken off its mounts. */
static const char *verb_of(const struct lb_map *map, const struct lb_thing *thing, enum draw_what what)
{
    for (size_t i = 0; what == DRAW_REMOVE && !thing->is_circuit && i < map->component_row_count; i++)
        if (map->component_rows[i].component == thing->id)
            return map->component_rows[i].off;
    return draw_what_words(what);
}

/* It is opened, whatever the facts that are not known. */
static bool surely_opened(const struct lb_plan *plan, uint32_t circuit)
{
    const struct lb_map *map = plan->map;
    for (size_t i = 0; i < plan->teardown_count; i++)
        for (size_t o = 0; plan->teardown[i].sure && o < map->opens_count; o++)
            if (map->opens[o].circuit == circuit && map->opens[o].component == plan->teardown[i].component &&
                map->opens[o].at <= plan->teardown[i].level && !map->opens[o].row.doubt_count)
                return true;
    const struct lb_target *target = target_of(plan, true, circuit);
    return target && !target->row.doubt_count;
}

static lb_status add_node(struct maker *m, const struct lb_thing *thing, enum draw_what what, bool sure,
                          struct lb_error *err)
{
    struct draw_graph *graph = m->graph;
    struct draw_node *node = &graph->nodes[graph->node_count++];
    *node = (struct draw_node){.name = draw_name(&graph->arena, m->kit, thing),
                               .what = what,
                               .verb = verb_of(m->kit->plan->map, thing, what),
                               .sure = sure,
                               .alone = true};
    if (!node->name)
        return lb_fail_nomem(err);
    draw_node_size(node);
    *(thing->is_circuit ? &m->of_circuit[thing->id] : &m->of_component[thing->id]) = graph->node_count;
    return LB_OK;
}

static lb_status add_nodes(struct maker *m, struct lb_error *err)
{
    const struct lb_plan *plan = m->kit->plan;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < plan->teardown_count; i++) {
        const struct lb_teardown *t = &plan->teardown[i];
        status = add_node(m, &(struct lb_thing){0, t->component}, what_of(plan, t), t->sure, err);
    }
    for (size_t i = 0; !status && i < plan->opened_count; i++)
        status = add_node(m, &(struct lb_thing){1, plan->opened[i]}, DRAW_DRAIN,
                          surely_opened(plan, plan->opened[i]), err);
    return status;
}

/* Access rows that count (formats.md §3.1): `to` empty or not above the state. */
static void add_edges(struct maker *m)
{
    const struct lb_plan *plan = m->kit->plan;
    const struct lb_map *map = plan->map;
    size_t count = m->graph->node_count;
    for (size_t i = 0; i < map->access_count; i++) {
        const struct lb_map_access *row = &map->access[i];
        if (row->thing.id == LB_NO_NAME || row->needs == LB_NO_NAME)
            continue;
        size_t from = m->of_component[row->needs],
               to = row->thing.is_circuit ? m->of_circuit[row->thing.id] : m->of_component[row->thing.id];
        if (!from || !to || from == to || (!row->thing.is_circuit && row->to > plan->levels[row->thing.id]))
            continue;
        size_t at = (from - 1) * count + to - 1;
        m->edge[at] = true;
        m->sure[at] = m->sure[at] || !row->row.doubt_count;
    }
}

/* How far down it is from each node; `order` is filled from what is freed last. False: a loop, which a plan
 * does not have. */
static bool order_nodes(const struct maker *m, size_t *order)
{
    size_t count = m->graph->node_count, done = 0;
    for (bool found = true; found && done < count;) {
        found = false;
        for (size_t i = count; i-- > 0;) {
            bool free = m->height[i] < 0;
            int height = 0;
            for (size_t j = 0; free && j < count; j++) {
                if (!m->edge[i * count + j])
                    continue;
                free = m->height[j] >= 0;
                height = m->height[j] + 1 > height ? m->height[j] + 1 : height;
            }
            if (!free)
                continue;
            m->height[i] = height;
            order[done++] = i;
            found = true;
        }
    }
    return done == count;
}

/* An edge goes when another way leads there. `reach` is from × to. */
static void reduce(struct maker *m, const size_t *order, bool *reach)
{
    size_t count = m->graph->node_count;
    for (size_t o = 0; o < count; o++) {
        size_t i = order[o];
        for (size_t j = 0; j < count; j++)
            for (size_t k = 0; m->edge[i * count + j] && k < count; k++)
                reach[i * count + k] = reach[i * count + k] || reach[j * count + k];
        for (size_t j = 0; j < count; j++) {
            m->edge[i * count + j] = m->edge[i * count + j] && !reach[i * count + j];
            reach[i * count + j] = reach[i * count + j] || m->edge[i * count + j];
        }
    }
}

static lb_status keep_edges(struct maker *m, struct lb_error *err)
{
    struct draw_graph *graph = m->graph;
    size_t count = graph->node_count, edges = 0;
    for (size_t at = 0; at < count * count; at++)
        edges += m->edge[at];
    graph->edges = lb_arena_alloc(&graph->arena, (edges + 1) * sizeof *graph->edges);
    if (!graph->edges)
        return lb_fail_nomem(err);
    for (size_t at = 0; at < count * count; at++) {
        if (!m->edge[at])
            continue;
        graph->edges[graph->edge_count++] =
            (struct draw_edge){.from = at / count, .to = at % count, .sure = m->sure[at]};
        graph->nodes[at / count].alone = graph->nodes[at % count].alone = false;
    }
    return LB_OK;
}

static bool ready(const struct draw_graph *graph, size_t node, int layer)
{
    for (size_t i = 0; i < graph->edge_count; i++) {
        int above = graph->nodes[graph->edges[i].from].layer;
        if (graph->edges[i].to == node && (above < 0 || above >= layer))
            return false;
    }
    return graph->nodes[node].layer < 0 && !graph->nodes[node].alone;
}

void draw_graph_layers(struct draw_graph *graph, int most)
{
    size_t left = 0;
    graph->layer_count = 0;
    for (size_t i = 0; i < graph->node_count; i++) {
        graph->nodes[i].layer = -1;
        left += !graph->nodes[i].alone;
    }
    for (; left; graph->layer_count++) {
        for (int used = 0; used < most && left; used++) {
            size_t best = graph->node_count;
            for (size_t i = 0; i < graph->node_count; i++)
                if (ready(graph, i, graph->layer_count) &&
                    (best == graph->node_count || graph->nodes[i].ahead > graph->nodes[best].ahead))
                    best = i;
            if (best == graph->node_count)
                break;
            graph->nodes[best].layer = graph->layer_count;
            left--;
        }
    }
}

static lb_status connect(struct maker *m, struct lb_error *err)
{
    struct lb_arena *arena = &m->graph->arena;
    size_t count = m->graph->node_count;
    bool *reach = lb_arena_alloc(arena, count * count + 1);
    size_t *order = lb_arena_alloc(arena, (count + 1) * sizeof *order);
    m->edge = lb_arena_alloc(arena, count * count + 1);
    m->sure = lb_arena_alloc(arena, count * count + 1);
    m->height = lb_arena_alloc(arena, (count + 1) * sizeof *m->height);
    if (!reach || !order || !m->edge || !m->sure || !m->height)
        return lb_fail_nomem(err);
    memset(m->height, -1, count * sizeof *m->height);
    add_edges(m);
    if (!order_nodes(m, order))
        memset(m->edge, 0, count * count);
    reduce(m, order, reach);
    for (size_t i = 0; i < count; i++)
        m->graph->nodes[i].ahead = m->height[i];
    return keep_edges(m, err);
}

lb_status draw_graph_make(struct draw_graph *graph, const struct lb_kit *kit, struct lb_error *err)
{
    const struct lb_map *map = kit->plan->map;
    size_t most = kit->plan->teardown_count + kit->plan->opened_count;
    *graph = (struct draw_graph){0};
    struct maker m = {.graph = graph, .kit = kit};
    graph->nodes = lb_arena_alloc(&graph->arena, (most + 1) * sizeof *graph->nodes);
    m.of_component = lb_arena_alloc(&graph->arena, (map->component_count + 1) * sizeof *m.of_component);
    m.of_circuit = lb_arena_alloc(&graph->arena, (map->circuit_count + 1) * sizeof *m.of_circuit);
    if (!graph->nodes || !m.of_component || !m.of_circuit)
        return lb_fail_nomem(err);
    lb_status status = add_nodes(&m, err);
    graph->crowded = graph->node_count > DRAW_NODES_MOST;
    if (!status && !graph->crowded)
        status = connect(&m, err);
    return status;
}

void draw_graph_free(struct draw_graph *graph)
{
    lb_arena_free(&graph->arena);
    *graph = (struct draw_graph){0};
}
