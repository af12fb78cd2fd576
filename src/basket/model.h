/* The problem as an integer program. Private to basket/.
 *
 * Columns (integer unless said otherwise), by what they stand for:
 *   open    a supplier sends a parcel
 *   row     a row of its shipping table applies (only where it has several that can)
 *   packs   so many packs of an offer: one binary for each number that covers something, or, where those are
 *           many, one for all that is needed and one that counts the packs of a part of it
 *   surplus packs of an offer beyond those, at most LB_SURPLUS_PACKS
 *   choice  an option answers its need (only where the need has several)
 *   direct  so much of an option's part is bought for its need (not integer; only where boxes may cover some)
 *   cover   so much of a need comes out of boxes (not integer)
 *   rounded what half up adds to the whole parts of a parcel's tax or of an amount in another currency: at
 *           least that, so the least that is allowed is it
 *
 * That what covers is apart from what only pads, counts no more than the need, and is linked to the supplier
 * one by one makes the relaxation tight: a supplier opens as far as it is used, not as far as it could be. */
#ifndef LB_BASKET_MODEL_H
#define LB_BASKET_MODEL_H

#include "base/vec.h"
#include "basket/answers.h"
#include "basket/draft.h"
#include "basket/lazy_glpk.h"
#include "basket/problem.h"

/* An offer under one row of its supplier's table. Column numbers; 0: there is none. */
struct model_lot {
    size_t offer, tier;
    int packs;    /* index into pack_columns of the first of `count`; counted: the column itself */
    int64_t from; /* the number of packs that the first stands for */
    int count;    /* 0: counted instead, in `packs`, with `all` for cover at once and `used` */
    int all, used, surplus;
};

struct model_tier {
    int64_t from, to, charge; /* goods from and to (inclusive; INT64_MAX: open) */
    int column;
};

struct model_seller {
    int open;
    size_t first_tier, tier_count;
};

/* What an option asks of its part. */
struct model_option {
    bool off;   /* cannot be part of anything better than what is known */
    int choice; /* 0: the need's only one that is not off */
    int direct; /* 0: all of its quantity, when it is chosen */
};

struct model_row {
    LB_VEC(int) columns;
    LB_VEC(double) values;
};

enum { MODEL_MOST_ENUMERATED = 12 }; /* numbers of packs with a column each */

enum model_kind { MODEL_BINARY, MODEL_INTEGER, MODEL_REAL };

/* What a column decides, in the order in which it is best decided. */
enum model_rank { MODEL_SELLERS, MODEL_OPTIONS, MODEL_PACKS, MODEL_SURPLUS, MODEL_ROUNDED, MODEL_RANKS };

struct basket_model {
    const struct basket_problem *problem;
    glp_prob *lp;
    LB_VEC(struct model_lot) lots; /* by offer, then tier */
    size_t *first_lot;             /* by offer, and one more for the end */
    struct model_seller *sellers;  /* by supplier */
    struct model_option *options;  /* by need and option: first_option[need] + option */
    size_t *first_option;
    int *covers; /* by content and cover: first_cover[content] + cover */
    size_t *first_cover;
    LB_VEC(int) pack_columns;
    LB_VEC(struct model_tier) tiers;
    LB_VEC(int) made;              /* by ordinal of what was to be a column: its number, or 0 */
    const bool *off;               /* by ordinal: not to be made; NULL: all are */
    struct model_row row, spare;   /* being made; room for another */
    LB_VEC(enum model_rank) ranks; /* by column, like kinds */
    enum model_rank rank;          /* of what is being added */
    LB_VEC(enum model_kind) kinds;
    double constant;
    struct lb_arena arena;
    bool failed;     /* out of memory */
    bool impossible; /* seen while it was made: some need has nothing that could meet it */
};

/* Makes it from a problem that outlives it. The caller frees it, also after a failure. Runs inside
 * basket_guarded (solve.c): what GLPK cannot do ends there. */
LB_CHECK lb_status basket_model(struct basket_model *out, const struct basket_problem *problem,
                                const bool *off, struct lb_error *err);
void basket_model_free(struct basket_model *model);
/* No model of the problem has more columns, or ordinals. */
size_t model_most_columns(const struct basket_problem *problem);

/* model.c: how columns and rows are added, for the files of the model. */
/* 0 when the next ordinal is off. */
int model_column(struct basket_model *m, enum model_kind kind, double most, double cost);
bool model_next_off(const struct basket_model *m);
void model_skip(struct basket_model *m);                           /* an ordinal that becomes no column */
void model_term(struct basket_model *m, int column, double value); /* of the row being made */
/* Ends the row: at least `least`, at most `most` (infinite: none); terms × scale. */
void model_end_row(struct basket_model *m, double least, double most, double scale);
/* What an option asks of its part: value × column (0: × 1). */
double model_amount(const struct basket_model *m, size_t need, size_t option, int *column);

/* model_sellers.c, model_offers.c, model_needs.c, model_parts.c, model_surplus.c */
void model_add_sellers(struct basket_model *m);
void model_add_offers(struct basket_model *m);
void model_add_needs(struct basket_model *m);
void model_add_contents(struct basket_model *m);
void model_meet_needs(struct basket_model *m);
void model_add_parts(struct basket_model *m);
void model_bound_surplus(struct basket_model *m, uint32_t part);
/* What a part is wanted for after boxes, as negative terms of the row being made; what is wanted anyhow comes
 * back. */
double model_wanted_terms(struct basket_model *m, uint32_t part);
void model_close_sellers(struct basket_model *m); /* rows that need all columns */
/* Links that the values of `lp` break (what is sent without its tier being open), as rows of it: there are
 * too many to have them all from the beginning. How many came. */
int model_add_links(const struct basket_model *m, glp_prob *lp);
#define MODEL_SLACK 1e-6
/* The first lot of a part, and the one after its last. */
size_t model_first_lot(const struct basket_model *m, uint32_t part);
size_t model_end_lot(const struct basket_model *m, uint32_t part);
/* Adds what a lot counts for, a pack so much but all of it no more than `most`, as terms of the row being
 * made. What only pads counts as well when `surplus`. */
void model_count_packs(struct basket_model *m, const struct model_lot *lot, double pack, double most,
                       bool surplus);

/* model_values.c. `values` are by column, from 1 on. */
double model_value(glp_prob *lp, int column); /* in the last solution; 0 for no column */
/* What the whole values of the model's lp buy, choose and take out of boxes. */
void model_read_solution(const struct basket_model *m, struct basket_solution *out, size_t covers);
/* Sets a draft's suppliers, options and pins to what the values are nearest to. */
void model_take_draft(const struct basket_model *m, const double *values, struct draft *draft);

#endif
