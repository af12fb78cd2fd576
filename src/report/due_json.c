#include "report/due_report.h"

#include "base/decimal.h"

static json_t *day_json(struct lb_maker *m, bool known, int32_t day)
{
    struct lb_buf words = {0};
    if (!known || day == LB_DATE_MAX)
        return json_null();
    lb_date_print(&words, day);
    json_t *text = words.failed ? NULL : lb_report_json_text(lb_buf_text(&words));
    m->failed = m->failed || !text;
    lb_buf_free(&words);
    return text;
}

/* Whole kilometres: what is estimated is no finer. */
static json_t *km_json(bool known, int64_t km)
{
    return known ? json_integer(lb_decimal_muldiv(km, 1, LB_MILLION)) : json_null();
}

static json_t *last_json(struct lb_maker *m, const struct lb_due_item *item)
{
    if (!item->recorded)
        return json_null();
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "on", day_json(m, true, item->last_on));
    lb_maker_set(m, object, "km", item->has_last_km ? lb_report_json_quantity(item->last_km) : json_null());
    return object;
}

static json_t *names_json(struct lb_maker *m, const char *const *names, size_t count)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < count; i++)
        lb_maker_add(m, array, lb_report_json_text(names[i]));
    return array;
}

static json_t *item_json(struct lb_maker *m, const struct lb_due_item *item)
{
    static const char *const by[] = {NULL, "distance", "time"};
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "component", lb_report_json_text(item->component));
    lb_maker_set(m, object, "name", lb_report_json_text(item->name));
    lb_maker_set(m, object, "ask", json_boolean(item->ask));
    lb_maker_set(m, object, "last", last_json(m, item));
    lb_maker_set(m, object, "assumed", json_boolean(item->assumed));
    lb_maker_set(m, object, "driven_km", km_json(item->has_driven, item->driven > 0 ? item->driven : 0));
    lb_maker_set(m, object, "due_km", km_json(item->has_due_km, item->due_km));
    lb_maker_set(m, object, "due_on", day_json(m, item->has_due_on, item->due_on));
    lb_maker_set(m, object, "forecast", day_json(m, item->has_forecast, item->forecast));
    lb_maker_set(m, object, "earliest", day_json(m, item->has_forecast && item->ranged, item->earliest));
    lb_maker_set(m, object, "latest", day_json(m, item->has_forecast && item->ranged, item->latest));
    lb_maker_set(m, object, "before_first_reading", json_boolean(item->before_first));
    lb_maker_set(m, object, "by", lb_report_json_text_or_null(by[item->by]));
    lb_maker_set(m, object, "state", lb_report_json_text(lb_due_state_name(item->state)));
    lb_maker_set(m, object, "jobs", names_json(m, item->jobs, item->job_count));
    return object;
}

static json_t *group_json(struct lb_maker *m, const struct lb_due_group *group)
{
    json_t *object = lb_maker_object(m), *jobs = lb_maker_array(m), *saves = lb_maker_object(m);
    for (size_t i = 0; i < group->job_count; i++)
        lb_maker_add(m, jobs, lb_report_json_text(group->jobs[i].name));
    lb_maker_set(m, saves, "steps", json_integer(group->saves.steps));
    lb_maker_set(m, saves, "pieces", lb_report_json_quantity(group->saves.pieces));
    lb_maker_set(m, saves, "litres", lb_report_json_quantity(group->saves.litres));
    lb_maker_set(m, object, "jobs", jobs);
    lb_maker_set(m, object, "saves", saves);
    return object;
}

static json_t *reading_json(struct lb_maker *m, int32_t day, int64_t km)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "km", lb_report_json_quantity(km));
    lb_maker_set(m, object, "on", day_json(m, true, day));
    return object;
}

/* Readings that the others deny. */
static json_t *left_out_json(struct lb_maker *m, const struct lb_due *due)
{
    json_t *array = lb_maker_array(m);
    size_t reading = 0;
    for (size_t i = 0; i < due->log.entries.count; i++) {
        const struct lb_log_entry *entry = &due->log.entries.at[i];
        if (entry->has_km && due->odometer.uses[reading++] == LB_READING_WRONG)
            lb_maker_add(m, array, reading_json(m, entry->day, entry->km));
    }
    return array;
}

json_t *lb_report_due_json(const struct lb_due *due)
{
    struct lb_maker m = {0};
    const struct lb_odometer_point *last = lb_odometer_last(&due->odometer);
    json_t *object = lb_maker_object(&m), *items = lb_maker_array(&m), *groups = lb_maker_array(&m);
    int64_t thousandths = due->odometer.per_day / 1000;
    lb_maker_set(&m, object, "vehicle", lb_report_json_text(due->vehicle));
    lb_maker_set(&m, object, "platform", lb_report_json_text_or_null(due->platform));
    lb_maker_set(&m, object, "rate_km_per_day",
                 due->odometer.has_rate ? lb_report_json_quantity(thousandths * 1000) : json_null());
    lb_maker_set(&m, object, "odometer", last ? reading_json(&m, last->day, last->shown) : json_null());
    lb_maker_set(&m, object, "left_out", left_out_json(&m, due));
    for (size_t i = 0; i < due->item_count; i++)
        lb_maker_add(&m, items, item_json(&m, &due->items[i]));
    for (size_t i = 0; i < due->group_count; i++)
        lb_maker_add(&m, groups, group_json(&m, &due->groups[i]));
    lb_maker_set(&m, object, "due", items);
    lb_maker_set(&m, object, "together", groups);
    return lb_maker_end(&m, object);
}
