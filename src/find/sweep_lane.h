/* One run of the lookup on a sweep: for each slot of the query a walker over its terms' lists, and the
 * walkers by the titles that they are at. Private to sweep.c and sweep_lane.c.
 *
 *     sweep_roster(&roster, query);
 *     status = lane_open(&lane, sweep, &ranker, &roster, run, &err);
 *     status = lane_advance(&lane, title, &err);             // everyone behind the title goes on to it
 */
#ifndef LB_FIND_SWEEP_LANE_H
#define LB_FIND_SWEEP_LANE_H

#include "find/sweep.h"

enum { LANE_CLASSES = 256 };

/* Which terms lead each slot, slot by slot; the same for all runs. Slots that no title can have are left out.
 */
struct sweep_roster {
    int terms[LB_QUERY_WAYS], term_count;
    int term_from[LB_QUERY_WORDS + 1];
    int slots[LB_QUERY_WORDS], walker_count;
};

/* A slot on its way: the title that its foremost term is at. */
struct walker {
    int slot;
    int64_t title;
    int64_t titles; /* how many its terms have, about */
    int term_count;
    const int *terms;
    int64_t *ids; /* what the terms' cursors are at, side by side */
};

struct lane {
    struct walker walkers[LB_QUERY_WORDS];
    struct walker *order[LB_QUERY_WORDS]; /* by title; those at their end are left out */
    int open_count;
    int from;                  /* classes below are done with */
    struct lb_cursor *cursors; /* the first term's; the next terms' come `stride` further on */
    size_t stride;
    int64_t ids[LB_QUERY_WAYS];
};

void sweep_roster(struct sweep_roster *roster, const struct lb_query *query);
/* The cursors are where the query left them, unless they were walked already. */
LB_CHECK lb_status lane_open(struct lane *lane, const struct lb_sweep *sweep, const struct lb_query *query,
                             const struct sweep_roster *roster, size_t run, struct lb_error *err);
/* The class of the title that comes next; LANE_CLASSES: there is none. */
int lane_class(const struct lane *lane);
LB_CHECK lb_status lane_advance(struct lane *lane, int64_t title, struct lb_error *err);
/* The rarest of those behind a title goes on to it: it may well go further, and then the others need not. */
LB_CHECK lb_status lane_catch_up(struct lane *lane, int64_t title, struct lb_error *err);
/* What the query sees of the title that comes next. */
void lane_sight(const struct lane *lane, struct lb_sighting *sighting);
/* Whether it says the opposite of a position as well. */
LB_CHECK lb_status lane_sight_opposites(struct lane *lane, const struct lb_query *query, int64_t title,
                                        struct lb_sighting *sighting, struct lb_error *err);

#endif
