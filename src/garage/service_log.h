/* A vehicle's log: what was done, when, at which distance, with which parts. Readings of the odometer alone
 * are lines of it too. Not what is due (kit/due.h).
 *
 *     struct lb_log log;
 *     status = lb_log_load(&log, store, vehicle.id, &err);
 *     for (size_t i = 0; i < log.entries.count; i++) puts(log.entries.at[i].done);
 *     lb_log_free(&log);
 */
#ifndef LB_GARAGE_SERVICE_LOG_H
#define LB_GARAGE_SERVICE_LOG_H

#include "base/arena.h"
#include "base/buf.h"
#include "base/vec.h"
#include "garage/odometer.h"
#include "garage/vehicle.h"
#include "store/store.h"

struct lb_log_part {
    const char *brand, *number;
    const char *unit;  /* NULL: quantity is not stated */
    const char *batch; /* batch, receipt: as the owner wrote it; NULL: nothing */
    int64_t quantity;  /* millionths of unit */
};

struct lb_log_entry {
    int64_t id; /* the number that it is known by; never that of another line while it stands */
    int32_t day;
    bool has_km;                     /* else nobody looked */
    int64_t km;                      /* what the odometer showed, millionths */
    bool swapped;                    /* another odometer counts from here */
    const char *done;                /* the job or component; NULL: a reading alone */
    const char *kit, *note;          /* NULL: none */
    const char *const *components;   /* renewed, by the service map as it was then; by name */
    const struct lb_log_part *parts; /* as they were noted */
    size_t component_count, part_count;
};

struct lb_log {
    struct lb_arena texts;
    LB_VEC(struct lb_log_entry) entries; /* by day, those of one day as they were noted */
};

LB_CHECK lb_status lb_log_load(struct lb_log *out, struct lb_store *store, int64_t vehicle,
                               struct lb_error *err);
void lb_log_free(struct lb_log *log);
/* LB_DATA with words: the vehicle was not built yet on that day. */
LB_CHECK lb_status lb_log_judge_day(const struct lb_vehicle *vehicle, int32_t day, struct lb_error *err);
/* Writes a line with its components and parts, and fills entry->id; in one transaction. */
LB_CHECK lb_status lb_log_add(struct lb_store *store, int64_t vehicle, struct lb_log_entry *entry,
                              struct lb_error *err);
/* Takes one back. LB_DATA: the vehicle's log (`name`: for the words) has no such line. */
LB_CHECK lb_status lb_log_drop(struct lb_store *store, int64_t vehicle, const char *name, int64_t id,
                               struct lb_error *err);

/* The readings in it, in order. *readings and *entries (which line each stands in) are the caller's to free;
 * NULL when there are none. */
LB_CHECK lb_status lb_log_readings(const struct lb_log *log, struct lb_reading **readings, size_t **entries,
                                   size_t *count, struct lb_error *err);
/* Appends what is odd about the reading of a line beside those before and after it, one sentence a line:
 * less than before, or more than anybody drives. Nothing when all is well. */
void lb_log_remarks(const struct lb_log *log, int64_t id, struct lb_buf *out);

#endif
