/* The search: a tree of decisions over the columns of a model, each node a relaxation that GLPK solves from
 * where the last one ended. Depth first, since the price to beat is good from the beginning: what cannot beat
 * it is cut off, and what could not be part of anything that does is fixed on the way down. Private to
 * basket/. */
#ifndef LB_BASKET_TREE_H
#define LB_BASKET_TREE_H

#include "basket/model.h"

struct tree {
    const struct basket_model *model;
    int64_t to_beat; /* only solutions below this price are looked for */
    double until;    /* by basket_now */
    /* Called at some nodes: something better may be found by other means, from the values of the relaxation;
     * it then returns its price, else INT64_MAX. */
    int64_t (*suggest)(void *context, glp_prob *lp);
    /* Called with a solution that beats to_beat; values are those of lp. Returns its price. */
    int64_t (*take)(void *context, glp_prob *lp);
    void *context;
    /* What came of it. */
    bool complete; /* all was searched: nothing is better than what was taken or suggested last */
    double bound;  /* not complete: of what was not searched */
    long nodes;
};

/* The model's relaxation must have been solved. The bounds of the model's columns are as before afterwards.
 */
void tree_search(struct tree *tree);
/* What is left until then, in milliseconds, at least one. */
int tree_time(double until);
/* glp_simplex, and where that does not get through, the primal method from the beginning. */
int tree_simplex(glp_prob *lp, const glp_smcp *settings);
/* Adds cuts to a model whose relaxation is solved, and solves it again; cuts that hold nothing are dropped.
 * False: no solution is left. Where time is up, lp has no
 * solution afterwards. */
bool tree_cut(const struct tree *tree);

#endif
