/* What the disturbed rows say beside parts: tools, cautions, what to look at; and what the map leaves open.
 */
#include "plan/work.h"

#include <stdlib.h>
#include <string.h>

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static lb_status gather_tools(struct work *w)
{
    const struct lb_map *map = w->map;
    const char **tools = lb_plan_alloc(w, map->fastening_count + 1, sizeof *tools);
    if (!tools)
        return LB_NOMEM;
    size_t count = 0;
    for (size_t i = 0; i < map->fastening_count; i++) {
        const struct lb_map_fastening *row = &map->fastenings[i];
        if (row->tool && row->component != LB_NO_NAME && w->level[row->component] >= row->at)
            tools[count++] = row->tool;
    }
    if (count)
        qsort(tools, count, sizeof *tools, by_text);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (!kept || strcmp(tools[kept - 1], tools[i]) != 0)
            tools[kept++] = tools[i];
    w->plan->tools = tools;
    w->plan->tool_count = kept;
    return LB_OK;
}

static lb_status gather_cautions(struct work *w)
{
    const struct lb_map *map = w->map;
    struct lb_names seen = {0};
    const char **cautions = lb_plan_alloc(w, map->caution_count + 1, sizeof *cautions);
    lb_status status = cautions ? LB_OK : LB_NOMEM;
    for (size_t i = 0; !status && i < map->caution_count; i++) {
        const struct lb_map_caution *row = &map->cautions[i];
        uint32_t id;
        if (row->thing.id == LB_NO_NAME || !w->level[node_of(w, row->thing)])
            continue;
        if (!lb_names_add(&seen, row->text, &id))
            status = lb_fail_nomem(w->err);
        else if (id == w->plan->caution_count)
            cautions[w->plan->caution_count++] = row->text;
    }
    w->plan->cautions = cautions;
    lb_names_free(&seen);
    return status;
}

static lb_status gather_inspects(struct work *w)
{
    const struct lb_map *map = w->map;
    uint32_t *rows = lb_plan_alloc(w, map->component_row_count + 1, sizeof *rows);
    if (!rows)
        return LB_NOMEM;
    for (size_t i = 0; i < map->component_row_count; i++) {
        const struct lb_map_component *row = &map->component_rows[i];
        if (row->inspect && strcmp(row->inspect, "no") != 0 && w->level[row->component])
            rows[w->plan->inspect_count++] = (uint32_t)i;
    }
    w->plan->inspects = rows;
    return LB_OK;
}

static lb_status gather_circuits(struct work *w)
{
    uint32_t *opened = lb_plan_alloc(w, w->map->circuit_count + 1, sizeof *opened);
    uint32_t *dry = lb_plan_alloc(w, w->map->circuit_count + 1, sizeof *dry);
    if (!opened || !dry)
        return LB_NOMEM;
    for (uint32_t c = 0; c < w->map->circuit_count; c++) {
        if (!w->level[node_of_circuit(w, c)])
            continue;
        opened[w->plan->opened_count++] = c;
        if (w->circuits_of.start[c] == w->circuits_of.start[c + 1])
            dry[w->plan->dry_circuit_count++] = c;
    }
    w->plan->opened = opened;
    w->plan->dry_circuits = dry;
    return LB_OK;
}

static lb_status gather_unknown_parts(struct work *w)
{
    uint32_t *unknown = lb_plan_alloc(w, w->map->component_count + 1, sizeof *unknown);
    if (!unknown)
        return LB_NOMEM;
    for (uint32_t c = 0; c < w->map->component_count; c++)
        if (w->level[c] && w->components_of.start[c] == w->components_of.start[c + 1])
            unknown[w->plan->unknown_part_count++] = c;
    w->plan->unknown_parts = unknown;
    return LB_OK;
}

lb_status lb_plan_gather(struct work *w)
{
    static lb_status (*const stages[])(struct work *) = {gather_tools, gather_cautions, gather_inspects,
                                                         gather_circuits, gather_unknown_parts};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](w);
    return status;
}
