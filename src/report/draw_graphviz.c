/* Graphviz places what the graph holds: the layers are ours (as wide as the page), the order in them, the
 * places and the curves are its. It gets sizes only, no texts: those are ours to escape. */
#include "report/draw_graph.h"
#include "report/lazy_graphviz.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>

enum { POINTS = 72 }; /* of its points an inch; one is one of our px */

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER; /* it keeps its state in globals */

struct layout {
    struct draw_graph *graph;
    bool sideways; /* layers from the left */
    graph_t *root;
    node_t **nodes;
    edge_t **edges;
};

/* Its complaints are not for our users: what it cannot do becomes a list. */
static int say_nothing(char *words)
{
    (void)words;
    return 0;
}

static char *words(const char *text)
{
    return (char *)(uintptr_t)text; /* its functions take texts that they do not change */
}

static void set(void *thing, const char *name, const char *value)
{
    draw_graphviz.agsafeset(thing, words(name), words(value), words(""));
}

static void set_inches(void *thing, const char *name, double px)
{
    char text[32];
    long long parts = (long long)(px * 10000 / POINTS);
    snprintf(text, sizeof text, "%lld.%04lld", parts / 10000, parts % 10000);
    set(thing, name, text);
}

static bool add_node(struct layout *l, size_t i)
{
    const struct draw_node *node = &l->graph->nodes[i];
    if (!(l->nodes[i] = draw_graphviz.agnode(l->root, NULL, 1)))
        return false;
    set(l->nodes[i], "shape", "box");
    set(l->nodes[i], "fixedsize", "true");
    set(l->nodes[i], "label", "");
    set_inches(l->nodes[i], "width", node->width);
    set_inches(l->nodes[i], "height", node->height);
    return true;
}

/* The nodes of a layer stand side by side, the layers below one another. */
static bool add_layers(struct layout *l)
{
    node_t *above = NULL;
    for (int layer = 0; layer < l->graph->layer_count; layer++) {
        graph_t *row = draw_graphviz.agsubg(l->root, NULL, 1);
        node_t *first = NULL;
        if (!row)
            return false;
        set(row, "rank", "same");
        for (size_t i = 0; i < l->graph->node_count; i++) {
            if (l->graph->nodes[i].layer != layer || !l->nodes[i])
                continue;
            draw_graphviz.agsubnode(row, l->nodes[i], 1);
            first = first ? first : l->nodes[i];
        }
        edge_t *order = above && first ? draw_graphviz.agedge(l->root, above, first, NULL, 1) : NULL;
        if (order) {
            set(order, "style", "invis");
            set(order, "weight", "0");
        }
        above = first;
    }
    return true;
}

static bool fill(struct layout *l)
{
    struct draw_graph *graph = l->graph;
    set(l->root, "rankdir", l->sideways ? "LR" : "TB");
    set(l->root, "ratio", "compress");
    set(l->root, "size", "9.4,40");
    set_inches(l->root, "nodesep", DRAW_GAP);
    set_inches(l->root, "ranksep", DRAW_BETWEEN);
    for (size_t i = 0; i < graph->node_count; i++)
        if (!graph->nodes[i].alone && !add_node(l, i))
            return false;
    for (size_t i = 0; i < graph->edge_count; i++)
        if (!(l->edges[i] = draw_graphviz.agedge(l->root, l->nodes[graph->edges[i].from],
                                                 l->nodes[graph->edges[i].to], NULL, 1)))
            return false;
    return add_layers(l);
}

static void put_point(struct draw_curve *curve, int at, pointf point, double height)
{
    curve->x[at] = point.x;
    curve->y[at] = height - point.y;
}

/* Its curve as pieces of four points, and the way to the arrow's point as the last. */
static lb_status take_edge(struct layout *l, size_t i, struct lb_error *err)
{
    struct draw_graph *graph = l->graph;
    const splines *found = ED_spl(l->edges[i]);
    if (!found || !found->size)
        return LB_OK;
    const bezier *bezier = &found->list[0];
    size_t pieces = (size_t)(bezier->size > 0 ? bezier->size - 1 : 0) / 3;
    struct draw_curve *curves = lb_arena_alloc(&graph->arena, (pieces + 1) * sizeof *curves);
    if (!curves)
        return lb_fail_nomem(err);
    for (size_t p = 0; p < pieces; p++)
        for (int k = 0; k < 4; k++)
            put_point(&curves[p], k, bezier->list[3 * p + (size_t)k], graph->height);
    graph->edges[i].curves = curves;
    graph->edges[i].curve_count = pieces;
    if (bezier->eflag && pieces) {
        for (int k = 0; k < 4; k++)
            put_point(&curves[pieces], k, k < 2 ? bezier->list[3 * pieces] : bezier->ep, graph->height);
        graph->edges[i].curve_count++;
    }
    return LB_OK;
}

static lb_status take(struct layout *l, struct lb_error *err)
{
    struct draw_graph *graph = l->graph;
    lb_status status = LB_OK;
    graph->width = GD_bb(l->root).UR.x;
    graph->height = GD_bb(l->root).UR.y;
    for (size_t i = 0; i < graph->node_count; i++) {
        if (!l->nodes[i])
            continue;
        graph->nodes[i].x = ND_coord(l->nodes[i]).x;
        graph->nodes[i].y = graph->height - ND_coord(l->nodes[i]).y;
    }
    for (size_t i = 0; !status && i < graph->edge_count; i++)
        status = take_edge(l, i, err);
    return status;
}

static lb_status lay_out(struct layout *l, GVC_t *context, bool *done, struct lb_error *err)
{
    static const Agdesc_t directed = {.directed = 1, .maingraph = 1};
    lb_status status = LB_OK;
    *done = false;
    if (!(l->root = draw_graphviz.agopen(words("teardown"), directed, NULL)))
        return LB_OK;
    if (fill(l) && draw_graphviz.gvLayout(context, l->root, "dot") == 0) {
        status = take(l, err);
        *done = !status;
        draw_graphviz.gvFreeLayout(context, l->root);
    }
    draw_graphviz.agclose(l->root);
    return status;
}

/* How large it comes out on the page, 1 being as it is drawn. */
static double scale_of(const struct draw_graph *graph)
{
    double wide = DRAW_WIDTH / graph->width, tall = graph->room / graph->height;
    double scale = wide < tall ? wide : tall;
    return scale < 1 ? scale : 1;
}

/* How the layers are laid, and how many nodes one may have: fewer make it narrower and longer. */
static const struct way {
    bool sideways;
    int most;
} ways[] = {{false, 5}, {false, 4}, {false, 3}, {true, 14}, {true, 10}, {true, 7}};
enum { WAYS = sizeof ways / sizeof *ways };

/* Its layers alone are longer than the page. */
static bool hopeless(const struct draw_graph *graph, bool sideways)
{
    const double least = (DRAW_WIDTH + DRAW_BETWEEN) * (double)DRAW_WIDEST / DRAW_WIDTH;
    return sideways && graph->layer_count * (DRAW_NODE + DRAW_BETWEEN) > least;
}

static lb_status lay_out_way(struct layout *l, GVC_t *context, size_t way, bool *done, struct lb_error *err)
{
    l->sideways = ways[way].sideways;
    draw_graph_layers(l->graph, ways[way].most);
    *done = !hopeless(l->graph, l->sideways);
    return *done ? lay_out(l, context, done, err) : LB_OK;
}

/* The way that comes out largest on the page; the first that needs no shrinking will do. */
static lb_status fit(struct layout *l, GVC_t *context, bool *done, struct lb_error *err)
{
    lb_status status = LB_OK;
    double best_scale = 0;
    size_t best = WAYS, last = WAYS;
    for (size_t way = 0; !status && way < WAYS && best_scale < 1; way++) {
        status = lay_out_way(l, context, way, done, err);
        if (!*done)
            continue;
        last = way;
        if (scale_of(l->graph) > best_scale) {
            best_scale = scale_of(l->graph);
            best = way;
        }
    }
    *done = best < WAYS;
    return status || best == WAYS || best == last ? status : lay_out_way(l, context, best, done, err);
}

lb_status draw_graph_lay_out(struct draw_graph *graph, bool *done, struct lb_error *err)
{
    struct layout layout = {.graph = graph};
    GVC_t *context = NULL;
    lb_status status = LB_OK;
    *done = graph->edge_count == 0; /* nothing to lay out */
    if (*done || !draw_graphviz_load())
        return LB_OK;
    layout.nodes = lb_arena_alloc(&graph->arena, (graph->node_count + 1) * sizeof *layout.nodes);
    layout.edges = lb_arena_alloc(&graph->arena, (graph->edge_count + 1) * sizeof *layout.edges);
    if (!layout.nodes || !layout.edges)
        return lb_fail_nomem(err);
    pthread_mutex_lock(&lock);
    draw_graphviz.agseterrf(say_nothing);
    if ((context = draw_graphviz.gvContext()))
        status = fit(&layout, context, done, err);
    if (context)
        draw_graphviz.gvFreeContext(context);
    pthread_mutex_unlock(&lock);
    return status;
}
