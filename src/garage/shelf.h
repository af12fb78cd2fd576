/* The owner's shelf: what is left over and lies there for the next job. Quantities are millionths of the
 * unit that the part is counted in; opened containers of fluids count too, and say so.
 *
 *     struct lb_shelf shelf = {0};
 *     status = lb_shelf_load(&shelf, store, &err);
 *     const struct lb_shelf_item *item = lb_shelf_find(&shelf, part_key);
 *     lb_shelf_free(&shelf);
 */
#ifndef LB_GARAGE_SHELF_H
#define LB_GARAGE_SHELF_H

#include "base/arena.h"
#include "base/vec.h"
#include "store/store.h"

struct lb_shelf_item {
    const char *key;                        /* catalog/partkey.h */
    const char *brand, *number, *part_type; /* part_type NULL: no catalogue said */
    const char *unit;  /* "each", "L", "g" … as base/measure.h has it, or a word of its own */
    int64_t quantity;  /* above 0 */
    bool opened;       /* some of it comes from a container that was opened */
    const char *since; /* UTC, ISO 8601, when some of it was first put there */
};

struct lb_shelf {
    struct lb_arena texts;
    LB_VEC(struct lb_shelf_item) items; /* by brand and number */
};

LB_CHECK lb_status lb_shelf_load(struct lb_shelf *out, struct lb_store *store, struct lb_error *err);
/* NULL: none of it lies there. */
const struct lb_shelf_item *lb_shelf_find(const struct lb_shelf *shelf, const char *part_key);
void lb_shelf_free(struct lb_shelf *shelf);

/* What lies there of one part; 0: nothing. */
LB_CHECK lb_status lb_shelf_quantity(struct lb_store *store, const char *part_key, int64_t *quantity,
                                     struct lb_error *err);
/* The next three write, inside the caller's transaction if there is one.
 * Puts item->quantity more there; item->since counts when nothing of it lies there yet. */
LB_CHECK lb_status lb_shelf_add(struct lb_store *store, const struct lb_shelf_item *item,
                                struct lb_error *err);
/* Takes so much off; LB_DATA, with words, when less lies there. */
LB_CHECK lb_status lb_shelf_take(struct lb_store *store, const char *part_key, int64_t quantity,
                                 struct lb_error *err);
/* What is there now; 0 takes it off. What was said to be opened stays so. */
LB_CHECK lb_status lb_shelf_set(struct lb_store *store, const struct lb_shelf_item *item,
                                struct lb_error *err);

#endif
