/* The teardown as a graph: what stands in it, and where. Private to report/draw*.c. */
#ifndef LB_REPORT_DRAW_GRAPH_H
#define LB_REPORT_DRAW_GRAPH_H

#include "kit/kit.h"

/* More is a list: on one page nobody could read it, and laying it out would take long (a second for so much).
 * So is what comes out wider than DRAW_WIDEST px all the same: its words would be under 5 px on paper. */
enum { DRAW_NODES_MOST = 120, DRAW_EDGES_MOST = 200, DRAW_WIDEST = 1600 };
/* px. A4 and Letter leave some 680 by 960 of 1/96 inch. */
enum {
    DRAW_WIDTH = 680,
    DRAW_HEIGHT = 920,
    DRAW_NODE = 122,  /* width of a node */
    DRAW_WORDS = 104, /* of its words */
    DRAW_PAD = 6,     /* above and below them */
    DRAW_GAP = 12,    /* between nodes side by side */
    DRAW_BETWEEN = 30 /* between layers */
};

/* What happens to it; the groups of the legend and of the list, in their order. */
enum draw_what { DRAW_RENEW, DRAW_REFIT, DRAW_DRAIN, DRAW_REMOVE, DRAW_ASIDE, DRAW_LOOSEN, DRAW_KINDS };

struct draw_node {
    const char *name; /* shortened, plain words */
    enum draw_what what;
    const char *verb; /* what is done, in the map's own word where it has one */
    bool sure, alone; /* alone: no edge touches it */
    int ahead;        /* the longest way from it to what is freed last */
    int layer;        /* from the top */
    double x, y;      /* of its middle, px, y down */
    double width, height;
};

/* A piece of a curve: four points of a cubic Bézier, px, y down. */
struct draw_curve {
    double x[4], y[4];
};

struct draw_edge {
    size_t from, to; /* `from` must be out of the way before `to` */
    bool sure;
    const struct draw_curve *curves;
    size_t curve_count;
};

struct draw_graph {
    struct lb_arena arena;
    struct draw_node *nodes; /* in the order they come apart */
    struct draw_edge *edges;
    size_t node_count, edge_count;
    int layer_count;
    bool crowded;         /* too much for a drawing */
    double width, height; /* of the part that has edges, once laid out */
};

/* Nodes and edges, implied edges left out. More nodes than may be: nodes only. LB_NOMEM. Free it in any
 * case. */
LB_CHECK lb_status draw_graph_make(struct draw_graph *graph, const struct lb_kit *kit, struct lb_error *err);
void draw_graph_free(struct draw_graph *graph);
/* "renew", "take off, put back" … */
const char *draw_what_words(enum draw_what what);
/* What the group is, for a heading: "Only in the way: comes off". */
const char *draw_what_heading(enum draw_what what);

/* Layers from the top, of `most` nodes each at the most, everything below what it waits for. What most others
 * wait for comes first, so that what is quickly reached stands close to what needs it. */
void draw_graph_layers(struct draw_graph *graph, int most);
/* Places nodes and edges, of a graph that is not crowded, with Graphviz, as wide as the page when it can be.
 * *done false: it is not built in, not installed, or failed. LB_NOMEM.
 */
LB_CHECK lb_status draw_graph_lay_out(struct draw_graph *graph, bool *done, struct lb_error *err);

/* What people call a component or circuit, without hyphens and no longer than a drawing can use. Borrowed
 * from the arena; NULL: out of memory. */
const char *draw_name(struct lb_arena *arena, const struct lb_kit *kit, const struct lb_thing *thing);

#endif
