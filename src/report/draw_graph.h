/* The teardown as a graph: what stands in it, and where. Private to report/draw*.c. */
#ifndef LB_REPORT_DRAW_GRAPH_H
#define LB_REPORT_DRAW_GRAPH_H

#include "kit/kit.h"
#include "report/svg.h"

/* More is a list: nobody could read it, and laying it out would take long. */
enum { DRAW_NODES_MOST = 200, DRAW_PIECES_MOST = 24 };
/* px. A4 and Letter leave some 690 by 960 of 1/96 inch. */
enum {
    DRAW_WIDTH = 680,
    DRAW_HEIGHT = 920, /* of a whole drawing */
    DRAW_WIDEST = 755, /* of a whole drawing: on 180 mm of paper its capitals, 0.7 of 12 px, are 2 mm high */
    DRAW_MARGIN = 10,
    DRAW_LIST = 400,  /* width of a list */
    DRAW_KEY = 34,    /* of a box in a legend */
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
    size_t origin;    /* which node of the whole it is, in a piece */
    size_t shown;     /* the drawing that had it first, from 1 on; 0: this one */
    bool more;        /* some of what it waits for is in no drawing yet */
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
    bool crowded;         /* too much for drawings */
    bool large;           /* too many bytes for where they go */
    size_t number;        /* which of several drawings it is, from 1 on; 0: the only one */
    double room;          /* how high the part that has edges may be, px */
    double width, height; /* of that part, once laid out */
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
/* Places nodes and edges with Graphviz, from the top or from the left, whichever comes out larger on the
 * page. *done false: it is not built in, not installed, or failed. LB_NOMEM. */
LB_CHECK lb_status draw_graph_lay_out(struct draw_graph *graph, bool *done, struct lb_error *err);

/* The drawings of a teardown, each of which can be read on a page of A4 or Letter: its parts that do not hang
 * together, else a part that much of it waits for with what that waits for, else some of its targets, each
 * with all that is in their way. What several need stands in several. What hangs together with nothing comes
 * last. draw_pieces.c */
struct draw_pieces {
    struct draw_graph *at;
    size_t count;
};
/* Empty when Graphviz is not there, or when the graph turns out crowded: more than DRAW_PIECES_MOST. Free it
 * in any case, before the graph. LB_NOMEM. */
LB_CHECK lb_status draw_pieces_make(struct draw_pieces *pieces, struct draw_graph *graph,
                                    struct lb_error *err);
void draw_pieces_free(struct draw_pieces *pieces);

/* Sets the height of a node by its words. */
void draw_node_size(struct draw_node *node);
/* "remove (ask); see drawing 1": what stands below its name. */
void draw_node_words(struct lb_buf *out, const struct draw_node *node);
/* Appends one of `count` drawings; returns its height, *width is its width. draw_teardown_picture.c */
int draw_put_teardown(struct lb_buf *body, struct draw_graph *graph, size_t count, int *width);
/* px above and below the graph that a drawing has for other things. */
double draw_teardown_frame(const struct draw_graph *graph);

/* The look of what happens to a node. draw_looks.c */
struct lb_svg_box draw_box_of(enum draw_what what, double x, double y, double width, double height);
/* A smaller one, for keys. */
struct lb_svg_box draw_key_of(enum draw_what what, double x, double y);
size_t draw_count_of(const struct draw_graph *graph, enum draw_what what);
/* A list, from entry *next on, as high as `most` px or one entry higher; *next is where it goes on, 0 at the
 * end. Returns its height; it is DRAW_LIST wide. draw_teardown_list.c */
int draw_put_list(struct lb_buf *body, const struct draw_graph *graph, size_t *next, int most);

/* What people call a component or circuit, without hyphens and no longer than a drawing can use. Borrowed
 * from the arena; NULL: out of memory. */
const char *draw_name(struct lb_arena *arena, const struct lb_kit *kit, const struct lb_thing *thing);

#endif
