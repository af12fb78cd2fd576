/* What the files of the fitting share: the list while it is made, and its bytes. */
#ifndef LB_GARAGE_FITTING_PARTS_H
#define LB_GARAGE_FITTING_PARTS_H

#include "base/arena.h"
#include "base/buf.h"
#include "base/names.h"
#include "base/vec.h"
#include "garage/fitting.h"
#include "garage/vehicle.h"

/* How far the way went by which a part came in: it decides what the part passes on (fitting_heirs.c). */
enum way { BY_SAME, BY_INSTEAD, BY_SUCCESSION, WAYS };

enum { ANYWHERE = 1 << 8 }; /* beside position bits: some row states none */

/* What is known of a part by one way. Of two, the better truth counts; of the same truth, all places do, and
 * the first of the texts. */
struct stand {
    enum lb_truth truth; /* LB_FALSE: not by this way */
    unsigned places;     /* position bits (base/position.h) and ANYWHERE */
    const char *asks;    /* LB_UNKNOWN: the facts that decide */
};

struct node {
    struct stand by[WAYS]; /* listed itself: BY_SAME */
    uint32_t first_heir;   /* into heirs, counted from 1; 0: none */
    uint32_t part;         /* into parts, once they are gathered */
    bool listed;           /* has applications rows of its own for the make and model */
    bool known;            /* its heirs are read */
    bool waits;            /* on the stack of those whose heirs are to be told */
};

/* `to` stands for the node in whose chain it is. */
struct heir {
    uint32_t to, next; /* next: counted from 1; 0: the last */
    enum way way;
};

struct doubt {
    uint32_t node, fact; /* into keys and facts_asked */
};

struct making {
    struct lb_store *store;
    const struct lb_vehicle *vehicle;
    struct lb_error *err;
    struct lb_facts facts;
    struct lb_buf make_key, model_key, scratch;
    struct lb_names keys, facts_asked;
    LB_VEC(struct node) nodes; /* by keys */
    LB_VEC(struct heir) heirs;
    LB_VEC(struct doubt) doubts;
    LB_VEC(uint32_t) waiting;
    LB_VEC(struct lb_listed_part) parts;
    LB_VEC(const char *) fluid_types, platforms;
    struct lb_arena arena;
};

/* fitting_make.c: the whole list, as the bytes that are stored. Replaces what is in `out`. */
LB_CHECK lb_status fitting_make(struct lb_buf *out, struct lb_store *store, const struct lb_vehicle *vehicle,
                                struct lb_error *err);
/* The node of a part key, a new one when there is none. */
LB_CHECK lb_status fitting_node(struct making *m, const char *key, uint32_t *node);

/* fitting_heirs.c: takes in what stands for the listed parts. */
LB_CHECK lb_status fitting_heirs(struct making *m);
/* Improves what is known; true: it was worth it. */
bool fitting_improve(struct stand *known, const struct stand *further);

/* fitting_rows.c: the rows of the parts, and the words of their titles. */
LB_CHECK lb_status fitting_rows(struct making *m);
/* fitting_fluids.c: the vehicle's platforms, and what their maps take as fluids and consumables. */
LB_CHECK lb_status fitting_fluids(struct making *m);

/* fitting_pack.c. Appends the bytes. */
LB_CHECK lb_status fitting_pack(const struct lb_shortlist *list, struct lb_buf *out, struct lb_error *err);
/* Copies what it needs. *out is NULL with LB_OK when the bytes are not whole. */
LB_CHECK lb_status fitting_unpack(struct lb_fitting **out, const void *bytes, size_t length,
                                  const char *vehicle, struct lb_error *err);

#endif
