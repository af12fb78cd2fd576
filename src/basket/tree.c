#include "basket/tree.h"

#include "basket/solver.h"

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    SUGGEST_EVERY = 64,
    DIVE_EVERY = 16, /* times that it starts from the best open node */
    DEEPEST = 100,
    MOST_STEPS = 3000, /* of the dual simplex from where it was: it can go round in circles */
};

#define WHOLE 1e-6 /* how far from a whole number still is one */
#define SAFE  1e-4 /* of a minor unit: what the solver may be wrong by */

/* Bounds of a column, as a decision narrows them. */
struct bounds {
    int column;
    double least, most;
};

/* A node differs from its parent by some bounds; those of all its ancestors hold as well. */
struct node {
    const struct node *parent;
    double bound; /* of its parent's relaxation */
    size_t count;
    const struct bounds *moves;
    bool up; /* how it was decided on its (last) column, of which so much was missing */
    double part;
};

/* What deciding on a column one way has cost so far: the bound rises, a unit. */
struct worth {
    double sum;
    int count;
};

struct walk {
    struct tree *tree;
    glp_prob *lp;
    struct lb_arena arena;
    LB_VEC(struct node *) open;    /* a heap, the least bound first */
    LB_VEC(struct bounds) changed; /* the root's bounds of what was narrowed since */
    LB_VEC(struct bounds) fixed;   /* being collected */
    struct worth *down, *up;       /* by column */
    struct worth all_down[MODEL_RANKS], all_up[MODEL_RANKS];
    bool stopped;
};

static void set_bounds(struct walk *w, int column, double least, double most)
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

static double most_of(const struct walk *w, int column)
{
    double most = basket_glpk.glp_get_col_ub(w->lp, column);
    return most > 1e300 ? INFINITY : most;
}

static void narrow(struct walk *w, const struct bounds *move)
{
    struct bounds before = {move->column, basket_glpk.glp_get_col_lb(w->lp, move->column),
                            most_of(w, move->column)};
    w->stopped |= !LB_PUSH(&w->changed, before);
    if (!w->stopped)
        set_bounds(w, move->column, move->least, move->most);
}

/* The bounds of the root, then those of the node's ancestors, then its own. */
static void go_to(struct walk *w, const struct node *node)
{
    while (w->changed.count) {
        const struct bounds *b = &w->changed.at[--w->changed.count];
        set_bounds(w, b->column, b->least, b->most);
    }
    LB_VEC(const struct node *) path = {0};
    for (; node; node = node->parent)
        w->stopped |= !LB_PUSH(&path, node);
    for (size_t i = path.count; i-- > 0;)
        for (size_t k = 0; k < path.at[i]->count; k++)
            narrow(w, &path.at[i]->moves[k]);
    free(path.at);
}

static void swap_nodes(struct node **a, struct node **b)
{
    struct node *kept = *a;
    *a = *b;
    *b = kept;
}

static void push_node(struct walk *w, struct node *node)
{
    w->stopped |= !LB_PUSH(&w->open, node);
    for (size_t i = w->open.count - 1; i && w->open.at[(i - 1) / 2]->bound > w->open.at[i]->bound;
         i = (i - 1) / 2)
        swap_nodes(&w->open.at[(i - 1) / 2], &w->open.at[i]);
}

static struct node *pop_node(struct walk *w)
{
    struct node **at = w->open.at, *top = at[0];
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

/* What cannot be beaten: a price is a whole number. */
static double limit_of(const struct walk *w)
{
    return w->tree->to_beat == INT64_MAX ? DBL_MAX : (double)w->tree->to_beat - 1 + SAFE;
}

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
static bool relax(struct walk *w)
{
    glp_smcp settings;
    basket_glpk.glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.meth = GLP_DUAL;
    double limit = limit_of(w);
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

/* Columns whose cost alone keeps them where they rest. */
static void fix_by_cost(struct walk *w)
{
    double relaxed = basket_glpk.glp_get_obj_val(w->lp), limit = limit_of(w);
    const struct basket_model *m = w->tree->model;
    w->fixed.count = 0;
    for (int j = 1; j <= (int)m->kinds.count; j++) {
        int stat = basket_glpk.glp_get_col_stat(w->lp, j);
        if (m->kinds.at[j - 1] == MODEL_REAL || stat == GLP_BS || stat == GLP_NS ||
            relaxed + fabs(basket_glpk.glp_get_col_dual(w->lp, j)) <= limit)
            continue;
        double at = stat == GLP_NL ? basket_glpk.glp_get_col_lb(w->lp, j) : most_of(w, j);
        w->stopped |= !LB_PUSH(&w->fixed, ((struct bounds){j, at, at}));
    }
}

static double rate(const struct worth *own, const struct worth *rank)
{
    const struct worth *w = own->count ? own : rank;
    return w->count ? w->sum / w->count : 1;
}

/* The column to decide on: suppliers first, then options and packs, then surplus and what is rounded; of
 * these the one that lifts the bound most, whichever way it goes; 0: all are whole. */
static int undecided(const struct walk *w)
{
    const struct basket_model *m = w->tree->model;
    int best = 0, best_rank = INT_MAX;
    double best_score = -1;
    for (int j = 1; j <= (int)m->kinds.count; j++) {
        int rank = m->ranks.at[j - 1];
        int group = rank < MODEL_SURPLUS && rank > MODEL_SELLERS ? MODEL_PACKS : rank;
        if (m->kinds.at[j - 1] == MODEL_REAL || group > best_rank)
            continue;
        double value = basket_glpk.glp_get_col_prim(w->lp, j), part = value - floor(value);
        if (part <= WHOLE || part >= 1 - WHOLE)
            continue;
        double down = part * rate(&w->down[j], &w->all_down[rank]),
               up = (1 - part) * rate(&w->up[j], &w->all_up[rank]);
        double score = fmax(down, 1e-3) * fmax(up, 1e-3);
        if (group == best_rank && score <= best_score)
            continue;
        best = j;
        best_rank = group;
        best_score = score;
    }
    return best;
}

static void learn(struct walk *w, const struct node *node, double rise)
{
    if (!node->count)
        return;
    int column = node->moves[0].column, rank = w->tree->model->ranks.at[column - 1];
    struct worth *own = node->up ? &w->up[column] : &w->down[column],
                 *all = node->up ? &w->all_up[rank] : &w->all_down[rank];
    double worth = fmax(rise, 0) / fmax(node->part, WHOLE);
    own->sum += worth;
    own->count++;
    all->sum += worth;
    all->count++;
}

static void beat(struct walk *w, int64_t price)
{
    if (price < w->tree->to_beat)
        w->tree->to_beat = price;
}

static struct node *new_node(struct walk *w, const struct node *parent, double bound,
                             const struct bounds *moves, size_t count)
{
    struct node *node = lb_arena_alloc(&w->arena, sizeof *node);
    struct bounds *kept = lb_arena_alloc(&w->arena, (count + 1) * sizeof *kept);
    if (!node || !kept) {
        w->stopped = true;
        return NULL;
    }
    if (count)
        memcpy(kept, moves, count * sizeof *kept);
    *node = (struct node){.parent = parent, .bound = bound, .count = count, .moves = kept};
    return node;
}

/* Decides on a column: up first, since that settles more and so ends sooner; the other way is kept for later.
 * NULL: out of memory. */
static struct node *decide(struct walk *w, const struct node *node, int column)
{
    double bound = basket_glpk.glp_get_obj_val(w->lp), value = basket_glpk.glp_get_col_prim(w->lp, column),
           below = floor(value), part = value - below;
    struct bounds down = {column, basket_glpk.glp_get_col_lb(w->lp, column), below},
                  up = {column, below + 1, most_of(w, column)};
    fix_by_cost(w);
    struct node *base = new_node(w, node, bound, w->fixed.at, w->fixed.count);
    struct node *near = base ? new_node(w, base, bound, &up, 1) : NULL;
    struct node *far = near ? new_node(w, base, bound, &down, 1) : NULL;
    if (!far)
        return NULL;
    near->up = true, near->part = 1 - part;
    far->part = part;
    push_node(w, far);
    for (size_t i = 0; i < base->count; i++)
        narrow(w, &base->moves[i]);
    narrow(w, near->moves);
    return near;
}

static bool time_to_suggest(long nodes)
{
    return nodes % SUGGEST_EVERY == 0 || (nodes & (nodes - 1)) == 0;
}

/* From a node down to where nothing can be better any more. */
static void plunge(struct walk *w, const struct node *node)
{
    while (node && !w->stopped) {
        w->tree->nodes++;
        bool open = relax(w);
        if (w->stopped)
            push_node(w, (struct node *)node);
        double rises_to = open ? basket_glpk.glp_get_obj_val(w->lp) : (double)w->tree->to_beat;
        learn(w, node, rises_to - node->bound);
        if (!open)
            return;
        if (time_to_suggest(w->tree->nodes))
            beat(w, w->tree->suggest(w->tree->context, w->lp));
        if (basket_glpk.glp_get_obj_val(w->lp) > limit_of(w))
            return;
        int column = undecided(w);
        if (!column) {
            beat(w, w->tree->take(w->tree->context, w->lp));
            return;
        }
        node = decide(w, node, column);
        if (node && basket_now() >= w->tree->until) {
            push_node(w, (struct node *)node);
            w->stopped = true;
        }
    }
}

/* The column that is nearest to the whole number above it; what is rounded comes last. 0: all are whole. */
static int nearest_above(const struct walk *w)
{
    const struct basket_model *m = w->tree->model;
    int best = 0;
    double best_part = -1;
    for (int j = 1; j <= (int)m->kinds.count; j++) {
        if (m->kinds.at[j - 1] == MODEL_REAL)
            continue;
        double value = basket_glpk.glp_get_col_prim(w->lp, j), part = value - floor(value);
        if (part <= WHOLE || part >= 1 - WHOLE)
            continue;
        part -= m->ranks.at[j - 1] == MODEL_ROUNDED;
        if (best && part <= best_part)
            continue;
        best = j;
        best_part = part;
    }
    return best;
}

/* From where the walk is straight down, each time to what the relaxation is nearest to: bad for a proof, good
 * for a basket to beat. */
static void dive(struct walk *w)
{
    for (int depth = 0; depth < DEEPEST && relax(w); depth++) {
        int column = nearest_above(w);
        if (!column) {
            beat(w, w->tree->take(w->tree->context, w->lp));
            return;
        }
        double up = floor(basket_glpk.glp_get_col_prim(w->lp, column)) + 1;
        narrow(w, &(struct bounds){column, up, most_of(w, column)});
    }
}

/* The best of what is open: now and then a dive from there, then all that comes of it. */
static void go_on(struct walk *w, long walks)
{
    const struct node *node = pop_node(w);
    go_to(w, node);
    if (walks % DIVE_EVERY == 0) {
        dive(w);
        go_to(w, node);
    }
    if (w->stopped)
        push_node(w, (struct node *)node);
    else
        plunge(w, node);
}

void tree_search(struct tree *tree)
{
    struct walk w = {.tree = tree, .lp = tree->model->lp};
    size_t count = tree->model->kinds.count + 1;
    w.down = calloc(count, sizeof *w.down);
    w.up = calloc(count, sizeof *w.up);
    struct node *root = new_node(&w, NULL, basket_glpk.glp_get_obj_val(w.lp), NULL, 0);
    w.stopped |= !w.down || !w.up;
    if (!w.stopped)
        push_node(&w, root);
    for (long walks = 0; w.open.count && !w.stopped && w.open.at[0]->bound <= limit_of(&w); walks++)
        go_on(&w, walks);
    tree->complete = !w.stopped;
    tree->bound = w.open.count ? w.open.at[0]->bound : INFINITY;
    go_to(&w, NULL);
    free(w.open.at);
    free(w.changed.at);
    free(w.fixed.at);
    free(w.down);
    free(w.up);
    lb_arena_free(&w.arena);
}
