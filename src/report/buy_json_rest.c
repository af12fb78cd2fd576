/* What need not be bought, and why the rest is bought as it is. */
#include "report/buy_json_parts.h"
#include "report/parcel_json.h"

json_t *buy_shelf_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_uses *uses)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->market.part_count; i++) {
        uint32_t part = (uint32_t)i;
        int64_t quantity = uses->parts[part].from_shelf;
        if (!quantity)
            continue;
        json_t *object = lb_report_part_name_json(m, p->parts[part]);
        lb_maker_set(m, object, "quantity", lb_report_json_quantity(quantity));
        lb_maker_set(m, object, "opened", json_boolean(lb_buy_opened(p, part)));
        lb_maker_set(m, object, "for", buy_lines_json(m, p, uses, part));
        lb_maker_add(m, array, object);
    }
    return array;
}

json_t *buy_boxes_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_uses *uses)
{
    json_t *array = lb_maker_array(m);
    for (size_t n = 0; n < p->market.need_count; n++) {
        if (!p->basket->answers[n].covered)
            continue;
        json_t *object = buy_line_json(m, p, n), *boxes = lb_maker_array(m);
        for (size_t i = 0; i < uses->holdings.count; i++)
            if (uses->holdings.at[i].need == n)
                lb_maker_add(m, boxes, lb_report_part_name_json(m, p->parts[uses->holdings.at[i].part]));
        lb_maker_set(m, object, "quantity", lb_report_json_quantity(p->basket->answers[n].covered));
        lb_maker_set(m, object, "boxes", boxes);
        lb_maker_add(m, array, object);
    }
    return array;
}

/* So many packs of an offer. */
static void set_packs(struct lb_maker *m, json_t *object, const struct lb_purchase *p, uint32_t part,
                      uint32_t offer, int64_t packs)
{
    lb_maker_set(m, object, "brand", lb_report_json_text(p->parts[part]->brand));
    lb_maker_set(m, object, "part_number", lb_report_json_text(p->parts[part]->number));
    lb_maker_set(m, object, "supplier", lb_report_json_text(lb_buy_supplier(p, part, offer)->name));
    lb_maker_set(m, object, "packs", json_integer(packs));
}

static json_t *next_best_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->reasons->next_count; i++) {
        const struct lb_next_best *next = &p->reasons->next[i];
        json_t *object = buy_line_json(m, p, next->need);
        lb_maker_set(m, object, "found", json_boolean(next->found));
        if (next->found)
            set_packs(m, object, p, p->market.needs[next->need].options[next->option].part, next->offer,
                      next->packs);
        lb_maker_set(m, object, "dearer", next->found ? buy_money_json(p, next->dearer) : json_null());
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *without_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->reasons->without_count; i++) {
        const struct lb_without *without = &p->reasons->without[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "supplier", lb_report_json_text(p->market.suppliers[without->supplier].name));
        lb_maker_set(m, object, "found", json_boolean(without->found));
        lb_maker_set(m, object, "proved", json_boolean(without->proved));
        lb_maker_set(m, object, "dearer", without->found ? buy_money_json(p, without->dearer) : json_null());
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *one_more_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->reasons->one_more_count; i++) {
        const struct lb_one_more *more = &p->reasons->one_more[i];
        json_t *object = lb_maker_object(m);
        set_packs(m, object, p, more->part, more->offer, more->packs);
        lb_maker_set(m, object, "shipping",
                     lb_report_json_money(more->charge, p->market.suppliers[more->supplier].currency));
        lb_maker_set(m, object, "dearer", buy_money_json(p, more->dearer));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *surplus_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->reasons->surplus_count; i++) {
        const struct lb_surplus *surplus = &p->reasons->surplus[i];
        json_t *object = lb_maker_object(m);
        set_packs(m, object, p, surplus->part, surplus->offer, surplus->packs);
        lb_maker_set(m, object, "saves",
                     surplus->saves < 0 ? json_null() : buy_money_json(p, surplus->saves));
        lb_maker_add(m, array, object);
    }
    return array;
}

json_t *buy_reasons_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "next_best", next_best_json(m, p));
    lb_maker_set(m, object, "without", without_json(m, p));
    lb_maker_set(m, object, "one_more_pack", one_more_json(m, p));
    lb_maker_set(m, object, "surplus", surplus_json(m, p));
    return object;
}
