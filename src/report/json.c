#include "report/json.h"

#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"

#include <string.h>

json_t *lb_maker_object(struct lb_maker *maker)
{
    json_t *object = json_object();
    maker->failed = maker->failed || !object;
    return object;
}

json_t *lb_maker_array(struct lb_maker *maker)
{
    json_t *array = json_array();
    maker->failed = maker->failed || !array;
    return array;
}

/* Both jansson calls take the value over even when they fail, and refuse NULL. */
void lb_maker_set(struct lb_maker *maker, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value))
        maker->failed = true;
}

void lb_maker_add(struct lb_maker *maker, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value))
        maker->failed = true;
}

json_t *lb_maker_end(struct lb_maker *maker, json_t *value)
{
    if (!maker->failed)
        return value;
    json_decref(value);
    return NULL;
}

json_t *lb_report_json_money(int64_t minor, const char *currency)
{
    struct lb_maker maker = {0};
    struct lb_buf amount = {0};
    lb_money_print(&amount, minor, currency);
    maker.failed = amount.failed;
    json_t *money = lb_maker_object(&maker);
    lb_maker_set(&maker, money, "amount", lb_report_json_text(lb_buf_text(&amount)));
    lb_maker_set(&maker, money, "currency", lb_report_json_text(currency));
    lb_buf_free(&amount);
    return lb_maker_end(&maker, money);
}

json_t *lb_report_json_quantity(int64_t millionths)
{
    if (millionths % LB_MILLION == 0)
        return json_integer(millionths / LB_MILLION);
    return json_real((double)millionths / (double)LB_MILLION);
}

json_t *lb_report_json_text(const char *text)
{
    size_t length = text ? strlen(text) : 0, bad = 0;
    if (lb_text_is_utf8(text, length, &bad))
        return json_stringn_nocheck(text ? text : "", length);
    struct lb_buf mended = {0};
    while (!lb_text_is_utf8(text, length, &bad)) {
        lb_buf_append(&mended, text, bad);
        lb_buf_puts(&mended, "\xEF\xBF\xBD");
        text += bad + 1;
        length -= bad + 1;
    }
    lb_buf_append(&mended, text, length);
    json_t *string = mended.failed ? NULL : json_stringn_nocheck(lb_buf_text(&mended), mended.length);
    lb_buf_free(&mended);
    return string;
}

json_t *lb_report_json_text_or_null(const char *text)
{
    return text ? lb_report_json_text(text) : json_null();
}

static int append(const char *bytes, size_t length, void *buf)
{
    struct lb_buf *out = buf;
    lb_buf_append(out, bytes, length);
    return out->failed ? -1 : 0;
}

void lb_report_json_dump(struct lb_buf *out, const json_t *value)
{
    if (!value ||
        json_dump_callback(value, append, out, JSON_INDENT(2) | JSON_REAL_PRECISION(15) | JSON_ENCODE_ANY))
        out->failed = true;
    lb_buf_putc(out, '\n');
}
