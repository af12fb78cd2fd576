/* The JSON values that every verb writes the same way (formats.md §5), and a maker that remembers a lack of
 * memory, so that one look at the end is enough. Not a parser.
 *
 *     struct lb_maker maker = {0};
 *     json_t *object = lb_maker_object(&maker);
 *     lb_maker_set(&maker, object, "version", json_integer(1));
 *     lb_maker_set(&maker, object, "total", lb_report_json_money(1250, "EUR"));
 *     json_t *done = lb_maker_end(&maker, object);         // NULL: out of memory
 *     lb_report_json_dump(&out, done);
 *     json_decref(done);
 */
#ifndef LB_REPORT_JSON_H
#define LB_REPORT_JSON_H

#include "base/buf.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdint.h>

struct lb_maker {
    bool failed;
};

/* A new object or array. */
json_t *lb_maker_object(struct lb_maker *maker);
json_t *lb_maker_array(struct lb_maker *maker);
/* Takes `value` over; NULL (out of memory) or a container that is NULL sets failed. */
void lb_maker_set(struct lb_maker *maker, json_t *object, const char *key, json_t *value);
void lb_maker_add(struct lb_maker *maker, json_t *array, json_t *value);
/* The value, or NULL (and it is freed) when anything failed. */
json_t *lb_maker_end(struct lb_maker *maker, json_t *value);

/* Each returns a new reference, or NULL when memory ran out. */
/* {"amount":"12.50","currency":"EUR"} */
json_t *lb_report_json_money(int64_t minor, const char *currency);
/* Millionths as a number: whole ones as integers, the rest exact in 15 digits (that is, below a thousand
 * million). */
json_t *lb_report_json_quantity(int64_t millionths);
/* NULL becomes ""; bytes that are no UTF-8 (a file name may have some) become U+FFFD. */
json_t *lb_report_json_text(const char *text);
/* The same, but NULL becomes null. */
json_t *lb_report_json_text_or_null(const char *text);

/* Appends `value` (NULL: out of memory), members in the order they were set, and a line feed. */
void lb_report_json_dump(struct lb_buf *out, const json_t *value);

#endif
