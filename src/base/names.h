/* Names to small numbers and back: 0, 1, 2 … in the order first seen. Not a general hash table: nothing is
 * removed.
 *
 *     struct lb_names names = {0};
 *     uint32_t id;
 *     if (!lb_names_add(&names, "radiator", &id)) return lb_fail_nomem(err);
 *     puts(names.at[id]);
 *     lb_names_free(&names);
 */
#ifndef LB_BASE_NAMES_H
#define LB_BASE_NAMES_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define LB_NO_NAME UINT32_MAX

struct lb_names {
    const char **at; /* id -> name, owned by `texts`; stays where it is until the next add */
    size_t count, room;
    uint32_t *slots; /* open addressing, id + 1; 0: free */
    size_t slot_count;
    struct lb_arena texts;
};

/* The id of `name`, given one when new. False: out of memory. */
bool lb_names_add(struct lb_names *names, const char *name, uint32_t *id);
/* The id, or LB_NO_NAME. */
uint32_t lb_names_find(const struct lb_names *names, const char *name);
void lb_names_free(struct lb_names *names);

#endif
