#include "report/find_json.h"

static json_t *texts_json(struct lb_maker *maker, const char *const *texts, size_t count)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < count; i++)
        lb_maker_add(maker, array, lb_report_json_text(texts[i]));
    return array;
}

static json_t *fit_json(enum lb_find_fit fit)
{
    static const char *const words[] = {[LB_FIND_FITS] = "fits", [LB_FIND_ASK] = "ask", [LB_FIND_NO] = "no"};
    return fit == LB_FIND_NO_VEHICLE ? json_null() : lb_report_json_text(words[fit]);
}

/* The least price, who asks it, and for how much; all null when nobody offers the part. */
static void set_price(struct lb_maker *maker, json_t *object, const struct lb_find_hit *hit)
{
    lb_maker_set(maker, object, "best_price",
                 hit->priced ? lb_report_json_money(hit->price, hit->currency) : json_null());
    lb_maker_set(maker, object, "pack_quantity",
                 hit->priced ? lb_report_json_quantity(hit->pack_quantity) : json_null());
    lb_maker_set(maker, object, "supplier", lb_report_json_text_or_null(hit->priced ? hit->supplier : NULL));
}

static json_t *why_json(struct lb_maker *maker, const struct lb_find_hit *hit)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < hit->reason_count; i++) {
        json_t *reason = lb_maker_object(maker);
        lb_maker_set(maker, reason, "words", lb_report_json_text(hit->reasons[i].words));
        lb_maker_set(maker, reason, "points", json_real(hit->reasons[i].points));
        lb_maker_add(maker, array, reason);
    }
    return array;
}

static json_t *hit_json(struct lb_maker *maker, const struct lb_find_hit *hit, bool why)
{
    json_t *object = lb_maker_object(maker);
    lb_maker_set(maker, object, "brand", lb_report_json_text(hit->brand));
    lb_maker_set(maker, object, "part_number", lb_report_json_text(hit->part_number));
    lb_maker_set(maker, object, "part_type", lb_report_json_text_or_null(hit->part_type));
    lb_maker_set(maker, object, "description", lb_report_json_text_or_null(hit->description));
    lb_maker_set(maker, object, "spec", lb_report_json_text_or_null(hit->spec));
    lb_maker_set(maker, object, "fit", fit_json(hit->fit));
    lb_maker_set(maker, object, "asks", lb_report_json_text_or_null(hit->asks));
    lb_maker_set(maker, object, "superseded", json_boolean(hit->superseded));
    lb_maker_set(maker, object, "now", lb_report_json_text_or_null(hit->now));
    lb_maker_set(maker, object, "discontinued", json_boolean(hit->discontinued));
    lb_maker_set(maker, object, "note", lb_report_json_text_or_null(hit->note));
    set_price(maker, object, hit);
    if (why)
        lb_maker_set(maker, object, "why", why_json(maker, hit));
    return object;
}

json_t *lb_report_find_json(const char *query, const struct lb_find_result *result, bool why)
{
    struct lb_maker maker = {0};
    json_t *object = lb_maker_object(&maker), *hits = lb_maker_array(&maker);
    for (size_t i = 0; i < result->hit_count; i++)
        lb_maker_add(&maker, hits, hit_json(&maker, &result->hits[i], why));
    lb_maker_set(&maker, object, "version", json_integer(1));
    lb_maker_set(&maker, object, "query", lb_report_json_text(query));
    lb_maker_set(&maker, object, "total", json_integer(result->total));
    lb_maker_set(&maker, object, "total_least", json_boolean(result->total_least));
    lb_maker_set(&maker, object, "hits", hits);
    lb_maker_set(&maker, object, "remarks", texts_json(&maker, result->remarks, result->remark_count));
    lb_maker_set(&maker, object, "advice", texts_json(&maker, result->advice, result->advice_count));
    return lb_maker_end(&maker, object);
}
