/* What is said of a thing that was missing, as far as it can be judged without an index. */
#include "base/decimal.h"
#include "base/text.h"
#include "importers/convert.h"
#include "kit/missed.h"

#include <string.h>

lb_status lb_missed_judge_text(const char *what, const char *text, struct lb_error *err)
{
    if (!lb_text_is_utf8(text, strlen(text), NULL))
        return lb_fail(err, LB_DATA, "the %s is not UTF-8.", what);
    if (strlen(text) > LB_RULE_TEXT_MAX)
        return lb_fail(err, LB_DATA, "the %s is too long: %zu bytes, where %d are the most.", what,
                       strlen(text), LB_RULE_TEXT_MAX);
    return LB_OK;
}

void lb_missed_trim(struct lb_buf *out, const char *text)
{
    static const char blanks[] = " \t\r\n";
    text += strspn(text, blanks);
    size_t length = strlen(text);
    while (length && strchr(blanks, text[length - 1]))
        length--;
    lb_buf_append(out, text, length);
}

static lb_status refuse(const char *reason, struct lb_error *err)
{
    return lb_fail(
        err, LB_DATA,
        "%s. Write how much, above 0 and up to %d, with its unit unless it is pieces, such as 2 or "
        "\"50 ml\".",
        reason, LB_MISSED_MOST);
}

/* From the cells of a components row, whose quantity is 1 and whose unit is each unless they say otherwise.
 */
static lb_status convert(struct lb_converter *converter, const struct lb_kind *kind, const char *words,
                         int64_t *quantity, struct lb_buf *unit, struct lb_error *err)
{
    static const char *const required[] = {"platform", "component", "part_type"};
    const char *cells[LB_KIND_COLUMNS_MAX] = {0};
    struct lb_value values[LB_KIND_COLUMNS_MAX];
    struct lb_fault fault;
    int column = lb_kind_column(kind, "quantity");
    for (size_t i = 0; i < sizeof required / sizeof *required; i++)
        cells[lb_kind_column(kind, required[i])] = "any";
    cells[column] = words;
    lb_status status = lb_convert_row(converter, cells, NULL, values, &fault, err);
    if (status)
        return status;
    if (fault.reason)
        return refuse(fault.reason, err);
    if (values[column].integer > LB_MISSED_MOST * LB_MILLION)
        return refuse("the quantity is too large", err);
    *quantity = values[column].integer;
    lb_missed_trim(unit, values[lb_kind_column(kind, "unit")].text);
    return unit->failed ? lb_fail_nomem(err) : LB_OK;
}

lb_status lb_missed_quantity(const char *words, int64_t *quantity, struct lb_buf *unit, struct lb_error *err)
{
    const struct lb_kind *kind = lb_kind_find("components");
    struct lb_converter *converter = NULL;
    struct lb_buf trimmed = {0};
    lb_status status = lb_missed_judge_text("quantity", words, err);
    lb_missed_trim(&trimmed, words);
    if (!status && trimmed.failed)
        status = lb_fail_nomem(err);
    if (!status && !trimmed.length)
        status = refuse("the quantity is empty", err);
    if (!status)
        status = lb_converter_new(&converter, kind, err);
    if (!status)
        status = convert(converter, kind, lb_buf_text(&trimmed), quantity, unit, err);
    lb_converter_free(converter);
    lb_buf_free(&trimmed);
    return status;
}
