/* The plan: from a service map and a job's targets to what must be on the bench and in which order it comes
 * apart. Pure: plain structs in, plain structs out, no SQL, no files. Semantics: formats.md §3, whose numbers
 * stand beside the functions. Time and memory are linear in rows (times the machine words that hold the map's
 * unknown facts).
 *
 *     struct lb_plan *plan;
 *     if (lb_plan_make(&plan, &map, targets, target_count, &err)) …   // a loop: its members, file and line
 *     for (size_t i = 0; i < plan->need_count; i++) puts(plan->needs[i].article.part_type);
 *     lb_plan_free(plan);
 */
#ifndef LB_PLAN_PLAN_H
#define LB_PLAN_PLAN_H

#include "base/error.h"
#include "plan/map.h"

#include <stdbool.h>

enum lb_reason { LB_TARGET, LB_SINGLE_USE, LB_SEALING, LB_FLUID, LB_CONSUMABLE, LB_MISSED_BEFORE };
/* "target", "single-use" … as formats.md §5 spells them. */
const char *lb_reason_name(enum lb_reason reason);
const char *lb_level_name(enum lb_level level);

/* Which kind of row a need came from, and which one of the map. */
enum lb_origin_kind {
    LB_FROM_COMPONENT,
    LB_FROM_FASTENING,
    LB_FROM_FLUID,   /* a circuit's fluid or concentrate */
    LB_FROM_DILUENT, /* the rest of the mix */
    LB_FROM_CONSUMABLE,
};

/* One derivation of a need: this row, for this component, that much. */
struct lb_origin {
    enum lb_origin_kind kind;
    uint32_t index;     /* of the row in the map's array of that kind */
    uint32_t component; /* what it belongs to; LB_NO_NAME: a circuit drained for its own sake */
    uint32_t opens;   /* fluids: the opens row with the largest share; LB_NO_NAME: the circuit is a target */
    int64_t quantity; /* its part of the line; 0: another row of the same joint counts */
    bool sure;        /* through true rows only */
};

/* A line: what is needed, merged over all its origins. */
struct lb_need {
    struct lb_article article; /* spec as the first row wrote it */
    enum lb_reason reason;     /* the first that applies in the order of enum lb_reason */
    bool sure;                 /* some derivation uses true rows only; otherwise it must be asked */
    const char *key;           /* what it is for, the same from one plan to the next; unique in the plan */
    const struct lb_origin *origins;
    size_t origin_count;
    bool missed;            /* some of it was missed before, whatever the reason */
    const uint32_t *doubts; /* facts that its derivations hang on; none when sure */
    size_t doubt_count;
};

/* Why a component is in the teardown: the first row that put it there, true rows preferred. */
struct lb_cause {
    enum { LB_CAUSE_NONE, LB_CAUSE_TARGET, LB_CAUSE_ACCESS, LB_CAUSE_OPENS } kind;
    uint32_t index; /* into the targets, the map's access rows or (a circuit's) opens rows */
};

struct lb_teardown {
    uint32_t component;
    enum lb_level level;
    bool sure; /* in that state through true rows only */
    bool target;
};

struct lb_extra {
    struct lb_article article;
};

struct lb_suggestion {
    uint32_t component;
    uint32_t component_row; /* the first row with a wear interval */
    const struct lb_extra *extras;
    size_t extra_count;
};

struct lb_question {
    uint32_t fact;
    const uint32_t *settles;  /* indices into needs */
    const char *const *turns; /* what it turns on, in the words of lb_turn, sorted */
    size_t settle_count, turn_count;
};

enum lb_step_kind { LB_STEP_OFF, LB_STEP_BACK, LB_STEP_DRAIN, LB_STEP_FILL, LB_STEP_BLEED };

struct lb_step {
    enum lb_step_kind kind;
    const char *verb;
    struct lb_thing thing;
};

struct lb_plan {
    const struct lb_map *map;           /* borrowed: must outlive the plan */
    const struct lb_target *targets;    /* borrowed */
    const struct lb_teardown *teardown; /* in the order it comes apart */
    const enum lb_level *levels;        /* by component */
    const struct lb_cause *causes;      /* by component, then by circuit (component_count + circuit) */
    const struct lb_need *needs, *spares;
    const struct lb_suggestion *suggestions;
    const struct lb_question *questions;
    const uint32_t *ask_first; /* facts, in the order to look them up: when all are known, no line asks */
    bool ask_first_exact;      /* no fewer facts would do, and no order of as many settles lines sooner */
    const struct lb_step *steps;
    const char *const *tools, *const *cautions;
    const uint32_t *inspects;      /* component rows with words on what to look at, of what is disturbed */
    const uint32_t *opened;        /* circuits */
    const uint32_t *unknown_parts; /* components in the teardown that no components row describes */
    const uint32_t *dry_circuits;  /* circuits opened that no circuits row fills */
    size_t teardown_count, need_count, spare_count, suggestion_count, question_count, ask_first_count,
        step_count, tool_count, caution_count, inspect_count, opened_count, unknown_part_count,
        dry_circuit_count;
};

/* LB_DATA with words when the map contradicts itself: a loop in access, an order of work that cannot be (a
 * minimal set of rows is named), rows of one joint that differ, a freeze_to below the data. *out is NULL
 * then. */
LB_CHECK lb_status lb_plan_make(struct lb_plan **out, const struct lb_map *map,
                                const struct lb_target *targets, size_t target_count, struct lb_error *err);
void lb_plan_free(struct lb_plan *plan);

#endif
