/* Cuts of the root: GLPK's own generators, a few rounds of each as long as the bound moves. Not its cover
 * cuts: of version 5.0 some cut off solutions of these models (tests/unit/test_basket_exact.c found it). */
#include "basket/tree.h"

#include "basket/solver.h"

#include <stdlib.h>

enum { ROUNDS = 12, MOST_TERMS = 400, MOST_GOMORY = 50 };

static void copy_row(glp_prob *lp, glp_prob *pool, int i, int *columns, double *values)
{
    int count = basket_glpk.glp_get_mat_row(pool, i, columns, values);
    if (count > MOST_TERMS)
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

static int generate(glp_prob *lp, bool gomory)
{
    glp_prob *pool = basket_glpk.glp_create_prob();
    basket_glpk.glp_add_cols(pool, basket_glpk.glp_get_num_cols(lp));
    if (gomory)
        basket_glpk.glp_gmi_gen(lp, pool, MOST_GOMORY);
    int added = add_pool(lp, pool);
    basket_glpk.glp_delete_prob(pool);
    return added;
}

void tree_cut(const struct basket_model *m, bool gomory, double until)
{
    glp_smcp settings;
    basket_glpk.glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.meth = GLP_DUAL;
    double before = basket_glpk.glp_get_obj_val(m->lp);
    for (int round = 0; round < ROUNDS && basket_now() < until; round++) {
        if (!generate(m->lp, gomory))
            break;
        settings.tm_lim = tree_time(until);
        do {
            if (tree_simplex(m->lp, &settings) || basket_glpk.glp_get_status(m->lp) != GLP_OPT)
                return;
        } while (model_add_links(m, m->lp));
        double after = basket_glpk.glp_get_obj_val(m->lp);
        if (after - before < 0.5)
            break;
        before = after;
    }
}
