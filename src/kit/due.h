/* What is due on a vehicle: every component of its service map that wears, by distance or by time, whichever
 * comes first; and which jobs go together. Days are days since 1970-01-01, distances millionths of a km.
 *
 *     struct lb_due *due;
 *     status = lb_due_make(&due, store, &vehicle, 365, today, &err);
 *     for (size_t i = 0; i < due->item_count; i++) puts(due->items[i].name);
 *     lb_due_free(due);
 */
#ifndef LB_KIT_DUE_H
#define LB_KIT_DUE_H

#include "garage/odometer.h"
#include "garage/service_log.h"
#include "garage/vehicle.h"
#include "kit/survey.h"

enum lb_due_state { LB_DUE_OVERDUE, LB_DUE_SOON, LB_DUE_LATER, LB_DUE_UNKNOWN };
/* "overdue", "soon", "later", "unknown". */
const char *lb_due_state_name(enum lb_due_state state);

enum lb_due_by { LB_DUE_BY_NOTHING, LB_DUE_BY_DISTANCE, LB_DUE_BY_TIME };

struct lb_due_item {
    const char *component, *name; /* name: as people call it */
    bool ask;                     /* its row applies only if facts that are not known say so */
    int64_t wear_km, wear_months; /* 0: no such interval */
    /* When it was renewed. Without a record, and with a build date, it is taken to be the first one, on the
     * first day that the vehicle can have been built: `assumed`. */
    bool recorded, assumed;
    int32_t last_on;  /* when recorded or assumed */
    bool has_last_km; /* somebody looked at the odometer then */
    int64_t last_km;
    bool has_driven; /* since then; estimated where no odometer tells */
    int64_t driven;  /* up to the last reading that counts */
    bool has_due_km; /* what the odometer will show that counts now */
    int64_t due_km;
    bool has_due_on;
    int32_t due_on; /* by time */
    bool has_forecast;
    int32_t forecast;  /* the earlier of both */
    bool before_first; /* it was due, by distance, before the first reading that counts */
    bool ranged;
    /* In 8 of 10 cases; when it was due up to the last reading, where it must lie by the readings alone.
     * latest LB_DATE_MAX: open. */
    int32_t earliest, latest;
    enum lb_due_by by;
    enum lb_due_state state;
    const char *const *jobs; /* that renew it, by name */
    size_t job_count;
};

struct lb_due_saving {
    int64_t steps;
    int64_t pieces; /* single-use hardware and sealing lines, millionths */
    int64_t litres; /* millionths */
};

/* Jobs that are due and share some of their teardown. */
struct lb_due_group {
    const struct lb_want *jobs; /* those due first come first */
    size_t job_count;
    struct lb_due_saving saves; /* against doing them apart */
};

struct lb_due {
    const char *vehicle, *platform;
    const char *no_map; /* why there is no service map, in words; there are no items then */
    struct lb_odometer odometer;
    struct lb_log log;
    const struct lb_due_item *items; /* by forecast; those without one come last, by component */
    size_t item_count;
    const struct lb_due_group *groups; /* best first */
    size_t group_count;
    size_t left_out; /* jobs that were due, but too many to be looked at together */
};

/* `within`: days that `soon` looks ahead, 0 or more. */
LB_CHECK lb_status lb_due_make(struct lb_due **out, struct lb_store *store, const struct lb_vehicle *vehicle,
                               int32_t within, int32_t today, struct lb_error *err);
void lb_due_free(struct lb_due *due);

#endif
