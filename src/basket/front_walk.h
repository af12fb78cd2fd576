/* A front while it is worked out: the zones that are answered, those that wait, and the workers that ask.
 * Private to basket/. Who reads or changes a walk holds its lock. */
#ifndef LB_BASKET_FRONT_WALK_H
#define LB_BASKET_FRONT_WALK_H

#include "basket/question.h"

#include "base/vec.h"

#include <pthread.h>

#define FRONT_TOO_SHORT 0.001 /* seconds that are not worth a question */

struct front_zone {
    int64_t parcels, days; /* at most */
};

/* The cheapest basket of a zone; NULL: there is none. */
struct front_answer {
    struct front_zone zone;
    const struct lb_basket *basket;
};

struct front_walk {
    struct basket_question question;
    const struct lb_basket *first;
    LB_VEC(struct front_zone) ahead;
    LB_VEC(struct front_zone) later; /* not answered quickly: asked again when no others wait */
    LB_VEC(struct front_zone) asked; /* now, by a worker each */
    LB_VEC(struct front_answer) answers;
    LB_VEC(struct lb_basket *) points; /* owned */
    size_t again;                      /* how many of `later` were asked again */
    double until, quick;
    int workers;
    pthread_mutex_t lock;
    pthread_cond_t changed;
    lb_status status; /* of the first worker that failed; its words are in *err */
    struct lb_error *err;
};

/* What is known about a zone before it is asked about. */
struct front_known {
    bool answered;
    const struct lb_basket *basket; /* the cheapest one known in it */
    struct lb_basket *unproved;     /* the same, when it is not known to be the cheapest of any zone */
    int64_t floor;
};

/* front_known.c */
bool front_is_same(const struct front_zone *a, const struct front_zone *b);
struct front_known front_known(const struct front_walk *walk, const struct front_zone *zone);
/* Whether a zone was answered before, and with it what lies ahead of it. */
bool front_was_visited(const struct front_walk *walk, const struct front_zone *zone);
/* Whether it was put off to be asked later. */
bool front_waits(const struct front_walk *walk, const struct front_zone *zone);
/* Whether a worker is at it. */
bool front_is_asked(const struct front_walk *walk, const struct front_zone *zone);

/* front_workers.c: asks about all zones that are ahead, and about what comes of them, in as many threads as
 * the walk has workers, this one included. `visit` is called with the lock held and lets go of it while it
 * asks. What failed is in walk->status. */
typedef lb_status front_visit(struct front_walk *walk, const struct front_zone *zone, double seconds,
                              struct lb_error *err);
void front_work(struct front_walk *walk, front_visit *visit);

#endif
