/* A lock as a text. */
#include "base/date.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"
#include "kit/lock_text.h"

#include <inttypes.h>
#include <string.h>

/* How many bytes from here on are one character that may stand in a line as it is; 0: none. */
static size_t plain(const char *at, size_t left)
{
    unsigned char first = (unsigned char)*at;
    size_t length = first < 0x80 ? 1 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : 4;
    if (first < 0x20 || first == 0x7f || first == '\\' || length > left)
        return 0;
    return lb_text_is_utf8(at, length, NULL) ? length : 0;
}

/* Blanks at either end would be lost to editors that tidy up. */
static void put_words(struct lb_buf *out, const char *text)
{
    size_t length = strlen(text);
    for (size_t i = 0, step; i < length; i += step) {
        bool edge = text[i] == ' ' && (i == 0 || i + 1 == length);
        step = edge ? 0 : plain(text + i, length - i);
        if (step)
            lb_buf_append(out, text + i, step);
        else if (text[i] == '\n' || text[i] == '\\')
            lb_buf_puts(out, text[i] == '\n' ? "\\n" : "\\\\");
        else
            lb_buf_printf(out, "\\x%02x", (unsigned)(unsigned char)text[i]);
        step = step ? step : 1;
    }
}

static void put_number(struct lb_buf *out, const struct lock_field *field, const char *record)
{
    int64_t number = *(const int64_t *)(record + field->at);
    if (field->type == LOCK_QUANTITY)
        lb_decimal_print(out, number);
    else if (field->type == LOCK_MONEY)
        lb_money_print(out, number, ((const struct lb_lock_offer *)record)->currency);
    else
        lb_buf_printf(out, "%" PRId64, number);
}

static void put_value(struct lb_buf *out, const struct lock_field *field, const char *record)
{
    int word;
    switch (field->type) {
    case LOCK_WORDS:
        put_words(out, *(const char *const *)(record + field->at));
        break;
    case LOCK_DAY:
        lb_date_print(out, *(const int32_t *)(record + field->at));
        break;
    case LOCK_NAMED:
        memcpy(&word, record + field->at, sizeof word);
        lb_buf_puts(out, field->named(word));
        break;
    case LOCK_FLAG:
        lb_buf_puts(out, field->named(*(const bool *)(record + field->at)));
        break;
    case LOCK_QUANTITY:
    case LOCK_COUNT:
    case LOCK_MONEY:
        put_number(out, field, record);
        break;
    }
}

static bool stated(const struct lock_field *field, const char *record)
{
    if (field->type == LOCK_WORDS)
        return *(const char *const *)(record + field->at) != NULL;
    return field->type != LOCK_QUANTITY || *(const int64_t *)(record + field->at) != LB_LOCK_UNSAID;
}

static void put_record(struct lb_buf *out, enum lock_record which, const void *record)
{
    const struct lock_kind *kind = &lock_kinds[which];
    if (kind->apart)
        lb_buf_putc(out, '\n');
    for (size_t i = 0; i < kind->field_count; i++) {
        const struct lock_field *field = &kind->fields[i];
        if (!stated(field, record))
            continue;
        size_t start = out->length;
        lb_buf_printf(out, "%*s%s: ", 2 * (i ? kind->depth : kind->first_depth), "", field->name);
        size_t empty = out->length;
        put_value(out, field, record);
        if (out->length == empty && empty > start)
            out->length--; /* nothing behind the colon, not even a blank */
        lb_buf_putc(out, '\n');
    }
}

static void put_line(struct lb_buf *out, const struct lb_lock_line *line)
{
    put_record(out, LOCK_LINE, line);
    for (size_t i = 0; i < line->places.count; i++)
        put_record(out, LOCK_PLACE, &line->places.at[i]);
    for (size_t i = 0; i < line->part.offers.count; i++)
        put_record(out, LOCK_OFFER, &line->part.offers.at[i]);
}

static void put_list(struct lb_buf *out, enum lock_record which, const char *const *texts, size_t count)
{
    if (count && which != LOCK_WANT)
        lb_buf_putc(out, '\n');
    for (size_t i = 0; i < count; i++)
        put_record(out, which, &texts[i]);
}

void lb_lock_write(struct lb_buf *out, const struct lb_kit_lock *lock)
{
    lb_buf_printf(out, LOCK_HEAD "%d\n", LOCK_VERSION);
    put_record(out, LOCK_HEADER, lock);
    for (size_t i = 0; i < lock->facts.count; i++)
        put_record(out, LOCK_FACT, &lock->facts.at[i]);
    put_list(out, LOCK_WANT, lock->wants.at, lock->wants.count);
    for (size_t i = 0; i < lock->sources.count; i++)
        put_record(out, LOCK_SOURCE, &lock->sources.at[i]);
    for (size_t i = 0; i < lock->lines.count; i++)
        put_line(out, &lock->lines.at[i]);
    for (size_t i = 0; i < lock->fastenings.count; i++)
        put_record(out, LOCK_FASTENING, &lock->fastenings.at[i]);
    for (size_t i = 0; i < lock->circuits.count; i++)
        put_record(out, LOCK_CIRCUIT, &lock->circuits.at[i]);
    put_list(out, LOCK_CAUTION, lock->cautions.at, lock->cautions.count);
    put_list(out, LOCK_STEP, lock->steps.at, lock->steps.count);
    put_list(out, LOCK_QUESTION, lock->questions.at, lock->questions.count);
    lb_buf_puts(out, "\n" LOCK_END "\n");
}
