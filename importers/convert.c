#include "importers/convert.h"

#include "base/cell.h"
#include "base/date.h"
#include "base/gtin.h"
#include "base/money.h"
#include "base/position.h"
#include "base/text.h"
#include "garage/condition.h"
#include "importers/convert_private.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

void lb_convert_refuse(struct lb_converter *c, const char *format, ...)
{
    char words[400];
    va_list args;
    va_start(args, format);
    vsnprintf(words, sizeof words, format, args);
    va_end(args);
    c->faulty = true;
    lb_buf_clear(&c->reason);
    lb_buf_puts(&c->reason, words);
}

/* A cell may be a megabyte; its beginning tells which one is meant. */
static void append_quoted(struct lb_buf *out, const char *text)
{
    size_t length = lb_text_fit(text, 60);
    lb_buf_putc(out, '"');
    lb_buf_append(out, text, length);
    lb_buf_puts(out, text[length] ? "…\"" : "\"");
}

void lb_convert_refuse_cell(struct lb_converter *c, const char *text, const char *why)
{
    c->faulty = true;
    lb_buf_clear(&c->reason);
    append_quoted(&c->reason, text);
    lb_buf_printf(&c->reason, " %s", why);
}

/* Already as a name is kept: most cells are, and are then borrowed instead of copied. */
static bool is_plain_word(const char *text)
{
    for (const char *p = text; *p; p++)
        if (*p < ' ' || *p > '~' || (*p >= 'A' && *p <= 'Z') || (*p == ' ' && p[1] == ' '))
            return false;
    return true;
}

static const char *folded(struct lb_converter *c, int i, const char *text)
{
    if (is_plain_word(text))
        return text;
    struct lb_buf *scratch = &c->scratch[i];
    lb_buf_clear(scratch);
    lb_text_fold(scratch, text);
    return lb_buf_text(scratch);
}

static void choose(struct lb_converter *c, int i, const char *text, struct lb_value *out)
{
    const char *const *choices = c->kind->columns[i].choices;
    for (int k = 0; choices[k]; k++)
        if (strcasecmp(choices[k], text) == 0) {
            out->text = choices[k];
            return;
        }
    lb_convert_refuse_cell(c, text, "is not one of ");
    for (int k = 0; choices[k]; k++)
        lb_buf_printf(&c->reason, "%s%s", k ? ", " : "", choices[k]);
}

static void currency(struct lb_converter *c, int i, const char *text, struct lb_value *out)
{
    struct lb_buf *scratch = &c->scratch[i];
    lb_buf_clear(scratch);
    for (const char *p = text; *p; p++)
        lb_buf_putc(scratch, *p >= 'a' && *p <= 'z' ? (char)(*p - 'a' + 'A') : *p);
    out->text = lb_buf_text(scratch);
    if (lb_currency_digits(out->text) < 0)
        lb_convert_refuse_cell(c, text, "is not a currency code of ISO 4217, such as EUR");
}

static void words(struct lb_converter *c, int i, const char *text, struct lb_value *out)
{
    bool pair = c->kind->columns[i].type == LB_CELL_VERBS;
    out->text = folded(c, i, text);
    int blanks = 0;
    for (const char *p = out->text; *p; p++)
        blanks += *p == ' ';
    if (pair && blanks != 1)
        lb_convert_refuse_cell(c, text, "is not a pair of verbs, such as \"remove fit\"");
    else if (!pair && blanks < 1)
        lb_convert_refuse_cell(c, text, "is not a step, such as \"remove water-pump\"");
}

static void date(struct lb_converter *c, const char *text)
{
    struct lb_interval interval;
    const char *why = lb_date_parse(text, &interval);
    if (why)
        lb_convert_refuse(c, "%.*s: %s", (int)lb_text_fit(text, 60), text, why);
}

/* FNV-1a. */
static struct lb_buf *slot_of(struct lb_converter *c, const char *text)
{
    uint32_t hash = 2166136261u;
    for (; *text; text++)
        hash = (hash ^ (unsigned char)*text) * 16777619u;
    return &c->whens[hash % LB_WHENS];
}

/* Parsing costs more than everything else in a row of applications, and most rows state a condition again. */
static lb_status when(struct lb_converter *c, const char *text, struct lb_error *err)
{
    struct lb_buf *slot = slot_of(c, text);
    if (strcmp(lb_buf_text(slot), text) == 0)
        return LB_OK;
    struct lb_condition *condition = NULL;
    struct lb_error own = {0};
    lb_status status = lb_condition_parse(&condition, text, &own);
    lb_condition_free(condition);
    c->faulty = status == LB_DATA;
    lb_buf_clear(&c->reason);
    if (c->faulty)
        lb_buf_puts(&c->reason, lb_error_text(&own));
    else if (status)
        lb_fail(err, status, "%s", lb_error_text(&own));
    lb_error_free(&own);
    if (status)
        return status == LB_DATA ? LB_OK : status;
    lb_buf_clear(slot);
    lb_buf_puts(slot, text);
    return slot->failed ? lb_fail_nomem(err) : LB_OK;
}

static void position(struct lb_converter *c, const char *text)
{
    lb_position where;
    if (!lb_position_parse(text, &where))
        lb_convert_refuse_cell(
            c, text, "is not a position (front or rear, left or right, upper or lower, inner or outer)");
}

static void gtin(struct lb_converter *c, const char *text)
{
    const char *why = lb_gtin_validate(text);
    if (!why)
        return;
    lb_buf_puts(&c->remark, "gtin ");
    append_quoted(&c->remark, text);
    lb_buf_printf(&c->remark, ": %s", why);
}

static void yes_or_words(const char *text, struct lb_value *out)
{
    out->text = strcasecmp(text, "yes") == 0 ? "yes" : strcasecmp(text, "no") == 0 ? "no" : text;
}

/* A cell with something in it. */
static lb_status convert_cell(struct lb_converter *c, int i, const char *text, struct lb_value *out,
                              struct lb_error *err)
{
    *out = (struct lb_value){.type = LB_VALUE_TEXT, .text = text};
    lb_status status = LB_OK;
    switch (c->kind->columns[i].type) {
    case LB_CELL_TEXT:
    case LB_CELL_UNIT:
        break;
    case LB_CELL_WORD:
        out->text = folded(c, i, text);
        break;
    case LB_CELL_CHOICE:
        choose(c, i, text, out);
        break;
    case LB_CELL_CURRENCY:
        currency(c, i, text, out);
        break;
    case LB_CELL_STEP:
    case LB_CELL_VERBS:
        words(c, i, text, out);
        break;
    case LB_CELL_DATE:
        date(c, text);
        break;
    case LB_CELL_WHEN:
        status = when(c, text, err);
        break;
    case LB_CELL_POSITION:
        position(c, text);
        break;
    case LB_CELL_GTIN:
        gtin(c, text);
        break;
    case LB_CELL_YES:
        yes_or_words(text, out);
        break;
    default:
        lb_convert_number(c, &c->kind->columns[i], text, out);
    }
    return c->scratch[i].failed ? lb_fail_nomem(err) : status;
}

static lb_status convert_or_fall_back(struct lb_converter *c, int i, const char *text, struct lb_value *out,
                                      struct lb_error *err)
{
    if (text && *text)
        return convert_cell(c, i, c->kind->ours ? lb_cell_bare(text) : text, out, err);
    *out = c->fallbacks[i];
    if (c->kind->columns[i].required)
        lb_convert_refuse(c, "%s must be stated", c->kind->columns[i].name);
    return LB_OK;
}

/* The currency first: prices lean on it. */
static lb_status convert_columns(struct lb_converter *c, const char *const *cells, struct lb_value *values,
                                 struct lb_fault *fault, struct lb_error *err)
{
    lb_status status;
    if (c->currency >= 0) {
        fault->column = c->currency;
        status = convert_or_fall_back(c, c->currency, cells[c->currency], &values[c->currency], err);
        if (status || c->faulty)
            return status;
        c->row_currency = values[c->currency].text;
    }
    for (int i = 0; i < c->kind->column_count; i++) {
        if (i == c->currency)
            continue;
        fault->column = i;
        status = convert_or_fall_back(c, i, cells[i], &values[i], err);
        if (status || c->faulty)
            return status;
        if (c->remark.length && !fault->remark_column)
            fault->remark_column = i;
    }
    if (c->unit >= 0 && c->unit_from_quantity)
        values[c->unit] = (struct lb_value){.type = LB_VALUE_TEXT, .text = c->unit_from_quantity};
    return LB_OK;
}

lb_status lb_convert_row(struct lb_converter *c, const char *const *cells, const char *unit,
                         struct lb_value *values, struct lb_fault *fault, struct lb_error *err)
{
    *fault = (struct lb_fault){0};
    c->faulty = false;
    c->unit_from_quantity = NULL;
    c->row_unit = c->unit >= 0 ? cells[c->unit] : unit;
    lb_buf_clear(&c->remark);
    lb_status status = convert_columns(c, cells, values, fault, err);
    if (status)
        return status;
    if (c->faulty)
        fault->reason = lb_buf_text(&c->reason);
    else if (c->kind->check)
        fault->reason = c->kind->check(values, &fault->column);
    if (c->remark.length)
        fault->remark = lb_buf_text(&c->remark);
    return c->reason.failed || c->remark.failed ? lb_fail_nomem(err) : LB_OK;
}

lb_status lb_converter_new(struct lb_converter **out, const struct lb_kind *kind, struct lb_error *err)
{
    *out = NULL;
    struct lb_converter *c = calloc(1, sizeof *c);
    if (!c)
        return lb_fail_nomem(err);
    c->kind = kind;
    c->currency = c->unit = -1;
    lb_status status = LB_OK;
    for (int i = 0; i < kind->column_count && status == LB_OK; i++) {
        const struct lb_column *column = &kind->columns[i];
        if (column->type == LB_CELL_UNIT)
            c->unit = i;
        if (column->type == LB_CELL_CURRENCY && lb_kind_column(kind, "currency") == i)
            c->currency = i;
        if (column->fallback)
            status = convert_cell(c, i, column->fallback, &c->fallbacks[i], err);
    }
    if (status)
        lb_converter_free(c);
    else
        *out = c;
    return status;
}

void lb_converter_free(struct lb_converter *c)
{
    if (!c)
        return;
    for (int i = 0; i < LB_KIND_COLUMNS_MAX; i++)
        lb_buf_free(&c->scratch[i]);
    for (int i = 0; i < LB_WHENS; i++)
        lb_buf_free(&c->whens[i]);
    lb_buf_free(&c->reason);
    lb_buf_free(&c->remark);
    free(c);
}
