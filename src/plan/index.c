/* Rows grouped by what they belong to, so that each stage touches a row a bounded number of times. */
#include "plan/work.h"

typedef uint32_t (*owner_of)(const struct work *w, size_t row);

/* A counting sort: rows keep their order within a group. Rows that belong to nothing are left out. */
static lb_status group(struct work *w, struct row_index *index, size_t groups, size_t rows, owner_of owner)
{
    index->start = lb_plan_alloc(w, groups + 2, sizeof *index->start);
    index->row = lb_plan_alloc(w, rows + 1, sizeof *index->row);
    if (!index->start || !index->row)
        return LB_NOMEM;
    uint32_t *next = index->start + 1; /* after the second pass next[g] has become start[g + 1] */
    for (size_t i = 0; i < rows; i++) {
        uint32_t g = owner(w, i);
        if (g < groups)
            next[g + 1]++;
    }
    for (size_t g = 1; g <= groups; g++)
        next[g] += next[g - 1];
    for (size_t i = 0; i < rows; i++) {
        uint32_t g = owner(w, i);
        if (g < groups)
            index->row[next[g]++] = (uint32_t)i;
    }
    return LB_OK;
}

static uint32_t access_owner(const struct work *w, size_t row)
{
    const struct lb_map_access *access = &w->map->access[row];
    if (access->thing.id == LB_NO_NAME || access->needs == LB_NO_NAME)
        return LB_NO_NAME;
    return (uint32_t)node_of(w, access->thing);
}

static uint32_t opens_owner(const struct work *w, size_t row)
{
    return w->map->opens[row].component;
}

static uint32_t component_owner(const struct work *w, size_t row)
{
    return w->map->component_rows[row].component;
}

static uint32_t fastening_owner(const struct work *w, size_t row)
{
    return w->map->fastenings[row].component;
}

static uint32_t consumable_owner(const struct work *w, size_t row)
{
    return w->map->consumables[row].component;
}

static uint32_t circuit_owner(const struct work *w, size_t row)
{
    return w->map->circuit_rows[row].circuit;
}

/* Only asked for rules of the owner's, so without any nothing is noted. */
static lb_status note_consumed(struct work *w)
{
    const struct lb_map *map = w->map;
    size_t missed = 0;
    uint32_t id;
    for (size_t i = 0; i < map->consumable_count; i++)
        missed += map->consumables[i].missed;
    for (size_t i = 0; missed && i < map->consumable_count; i++) {
        const struct lb_map_consumable *row = &map->consumables[i];
        if (!row->missed && row->article.dimension == LB_COUNT &&
            !lb_names_add(&w->consumed, row->article.part_type, &id))
            return lb_fail_nomem(w->err);
    }
    return LB_OK;
}

lb_status lb_plan_index(struct work *w)
{
    const struct lb_map *map = w->map;
    w->node_count = map->component_count + map->circuit_count;
    const struct {
        struct row_index *index;
        size_t groups, rows;
        owner_of owner;
    } jobs[] = {
        {&w->access_of, w->node_count, map->access_count, access_owner},
        {&w->opens_of, map->component_count, map->opens_count, opens_owner},
        {&w->components_of, map->component_count, map->component_row_count, component_owner},
        {&w->fastenings_of, map->component_count, map->fastening_count, fastening_owner},
        {&w->consumables_of, map->component_count, map->consumable_count, consumable_owner},
        {&w->circuits_of, map->circuit_count, map->circuit_row_count, circuit_owner},
    };
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++) {
        lb_status status = group(w, jobs[i].index, jobs[i].groups, jobs[i].rows, jobs[i].owner);
        if (status)
            return status;
    }
    return note_consumed(w);
}
