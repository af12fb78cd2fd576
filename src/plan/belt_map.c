#include "plan/belt_map.h"

#include "base/decimal.h"

#include <math.h>

static void insert(struct lb_mapped_belt *out, const struct lb_map *map, uint32_t row)
{
    size_t at = out->count++;
    if (at >= LB_BELT_MOST)
        return;
    for (; at && map->pulleys[out->rows[at - 1]].order > map->pulleys[row].order; at--)
        out->rows[at] = out->rows[at - 1];
    out->rows[at] = row;
}

/* The greatest slack that can be added up without looking: far more than any belt. */
static int64_t add_slack(int64_t sum, int64_t slack)
{
    const int64_t most = INT64_MAX / 4;
    if (slack < 0)
        return sum;
    sum = sum < 0 ? 0 : sum;
    return slack > most - sum ? most : sum + slack;
}

void lb_map_belt(struct lb_mapped_belt *out, const struct lb_map *map, uint32_t belt)
{
    uint32_t condition = 0;
    bool doubtful = false;
    *out = (struct lb_mapped_belt){.belt = belt, .slack = -1, .ask = map->platform.doubt_count > 0};
    for (size_t i = 0; i < map->pulley_count; i++) {
        const struct lb_map_pulley *pulley = &map->pulleys[i];
        if (pulley->belt != belt)
            continue;
        if (pulley->row.doubt_count) {
            out->open = out->open || (doubtful && pulley->row.condition != condition);
            condition = pulley->row.condition;
            doubtful = out->ask = true;
        }
        out->slack = add_slack(out->slack, pulley->slack);
        insert(out, map, (uint32_t)i);
    }
}

size_t lb_map_belt_twice(const struct lb_mapped_belt *mapped, const struct lb_map *map)
{
    for (size_t i = 1; i < mapped->count && i < LB_BELT_MOST; i++)
        if (map->pulleys[mapped->rows[i]].order == map->pulleys[mapped->rows[i - 1]].order)
            return i;
    return mapped->count;
}

void lb_map_belt_run(struct lb_belt *out, const struct lb_map *map, const struct lb_mapped_belt *mapped)
{
    struct lb_pulley pulleys[LB_BELT_MOST] = {0};
    for (size_t i = 0; i < mapped->count && i < LB_BELT_MOST; i++) {
        const struct lb_map_pulley *row = &map->pulleys[mapped->rows[i]];
        pulleys[i] =
            (struct lb_pulley){(double)row->x / (double)LB_MILLION, (double)row->y / (double)LB_MILLION,
                               (double)row->diameter / (double)LB_MILLION, row->back};
    }
    lb_belt_run(out, pulleys, mapped->count);
}

enum lb_belt_fit lb_belt_fit(double run, int64_t belt, int64_t slack, int64_t *over)
{
    const int64_t tenth = LB_MILLION / 10;
    *over = belt - llround(run * (double)LB_MILLION);
    if (slack < 0 && (*over > tenth || *over < -tenth))
        return LB_BELT_UNSAID;
    slack = slack < tenth ? tenth : slack;
    return *over > slack ? LB_BELT_LONG : *over < -slack ? LB_BELT_SHORT : LB_BELT_FITS;
}
