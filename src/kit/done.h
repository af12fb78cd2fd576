/* What was done, from the owner's words to what the log keeps: the components that were renewed, by the
 * service map as it is now, and the parts that went in.
 *
 *     struct lb_done done;
 *     status = lb_done_begin(&done, store, &vehicle, &err);
 *     if (!status) status = lb_done_name(&done, "timing-drive", &err);
 *     if (!status) status = lb_done_kit(&done, "saturday", today, NULL, &err);
 *     … done.components.at, done.parts.at
 *     lb_done_free(&done);
 */
#ifndef LB_KIT_DONE_H
#define LB_KIT_DONE_H

#include "base/names.h"
#include "garage/service_log.h"
#include "kit/jobs.h"
#include "kit/survey.h"

struct lb_done {
    struct lb_store *store;
    const struct lb_vehicle *vehicle;
    struct lb_survey *survey; /* NULL: no map covers the vehicle, */
    const char *no_map;       /* and why, in words */
    struct lb_jobs jobs;
    struct lb_arena texts;
    struct lb_names components; /* renewed; circuits too */
    LB_VEC(struct lb_log_part) parts;
    struct lb_names said; /* jobs, components and circuits, each once, */
    struct lb_buf words;  /* and as words: "timing-drive, water-pump" */
};

/* A vehicle that no map covers, or several do, has a log too: its names are taken as they are given. */
LB_CHECK lb_status lb_done_begin(struct lb_done *done, struct lb_store *store,
                                 const struct lb_vehicle *vehicle, struct lb_error *err);
/* A job: what its rows that apply renew; else a component or circuit. LB_DATA: the map has none of that name,
 * or the job has nothing to do on this vehicle. */
LB_CHECK lb_status lb_done_name(struct lb_done *done, const char *name, struct lb_error *err);
/* The targets of a kit, and the parts of its lines that were bought or were there. With `batch` (NULL: none)
 * beside each. `words`: the kit's jobs are what was done; else somebody said that already. LB_DATA: no such
 * kit, or it is another vehicle's. */
LB_CHECK lb_status lb_done_kit(struct lb_done *done, const char *kit, int32_t today, const char *batch,
                               bool words, struct lb_error *err);
/* "Kestrel K-200": brand and number, split where a catalogue knows such a part, else at the first blank.
 * *known: one does. LB_DATA: it is one word only. */
LB_CHECK lb_status lb_done_part(struct lb_done *done, const char *part, const char *batch, bool *known,
                                struct lb_error *err);
void lb_done_free(struct lb_done *done);

#endif
