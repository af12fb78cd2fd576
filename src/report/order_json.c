#include "report/order_json.h"

#include "base/date.h"
#include "report/json.h"

/* by enum lb_order_outcome */
static const char *const outcomes[] = {"ordered", "nothing", "blocked", "undecided", "moved"};

static json_t *gaps_json(struct lb_maker *m, const struct lb_order *order)
{
    json_t *gaps = lb_maker_array(m);
    for (size_t i = 0; i < order->gap_count; i++) {
        const struct lb_purchase_gap *gap = order->gaps[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "code", lb_report_json_text(gap->code));
        const char *kit =
            gap->kit < order->purchase->kit_count ? order->purchase->kits[gap->kit]->name : NULL;
        lb_maker_set(m, object, "kit", lb_report_json_text_or_null(kit));
        lb_maker_set(m, object, "line", gap->line ? json_integer(gap->line) : json_null());
        lb_maker_set(m, object, "message", lb_report_json_text(gap->message));
        lb_maker_add(m, gaps, object);
    }
    return gaps;
}

static json_t *moved_json(struct lb_maker *m, const struct lb_order *order)
{
    json_t *moved = lb_maker_array(m);
    for (size_t i = 0; order->outcome == LB_ORDER_MOVED && i < order->purchase->moved_count; i++) {
        const struct lb_moved *one = &order->purchase->moved[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "brand", lb_report_json_text(one->part->brand));
        lb_maker_set(m, object, "part_number", lb_report_json_text(one->part->number));
        lb_maker_set(m, object, "supplier", lb_report_json_text(one->supplier));
        lb_maker_set(m, object, "was", lb_report_json_money(one->was, one->currency));
        lb_maker_set(m, object, "now",
                     one->now < 0 ? json_null() : lb_report_json_money(one->now, one->currency));
        lb_maker_add(m, moved, object);
    }
    return moved;
}

static json_t *changes_json(struct lb_maker *m, const struct lb_order *order)
{
    json_t *changes = lb_maker_array(m);
    for (size_t i = 0; i < order->change_count; i++) {
        const struct lb_order_change *change = &order->changes[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "part", lb_report_json_text(change->part));
        lb_maker_set(m, object, "supplier", lb_report_json_text(change->supplier));
        lb_maker_set(m, object, "pack_quantity", lb_report_json_quantity(change->pack));
        lb_maker_set(m, object, "packs_were", json_integer(change->was));
        lb_maker_set(m, object, "packs", json_integer(change->now));
        lb_maker_add(m, changes, object);
    }
    return changes;
}

static json_t *parcel_json(struct lb_maker *m, const struct lb_order *order, size_t p)
{
    const struct lb_parcel *parcel = &order->purchase->basket->parcels[p];
    const struct lb_supplier *supplier = &order->purchase->market.suppliers[parcel->supplier];
    json_t *object = lb_maker_object(m), *files = lb_maker_array(m);
    struct lb_buf words = {0};
    lb_date_print(&words, order->purchase->today + (int32_t)parcel->days);
    lb_maker_set(m, object, "supplier", lb_report_json_text(supplier->name));
    lb_maker_set(m, object, "name", lb_report_json_text(supplier->label));
    lb_maker_set(m, object, "expected",
                 lb_order_day_known(parcel) ? lb_report_json_text(lb_buf_text(&words)) : json_null());
    lb_maker_set(m, object, "lines", json_integer((json_int_t)parcel->line_count));
    lb_maker_set(m, object, "total", lb_report_json_money(parcel->total, parcel->currency));
    lb_maker_set(m, object, "deposits", lb_report_json_money(parcel->deposits, parcel->currency));
    for (int e = 0; e < 2; e++) {
        lb_buf_clear(&words);
        lb_buf_printf(&words, "%s%s", order->stems[p], e ? ".txt" : ".csv");
        lb_maker_add(m, files, lb_report_json_text(lb_buf_text(&words)));
    }
    lb_maker_set(m, object, "files", files);
    m->failed |= words.failed;
    lb_buf_free(&words);
    return object;
}

static json_t *taken_json(struct lb_maker *m, const struct lb_order *order)
{
    json_t *taken = lb_maker_array(m);
    for (size_t i = 0; i < order->taken_count; i++) {
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "brand", lb_report_json_text(order->taken[i].part->brand));
        lb_maker_set(m, object, "part_number", lb_report_json_text(order->taken[i].part->number));
        lb_maker_set(m, object, "quantity", lb_report_json_quantity(order->taken[i].quantity));
        lb_maker_set(m, object, "unit", lb_report_json_text(lb_part_unit(order->taken[i].part)));
        lb_maker_add(m, taken, object);
    }
    return taken;
}

json_t *lb_report_order_json(const struct lb_order *order)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *kits = lb_maker_array(&m), *orders = lb_maker_array(&m);
    for (size_t i = 0; i < order->purchase->kit_count; i++)
        lb_maker_add(&m, kits, lb_report_json_text(order->purchase->kits[i]->name));
    for (size_t p = 0; order->stems && p < order->purchase->basket->parcel_count; p++)
        lb_maker_add(&m, orders, parcel_json(&m, order, p));
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kits", kits);
    lb_maker_set(&m, object, "outcome", lb_report_json_text(outcomes[order->outcome]));
    lb_maker_set(&m, object, "orders", orders);
    lb_maker_set(&m, object, "off_shelf", order->stems ? taken_json(&m, order) : lb_maker_array(&m));
    lb_maker_set(&m, object, "gaps", gaps_json(&m, order));
    lb_maker_set(&m, object, "moved", moved_json(&m, order));
    lb_maker_set(&m, object, "changes", changes_json(&m, order));
    return lb_maker_end(&m, object);
}
