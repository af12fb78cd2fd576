#include "importers/recast.h"

#include <string.h>

/* Protected, so that it reads back as it is. */
static void protect(struct lb_buf *out, const char *text)
{
    for (const char *from = text; *text; text++) {
        bool end = *text == ' ' && (text == from || !text[1]);
        if (end || strchr(";|=\\", *text))
            lb_buf_putc(out, '\\');
        lb_buf_putc(out, *text);
    }
}

static void between(struct lb_buf *out, size_t start)
{
    if (out->length > start)
        lb_buf_puts(out, "; ");
}

static void write_pairs(struct lb_buf *out, const struct lb_pair *pairs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        lb_buf_putc(out, i ? '|' : ' ');
        protect(out, pairs[i].from);
        lb_buf_putc(out, '=');
        protect(out, pairs[i].to);
    }
}

static void write_step(struct lb_buf *out, const struct lb_recast_step *step)
{
    static const char *const verbs[] = {"strip", "prefix", "upper", "lower-words", "map"};
    lb_buf_puts(out, verbs[step->verb]);
    if (step->verb == LB_RECAST_MAP)
        write_pairs(out, step->pairs, step->count);
    else if (*step->text) {
        lb_buf_putc(out, ' ');
        protect(out, step->text);
    }
}

static void write_words(struct lb_buf *out, size_t start, const char *name, const char *text)
{
    if (!text)
        return;
    between(out, start);
    lb_buf_puts(out, name);
    protect(out, text);
}

static void write_per(struct lb_buf *out, size_t start, const struct lb_recast *recast)
{
    if (recast->per > 0) {
        between(out, start);
        lb_buf_printf(out, "per %lld", (long long)recast->per);
    }
    write_words(out, start, "per column ", recast->per_heading);
    write_words(out, start, "per text", recast->per_text ? "" : NULL);
}

static void write_currency(struct lb_buf *out, size_t start, const struct lb_recast *recast)
{
    if (!recast->currency)
        return;
    between(out, start);
    lb_buf_puts(out, recast->sign_count ? "currency" : "currency symbol");
    write_pairs(out, recast->signs, recast->sign_count);
}

static void write_on_request(struct lb_buf *out, size_t start, const struct lb_recast *recast)
{
    if (recast->on_request_count)
        between(out, start);
    for (size_t i = 0; i < recast->on_request_count; i++) {
        lb_buf_puts(out, i ? "|" : "on-request ");
        protect(out, recast->on_request[i]);
    }
}

void lb_recast_write(struct lb_buf *out, const struct lb_recast *recast)
{
    static const char *const marks[] = {".", ",", "'", "space"};
    size_t start = out->length;
    if (recast->fixed) {
        lb_buf_printf(out, "fixed %s", recast->fixed);
        return;
    }
    for (size_t i = 0; i < recast->step_count; i++) {
        between(out, start);
        write_step(out, &recast->steps[i]);
    }
    write_words(out, start, "decimal comma", recast->decimal == ',' ? "" : NULL);
    write_words(out, start, "decimal point", recast->decimal == '.' ? "" : NULL);
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (recast->thousands == *marks[i] || (recast->thousands == ' ' && *marks[i] == 's'))
            write_words(out, start, "thousands ", marks[i]);
    write_words(out, start, "date ", recast->date);
    if (recast->pivot) {
        between(out, start);
        lb_buf_printf(out, "pivot %d", recast->pivot);
    }
    write_currency(out, start, recast);
    write_per(out, start, recast);
    write_on_request(out, start, recast);
    write_words(out, start, "pack text", recast->pack_text ? "" : NULL);
    write_words(out, start, "pieces", recast->pieces ? "" : NULL);
    write_words(out, start, "unit text", recast->unit_text ? "" : NULL);
    write_words(out, start, "empty ", recast->empty);
}
