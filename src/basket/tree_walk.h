/* A search under way: where it is in its tree, what is open, what deciding has cost so far. Private to
 * basket/. */
#ifndef LB_BASKET_TREE_WALK_H
#define LB_BASKET_TREE_WALK_H

#include "basket/tree.h"

#define TREE_WHOLE 1e-6 /* how far from a whole number still is one */
#define TREE_SAFE  1e-4 /* of a minor unit: what the solver may be wrong by */

/* Bounds of a column, as a decision narrows them. */
struct tree_bounds {
    int column;
    double least, most;
};

/* A node differs from its parent by some bounds; those of all its ancestors hold as well. */
struct tree_node {
    const struct tree_node *parent;
    double bound; /* of its parent's relaxation */
    size_t count;
    const struct tree_bounds *moves;
    bool up; /* how it was decided on its (last) column, of which so much was missing */
    double part;
};

/* What deciding on a column one way has cost so far: the bound rises, a unit. */
struct tree_worth {
    double sum;
    int count;
};

struct tree_walk {
    struct tree *tree;
    glp_prob *lp;
    struct lb_arena arena;
    LB_VEC(struct tree_node *) open;    /* a heap, the least bound first */
    LB_VEC(struct tree_bounds) changed; /* the root's bounds of what was narrowed since */
    LB_VEC(struct tree_bounds) fixed;   /* being collected */
    struct tree_worth *down, *up;       /* by column */
    struct tree_worth all_down[MODEL_RANKS], all_up[MODEL_RANKS];
    bool stopped;
};

/* tree_nodes.c */
double tree_most_of(const struct tree_walk *walk, int column); /* its upper bound; INFINITY: none */
void tree_narrow(struct tree_walk *walk, const struct tree_bounds *move);
/* The bounds of the root (NULL), then those of the node's ancestors, then its own. */
void tree_go_to(struct tree_walk *walk, const struct tree_node *node);
/* With a copy of the moves; NULL: out of memory, and the walk is stopped. */
struct tree_node *tree_node(struct tree_walk *walk, const struct tree_node *parent, double bound,
                            const struct tree_bounds *moves, size_t count);
void tree_push(struct tree_walk *walk, struct tree_node *node);
struct tree_node *tree_pop(struct tree_walk *walk); /* of the least bound; some must be open */

/* tree_branch.c */
double tree_limit(const struct tree_walk *walk); /* what cannot be beaten: a price is a whole number */
/* The column to decide on: suppliers first, then options and packs, then surplus and what is rounded; of
 * these the one that lifts the bound most, whichever way it goes; 0: all are whole. */
int tree_undecided(const struct tree_walk *walk);
/* The column that is nearest to the whole number above it; what is rounded comes last. 0: all are whole. */
int tree_nearest_above(const struct tree_walk *walk);
/* What a decision was worth: the node's relaxation is `rise` above its parent's. */
void tree_learn(struct tree_walk *walk, const struct tree_node *node, double rise);
/* Fills `fixed` with the columns whose cost alone keeps them where they rest. */
void tree_fix_by_cost(struct tree_walk *walk);

#endif
