#include "report/origins.h"

#include <stdlib.h>

const struct lb_row *lb_origin_row(const struct lb_map *map, const struct lb_origin *origin)
{
    switch (origin->kind) {
    case LB_FROM_COMPONENT:
        return &map->component_rows[origin->index].row;
    case LB_FROM_FASTENING:
        return &map->fastenings[origin->index].row;
    case LB_FROM_CONSUMABLE:
        return &map->consumables[origin->index].row;
    case LB_FROM_FLUID:
    case LB_FROM_DILUENT:
        break;
    }
    return &map->circuit_rows[origin->index].row;
}

static bool is_fluid(const struct lb_origin *origin)
{
    return origin->kind == LB_FROM_FLUID || origin->kind == LB_FROM_DILUENT;
}

static bool add_row(struct lb_origins *out, const struct lb_row *row)
{
    if (row->source == LB_NO_NAME)
        return true;
    for (size_t i = 0; i < out->rows.count; i++)
        if (out->rows.at[i]->source == row->source && out->rows.at[i]->line == row->line)
            return true;
    return LB_PUSH(&out->rows, row);
}

static bool known(const uint32_t *at, size_t count, uint32_t id)
{
    for (size_t i = 0; i < count; i++)
        if (at[i] == id)
            return true;
    return id == LB_NO_NAME;
}

static bool add_origin(struct lb_origins *out, const struct lb_map *map, const struct lb_origin *origin)
{
    if (!add_row(out, lb_origin_row(map, origin)))
        return false;
    if (!known(out->components.at, out->components.count, origin->component) &&
        !LB_PUSH(&out->components, origin->component))
        return false;
    if (!is_fluid(origin))
        return true;
    uint32_t circuit = map->circuit_rows[origin->index].circuit;
    if (!known(out->circuits.at, out->circuits.count, circuit) && !LB_PUSH(&out->circuits, circuit))
        return false;
    return origin->opens == LB_NO_NAME || add_row(out, &map->opens[origin->opens].row);
}

bool lb_origins_of(struct lb_origins *out, const struct lb_kit *kit, const struct lb_need *need)
{
    *out = (struct lb_origins){0};
    for (size_t i = 0; i < need->origin_count; i++) {
        if (!add_origin(out, kit->plan->map, &need->origins[i])) {
            lb_origins_free(out);
            return false;
        }
    }
    return true;
}

void lb_origins_free(struct lb_origins *origins)
{
    free(origins->components.at);
    free(origins->circuits.at);
    free(origins->rows.at);
    *origins = (struct lb_origins){0};
}
