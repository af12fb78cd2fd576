/* Where a line of a kit comes from, each thing once and in order: its components, its circuits, the rows of
 * the map.
 *
 *     struct lb_origins origins;
 *     if (!lb_origins_of(&origins, kit, need)) …            // out of memory
 *     for (size_t i = 0; i < origins.rows.count; i++) … origins.rows.at[i]->line
 *     lb_origins_free(&origins);
 */
#ifndef LB_REPORT_ORIGINS_H
#define LB_REPORT_ORIGINS_H

#include "base/vec.h"
#include "kit/kit.h"

struct lb_origins {
    LB_VEC(uint32_t) components, circuits; /* ids in the map */
    LB_VEC(const struct lb_row *) rows;    /* those that stand in a file; of a fluid also the opens row */
};

/* The row that an origin comes from. */
const struct lb_row *lb_origin_row(const struct lb_map *map, const struct lb_origin *origin);
/* False: out of memory, nothing to free. */
bool lb_origins_of(struct lb_origins *out, const struct lb_kit *kit, const struct lb_need *need);
void lb_origins_free(struct lb_origins *origins);

#endif
