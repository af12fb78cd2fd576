/* Cuts of the root: GLPK's own generators of Gomory's mixed-integer and of mixed-integer rounding cuts, round
 * by round as long as the bound moves. */
#include "basket/tree.h"

#include "basket/solver.h"

#include <math.h>
#include <stdlib.h>

enum { ROUNDS = 30, MOST_TERMS = 400, MOST_GOMORY = 50 };

#define POOR   0.01 /* of the gap that is left: with less than that a round does not pay */
#define WIDEST 1e5  /* of the factors in a cut: what is further apart came of a division by almost nothing */

/* The generators sometimes give rows with factors of 10^16 beside 1 that cut off what they should keep. */
static bool is_sound(const double *values, int count)
{
    double most = 0, least = INFINITY;
    for (int k = 1; k <= count; k++) {
        most = fmax(most, fabs(values[k]));
        least = fmin(least, fabs(values[k]));
    }
    return most <= WIDEST * least;
}

static void copy_row(glp_prob *lp, glp_prob *pool, int i, int *columns, double *values)
{
    int count = basket_glpk.glp_get_mat_row(pool, i, columns, values);
    if (count > MOST_TERMS || !is_sound(values, count))
        return;
    int row = basket_glpk.glp_add_rows(lp, 1);
    basket_glpk.glp_set_mat_row(lp, row, count, columns, values);
    basket_glpk.glp_set_row_bnds(lp, row, basket_glpk.glp_get_row_type(pool, i),
                                 basket_glpk.glp_get_row_lb(pool, i), basket_glpk.glp_get_row_ub(pool, i));
}

static int add_pool(glp_prob *lp, glp_prob *pool)
{
    int columns = basket_glpk.glp_get_num_cols(lp), rows = basket_glpk.glp_get_num_rows(pool);
    int *indices = malloc(((size_t)columns + 1) * sizeof *indices);
    double *values = malloc(((size_t)columns + 1) * sizeof *values);
    for (int i = 1; indices && values && i <= rows; i++)
        copy_row(lp, pool, i, indices, values);
    free(indices);
    free(values);
    return rows;
}

static int generate(glp_prob *lp)
{
    glp_prob *pool = basket_glpk.glp_create_prob();
    basket_glpk.glp_add_cols(pool, basket_glpk.glp_get_num_cols(lp));
    basket_glpk.glp_gmi_gen(lp, pool, MOST_GOMORY);
    glp_mir *rounding = basket_glpk.glp_mir_init(lp);
    basket_glpk.glp_mir_gen(lp, rounding, pool);
    basket_glpk.glp_mir_free(rounding);
    int added = add_pool(lp, pool);
    basket_glpk.glp_delete_prob(pool);
    return added;
}

/* Rows from `first` on that the solution does not rest on only cost time. */
static void drop_slack(glp_prob *lp, int first)
{
    int rows = basket_glpk.glp_get_num_rows(lp), count = 0;
    int *slack = malloc(((size_t)rows + 1) * sizeof *slack);
    for (int i = first; slack && i <= rows; i++)
        if (basket_glpk.glp_get_row_stat(lp, i) == GLP_BS)
            slack[++count] = i;
    if (count) {
        basket_glpk.glp_del_rows(lp, count, slack);
        basket_glpk.glp_factorize(lp);
    }
    free(slack);
}

/* Solved, with the links that it breaks. */
static bool solve_again(const struct tree *tree)
{
    glp_prob *lp = tree->model->lp;
    glp_smcp settings;
    basket_glpk.glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.meth = GLP_DUAL;
    do {
        settings.tm_lim = tree_time(tree->until);
        if (tree_simplex(lp, &settings) || basket_glpk.glp_get_status(lp) != GLP_OPT)
            return false;
    } while (model_add_links(tree->model, lp));
    return true;
}

/* Back to what was before the first cut, unless it is known that nothing is left. */
static bool give_up(const struct tree *tree, int first)
{
    glp_prob *lp = tree->model->lp;
    if (basket_glpk.glp_get_status(lp) == GLP_NOFEAS)
        return false;
    int count = 0, rows = basket_glpk.glp_get_num_rows(lp), *all = malloc(((size_t)rows + 1) * sizeof *all);
    for (int i = first; all && i <= rows; i++)
        all[++count] = i;
    if (count)
        basket_glpk.glp_del_rows(lp, count, all);
    free(all);
    basket_glpk.glp_std_basis(lp);
    return solve_again(tree) || basket_glpk.glp_get_status(lp) != GLP_NOFEAS;
}

bool tree_cut(const struct tree *tree)
{
    glp_prob *lp = tree->model->lp;
    int first = basket_glpk.glp_get_num_rows(lp) + 1;
    double before = basket_glpk.glp_get_obj_val(lp), target = (double)tree->to_beat;
    bool pays = true;
    for (int round = 0; round < ROUNDS && pays && before < target; round++) {
        if (basket_now() >= tree->until || !generate(lp))
            break;
        if (!solve_again(tree))
            return give_up(tree, first);
        drop_slack(lp, first);
        double after = basket_glpk.glp_get_obj_val(lp);
        pays = after - before >= POOR * (target - before);
        before = after;
    }
    return true;
}
