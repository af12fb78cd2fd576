#include "basket/solver.h"
#include "basket/tree_walk.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

enum {
    SUGGEST_EVERY = 64,
    DIVE_EVERY = 16, /* times that it starts from the best open node */
    DEEPEST = 100,
    MOST_STEPS = 3000, /* of the dual simplex from where it was: it can go round in circles */
};

int tree_time(double until)
{
    return (int)fmin(fmax((until - basket_now()) * 1000, 1), INT_MAX);
}

int tree_simplex(glp_prob *lp, const glp_smcp *settings)
{
    glp_smcp limited = *settings;
    limited.it_lim = MOST_STEPS;
    int result = basket_glpk.glp_simplex(lp, &limited);
    if (!result || result == GLP_EOBJUL || result == GLP_ETMLIM)
        return result;
    limited.it_lim = INT_MAX;
    limited.meth = GLP_PRIMAL;
    basket_glpk.glp_std_basis(lp);
    return basket_glpk.glp_simplex(lp, &limited);
}

/* True: solved, and it may still hold something better. */
static bool relax(struct tree_walk *w)
{
    glp_smcp settings;
    basket_glpk.glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.meth = GLP_DUAL;
    double limit = tree_limit(w);
    settings.obj_ul = limit;
    settings.tm_lim = tree_time(w->tree->until);
    int result, status;
    do {
        result = tree_simplex(w->lp, &settings);
        status = basket_glpk.glp_get_status(w->lp);
        if (result == GLP_EOBJUL)
            return false;
        w->stopped |= result != 0;
    } while (!result && status == GLP_OPT && basket_glpk.glp_get_obj_val(w->lp) < limit &&
             model_add_links(w->tree->model, w->lp));
    return !result && status == GLP_OPT && basket_glpk.glp_get_obj_val(w->lp) < limit;
}

static void beat(struct tree_walk *w, int64_t price)
{
    if (price < w->tree->to_beat)
        w->tree->to_beat = price;
}

/* Decides on a column: up first, since that settles more and so ends sooner; the other way is kept for later.
 * NULL: out of memory. */
static struct tree_node *decide(struct tree_walk *w, const struct tree_node *node, int column)
{
    double bound = basket_glpk.glp_get_obj_val(w->lp), value = basket_glpk.glp_get_col_prim(w->lp, column),
           below = floor(value), part = value - below;
    struct tree_bounds down = {column, basket_glpk.glp_get_col_lb(w->lp, column), below},
                       up = {column, below + 1, tree_most_of(w, column)};
    tree_fix_by_cost(w);
    struct tree_node *base = tree_node(w, node, bound, w->fixed.at, w->fixed.count);
    struct tree_node *near = base ? tree_node(w, base, bound, &up, 1) : NULL;
    struct tree_node *far = near ? tree_node(w, base, bound, &down, 1) : NULL;
    if (!far)
        return NULL;
    near->up = true, near->part = 1 - part;
    far->part = part;
    tree_push(w, far);
    for (size_t i = 0; i < base->count; i++)
        tree_narrow(w, &base->moves[i]);
    tree_narrow(w, near->moves);
    return near;
}

static bool time_to_suggest(long nodes)
{
    return nodes % SUGGEST_EVERY == 0 || (nodes & (nodes - 1)) == 0;
}

/* From a node down to where nothing can be better any more. */
static void plunge(struct tree_walk *w, const struct tree_node *node)
{
    while (node && !w->stopped) {
        w->tree->nodes++;
        bool open = relax(w);
        if (w->stopped)
            tree_push(w, (struct tree_node *)node);
        double rises_to = open ? basket_glpk.glp_get_obj_val(w->lp) : (double)w->tree->to_beat;
        tree_learn(w, node, rises_to - node->bound);
        if (!open)
            return;
        if (time_to_suggest(w->tree->nodes))
            beat(w, w->tree->suggest(w->tree->context, w->lp));
        if (basket_glpk.glp_get_obj_val(w->lp) > tree_limit(w))
            return;
        int column = tree_undecided(w);
        if (!column) {
            beat(w, w->tree->take(w->tree->context, w->lp));
            return;
        }
        node = decide(w, node, column);
        if (node && basket_now() >= w->tree->until) {
            tree_push(w, (struct tree_node *)node);
            w->stopped = true;
        }
    }
}

/* From where the walk is straight down, each time to what the relaxation is nearest to: bad for a proof, good
 * for a basket to beat. */
static void dive(struct tree_walk *w)
{
    for (int depth = 0; depth < DEEPEST && relax(w); depth++) {
        int column = tree_nearest_above(w);
        if (!column) {
            beat(w, w->tree->take(w->tree->context, w->lp));
            return;
        }
        double up = floor(basket_glpk.glp_get_col_prim(w->lp, column)) + 1;
        tree_narrow(w, &(struct tree_bounds){column, up, tree_most_of(w, column)});
    }
}

/* The best of what is open: now and then a dive from there, then all that comes of it. */
static void go_on(struct tree_walk *w, long walks)
{
    const struct tree_node *node = tree_pop(w);
    tree_go_to(w, node);
    if (walks % DIVE_EVERY == 0) {
        dive(w);
        tree_go_to(w, node);
    }
    if (w->stopped)
        tree_push(w, (struct tree_node *)node);
    else
        plunge(w, node);
}

void tree_search(struct tree *tree)
{
    struct tree_walk w = {.tree = tree, .lp = tree->model->lp};
    size_t count = tree->model->kinds.count + 1;
    w.down = calloc(count, sizeof *w.down);
    w.up = calloc(count, sizeof *w.up);
    struct tree_node *root = tree_node(&w, NULL, basket_glpk.glp_get_obj_val(w.lp), NULL, 0);
    w.stopped |= !w.down || !w.up;
    if (!w.stopped)
        tree_push(&w, root);
    for (long walks = 0; w.open.count && !w.stopped && w.open.at[0]->bound <= tree_limit(&w); walks++)
        go_on(&w, walks);
    tree->complete = !w.stopped;
    tree->bound = w.open.count ? w.open.at[0]->bound : INFINITY;
    tree_go_to(&w, NULL);
    free(w.open.at);
    free(w.changed.at);
    free(w.fixed.at);
    free(w.down);
    free(w.up);
    lb_arena_free(&w.arena);
}
