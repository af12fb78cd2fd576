/* Graphviz, opened when it is first needed (base/lazy.h): include this instead of its own headers, and call
 * draw_graphviz_load before the first of its functions. Private to report/. */
#ifndef LB_REPORT_LAZY_GRAPHVIZ_H
#define LB_REPORT_LAZY_GRAPHVIZ_H

#include <graphviz/gvc.h>
#include <stdbool.h>

#define DRAW_GRAPHVIZ_FUNCTIONS(X)                                                                           \
    X(agclose)                                                                                               \
    X(agedge)                                                                                                \
    X(agnode)                                                                                                \
    X(agopen)                                                                                                \
    X(agsafeset)                                                                                             \
    X(agseterrf)                                                                                             \
    X(agsubg)                                                                                                \
    X(agsubnode)                                                                                             \
    X(gvContext)                                                                                             \
    X(gvFreeContext)                                                                                         \
    X(gvFreeLayout)                                                                                          \
    X(gvLayout)

#define DRAW_GRAPHVIZ_POINTER(function) __typeof__(function) *function;
struct draw_graphviz_functions {
    DRAW_GRAPHVIZ_FUNCTIONS(DRAW_GRAPHVIZ_POINTER)
};
extern struct draw_graphviz_functions draw_graphviz;

/* False: it is not installed. */
bool draw_graphviz_load(void);

#endif
