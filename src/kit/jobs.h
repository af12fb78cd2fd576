/* The jobs of a service map as they apply to one vehicle: what each of them renews.
 *
 *     struct lb_jobs jobs;
 *     status = lb_jobs_load(&jobs, store, &vehicle, survey->platform, &err);
 *     const struct lb_job *job = lb_jobs_find(&jobs, "timing-drive");
 *     lb_jobs_free(&jobs);
 */
#ifndef LB_KIT_JOBS_H
#define LB_KIT_JOBS_H

#include "base/arena.h"
#include "garage/vehicle.h"

struct lb_job_target {
    const char *name; /* of a component or a circuit */
    bool circuit, refit;
};

struct lb_job {
    const char *name;
    LB_VEC(struct lb_job_target) targets; /* of rows that apply, or may; in the order of the rows */
};

struct lb_jobs {
    struct lb_arena texts;
    LB_VEC(struct lb_job) items; /* by name; also those of which no row applies */
};

LB_CHECK lb_status lb_jobs_load(struct lb_jobs *out, struct lb_store *store, const struct lb_vehicle *vehicle,
                                const char *platform, struct lb_error *err);
/* NULL: none of that name. */
const struct lb_job *lb_jobs_find(const struct lb_jobs *jobs, const char *name);
/* Does the job renew it? */
bool lb_job_renews(const struct lb_job *job, const char *component);
void lb_jobs_free(struct lb_jobs *jobs);

#endif
