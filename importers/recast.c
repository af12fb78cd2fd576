#include "importers/recast.h"

#include "base/text.h"

#include <string.h>

void lb_recast_lower_words(struct lb_buf *out, const char *text)
{
    struct lb_buf folded = {0};
    bool gap = false, begun = false;
    lb_text_fold(&folded, text);
    for (const char *p = lb_buf_text(&folded); *p; p++) {
        bool kept = (*p >= 'a' && *p <= 'z') || (*p >= '0' && *p <= '9') || (unsigned char)*p >= 0x80;
        if (kept && gap && begun)
            lb_buf_putc(out, '-');
        if (kept)
            lb_buf_putc(out, *p);
        begun |= kept;
        gap = !kept;
    }
    out->failed |= folded.failed;
    lb_buf_free(&folded);
}

bool lb_recast_is_on_request(const struct lb_recast *recast, const char *text)
{
    for (size_t i = 0; i < recast->on_request_count; i++)
        if (lb_text_same_words(recast->on_request[i], text))
            return true;
    return false;
}

static bool refuse(struct lb_recast_cell *cell, const char *text, const char *why)
{
    lb_buf_clear(&cell->reason);
    lb_buf_printf(&cell->reason, "\"%.*s\" %s", (int)lb_text_fit(text, 60), text, why);
    return false;
}

/* Makes `length` bytes of what is in cell->work from `from` on the text, blanks at both ends dropped. */
static void set_text(struct lb_recast_cell *cell, const char *from, size_t length)
{
    while (length && *from == ' ') {
        from++;
        length--;
    }
    while (length && from[length - 1] == ' ')
        length--;
    lb_buf_clear(&cell->text);
    lb_buf_append(&cell->text, from, length);
}

static void to_work(struct lb_recast_cell *cell)
{
    lb_buf_clear(&cell->work);
    lb_buf_puts(&cell->work, lb_buf_text(&cell->text));
    lb_buf_clear(&cell->text);
}

static void strip(struct lb_recast_cell *cell, const char *text)
{
    const char *from = lb_buf_text(&cell->work);
    size_t length = strlen(from), size = strlen(text);
    if (size && length >= size && strncmp(from, text, size) == 0) {
        from += size;
        length -= size;
    }
    if (size && length >= size && strncmp(from + length - size, text, size) == 0)
        length -= size;
    set_text(cell, from, length);
}

static bool map(struct lb_recast_cell *cell, const struct lb_recast_step *step)
{
    const char *text = lb_buf_text(&cell->work), *otherwise = NULL;
    for (size_t i = 0; i < step->count; i++) {
        if (lb_text_same_words(step->pairs[i].from, text)) {
            lb_buf_puts(&cell->text, step->pairs[i].to);
            return true;
        }
        if (strcmp(step->pairs[i].from, "*") == 0)
            otherwise = step->pairs[i].to;
    }
    if (!otherwise)
        return refuse(cell, text, "is not one of the words that are mapped");
    lb_buf_puts(&cell->text, strcmp(otherwise, "*") == 0 ? text : otherwise);
    return true;
}

static void upper(struct lb_recast_cell *cell)
{
    for (const char *p = lb_buf_text(&cell->work); *p; p++)
        lb_buf_putc(&cell->text, *p >= 'a' && *p <= 'z' ? (char)(*p - 'a' + 'A') : *p);
}

static bool take_step(struct lb_recast_cell *cell, const struct lb_recast_step *step)
{
    to_work(cell);
    switch (step->verb) {
    case LB_RECAST_STRIP:
        strip(cell, step->text);
        return true;
    case LB_RECAST_PREFIX:
        lb_buf_puts(&cell->text, step->text);
        lb_buf_puts(&cell->text, lb_buf_text(&cell->work));
        return true;
    case LB_RECAST_UPPER:
        upper(cell);
        return true;
    case LB_RECAST_LOWER_WORDS:
        lb_recast_lower_words(&cell->text, lb_buf_text(&cell->work));
        return true;
    case LB_RECAST_MAP:
        return map(cell, step);
    }
    return true;
}

static bool take_per(const struct lb_recast *recast, bool currency_column, struct lb_recast_cell *cell)
{
    size_t length;
    if (!recast->per_text && !currency_column)
        return true;
    to_work(cell);
    const char *text = lb_buf_text(&cell->work);
    const char *why = lb_recast_split_per(text, &length, &cell->per);
    set_text(cell, text, why ? strlen(text) : length);
    return !why || currency_column || refuse(cell, text, why);
}

/* The currency out of a cell with an amount, or the amount out of one with a currency. */
static bool take_currency(const struct lb_recast *recast, bool currency_column, const char *currency,
                          struct lb_recast_cell *cell)
{
    struct lb_buf code = {0};
    to_work(cell);
    const char *text = lb_buf_text(&cell->work);
    size_t from = 0, length = strlen(text);
    const char *why =
        lb_recast_currency(&code, text, &from, &length, recast->signs, recast->sign_count, currency);
    if (!why && currency_column && !code.length)
        why = "names no currency";
    if (!why && !currency_column && code.length && currency && *currency &&
        !lb_text_same_words(lb_buf_text(&code), currency))
        why = "is in another currency than its row";
    if (currency_column)
        lb_buf_puts(&cell->text, lb_buf_text(&code));
    else
        set_text(cell, text + from, length);
    cell->text.failed |= code.failed;
    lb_buf_free(&code);
    return !why || refuse(cell, text, why);
}

static bool take_number(const struct lb_recast *recast, const struct lb_column *column,
                        struct lb_recast_cell *cell)
{
    const char *rest = "", *why;
    to_work(cell);
    lb_recast_narrow(&cell->text, lb_buf_text(&cell->work));
    to_work(cell);
    const char *text = lb_buf_text(&cell->work);
    if (recast->pack_text) {
        why = lb_recast_pack(&cell->text, text, recast->decimal, recast->thousands);
        return !why || refuse(cell, text, why);
    }
    why = lb_recast_number(&cell->text, text, recast->decimal, recast->thousands, &rest);
    if (!why && *rest && (column->type == LB_CELL_MONEY || column->type == LB_CELL_AMOUNT))
        why = "is not an amount of money";
    if (!why && *rest)
        lb_buf_printf(&cell->text, " %s", rest);
    return !why || refuse(cell, text, why);
}

static bool take_date(const struct lb_recast *recast, struct lb_recast_cell *cell)
{
    to_work(cell);
    lb_recast_narrow(&cell->text, lb_buf_text(&cell->work));
    to_work(cell);
    const char *text = lb_buf_text(&cell->work);
    const char *why = lb_recast_date(&cell->text, text, recast->date, recast->pivot);
    return !why || refuse(cell, text, why);
}

static bool take_meaning(const struct lb_recast *recast, const struct lb_column *column, const char *currency,
                         struct lb_recast_cell *cell)
{
    bool currency_column = column->type == LB_CELL_CURRENCY;
    if (lb_recast_is_on_request(recast, lb_buf_text(&cell->text))) {
        lb_buf_clear(&cell->reason);
        lb_buf_printf(&cell->reason, "price on request: the cell says \"%s\"", lb_buf_text(&cell->text));
        return false;
    }
    if (!take_per(recast, currency_column && recast->currency, cell))
        return false;
    if (recast->currency && !take_currency(recast, currency_column, currency, cell))
        return false;
    if (recast->unit_text && lb_recast_is_piece(lb_buf_text(&cell->text)))
        set_text(cell, "each", 4);
    if (recast->date)
        return take_date(recast, cell);
    return !(recast->decimal || recast->thousands || recast->pack_text) || take_number(recast, column, cell);
}

bool lb_recast_cell(const struct lb_recast *recast, const struct lb_column *column, const char *text,
                    const char *currency, struct lb_recast_cell *cell)
{
    cell->per = 0;
    lb_buf_clear(&cell->reason);
    set_text(cell, text ? text : "", text ? strlen(text) : 0);
    for (size_t i = 0; cell->text.length && i < recast->step_count; i++)
        if (!take_step(cell, &recast->steps[i]))
            return false;
    if (cell->text.length)
        return take_meaning(recast, column, currency, cell);
    if (recast->empty)
        lb_buf_puts(&cell->text, recast->empty);
    return true;
}

void lb_recast_cell_free(struct lb_recast_cell *cell)
{
    lb_buf_free(&cell->text);
    lb_buf_free(&cell->work);
    lb_buf_free(&cell->reason);
}
