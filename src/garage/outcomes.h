/* What may come out when the owner looks up a fact that is not known, as far as the conditions of a map tell
 * answers apart, and which answers meet which clause. Contract: formats.md §2; a clause is judged by the code
 * that asks conditions, with one answer of every kind.
 *
 * The answers to a fact are the values that clauses name and one that none names; where clauses order
 * numbers or dates, those named and what lies between, below and above. Answers that meet the same clauses
 * are one outcome. An answer that leaves a clause open (a word where numbers are ordered) is none.
 *
 *     struct lb_outcomes *outcomes;
 *     status = lb_outcomes_make(&outcomes, &facts, cells, count, &err);
 *     for (uint32_t i = outcomes->start[c]; i < outcomes->start[c + 1]; i++) outcomes->clauses[i] …
 *     lb_outcomes_free(outcomes);
 */
#ifndef LB_GARAGE_OUTCOMES_H
#define LB_GARAGE_OUTCOMES_H

#include "garage/condition.h"

#include <stddef.h>

/* The cells of a row that hold its condition; NULL: not stated. As an import checked them. */
struct lb_cells {
    const char *when, *built_from, *built_to;
};

/* A clause that the known facts leave open. */
struct lb_open_clause {
    uint32_t fact;          /* index into keys */
    uint64_t outcomes;      /* which outcomes of the fact meet it */
    uint64_t built_as_year; /* a clause on `year`: which outcomes of `built` meet it; else 0 */
};

enum { LB_OUTCOMES_MOST = 63 };

struct lb_outcomes {
    const char *const *keys; /* the facts that are open, in lower case */
    const uint32_t *counts;  /* how many outcomes each has; 0: more than LB_OUTCOMES_MOST, or a value that an
                              * ordering clause cannot judge: then the masks say nothing */
    size_t key_count;
    const uint32_t *start; /* by condition: where its clauses begin; count + 1 entries */
    const struct lb_open_clause *clauses;
};

/* `cells`: one for every condition. LB_DATA: a condition that cannot be parsed. */
LB_CHECK lb_status lb_outcomes_make(struct lb_outcomes **out, const struct lb_facts *facts,
                                    const struct lb_cells *cells, size_t count, struct lb_error *err);
void lb_outcomes_free(struct lb_outcomes *outcomes);

#endif
