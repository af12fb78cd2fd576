/* How much dearer the vehicle maker's own part of a type may be than another's before the other is taken.
 *
 *     struct lb_preferences preferences = {0};
 *     status = lb_preference_load(&preferences, store, &err);
 *     int64_t premium = lb_preference_find(&preferences, "water-pump");
 *     lb_preference_free(&preferences);
 */
#ifndef LB_GARAGE_PREFERENCE_H
#define LB_GARAGE_PREFERENCE_H

#include "base/arena.h"
#include "base/vec.h"
#include "store/store.h"

struct lb_preference {
    const char *part_type;
    int64_t premium; /* millionths of a percent point, above 0: 15 % is 15000000 */
};

struct lb_preferences {
    struct lb_arena texts;
    LB_VEC(struct lb_preference) items; /* by part type */
};

LB_CHECK lb_status lb_preference_load(struct lb_preferences *out, struct lb_store *store,
                                      struct lb_error *err);
/* 0: the maker's own are worth no more than others'. */
int64_t lb_preference_find(const struct lb_preferences *preferences, const char *part_type);
void lb_preference_free(struct lb_preferences *preferences);

/* Writes; premium 0 forgets it. */
LB_CHECK lb_status lb_preference_set(struct lb_store *store, const char *part_type, int64_t premium,
                                     struct lb_error *err);

#endif
