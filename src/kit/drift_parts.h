/* What the files of the comparison share. Private to kit/drift*.c. */
#ifndef LB_KIT_DRIFT_PARTS_H
#define LB_KIT_DRIFT_PARTS_H

#include "base/names.h"
#include "kit/drift.h"

struct drifting {
    struct lb_drift *out;
    const struct lb_kit_lock *was, *now;
    const struct lb_lock_fates *fates;
    struct lb_names was_keys, now_keys; /* of the lines: id -> index */
    struct lb_error *err;
};

/* Adds an item; words that could not be written (out of memory) are LB_NOMEM. */
LB_CHECK lb_status drift_say(struct drifting *d, enum lb_drift_code code, int line, const char *format, ...)
    LB_PRINTF(4, 5);
/* Adds "LABEL: OLD → NEW" unless both are the same; NULL reads "not stated". */
LB_CHECK lb_status drift_text(struct drifting *d, enum lb_drift_code code, int line, const char *label,
                              const char *was, const char *now);
/* Are two texts the same, that may both be NULL? */
bool drift_same(const char *a, const char *b);
/* The line of that key; NULL: there is none. */
const struct lb_lock_line *drift_line(const struct lb_names *keys, const struct lb_kit_lock *lock,
                                      const char *key);

/* drift_map.c: lines, fastenings, circuits. drift_work.c: cautions, order of work. drift_trade.c: parts and
 * prices. */
LB_CHECK lb_status drift_map(struct drifting *d);
LB_CHECK lb_status drift_work(struct drifting *d);
LB_CHECK lb_status drift_trade(struct drifting *d);

#endif
