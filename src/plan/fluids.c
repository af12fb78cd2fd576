/* §3.4: how much of a circuit is lost, and what it is made of. */
#include "base/decimal.h"
#include "base/glycol.h"
#include "plan/work.h"

#define WHOLE (100 * LB_MILLION) /* 100 % */

static int64_t opened_by(const struct work *w, const struct lb_map_opens *row)
{
    return row->component != LB_NO_NAME && w->level[row->component] >= row->at ? row->share : 0;
}

/* By circuit, so that one pass over the opens rows serves all of them. */
lb_status lb_plan_shares(struct work *w)
{
    size_t count = w->map->circuit_count + 1;
    w->share = lb_plan_alloc(w, count, sizeof *w->share);
    w->share_row = lb_plan_alloc(w, count, sizeof *w->share_row);
    if (!w->share || !w->share_row)
        return LB_NOMEM;
    for (size_t i = 0; i < w->map->circuit_count; i++) {
        w->share[i] = w->is_target[node_of_circuit(w, (uint32_t)i)] ? WHOLE : 0;
        w->share_row[i] = LB_NO_NAME;
    }
    for (size_t i = 0; i < w->map->opens_count; i++) {
        const struct lb_map_opens *row = &w->map->opens[i];
        if (row->circuit != LB_NO_NAME && opened_by(w, row) > w->share[row->circuit]) {
            w->share[row->circuit] = row->share;
            w->share_row[row->circuit] = (uint32_t)i;
        }
    }
    return LB_OK;
}

lb_status lb_plan_mix(const struct work *w, const struct lb_map_circuit *row, int64_t share,
                      struct mixture *out)
{
    int64_t mix = row->mix >= 0 ? row->mix : WHOLE;
    if (row->has_freeze_to && !lb_glycol_share(row->freeze_to, &mix))
        return lb_fail_at(
            w->err, w->map->sources[row->row.source], row->row.line, 0,
            "%s:%u: freeze_to of %s is colder than -48.3 °C, where no data for water and ethylene glycol "
            "exists. State mix_percent instead.",
            w->map->sources[row->row.source], row->row.line, w->map->circuits[row->circuit]);
    int64_t volume = lb_decimal_muldiv(row->fluid.quantity, share, WHOLE);
    out->fluid = lb_decimal_muldiv(volume, mix, WHOLE);
    out->diluent = row->diluent.part_type ? volume - out->fluid : 0;
    return LB_OK;
}
