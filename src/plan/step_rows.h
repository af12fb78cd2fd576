/* What belongs to which step of the work: the fastenings that are undone there and go back at its
 * counterpart, what is used, looked at and minded, the fluids. Pure.
 *
 *     struct lb_step_rows *rows;
 *     if (lb_step_rows_make(&rows, plan, &err)) …
 *     for (uint32_t i = rows->start[step]; i < rows->start[step + 1]; i++)
 *         if (rows->at[i].kind == LB_ROW_FASTENED && rows->at[i].roles & LB_COMES_OUT) …
 *     lb_step_rows_free(rows);
 *
 * A component that is removed comes off, and goes back, at its own pair of steps. Where a sequence row made a
 * step of loosening or tightening, what is undone at `loosened` (hardware, as a rule) is undone and tightened
 * there; it still comes out and goes in with the component. */
#ifndef LB_PLAN_STEP_ROWS_H
#define LB_PLAN_STEP_ROWS_H

#include "plan/plan.h"

#define LB_NO_STEP UINT32_MAX

/* A fastening that is disturbed, or one joint: rows that hold several components and are undone once. */
struct lb_fastened {
    const uint32_t *rows; /* in the map's fastenings, in its order */
    size_t row_count;
    enum lb_reuse reuse;             /* the strictest of them */
    int64_t quantity;                /* the largest */
    uint32_t undone, out, in, tight; /* steps; of a joint the first off and the last on */
};

enum lb_step_row_kind {
    LB_ROW_CAUTION,    /* index: a caution of the map; at the first step of what it is about */
    LB_ROW_SEQUENCE,   /* a sequence row; at its first step; `other` is the step that comes later */
    LB_ROW_RENEWED,    /* a need with reason LB_TARGET; off and back */
    LB_ROW_CIRCUIT,    /* a circuits row; at drain, fill and bleed */
    LB_ROW_FASTENED,   /* lb_step_rows.fastened */
    LB_ROW_CONSUMABLE, /* a consumables row; off and back */
    LB_ROW_INSPECT,    /* a components row with words on what to look at; off */
};

/* Bits; a step has one entry for each row, with all that happens to it there. */
enum lb_step_role { LB_IS_UNDONE = 1, LB_COMES_OUT = 2, LB_GOES_IN = 4, LB_IS_TIGHTENED = 8 };

struct lb_step_row {
    enum lb_step_row_kind kind;
    uint32_t index;
    unsigned roles; /* LB_ROW_FASTENED: those above; else LB_COMES_OUT on the way off, LB_GOES_IN on the way
                       back */
    uint32_t other; /* LB_ROW_SEQUENCE */
};

struct lb_step_rows {
    const uint32_t *start;        /* step_count + 1 of them */
    const struct lb_step_row *at; /* by step, then in the order of the kinds, then of the map */
    const struct lb_fastened *fastened;
    size_t fastened_count;
};

/* LB_NOMEM is all that can go wrong. */
LB_CHECK lb_status lb_step_rows_make(struct lb_step_rows **out, const struct lb_plan *plan,
                                     struct lb_error *err);
void lb_step_rows_free(struct lb_step_rows *rows);

#endif
