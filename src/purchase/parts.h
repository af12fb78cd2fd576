/* What the files of src/purchase/ share. */
#ifndef LB_PURCHASE_PARTS_H
#define LB_PURCHASE_PARTS_H

#include "base/arena.h"
#include "base/vec.h"
#include "purchase/purchase.h"
#include "purchase/uses.h"

/* shown.c: fills `shown` and `moved` from what was last shown for these kits; the last step of
 * lb_purchase_make but one, also when the purchase is blocked. `arena` lives as long as the purchase. Reads
 * only. */
LB_CHECK lb_status purchase_tell_moved(struct lb_purchase *purchase, struct lb_arena *arena,
                                       struct lb_store *store, struct lb_error *err);
/* Orders what has moved by part, then by supplier; for qsort. */
int purchase_by_part(const void *left, const void *right);
/* locked.c: fills `locks` from what the index remembers of its kits; after the basket was found. The same. */
LB_CHECK lb_status purchase_tell_locked(struct lb_purchase *purchase, struct lb_arena *arena,
                                        struct lb_store *store, struct lb_error *err);
/* Forgets it, since it was ordered. Inside the caller's transaction. */
LB_CHECK lb_status purchase_forget_shown(struct lb_store *store, const struct lb_purchase *purchase,
                                         struct lb_error *err);

/* A line of a basket that was shown: so many packs of one offer. */
struct purchase_shown_line {
    const char *part, *supplier, *supplier_code, *currency; /* part: its key; supplier: as rows refer to it */
    int64_t packs, pack_quantity, price;                    /* price: a pack */
};

/* What was last shown for a set of kits. */
struct purchase_shown {
    struct lb_arena texts;
    const char *at;                     /* UTC, ISO 8601; NULL: nothing was */
    struct lb_purchase_options options; /* without front and reasons */
    const char *currency;
    int64_t total;
    LB_VEC(struct purchase_shown_line) lines;
};

/* shown_load.c. Names that no kit has are passed over. Free it in any case. */
LB_CHECK lb_status purchase_load_shown(struct purchase_shown *out, struct lb_store *store,
                                       const char *const *names, size_t name_count, struct lb_error *err);
/* By what purchase_name_set called it. */
LB_CHECK lb_status purchase_load_set(struct purchase_shown *out, struct lb_store *store, const char *kits,
                                     struct lb_error *err);
/* shown.c: appends what a set of kits goes by, the same in whatever order, and however often, they are named;
 * sorts the ids. */
LB_CHECK lb_status purchase_name_set(struct lb_buf *out, int64_t *ids, size_t count, struct lb_error *err);
/* What a line of a basket is known by later; borrowed from the purchase. */
struct purchase_shown_line purchase_line_of(const struct lb_purchase *purchase,
                                            const struct lb_parcel *parcel,
                                            const struct lb_parcel_line *line);
/* NULL: it is not in the market. index may be NULL. */
const struct lb_part *purchase_find_part(const struct lb_purchase *purchase, const char *key, size_t *index);
/* As people call the supplier; one that is gone goes by the name that rows had for it. */
const char *purchase_label_of(const struct lb_purchase *purchase, const char *name);
void purchase_free_shown(struct purchase_shown *shown);

#endif
