/* What the lines to buy cost, as JSON. */
#include "report/kit_json.h"
#include "report/parcel_json.h"

static json_t *parcel_json(struct lb_maker *m, const struct lb_kit *kit, const struct lb_parcel *parcel)
{
    json_t *object = lb_report_parcel_json(m, parcel, &kit->suppliers[parcel->supplier]),
           *lines = lb_maker_array(m);
    for (size_t i = 0; i < parcel->line_count; i++) {
        const struct lb_parcel_line *line = &parcel->lines[i];
        const struct lb_part *part = kit->bought[line->part];
        lb_maker_add(m, lines, lb_report_parcel_line_json(m, parcel, line, part, &part->offers[line->offer]));
    }
    lb_maker_set(m, object, "below_shipping", json_boolean(parcel->below_shipping));
    lb_maker_set(m, object, "below_minimum", json_boolean(parcel->below_minimum));
    lb_maker_set(m, object, "lines", lines);
    return object;
}

json_t *lb_report_cost_json(const struct lb_kit *kit)
{
    const struct lb_basket *basket = kit->basket;
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *parcels = lb_maker_array(&m), *totals = lb_maker_array(&m),
           *unmet = lb_maker_array(&m);
    for (size_t i = 0; i < basket->parcel_count; i++)
        lb_maker_add(&m, parcels, parcel_json(&m, kit, &basket->parcels[i]));
    for (size_t i = 0; i < basket->total_count; i++) {
        json_t *total = lb_maker_object(&m);
        lb_report_set_total(&m, total, &basket->totals[i]);
        lb_maker_add(&m, totals, total);
    }
    for (size_t i = 0; i < basket->unmet_count; i++)
        lb_maker_add(&m, unmet, lb_report_part_name_json(&m, kit->bought[basket->unmet[i]]));
    lb_maker_set(&m, object, "parcels", parcels);
    lb_maker_set(&m, object, "totals", totals);
    lb_maker_set(&m, object, "unmet", unmet);
    return lb_maker_end(&m, object);
}
