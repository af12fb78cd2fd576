/* What has changed since a kit was locked. Two locks are compared, the one that was kept and the kit as it is
 * now; nothing is changed by it. The comparison itself is pure.
 *
 *     struct lb_drift drift;
 *     status = lb_kit_drift(&drift, store, kit, &was, today, &err);
 *     for (size_t i = 0; i < drift.items.count; i++) puts(drift.items.at[i].message);
 *     lb_drift_free(&drift);
 *
 * What is not looked at: how much is in stock as long as it is enough, prices of lines of which nothing is to
 * be bought (any more), on which lines of a file the rows stand. */
#ifndef LB_KIT_DRIFT_H
#define LB_KIT_DRIFT_H

#include "kit/lock.h"

enum lb_drift_code {
    LB_DRIFT_JOB,        /* the kit was built again, for something else */
    LB_DRIFT_FACT,       /* something else is stated of the vehicle */
    LB_DRIFT_MAP,        /* the service map says otherwise */
    LB_DRIFT_CHOSEN,     /* another part answers the line, or the owner decided otherwise */
    LB_DRIFT_SUPERSEDED, /* the locked part was replaced or discontinued */
    LB_DRIFT_GONE,       /* the part, an offer of it or a file is not there any more */
    LB_DRIFT_DEARER,
    LB_DRIFT_CHEAPER,
    LB_DRIFT_SOURCE, /* files that were imported again and are not the same; at most one, at the end */
    LB_DRIFT_CODES
};
/* "job", "fact", "map" … */
const char *lb_drift_name(enum lb_drift_code code);

struct lb_drift_item {
    enum lb_drift_code code;
    int line; /* number in the kit as it is now; 0: about no line of it */
    const char *message;
};

struct lb_drift {
    struct lb_arena texts;
    LB_VEC(struct lb_drift_item) items; /* about the kit first, then by line and code; files at the end */
    int32_t locked;                     /* day */
};

/* LB_DATA: the lock is of another kit. LB_NOMEM, and what a damaged index gives. */
LB_CHECK lb_status lb_kit_drift(struct lb_drift *out, struct lb_store *store, const struct lb_kit *kit,
                                const struct lb_kit_lock *was, int32_t today, struct lb_error *err);
/* The comparison: `now` is the kit as it is, `fates` what has become of the parts and sources of `was`.
 * LB_NOMEM only. */
LB_CHECK lb_status lb_drift_compare(struct lb_drift *out, const struct lb_kit_lock *was,
                                    const struct lb_kit_lock *now, const struct lb_lock_fates *fates,
                                    struct lb_error *err);
void lb_drift_free(struct lb_drift *drift);
/* Appends "2 dearer, 1 map", by code; nothing when nothing has changed. */
void lb_drift_count(struct lb_buf *out, const struct lb_drift *drift);

#endif
