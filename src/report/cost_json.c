/* What the lines to buy cost, as JSON. */
#include "report/kit_json.h"

static json_t *parcel_line_json(struct lb_maker *m, const struct lb_kit *kit, const struct lb_parcel *parcel,
                                const struct lb_parcel_line *line)
{
    const struct lb_part *part = kit->bought[line->item];
    const struct lb_part_offer *offer = &part->offers[line->offer];
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "brand", lb_report_json_text(part->brand));
    lb_maker_set(m, object, "part_number", lb_report_json_text(part->number));
    lb_maker_set(m, object, "supplier_code", lb_report_json_text(offer->supplier_code));
    lb_maker_set(m, object, "packs", json_integer(line->packs));
    lb_maker_set(m, object, "pack_quantity", lb_report_json_quantity(offer->pack_quantity));
    lb_maker_set(m, object, "price", lb_report_json_money(offer->price, offer->currency));
    lb_maker_set(m, object, "amount", lb_report_json_money(line->amount, parcel->currency));
    return object;
}

static json_t *parcel_json(struct lb_maker *m, const struct lb_kit *kit, const struct lb_parcel *parcel)
{
    json_t *object = lb_maker_object(m), *lines = lb_maker_array(m);
    for (size_t i = 0; i < parcel->line_count; i++)
        lb_maker_add(m, lines, parcel_line_json(m, kit, parcel, &parcel->lines[i]));
    lb_maker_set(m, object, "supplier", lb_report_json_text(kit->suppliers[parcel->supplier].name));
    lb_maker_set(m, object, "goods", lb_report_json_money(parcel->goods, parcel->currency));
    lb_maker_set(m, object, "shipping", lb_report_json_money(parcel->shipping, parcel->currency));
    lb_maker_set(m, object, "tax", lb_report_json_money(parcel->tax, parcel->currency));
    lb_maker_set(m, object, "total", lb_report_json_money(parcel->total, parcel->currency));
    lb_maker_set(m, object, "deposits", lb_report_json_money(parcel->deposits, parcel->currency));
    lb_maker_set(m, object, "shipping_not_stated", json_boolean(parcel->shipping_not_stated));
    lb_maker_set(m, object, "below_shipping", json_boolean(parcel->below_shipping));
    lb_maker_set(m, object, "below_minimum", json_boolean(parcel->below_minimum));
    lb_maker_set(m, object, "lines", lines);
    return object;
}

static json_t *total_json(struct lb_maker *m, const struct lb_basket_total *total)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "goods", lb_report_json_money(total->goods, total->currency));
    lb_maker_set(m, object, "shipping", lb_report_json_money(total->shipping, total->currency));
    lb_maker_set(m, object, "tax", lb_report_json_money(total->tax, total->currency));
    lb_maker_set(m, object, "total", lb_report_json_money(total->total, total->currency));
    lb_maker_set(m, object, "deposits", lb_report_json_money(total->deposits, total->currency));
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
    for (size_t i = 0; i < basket->total_count; i++)
        lb_maker_add(&m, totals, total_json(&m, &basket->totals[i]));
    for (size_t i = 0; i < basket->unmet_count; i++) {
        json_t *part = lb_maker_object(&m);
        lb_maker_set(&m, part, "brand", lb_report_json_text(kit->bought[basket->unmet[i]]->brand));
        lb_maker_set(&m, part, "part_number", lb_report_json_text(kit->bought[basket->unmet[i]]->number));
        lb_maker_add(&m, unmet, part);
    }
    lb_maker_set(&m, object, "parcels", parcels);
    lb_maker_set(&m, object, "totals", totals);
    lb_maker_set(&m, object, "unmet", unmet);
    return lb_maker_end(&m, object);
}
