/* The steps of the work as a graph: who must come before whom, and which row says so. Private to plan/. */
#ifndef LB_PLAN_ORDER_H
#define LB_PLAN_ORDER_H

#include "plan/work.h"

#define NO_STEP UINT32_MAX

/* Which row (or rule) an edge stands for. */
enum edge_source { EDGE_RULE, EDGE_ACCESS, EDGE_SEQUENCE, EDGE_OPENS };

/* HARD must hold. A wish holds as long as no row contradicts it: it is what a careful mechanic would do where
 * the contract leaves it open, and gives way to what a row says. The stronger wish gives way last: the access
 * to what is drained, then the rest of the way where loosening is enough, then the others. */
enum edge_force { EDGE_HARD, EDGE_FIRM_WISH, EDGE_STRONG_WISH, EDGE_WISH };

struct edge {
    uint32_t before, after; /* steps */
    enum edge_source source;
    uint32_t row; /* in the map's array of that source */
    enum edge_force force;
    bool dropped;
};

struct graph {
    struct work *w;
    LB_VEC(struct lb_step) steps;
    LB_VEC(uint32_t) nodes; /* step -> node */
    LB_VEC(struct edge) edges;
    /* By node; NO_STEP where the plan has no such step. For circuits: off = drain, back = fill. */
    uint32_t *off, *back, *loosen, *tighten, *bleed;
};

/* order_rows.c: the steps and edges that the plan's rows ask for. */
LB_CHECK lb_status graph_build(struct graph *graph);
/* order_sort.c: the steps in an order that all hard edges allow; LB_DATA names a minimal set of rows that
 * does not. */
LB_CHECK lb_status graph_sort(struct graph *graph, uint32_t *order);
/* order.c: both in turn; *order lives as long as the plan. */
LB_CHECK lb_status graph_order(struct graph *graph, uint32_t **order);
void graph_free(struct graph *graph);

#endif
