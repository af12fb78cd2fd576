/* GLPK, opened when it is first needed (base/lazy.h): include this instead of its own header, and call
 * basket_glpk_load before the first of its functions. Private to basket/. */
#ifndef LB_BASKET_LAZY_GLPK_H
#define LB_BASKET_LAZY_GLPK_H

#define GLP_UNDOC /* the generators of cuts */
#include <glpk.h>
#include <stdbool.h>

#define BASKET_GLPK_FUNCTIONS(X)                                                                             \
    X(glp_add_cols)                                                                                          \
    X(glp_add_rows)                                                                                          \
    X(glp_create_prob)                                                                                       \
    X(glp_del_rows)                                                                                          \
    X(glp_delete_prob)                                                                                       \
    X(glp_error_hook)                                                                                        \
    X(glp_factorize)                                                                                         \
    X(glp_free_env)                                                                                          \
    X(glp_get_col_dual)                                                                                      \
    X(glp_get_col_lb)                                                                                        \
    X(glp_get_col_prim)                                                                                      \
    X(glp_get_col_stat)                                                                                      \
    X(glp_get_col_ub)                                                                                        \
    X(glp_get_mat_row)                                                                                       \
    X(glp_get_num_cols)                                                                                      \
    X(glp_get_num_rows)                                                                                      \
    X(glp_get_obj_coef)                                                                                      \
    X(glp_get_obj_val)                                                                                       \
    X(glp_get_row_lb)                                                                                        \
    X(glp_get_row_stat)                                                                                      \
    X(glp_get_row_type)                                                                                      \
    X(glp_get_row_ub)                                                                                        \
    X(glp_get_status)                                                                                        \
    X(glp_gmi_gen)                                                                                           \
    X(glp_init_smcp)                                                                                         \
    X(glp_mir_free)                                                                                          \
    X(glp_mir_gen)                                                                                           \
    X(glp_mir_init)                                                                                          \
    X(glp_scale_prob)                                                                                        \
    X(glp_set_col_bnds)                                                                                      \
    X(glp_set_col_kind)                                                                                      \
    X(glp_set_col_stat)                                                                                      \
    X(glp_set_mat_row)                                                                                       \
    X(glp_set_obj_coef)                                                                                      \
    X(glp_set_obj_dir)                                                                                       \
    X(glp_set_row_bnds)                                                                                      \
    X(glp_simplex)                                                                                           \
    X(glp_std_basis)                                                                                         \
    X(glp_term_out)

#define BASKET_GLPK_POINTER(function) __typeof__(function) *function;
struct basket_glpk_functions {
    BASKET_GLPK_FUNCTIONS(BASKET_GLPK_POINTER)
};
extern struct basket_glpk_functions basket_glpk;

/* False: it is not installed. */
bool basket_glpk_load(void);

#endif
