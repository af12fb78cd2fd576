/* Where derivations of needs are laid down and merged into lines. Private to plan/.
 * Contract: formats.md §3.5, 3.6: needs merge on part_type and a non-empty spec, fluids and consumables on
 * part_type, spec and dimension of unit, spares among themselves. */
#ifndef LB_PLAN_TRAY_H
#define LB_PLAN_TRAY_H

#include "plan/work.h"

enum pool { POOL_NEEDS, POOL_FLUIDS, POOL_SPARES };

/* A line while it is put together. */
struct draft {
    struct lb_need need;
    enum pool pool;
    LB_VEC(struct lb_origin) origins;
    struct ways ways; /* how it comes to be needed, when no derivation is sure */
};

struct tray {
    struct work *w;
    LB_VEC(struct draft) drafts;
    LB_VEC(uint32_t) by_merge_key; /* merge key -> draft */
    struct lb_names merge_keys, line_keys;
    struct lb_buf text;
};

/* The line that asks for this; `component` and `label` tell lines apart that do not merge.
 * NULL: out of memory, w->err filled. Borrowed until the next call. */
struct draft *tray_line(struct tray *tray, enum pool pool, enum lb_reason reason,
                        const struct lb_article *article, uint32_t component, const char *label);
/* One derivation: adds origin.quantity. `ways` lead to the place (NULL: true rows), `row` is the row itself.
 */
LB_CHECK lb_status tray_derive(struct tray *tray, struct draft *draft, struct lb_origin origin,
                               const struct ways *ways, const struct lb_row *row);
/* A source that derives nothing by itself: a row of the same joint with a milder reuse. */
LB_CHECK lb_status tray_mention(struct tray *tray, struct draft *draft, struct lb_origin origin);
/* Moves the lines into the plan, needs sorted by reason and then as they came, and their doubts into w. */
LB_CHECK lb_status tray_serve(struct tray *tray);
void tray_free(struct tray *tray);

/* Where what a consumables row asks for is laid. */
enum pool tray_pool_of(const struct work *w, const struct lb_map_consumable *row);

/* Do two articles merge as extra needs of one suggestion? */
bool tray_same_line(enum pool a_pool, const struct lb_article *a, enum pool b_pool,
                    const struct lb_article *b);

#endif
