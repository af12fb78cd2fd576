/* The run of a belt over its pulleys: where it touches each, how far it goes round it, which way each turns
 * and how long the belt is at its effective line. Pure geometry: circles and their common tangents, exact but
 * for the rounding of double; no memory is taken.
 *
 *     struct lb_belt belt;
 *     lb_belt_run(&belt, pulleys, count);
 *     if (belt.fault) … lb_belt_explain(&out, &belt, names) else … belt.length
 *
 * Lengths are mm, y points up, angles are radians. The belt is taken to run in the order of the pulleys. Seen
 * along the way it goes, all pulleys that its ribs lie on are on one side and all that its back lies on are
 * on the other. Which side is which is not said by a map: both are tried, and the one counts in which the
 * belt goes once round, crosses nothing and touches every pulley. Where both would (pulleys that stand nearly
 * in a line), the side counts towards which the centres go round in the order given.
 *
 * Between two pulleys on the same side of the belt runs an outer tangent, else an inner one. Two pulleys, one
 * on each side, are the crossed belt of the handbooks: it is computed, and marked. */
#ifndef LB_PLAN_BELT_H
#define LB_PLAN_BELT_H

#include "base/buf.h"

#include <stdbool.h>
#include <stddef.h>

enum { LB_BELT_MOST = 64 };          /* pulleys of one run */
enum { LB_BELT_REACH = 100 * 1000 }; /* mm: no centre is farther from the origin, no diameter greater */

struct lb_pulley {
    double x, y, diameter; /* centre, effective diameter */
    bool back;             /* the belt's back lies on it, not its ribs */
};

struct lb_belt_point {
    double x, y;
};

/* What the belt does at one pulley, and from there to the next. */
struct lb_belt_turn {
    struct lb_belt_point on, off; /* where the belt comes on and where it leaves */
    double wrap;                  /* how far it goes round, above 0 and below 2π */
    bool clockwise;               /* the pulley turns so when the belt runs in the order given */
    double span;                  /* the straight piece from `off` to the next pulley's `on` */
};

enum lb_belt_fault {
    LB_BELT_RUNS,
    LB_BELT_FEW,     /* fewer than two pulleys */
    LB_BELT_MANY,    /* more than LB_BELT_MOST */
    LB_BELT_SIZE,    /* at: a diameter that is not above 0, or something beyond LB_BELT_REACH */
    LB_BELT_OVERLAP, /* at and other: their circles overlap, or one lies in the other */
    LB_BELT_TANGENT, /* at and other: no room for a straight piece between them */
    LB_BELT_BARE,    /* at: the belt would not touch it on that side */
    LB_BELT_ROUND,   /* at: the belt would have to go round it nearly or more than once */
    LB_BELT_THROUGH, /* the piece that leaves `at` would run through `other` */
    LB_BELT_CROSSES, /* the pieces that leave `at` and `other` would cross */
};

struct lb_belt {
    size_t count;
    enum lb_belt_fault fault;
    size_t at, other; /* index of the pulleys that the fault is about */
    bool crossed;     /* two pulleys, one on each side */
    double length;    /* pieces and arcs together */
    struct lb_belt_turn turns[LB_BELT_MOST];
};

/* Works it out; with a fault only fault, at and other are set. Linear in memory, `count` cubed at the most in
 * time (64 pulleys: a quarter of a million steps). */
void lb_belt_run(struct lb_belt *belt, const struct lb_pulley *pulleys, size_t count);
/* Appends what is wrong and what to look at, in words; `names` are the pulleys', `belt_name` the belt's. */
void lb_belt_explain(struct lb_buf *out, const struct lb_belt *belt, const char *belt_name,
                     const char *const *names);

#endif
