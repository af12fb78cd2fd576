/* A fleet: several kits of one vehicle each under one name, built and bought together. The kit for a vehicle
 * is called FLEET/VEHICLE and is a kit like any other. Its lines count from 1; over the fleet they are
 * numbered through: those of the first vehicle, needs and spares, then those of the second, and so on.
 *
 * A name is a kit's or a fleet's, so whoever is given a name may open it here: a kit is a fleet of one that
 * has the kit's own name and numbers.
 *
 *     struct lb_fleet *fleet;
 *     status = lb_fleet_open(&fleet, store, "spring", today, &err);
 *     const struct lb_line *line = lb_fleet_line(fleet, 41, &kit, &err);   // of fleet->kits[kit]
 *     lb_fleet_free(fleet);
 */
#ifndef LB_KIT_FLEET_H
#define LB_KIT_FLEET_H

#include "kit/kit.h"

struct lb_fleet {
    const char *name;
    bool single;                /* a kit of its own: no fleet is stored, kits has one */
    struct lb_kit *const *kits; /* in the order of the vehicles as they were named first */
    const int *before;          /* by kit: lines of those before it */
    size_t kit_count;
    int line_count;
    int64_t id; /* of the fleet in the index; 0 when single */
};

/* What is to be done to one vehicle. */
struct lb_fleet_part {
    const struct lb_vehicle *vehicle;
    const struct lb_want *wants;
    size_t want_count;
};

/* Stores (or replaces) what goes by a name and computes it, in one transaction: nothing is stored when one of
 * the kits cannot be worked out, and the words say for which vehicle. The same vehicle twice: its wants are
 * joined. One vehicle makes a plain kit, several a fleet; kits of vehicles that stay keep their decisions and
 * orders, those of others go away. LB_DATA: an empty name; the name, or that of a vehicle's kit, is taken by
 * another one; parts were ordered for a kit that would go away; and whatever lb_kit_open says. */
LB_CHECK lb_status lb_fleet_build(struct lb_fleet **out, struct lb_store *store, const char *name,
                                  const struct lb_fleet_part *parts, size_t part_count, int32_t today,
                                  struct lb_error *err);
/* A fleet's kits, or the one kit of that name, in one view of the index. LB_DATA as lb_kit_open, with the
 * vehicle when it is a fleet's. */
LB_CHECK lb_status lb_fleet_open(struct lb_fleet **out, struct lb_store *store, const char *name,
                                 int32_t today, struct lb_error *err);
void lb_fleet_free(struct lb_fleet *fleet);
/* The last kit, which is the caller's now; frees the rest. */
struct lb_kit *lb_fleet_take(struct lb_fleet *fleet);

/* The number over the fleet of a kit's line. */
int lb_fleet_number(const struct lb_fleet *fleet, size_t kit, int line);
/* The line of that number over the fleet, *kit whose it is; or NULL and *err filled with the range. */
const struct lb_line *lb_fleet_line(const struct lb_fleet *fleet, long number, size_t *kit,
                                    struct lb_error *err);
/* The gaps of all kits. */
size_t lb_fleet_gap_count(const struct lb_fleet *fleet);

/* Is it a fleet's name? A kit's, or nobody's: no. */
LB_CHECK lb_status lb_fleet_is(struct lb_store *store, const char *name, bool *is, struct lb_error *err);
/* Adds the names as kits have them: a fleet's becomes those of its kits, any other stays as it is. */
LB_CHECK lb_status lb_fleet_names(struct lb_names *out, struct lb_store *store, const char *const *names,
                                  size_t count, struct lb_error *err);
/* Fills err with LB_DATA and the kits of the fleet when the name is a fleet's; LB_OK: it is not. */
LB_CHECK lb_status lb_fleet_refuse(struct lb_store *store, const char *name, struct lb_error *err);

/* fleet_needs.c: a line that is to be bought, of one of the kits. */
struct lb_fleet_share {
    size_t kit;
    const struct lb_line *line;
};

/* The same need of several lines. */
struct lb_fleet_need {
    const char *part_type, *unit;
    const char *spec;           /* NULL: the lines state none, or not the same */
    const struct lb_part *part; /* that all its lines are answered by; NULL: by several, or by none */
    int64_t quantity;           /* of all its lines, millionths of the unit */
    int64_t to_buy;             /* of `part`, as struct lb_line has it */
    const struct lb_fleet_share *shares; /* by number */
    size_t share_count;
};

struct lb_fleet_needs {
    struct lb_arena memory;
    const struct lb_fleet_need *at; /* by their first lines */
    size_t count;
};

/* Adds up what is to be bought: lines decided to be bought that are of the same type and unit, and have the
 * same spec or the same chosen part. Pure. LB_NOMEM only. Free it in any case. */
LB_CHECK lb_status lb_fleet_needs(struct lb_fleet_needs *out, const struct lb_fleet *fleet,
                                  struct lb_error *err);
void lb_fleet_needs_free(struct lb_fleet_needs *needs);

#endif
