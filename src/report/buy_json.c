#include "report/buy_json.h"

#include "report/buy_json_parts.h"
#include "report/parcel_json.h"

#include "base/date.h"

#include <string.h>

json_t *buy_money_json(const struct lb_purchase *p, int64_t minor)
{
    return lb_report_json_money(minor, p->market.currency);
}

json_t *buy_line_json(struct lb_maker *m, const struct lb_purchase *p, size_t need)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "kit", lb_report_json_text(p->kits[p->needs[need].kit]->name));
    lb_maker_set(m, object, "line", json_integer(p->needs[need].line->number));
    return object;
}

json_t *buy_lines_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_uses *uses,
                       uint32_t part)
{
    json_t *array = lb_maker_array(m);
    for (size_t n = 0; n < p->market.need_count; n++)
        if (lb_uses_serves(uses, p, n, part))
            lb_maker_add(m, array, buy_line_json(m, p, n));
    return array;
}

/* Nothing that comes, nothing that arrives. */
static json_t *day_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_basket *basket,
                        int64_t days)
{
    struct lb_buf words = {0};
    if (!basket->parcel_count)
        return json_null();
    lb_date_print(&words, lb_buy_day(p, days));
    json_t *day = lb_report_json_text(lb_buf_text(&words));
    m->failed = m->failed || words.failed;
    lb_buf_free(&words);
    return day;
}

static json_t *rate_json(struct lb_maker *m, const struct lb_rate *rate)
{
    if (!rate)
        return json_null();
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "currency", lb_report_json_text(rate->currency));
    lb_maker_set(m, object, "in", lb_report_json_text(rate->in));
    lb_maker_set(m, object, "rate", lb_report_json_quantity(rate->rate));
    return object;
}

static json_t *parcel_line_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_uses *uses,
                                const struct lb_parcel *parcel, const struct lb_parcel_line *line)
{
    const struct lb_part_offer *offer = p->offers[line->part][line->offer];
    json_t *object = lb_report_parcel_line_json(m, parcel, line, p->parts[line->part], offer);
    lb_maker_set(m, object, "deposit", lb_report_json_money(line->deposit, parcel->currency));
    lb_maker_set(m, object, "rate",
                 rate_json(m, lb_basket_rate(&p->market, offer->currency, parcel->currency)));
    lb_maker_set(m, object, "for", buy_lines_json(m, p, uses, line->part));
    return object;
}

static json_t *parcel_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_uses *uses,
                           const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &p->market.suppliers[parcel->supplier];
    json_t *object = lb_report_parcel_json(m, parcel, supplier), *lines = lb_maker_array(m);
    lb_maker_set(m, object, "name", lb_report_json_text(supplier->label));
    lb_maker_set(m, object, "arrives", day_json(m, p, p->basket, parcel->days));
    lb_maker_set(m, object, "arrival_not_stated", json_boolean(parcel->days_not_stated));
    lb_maker_set(m, object, "stock_not_stated", json_boolean(parcel->stock_not_stated));
    lb_maker_set(m, object, "rate", rate_json(m, parcel->rate));
    for (size_t i = 0; i < parcel->line_count; i++)
        lb_maker_add(m, lines, parcel_line_json(m, p, uses, parcel, &parcel->lines[i]));
    lb_maker_set(m, object, "lines", lines);
    return object;
}

static json_t *point_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_basket *point)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "total", buy_money_json(p, point->total.total));
    lb_maker_set(m, object, "parcels", json_integer((json_int_t)point->parcel_count));
    lb_maker_set(m, object, "arrives", day_json(m, p, point, point->days));
    lb_maker_set(m, object, "arrival_not_stated", json_boolean(lb_buy_late(point)));
    lb_maker_set(m, object, "proved", json_boolean(point->proved));
    return object;
}

static json_t *front_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; p->front && i <= p->front->count; i++)
        lb_maker_add(m, array, point_json(m, p, lb_buy_point(p, i)));
    return array;
}

static json_t *gaps_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->gap_count; i++) {
        const struct lb_purchase_gap *gap = &p->gaps[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "code", lb_report_json_text(gap->code));
        lb_maker_set(m, object, "kit",
                     lb_report_json_text_or_null(gap->kit < p->kit_count ? p->kits[gap->kit]->name : NULL));
        lb_maker_set(m, object, "line", gap->line ? json_integer(gap->line) : json_null());
        lb_maker_set(m, object, "message", lb_report_json_text(gap->message));
        lb_maker_add(m, array, object);
    }
    return array;
}

/* The name by which rows refer to the supplier that people call so. */
static const char *name_of(const struct lb_purchase *p, const char *label)
{
    for (size_t i = 0; i < p->market.supplier_count; i++)
        if (strcmp(p->market.suppliers[i].label, label) == 0)
            return p->market.suppliers[i].name;
    return label;
}

static json_t *move_json(struct lb_maker *m, const struct lb_purchase *p, const struct lb_moved *moved)
{
    json_t *object = lb_report_part_name_json(m, moved->part);
    lb_maker_set(m, object, "supplier", lb_report_json_text(name_of(p, moved->supplier)));
    lb_maker_set(m, object, "was", lb_report_json_money(moved->was, moved->currency));
    lb_maker_set(m, object, "now",
                 moved->now < 0 ? json_null() : lb_report_json_money(moved->now, moved->currency));
    return object;
}

static json_t *moved_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->moved_count; i++)
        lb_maker_add(m, array, move_json(m, p, &p->moved[i]));
    return array;
}

static json_t *moved_since_lock_json(struct lb_maker *m, const struct lb_purchase *p)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < p->lock_count; i++) {
        for (size_t k = 0; k < p->locks[i].moved_count; k++) {
            json_t *object = move_json(m, p, &p->locks[i].moved[k]);
            lb_maker_set(m, object, "kit", lb_report_json_text(p->kits[p->locks[i].kit]->name));
            lb_maker_set(m, object, "locked", lb_report_json_text(p->locks[i].locked));
            lb_maker_add(m, array, object);
        }
    }
    return array;
}

static void set_nothing(struct lb_maker *m, json_t *object)
{
    static const char *const absent[] = {"goods", "shipping", "deposits", "tax",     "total",
                                         "bound", "gap",      "premium",  "arrives", "reasons"};
    static const char *const empty[] = {"parcels", "charged", "front", "from_shelf", "from_boxes"};
    static const char *const no[] = {"proved", "arrival_not_stated", "front_complete"};
    for (size_t i = 0; i < sizeof absent / sizeof *absent; i++)
        lb_maker_set(m, object, absent[i], json_null());
    for (size_t i = 0; i < sizeof no / sizeof *no; i++)
        lb_maker_set(m, object, no[i], json_false());
    for (size_t i = 0; i < sizeof empty / sizeof *empty; i++)
        lb_maker_set(m, object, empty[i], lb_maker_array(m));
}

static void set_parcels(struct lb_maker *m, json_t *object, const struct lb_purchase *p,
                        const struct lb_uses *uses)
{
    json_t *parcels = lb_maker_array(m), *charged = lb_maker_array(m);
    for (size_t i = 0; i < p->basket->parcel_count; i++)
        lb_maker_add(m, parcels, parcel_json(m, p, uses, &p->basket->parcels[i]));
    for (size_t i = 0; i < p->basket->total_count; i++) {
        json_t *total = lb_maker_object(m);
        lb_report_set_total(m, total, &p->basket->totals[i]);
        lb_maker_add(m, charged, total);
    }
    lb_maker_set(m, object, "parcels", parcels);
    lb_maker_set(m, object, "charged", charged);
    lb_maker_set(m, object, "from_shelf", buy_shelf_json(m, p, uses));
    lb_maker_set(m, object, "from_boxes", buy_boxes_json(m, p, uses));
}

static void set_basket(struct lb_maker *m, json_t *object, const struct lb_purchase *p)
{
    struct lb_uses uses = {0};
    const struct lb_basket *basket = p->basket;
    lb_report_set_total(m, object, &basket->total);
    lb_maker_set(m, object, "premium", buy_money_json(p, basket->premium));
    lb_maker_set(m, object, "proved", json_boolean(basket->proved));
    lb_maker_set(m, object, "bound", basket->proved ? json_null() : buy_money_json(p, basket->bound));
    lb_maker_set(m, object, "gap", basket->proved ? json_null() : buy_money_json(p, lb_buy_slack(basket)));
    lb_maker_set(m, object, "arrives", day_json(m, p, basket, basket->days));
    lb_maker_set(m, object, "arrival_not_stated", json_boolean(lb_buy_late(basket)));
    m->failed = m->failed || lb_uses_find(&uses, p, NULL);
    if (!m->failed)
        set_parcels(m, object, p, &uses);
    lb_uses_free(&uses);
    lb_maker_set(m, object, "front", front_json(m, p));
    lb_maker_set(m, object, "front_complete", json_boolean(p->front && p->front->complete));
    lb_maker_set(m, object, "reasons", p->reasons ? buy_reasons_json(m, p) : json_null());
}

json_t *lb_report_buy_json(const struct lb_purchase *p)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *kits = lb_maker_array(&m);
    for (size_t i = 0; i < p->kit_count; i++)
        lb_maker_add(&m, kits, lb_report_json_text(p->kits[i]->name));
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kits", kits);
    lb_maker_set(&m, object, "currency", lb_report_json_text(p->market.currency));
    if (lb_buy_found(p))
        set_basket(&m, object, p);
    else
        set_nothing(&m, object);
    lb_maker_set(&m, object, "gaps", gaps_json(&m, p));
    lb_maker_set(&m, object, "shown", lb_report_json_text_or_null(p->shown));
    lb_maker_set(&m, object, "moved", moved_json(&m, p));
    lb_maker_set(&m, object, "moved_since_lock", moved_since_lock_json(&m, p));
    return lb_maker_end(&m, object);
}
