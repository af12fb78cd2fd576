/* What the stages of one plan share while it is made. Private to plan/. */
#ifndef LB_PLAN_WORK_H
#define LB_PLAN_WORK_H

#include "base/arena.h"
#include "base/buf.h"
#include "base/names.h"
#include "base/vec.h"
#include "plan/plan.h"
#include "plan/trial.h"
#include "plan/ways.h"

/* Row numbers grouped by the thing they belong to: rows of thing t are row[start[t]] … row[start[t + 1] - 1].
 */
struct row_index {
    uint32_t *start, *row;
};

/* joints.c: fastenings that hold several components are counted once (§3.3). */
struct joint {
    uint32_t first;      /* the first disturbed fastening; LB_NO_NAME: none yet */
    uint32_t largest;    /* the one whose quantity counts */
    enum lb_reuse reuse; /* the strictest */
};

/* Components and circuits are nodes of one graph: component c is node c, circuit k is node component_count +
 * k. */
struct work {
    const struct lb_map *map;
    const struct lb_target *targets;
    size_t target_count;
    struct lb_error *err;
    struct lb_arena *arena; /* the plan's own: what is handed out lives there */
    struct lb_plan *plan;
    struct lb_clash *clash; /* trial.h: where the rows of a contradiction go; NULL: nobody asks */

    size_t node_count;
    struct lb_names consumed; /* part types that the map itself counts as consumables, in pieces */
    struct row_index access_of, opens_of, components_of, fastenings_of, consumables_of, circuits_of;

    enum lb_level *level;      /* by node: true and provisional rows */
    enum lb_level *sure_level; /* by node: true rows only */
    struct lb_cause *cause;
    uint32_t *order; /* nodes in the order the closure reached them */
    size_t order_count;

    bool *is_target, *renew, *renew_sure; /* by node */
    uint32_t *first_target;               /* by node: the first target that names it */
    struct ways *renew_ways;              /* by node: how its renewal comes about */

    size_t words, condition_words;          /* of a set of facts, of conditions */
    struct ways *ways;                      /* by node and level 1..3: how it gets there; see doubts.c */
    const struct lb_row **row_of_condition; /* any row under it: they hang on the same facts */
    uint64_t *scratch_set;                  /* of conditions */
    uint64_t *met;                          /* facts unknown in any provisional row that was met */
    LB_VEC(struct lb_turn) turns;           /* what those rows turn on, each once; questions.c's own */
    bool turns_failed;

    struct ways *need_ways; /* by need: how it comes about, when not surely */

    struct joint *joints; /* by joint number, what the teardown disturbs of it */
    int64_t *share;       /* by circuit: the largest share lost (§3.4), and the opens row that says so */
    uint32_t *share_row;  /* (LB_NO_NAME: the circuit is a target) */
};

/* Every stage returns LB_OK or fills w->err. */
LB_CHECK lb_status lb_plan_index(struct work *w);
LB_CHECK lb_status lb_plan_close(struct work *w);     /* closure.c: §3.1 */
LB_CHECK lb_status lb_plan_spread(struct work *w);    /* closure.c: the same, loops let pass */
LB_CHECK lb_status lb_plan_doubt(struct work *w);     /* doubts.c: what hangs on which fact */
LB_CHECK lb_status lb_plan_need(struct work *w);      /* needs.c: §3.2-3.6 */
LB_CHECK lb_status lb_plan_suggest(struct work *w);   /* suggest.c: §3.8 */
LB_CHECK lb_status lb_plan_question(struct work *w);  /* questions.c: §3.9 */
LB_CHECK lb_status lb_plan_ask_first(struct work *w); /* ask_first.c: which of them first */
LB_CHECK lb_status lb_plan_order(struct work *w);     /* order.c: §3.10 */
LB_CHECK lb_status lb_plan_gather(struct work *w);    /* gather.c: tools, cautions, what to look at */

static inline size_t node_of_circuit(const struct work *w, uint32_t circuit)
{
    return w->map->component_count + circuit;
}

static inline size_t node_of(const struct work *w, struct lb_thing thing)
{
    return thing.is_circuit ? node_of_circuit(w, thing.id) : thing.id;
}

/* The lowest level at which an access row takes hold. */
static inline enum lb_level access_trigger(const struct lb_map_access *row)
{
    return row->to == LB_UNTOUCHED ? LB_LOOSENED : row->to;
}

static inline bool certain(const struct lb_row *row)
{
    return row->doubt_count == 0;
}

/* How a node gets to `level` or above; NULL: through true rows. */
static inline const struct ways *node_ways(const struct work *w, size_t node, enum lb_level level)
{
    return w->sure_level[node] >= level ? NULL : &w->ways[node * 3 + (size_t)level - 1];
}

/* Adds the facts of a row to a set. */
void lb_plan_add_doubts(uint64_t *facts, const struct lb_row *row);

/* Zeroed memory of the plan; NULL and w->err filled when there is none. */
void *lb_plan_alloc(struct work *w, size_t count, size_t size);

/* trial.c: this row (of an LB_CLASH_…) is one of those that contradict each other. False: out of memory. */
bool lb_plan_blame(struct work *w, int kind, const struct lb_row *row);

/* trial.c: the end of a message about rows that contradict each other: which facts to state because some of
 * the rows may not apply; nothing where all do. Out of memory sets out->failed. */
void lb_plan_say_doubtful(struct work *w, struct lb_buf *out, const struct lb_row *const *rows, size_t count);

/* fluids.c: fills share and share_row. */
LB_CHECK lb_status lb_plan_shares(struct work *w);

struct mixture {
    int64_t fluid, diluent; /* millionths of a litre */
};
/* What one circuits row asks for when `share` of it is lost. LB_DATA: freeze_to below the data. */
LB_CHECK lb_status lb_plan_mix(const struct work *w, const struct lb_map_circuit *row, int64_t share,
                               struct mixture *out);

/* Folds one more disturbed row in. LB_DATA: it differs in part_type or spec. */
LB_CHECK lb_status lb_plan_fold_joint(const struct work *w, struct joint *joint, uint32_t fastening);

#endif
