/* In which ways a thing comes about, when none of them is through true rows only: each way a set of
 * conditions that must all turn out true. A way that needs more than another one is no way of its own.
 * Private to plan/. */
#ifndef LB_PLAN_WAYS_H
#define LB_PLAN_WAYS_H

#include "plan/map.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { WAYS_KEPT = 8 };

struct work;

/* Sets are bits by condition number. Ways beyond WAYS_KEPT are thrown together in `rest`: then a fact too
 * many may be asked for, never one too few. All zeros: no way so far. */
struct ways {
    uint64_t *sets; /* WAYS_KEPT sets, then rest; NULL: none yet */
    unsigned count;
    bool has_rest;
};

/* Adds `from` (NULL: unconditionally there) under the condition of `row`. *grew (may be NULL) is set when
 * anything is new. False: out of memory, w->err filled. */
bool ways_add(struct work *w, struct ways *into, const struct ways *from, const struct lb_row *row,
              bool *grew);
/* Sets the bits of every fact that some way hangs on. */
void ways_facts(const struct work *w, const struct ways *ways, uint64_t *facts);
#define NO_CONDITION SIZE_MAX
/* The first condition of a set from this one on, or NO_CONDITION. */
size_t ways_next(const struct work *w, const uint64_t *set, size_t from);

#endif
