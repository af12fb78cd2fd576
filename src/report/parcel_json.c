#include "report/parcel_json.h"

json_t *lb_report_part_name_json(struct lb_maker *m, const struct lb_part *part)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "brand", lb_report_json_text(part->brand));
    lb_maker_set(m, object, "part_number", lb_report_json_text(part->number));
    return object;
}

json_t *lb_report_parcel_line_json(struct lb_maker *m, const struct lb_parcel *parcel,
                                   const struct lb_parcel_line *line, const struct lb_part *part,
                                   const struct lb_part_offer *offer)
{
    json_t *object = lb_report_part_name_json(m, part);
    lb_maker_set(m, object, "supplier_code", lb_report_json_text(offer->supplier_code));
    lb_maker_set(m, object, "packs", json_integer(line->packs));
    lb_maker_set(m, object, "pack_quantity", lb_report_json_quantity(offer->pack_quantity));
    lb_maker_set(m, object, "price", lb_report_json_money(offer->price, offer->currency));
    lb_maker_set(m, object, "amount", lb_report_json_money(line->amount, parcel->currency));
    return object;
}

void lb_report_set_total(struct lb_maker *m, json_t *object, const struct lb_basket_total *total)
{
    lb_maker_set(m, object, "goods", lb_report_json_money(total->goods, total->currency));
    lb_maker_set(m, object, "shipping", lb_report_json_money(total->shipping, total->currency));
    lb_maker_set(m, object, "tax", lb_report_json_money(total->tax, total->currency));
    lb_maker_set(m, object, "total", lb_report_json_money(total->total, total->currency));
    lb_maker_set(m, object, "deposits", lb_report_json_money(total->deposits, total->currency));
}

json_t *lb_report_parcel_json(struct lb_maker *m, const struct lb_parcel *parcel,
                              const struct lb_supplier *supplier)
{
    const struct lb_basket_total sums = {.currency = parcel->currency,
                                         .goods = parcel->goods,
                                         .shipping = parcel->shipping,
                                         .tax = parcel->tax,
                                         .deposits = parcel->deposits,
                                         .total = parcel->total};
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "supplier", lb_report_json_text(supplier->name));
    lb_report_set_total(m, object, &sums);
    lb_maker_set(m, object, "shipping_not_stated", json_boolean(parcel->shipping_not_stated));
    return object;
}
