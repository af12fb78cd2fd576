#include "basket/tree_walk.h"

#include <float.h>
#include <limits.h>
#include <math.h>

double tree_limit(const struct tree_walk *w)
{
    return w->tree->to_beat == INT64_MAX ? DBL_MAX : (double)w->tree->to_beat - 1 + TREE_SAFE;
}

void tree_fix_by_cost(struct tree_walk *w)
{
    double relaxed = basket_glpk.glp_get_obj_val(w->lp), limit = tree_limit(w);
    const struct basket_model *m = w->tree->model;
    w->fixed.count = 0;
    for (int j = 1; j <= (int)m->kinds.count; j++) {
        int stat = basket_glpk.glp_get_col_stat(w->lp, j);
        if (m->kinds.at[j - 1] == MODEL_REAL || stat == GLP_BS || stat == GLP_NS ||
            relaxed + fabs(basket_glpk.glp_get_col_dual(w->lp, j)) <= limit)
            continue;
        double at = stat == GLP_NL ? basket_glpk.glp_get_col_lb(w->lp, j) : tree_most_of(w, j);
        w->stopped |= !LB_PUSH(&w->fixed, ((struct tree_bounds){j, at, at}));
    }
}

static double rate(const struct tree_worth *own, const struct tree_worth *rank)
{
    const struct tree_worth *w = own->count ? own : rank;
    return w->count ? w->sum / w->count : 1;
}

int tree_undecided(const struct tree_walk *w)
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
        if (part <= TREE_WHOLE || part >= 1 - TREE_WHOLE)
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

void tree_learn(struct tree_walk *w, const struct tree_node *node, double rise)
{
    if (!node->count)
        return;
    int column = node->moves[0].column, rank = w->tree->model->ranks.at[column - 1];
    struct tree_worth *own = node->up ? &w->up[column] : &w->down[column],
                      *all = node->up ? &w->all_up[rank] : &w->all_down[rank];
    double worth = fmax(rise, 0) / fmax(node->part, TREE_WHOLE);
    own->sum += worth;
    own->count++;
    all->sum += worth;
    all->count++;
}

int tree_nearest_above(const struct tree_walk *w)
{
    const struct basket_model *m = w->tree->model;
    int best = 0;
    double best_part = -1;
    for (int j = 1; j <= (int)m->kinds.count; j++) {
        if (m->kinds.at[j - 1] == MODEL_REAL)
            continue;
        double value = basket_glpk.glp_get_col_prim(w->lp, j), part = value - floor(value);
        if (part <= TREE_WHOLE || part >= 1 - TREE_WHOLE)
            continue;
        part -= m->ranks.at[j - 1] == MODEL_ROUNDED;
        if (best && part <= best_part)
            continue;
        best = j;
        best_part = part;
    }
    return best;
}
