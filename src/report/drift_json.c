#include "base/date.h"
#include "report/drift_report.h"
#include "report/kit_json.h"

static json_t *day_json(struct lb_maker *m, int32_t day)
{
    struct lb_buf words = {0};
    lb_date_print(&words, day);
    json_t *text = lb_report_json_text(lb_buf_text(&words));
    m->failed = m->failed || words.failed;
    lb_buf_free(&words);
    return text;
}

static json_t *items_json(struct lb_maker *m, const struct lb_drift *drift)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; drift && i < drift->items.count; i++) {
        const struct lb_drift_item *item = &drift->items.at[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "code", lb_report_json_text(lb_drift_name(item->code)));
        lb_maker_set(m, object, "line", item->line ? json_integer(item->line) : json_null());
        lb_maker_set(m, object, "message", lb_report_json_text(item->message));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *add_check(struct lb_maker *m, json_t *object, const struct lb_kit *kit,
                         const struct lb_drift *drift)
{
    json_t *again = lb_maker_array(m);
    for (size_t i = 0; i < kit->line_count; i++)
        if (lb_line_wants_again(&kit->lines[i]))
            lb_maker_add(m, again, json_integer(kit->lines[i].number));
    lb_maker_set(m, object, "locked", drift ? day_json(m, drift->locked) : json_null());
    lb_maker_set(m, object, "drift", items_json(m, drift));
    lb_maker_set(m, object, "to_buy_again", again);
    return lb_maker_end(m, object);
}

json_t *lb_report_check_json(const struct lb_kit *kit, const struct lb_drift *drift)
{
    struct lb_maker m = {0};
    return add_check(&m, lb_report_kit_json(kit), kit, drift);
}

json_t *lb_report_member_json(const struct lb_kit *kit, const struct lb_drift *drift)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m);
    lb_maker_set(&m, object, "kit", lb_report_json_text(kit->name));
    return add_check(&m, object, kit, drift);
}

json_t *lb_report_lock_json(const struct lb_kit_lock *lock, const char *text)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m);
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kit", lb_report_json_text(lock->kit));
    lb_maker_set(&m, object, "locked", day_json(&m, lock->locked));
    lb_maker_set(&m, object, "lines", json_integer((json_int_t)lock->lines.count));
    lb_maker_set(&m, object, "text", lb_report_json_text(text));
    return lb_maker_end(&m, object);
}
