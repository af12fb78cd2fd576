/* One part number with all that the catalogues say of it, as a card: what replaced it, what is the same, who
 * offers it, what it fits.
 *
 *     struct lb_part_card *card;
 *     status = lb_part_card_open(&card, store, "Velmora", "1140-0081", today, &err);
 *     lb_part_card_free(card);
 */
#ifndef LB_KIT_PART_H
#define LB_KIT_PART_H

#include "kit/kit.h"

struct lb_part_member {
    const struct lb_part *part;
    int64_t quantity; /* millionths, for one of the part on the card */
};

/* Parts that are needed together. */
struct lb_part_group {
    const struct lb_part_member *members;
    size_t count;
};

struct lb_part_application {
    const char *make, *model, *built_from, *built_to, *when, *position; /* NULL: not stated */
    int64_t quantity;                                                   /* -1: not stated */
    struct lb_place place;
};

struct lb_part_card {
    const struct lb_part *part;
    const struct lb_part_group *superseded_by; /* alternatives, one step on */
    const struct lb_part_group
        *current; /* alternatives, where the chains end; the part itself when it is current */
    const struct lb_part *const *same;    /* without the part itself */
    const struct lb_part *const *instead; /* what may be used instead of it */
    const struct lb_part_application *applications;
    const struct lb_supplier *suppliers;
    size_t superseded_by_count, current_count, same_count, instead_count, application_count;
};

/* LB_DATA: no catalogue knows the number (the nearest ones of the brand are suggested), or its supersessions
 * go round in a circle. */
LB_CHECK lb_status lb_part_card_open(struct lb_part_card **out, struct lb_store *store, const char *brand,
                                     const char *number, int32_t today, struct lb_error *err);
void lb_part_card_free(struct lb_part_card *card);

#endif
