/* §3.10: steps, and who comes before whom. Off before, back after; a drain before the first step that opens
 * its circuit; fill and bleed once all that opened it is back. */
#include "plan/order.h"

#include <string.h>

static lb_status add_step(struct graph *g, enum lb_step_kind kind, const char *verb, size_t node,
                          uint32_t *out)
{
    struct work *w = g->w;
    bool circuit = node >= w->map->component_count;
    struct lb_thing thing = {circuit, (uint32_t)(circuit ? node - w->map->component_count : node)};
    *out = (uint32_t)g->steps.count;
    return LB_PUSH(&g->steps, ((struct lb_step){kind, verb, thing})) && LB_PUSH(&g->nodes, (uint32_t)node)
               ? LB_OK
               : lb_fail_nomem(w->err);
}

static lb_status add_edge(struct graph *g, uint32_t before, uint32_t after, enum edge_source source,
                          uint32_t row, enum edge_force force)
{
    if (before == NO_STEP || after == NO_STEP)
        return LB_OK;
    return LB_PUSH(&g->edges, ((struct edge){before, after, source, row, force, false}))
               ? LB_OK
               : lb_fail_nomem(g->w->err);
}

/* The row whose verbs count: the first true one, else the first. NULL: the map does not describe the
 * component. */
static const struct lb_map_component *verbs_of(const struct work *w, size_t component)
{
    const struct lb_map_component *first = NULL;
    for (uint32_t i = w->components_of.start[component]; i < w->components_of.start[component + 1]; i++) {
        const struct lb_map_component *row = &w->map->component_rows[w->components_of.row[i]];
        if (certain(&row->row))
            return row;
        if (!first)
            first = row;
    }
    return first;
}

static lb_status add_component(struct graph *g, size_t node)
{
    static const char *const verbs[][2] = {
        {"", ""}, {"loosen", "tighten"}, {"set-aside", "refit"}, {"remove", "fit"}};
    enum lb_level level = g->w->level[node];
    const struct lb_map_component *row = level == LB_REMOVED ? verbs_of(g->w, node) : NULL;
    lb_status status = add_step(g, LB_STEP_OFF, row ? row->off : verbs[level][0], node, &g->off[node]);
    if (!status)
        status = add_step(g, LB_STEP_BACK, row ? row->back : verbs[level][1], node, &g->back[node]);
    return status ? status : add_edge(g, g->off[node], g->back[node], EDGE_RULE, 0, EDGE_HARD);
}

static lb_status add_circuit(struct graph *g, size_t node)
{
    lb_status status = add_step(g, LB_STEP_DRAIN, "drain", node, &g->off[node]);
    if (!status)
        status = add_step(g, LB_STEP_FILL, "fill", node, &g->back[node]);
    if (!status)
        status = add_step(g, LB_STEP_BLEED, "bleed", node, &g->bleed[node]);
    if (!status)
        status = add_edge(g, g->off[node], g->back[node], EDGE_RULE, 0, EDGE_HARD);
    return status ? status : add_edge(g, g->back[node], g->bleed[node], EDGE_RULE, 0, EDGE_HARD);
}

static lb_status add_steps(struct graph *g)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < g->w->order_count; i++) {
        size_t node = g->w->order[i];
        status = node < g->w->map->component_count ? add_component(g, node) : add_circuit(g, node);
    }
    return status;
}

enum match { MATCH_NONE, MATCH_STEP, MATCH_LOOSEN, MATCH_TIGHTEN };

/* Which step of the plan a sequence row names, or which one it would create: `loosen` or `tighten` of what is
 * removed. */
static enum match match_step(const struct graph *g, const struct lb_step_name *name, uint32_t *step)
{
    const struct work *w = g->w;
    if (name->thing.id == LB_NO_NAME)
        return MATCH_NONE;
    size_t node = node_of(w, name->thing);
    const uint32_t known[] = {g->off[node], g->back[node], g->bleed[node], g->loosen[node], g->tighten[node]};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        if (known[i] != NO_STEP && strcmp(g->steps.at[known[i]].verb, name->verb) == 0) {
            *step = known[i];
            return MATCH_STEP;
        }
    }
    if (name->thing.is_circuit || w->level[node] != LB_REMOVED)
        return MATCH_NONE;
    if (strcmp(name->verb, "loosen") == 0)
        return MATCH_LOOSEN;
    return strcmp(name->verb, "tighten") == 0 ? MATCH_TIGHTEN : MATCH_NONE;
}

static lb_status create_step(struct graph *g, enum match match, size_t node, uint32_t *step)
{
    lb_status status = LB_OK;
    if (match == MATCH_LOOSEN) {
        status = add_step(g, LB_STEP_OFF, "loosen", node, &g->loosen[node]);
        if (!status)
            status = add_edge(g, g->loosen[node], g->off[node], EDGE_RULE, 0, EDGE_HARD);
        *step = g->loosen[node];
    } else if (match == MATCH_TIGHTEN) {
        status = add_step(g, LB_STEP_BACK, "tighten", node, &g->tighten[node]);
        if (!status)
            status = add_edge(g, g->back[node], g->tighten[node], EDGE_RULE, 0, EDGE_HARD);
        *step = g->tighten[node];
    }
    return status;
}

static lb_status add_sequence(struct graph *g, uint32_t index)
{
    const struct lb_map_sequence *row = &g->w->map->sequences[index];
    uint32_t first = NO_STEP, then = NO_STEP;
    enum match a = match_step(g, &row->first, &first), b = match_step(g, &row->then, &then);
    if (a == MATCH_NONE || b == MATCH_NONE)
        return LB_OK;
    lb_status status = create_step(g, a, node_of(g->w, row->first.thing), &first);
    if (!status) {
        b = match_step(g, &row->then, &then); /* both may name the step just created */
        status = create_step(g, b, node_of(g->w, row->then.thing), &then);
    }
    return status ? status : add_edge(g, first, then, EDGE_SEQUENCE, index, EDGE_HARD);
}

/* What the row needs is out of the way before `off` and until `back`. Where only loosening is asked for and
 * that is a step of its own, that step has to come before and the rest of the way is a wish. */
static lb_status keep_clear(struct graph *g, uint32_t index, uint32_t off, uint32_t back,
                            enum edge_force force)
{
    const struct lb_map_access *row = &g->w->map->access[index];
    enum edge_force rest = force == EDGE_HARD ? EDGE_STRONG_WISH : EDGE_WISH;
    uint32_t loosen = row->state == LB_LOOSENED ? g->loosen[row->needs] : NO_STEP;
    uint32_t tighten = row->state == LB_LOOSENED ? g->tighten[row->needs] : NO_STEP;
    lb_status status = add_edge(g, loosen, off, EDGE_ACCESS, index, force);
    if (!status)
        status = add_edge(g, back, tighten, EDGE_ACCESS, index, force);
    if (!status)
        status = add_edge(g, g->off[row->needs], off, EDGE_ACCESS, index, loosen == NO_STEP ? force : rest);
    return status ? status
                  : add_edge(g, back, g->back[row->needs], EDGE_ACCESS, index,
                             tighten == NO_STEP ? force : rest);
}

/* A step of loosening that a sequence row created comes under the access rows as well. Where those say "any
 * state" they give way, since the row that asks for the step is the more exact word on it; a row about
 * loosening itself holds. */
static lb_status loosen_access(struct graph *g, uint32_t index, size_t node)
{
    const struct lb_map_access *row = &g->w->map->access[index];
    if (access_trigger(row) > LB_LOOSENED)
        return LB_OK;
    return keep_clear(g, index, g->loosen[node], g->tighten[node],
                      row->to == LB_LOOSENED ? EDGE_HARD : EDGE_WISH);
}

/* Draining is reached and filled again before its access is closed, bled too where nothing speaks against it.
 * What has to be shut before the filling (a drain plug) says so in a sequence row. */
static lb_status circuit_access(struct graph *g, uint32_t index, size_t node)
{
    const struct lb_map_access *row = &g->w->map->access[index];
    lb_status status = keep_clear(g, index, g->off[node], g->back[node], EDGE_FIRM_WISH);
    return status ? status : add_edge(g, g->bleed[node], g->back[row->needs], EDGE_ACCESS, index, EDGE_WISH);
}

static lb_status add_access(struct graph *g, size_t node)
{
    struct work *w = g->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->access_of.start[node]; !status && i < w->access_of.start[node + 1]; i++) {
        uint32_t index = w->access_of.row[i];
        if (access_trigger(&w->map->access[index]) > w->level[node])
            continue;
        if (node >= w->map->component_count) {
            status = circuit_access(g, index, node);
            continue;
        }
        status = keep_clear(g, index, g->off[node], g->back[node], EDGE_HARD);
        if (!status)
            status = loosen_access(g, index, node);
    }
    return status;
}

static lb_status add_opens(struct graph *g, size_t node)
{
    struct work *w = g->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->opens_of.start[node]; !status && i < w->opens_of.start[node + 1]; i++) {
        uint32_t index = w->opens_of.row[i];
        const struct lb_map_opens *row = &w->map->opens[index];
        if (row->at > w->level[node])
            continue;
        size_t circuit = node_of_circuit(w, row->circuit);
        bool loosens = row->at == LB_LOOSENED && g->loosen[node] != NO_STEP;
        status = add_edge(g, g->off[circuit], loosens ? g->loosen[node] : g->off[node], EDGE_OPENS, index,
                          EDGE_HARD);
        if (!status)
            status = add_edge(g, g->back[node], g->back[circuit], EDGE_OPENS, index, EDGE_HARD);
        if (!status)
            status = add_edge(g, g->tighten[node], g->back[circuit], EDGE_OPENS, index, EDGE_WISH);
    }
    return status;
}

static uint32_t *no_steps(struct work *w)
{
    uint32_t *steps = lb_plan_alloc(w, w->node_count + 1, sizeof *steps);
    for (size_t i = 0; steps && i < w->node_count; i++)
        steps[i] = NO_STEP;
    return steps;
}

lb_status graph_build(struct graph *g)
{
    struct work *w = g->w;
    g->off = no_steps(w);
    g->back = no_steps(w);
    g->loosen = no_steps(w);
    g->tighten = no_steps(w);
    g->bleed = no_steps(w);
    if (!g->off || !g->back || !g->loosen || !g->tighten || !g->bleed)
        return LB_NOMEM;
    lb_status status = add_steps(g);
    for (size_t i = 0; !status && i < w->map->sequence_count; i++)
        status = add_sequence(g, (uint32_t)i);
    for (size_t i = 0; !status && i < w->order_count; i++) {
        status = add_access(g, w->order[i]);
        if (!status && w->order[i] < w->map->component_count)
            status = add_opens(g, w->order[i]);
    }
    return status;
}
