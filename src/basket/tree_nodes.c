#include "basket/tree_walk.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void set_bounds(struct tree_walk *w, int column, double least, double most)
{
    basket_glpk.glp_set_col_bnds(w->lp, column,
                                 least == most ? GLP_FX
                                 : isinf(most) ? GLP_LO
                                               : GLP_DB,
                                 least, most);
    if (least == most || basket_glpk.glp_get_col_stat(w->lp, column) == GLP_BS)
        return;
    /* Where it rests decides whether the dual simplex can go on from here. */
    basket_glpk.glp_set_col_stat(
        w->lp, column, basket_glpk.glp_get_col_dual(w->lp, column) < 0 && !isinf(most) ? GLP_NU : GLP_NL);
}

double tree_most_of(const struct tree_walk *w, int column)
{
    double most = basket_glpk.glp_get_col_ub(w->lp, column);
    return most > 1e300 ? INFINITY : most;
}

void tree_narrow(struct tree_walk *w, const struct tree_bounds *move)
{
    struct tree_bounds before = {move->column, basket_glpk.glp_get_col_lb(w->lp, move->column),
                                 tree_most_of(w, move->column)};
    w->stopped |= !LB_PUSH(&w->changed, before);
    if (!w->stopped)
        set_bounds(w, move->column, move->least, move->most);
}

void tree_go_to(struct tree_walk *w, const struct tree_node *node)
{
    while (w->changed.count) {
        const struct tree_bounds *b = &w->changed.at[--w->changed.count];
        set_bounds(w, b->column, b->least, b->most);
    }
    LB_VEC(const struct tree_node *) path = {0};
    for (; node; node = node->parent)
        w->stopped |= !LB_PUSH(&path, node);
    for (size_t i = path.count; i-- > 0;)
        for (size_t k = 0; k < path.at[i]->count; k++)
            tree_narrow(w, &path.at[i]->moves[k]);
    free(path.at);
}

static void swap_nodes(struct tree_node **a, struct tree_node **b)
{
    struct tree_node *kept = *a;
    *a = *b;
    *b = kept;
}

void tree_push(struct tree_walk *w, struct tree_node *node)
{
    w->stopped |= !LB_PUSH(&w->open, node);
    for (size_t i = w->open.count - 1; i && w->open.at[(i - 1) / 2]->bound > w->open.at[i]->bound;
         i = (i - 1) / 2)
        swap_nodes(&w->open.at[(i - 1) / 2], &w->open.at[i]);
}

struct tree_node *tree_pop(struct tree_walk *w)
{
    struct tree_node **at = w->open.at, *top = at[0];
    size_t count = --w->open.count;
    at[0] = at[count];
    for (size_t i = 0, k; (k = 2 * i + 1) < count; i = k) {
        k += k + 1 < count && at[k + 1]->bound < at[k]->bound;
        if (at[i]->bound <= at[k]->bound)
            break;
        swap_nodes(&at[i], &at[k]);
    }
    return top;
}

struct tree_node *tree_node(struct tree_walk *w, const struct tree_node *parent, double bound,
                            const struct tree_bounds *moves, size_t count)
{
    struct tree_node *node = lb_arena_alloc(&w->arena, sizeof *node);
    struct tree_bounds *kept = lb_arena_alloc(&w->arena, (count + 1) * sizeof *kept);
    if (!node || !kept) {
        w->stopped = true;
        return NULL;
    }
    if (count)
        memcpy(kept, moves, count * sizeof *kept);
    *node = (struct tree_node){.parent = parent, .bound = bound, .count = count, .moves = kept};
    return node;
}
