/* The owner's vehicles and what is known of each: make, model, build date, VIN and any further fact.
 *
 *     struct lb_vehicle vehicle = {0};
 *     status = lb_vehicle_load(store, "maggie", &vehicle, &err);       // nearest names when there is none
 *     struct lb_facts facts = lb_vehicle_facts(&vehicle);
 *     lb_vehicle_free(&vehicle);
 */
#ifndef LB_GARAGE_VEHICLE_H
#define LB_GARAGE_VEHICLE_H

#include "base/buf.h"
#include "base/vec.h"
#include "garage/condition.h"
#include "store/store.h"

struct lb_vehicle_fact {
    char *key, *value; /* key in lower case; value as stated */
};

struct lb_vehicle {
    int64_t id;
    char *name, *make, *model;            /* as the owner wrote them */
    char *built, *vin;                    /* NULL: not stated */
    struct lb_interval interval;          /* of built; open at both ends when not stated */
    LB_VEC(struct lb_vehicle_fact) facts; /* by key */
};

/* Appends words on what looks odd about a vehicle's VIN (one sentence a line); nothing when all is well or
 * none is stated. */
void lb_vehicle_remarks(const struct lb_vehicle *vehicle, struct lb_buf *out);

/* Sets one thing known of the vehicle in memory: `make`, `model`, `built`, `vin` or any other key; an empty
 * value forgets it. LB_DATA: no date, no VIN, an empty make, a key that is no word. */
LB_CHECK lb_status lb_vehicle_state(struct lb_vehicle *vehicle, const char *key, const char *value,
                                    struct lb_error *err);
/* Writes a new vehicle (id 0) or all of a known one. LB_DATA: the name is taken or empty, make or model is
 * missing. */
LB_CHECK lb_status lb_vehicle_save(struct lb_store *store, struct lb_vehicle *vehicle, struct lb_error *err);
LB_CHECK lb_status lb_vehicle_load(struct lb_store *store, const char *name, struct lb_vehicle *out,
                                   struct lb_error *err);
/* Calls `each` for every vehicle, by name; a failure of its own stops and is passed on. */
LB_CHECK lb_status lb_vehicle_each(struct lb_store *store,
                                   lb_status (*each)(void *, const struct lb_vehicle *), void *context,
                                   struct lb_error *err);
/* Borrowed from the vehicle. */
struct lb_facts lb_vehicle_facts(const struct lb_vehicle *vehicle);
/* The stated value of a key, or NULL. */
const char *lb_vehicle_fact(const struct lb_vehicle *vehicle, const char *key);
void lb_vehicle_free(struct lb_vehicle *vehicle);

#endif
