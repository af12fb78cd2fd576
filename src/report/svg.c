#include "report/svg.h"

#include "base/text.h"
#include "report/html.h"

#include <math.h>
#include <string.h>
#include <utf8proc.h>

void lb_svg_begin(struct lb_buf *out, int width, int height, const char *title, const char *words)
{
    lb_buf_printf(out,
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"%d\" height=\"%d\" "
                  "viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"%d\" fill=\"#000\">\n<title>",
                  width, height, width, height, LB_SVG_SIZE);
    lb_html_escape(out, title);
    lb_buf_puts(out, "</title>\n");
    if (words && *words) {
        lb_buf_puts(out, "<desc>");
        lb_html_escape(out, words);
        lb_buf_puts(out, "</desc>\n");
    }
    lb_buf_printf(out, "<rect width=\"%d\" height=\"%d\" fill=\"#fff\"/>\n", width, height);
}

void lb_svg_end(struct lb_buf *out)
{
    lb_buf_puts(out, "</svg>\n");
}

void lb_svg_group(struct lb_buf *out, double x, double y)
{
    lb_buf_puts(out, "<g transform=\"translate(");
    lb_svg_number(out, x);
    lb_buf_putc(out, ' ');
    lb_svg_number(out, y);
    lb_buf_puts(out, ")\">\n");
}

void lb_svg_group_end(struct lb_buf *out)
{
    lb_buf_puts(out, "</g>\n");
}

void lb_svg_number(struct lb_buf *out, double number)
{
    long long tenths = llround(number * 10), whole = tenths / 10, rest = llabs(tenths % 10);
    lb_buf_printf(out, tenths < 0 && !whole ? "-%lld" : "%lld", whole);
    if (rest)
        lb_buf_printf(out, ".%lld", rest);
}

static void put_numbers(struct lb_buf *out, const char *const *names, const double *numbers, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        lb_buf_printf(out, " %s=\"", names[i]);
        lb_svg_number(out, numbers[i]);
        lb_buf_putc(out, '"');
    }
}

void lb_svg_text(struct lb_buf *out, const struct lb_svg_words *how, const char *text)
{
    static const char *const names[] = {"x", "y"}, *const anchors[] = {"", " text-anchor=\"middle\"",
                                                                       " text-anchor=\"end\""};
    lb_buf_puts(out, "<text");
    put_numbers(out, names, (const double[]){how->x, how->y}, 2);
    lb_buf_puts(out, anchors[how->anchor]);
    if (how->size && how->size != LB_SVG_SIZE)
        lb_buf_printf(out, " font-size=\"%d\"", how->size);
    lb_buf_printf(out, "%s%s>", how->bold ? " font-weight=\"bold\"" : "", how->dim ? " fill=\"#444\"" : "");
    lb_html_escape(out, text);
    lb_buf_puts(out, "</text>\n");
}

static void put_line(struct lb_buf *out, enum lb_svg_line line)
{
    static const char *const lines[] = {"stroke=\"#333\"", "stroke=\"#000\" stroke-width=\"2.5\"",
                                        "stroke=\"#333\" stroke-width=\"1.5\" stroke-dasharray=\"7 4\"",
                                        "stroke=\"#333\" stroke-width=\"2\" stroke-dasharray=\"1.5 4\" "
                                        "stroke-linecap=\"round\""};
    lb_buf_printf(out, " %s", lines[line]);
}

void lb_svg_box(struct lb_buf *out, const struct lb_svg_box *box)
{
    static const char *const names[] = {"x", "y", "width", "height", "rx"};
    lb_buf_puts(out, "<rect");
    put_numbers(out, names, (const double[]){box->x, box->y, box->width, box->height, box->round},
                box->round > 0 ? 5 : 4);
    lb_buf_printf(out, " fill=\"%s\"", box->fill ? box->fill : "#fff");
    put_line(out, box->line);
    lb_buf_puts(out, "/>\n");
}

static void put_point(struct lb_buf *out, char command, double x, double y)
{
    lb_buf_putc(out, command);
    lb_svg_number(out, x);
    lb_buf_putc(out, ' ');
    lb_svg_number(out, y);
}

void lb_svg_hatch(struct lb_buf *out, const struct lb_svg_box *box, int apart)
{
    lb_buf_puts(out, "<path d=\"");
    for (double at = apart; at < box->width + box->height; at += apart) {
        double left = fmax(0, at - box->height), right = fmin(at, box->width);
        put_point(out, 'M', box->x + left, box->y + at - left);
        put_point(out, 'L', box->x + right, box->y + at - right);
    }
    lb_buf_puts(out, "\" stroke=\"#333\" fill=\"none\"/>\n");
}

void lb_svg_stroke(struct lb_buf *out, double x1, double y1, double x2, double y2, enum lb_svg_line line)
{
    lb_buf_puts(out, "<path d=\"");
    put_point(out, 'M', x1, y1);
    put_point(out, 'L', x2, y2);
    lb_buf_puts(out, "\" fill=\"none\"");
    put_line(out, line);
    lb_buf_puts(out, "/>\n");
}

void lb_svg_head(struct lb_buf *out, double x1, double y1, double x2, double y2, double size)
{
    double half = size * .44;
    double length = hypot(x2 - x1, y2 - y1);
    double x = length > 0 ? (x2 - x1) / length : 0, y = length > 0 ? (y2 - y1) / length : 1;
    lb_buf_puts(out, "<path d=\"");
    put_point(out, 'M', x2, y2);
    put_point(out, 'L', x2 - size * x - half * y, y2 - size * y + half * x);
    put_point(out, 'L', x2 - size * x + half * y, y2 - size * y - half * x);
    lb_buf_puts(out, "Z\" fill=\"#333\"/>\n");
}

/* Hundredths of the size, after the wider of the usual fonts. */
static int width_of(utf8proc_int32_t code)
{
    if (code < 0x80 && strchr("ijl.,:;'|!I", (int)code))
        return 36;
    if (code < 0x80 && strchr("mwMW@%", (int)code))
        return 95;
    if (code < 0x80 && strchr("frt()[]/- ", (int)code))
        return 42;
    if ((code >= 'A' && code <= 'Z') || code == '&')
        return 72;
    return utf8proc_charwidth(code) > 1 ? 105 : 63;
}

int lb_svg_width(const char *text, int size)
{
    size_t left = strlen(text);
    long long hundredths = 0;
    while (left) {
        utf8proc_int32_t code;
        utf8proc_ssize_t length =
            utf8proc_iterate((const utf8proc_uint8_t *)text, (utf8proc_ssize_t)left, &code);
        hundredths += length > 0 ? width_of(code) : 63;
        text += length > 0 ? length : 1;
        left -= length > 0 ? (size_t)length : 1;
    }
    long long width = (hundredths * size + 99) / 100;
    return width > 100000 ? 100000 : (int)width;
}

/* Cuts a word that is wider than the line, between characters. */
static size_t cut(const char *text, size_t length, int size, int width)
{
    struct lb_buf part = {0};
    for (int columns = lb_text_width(text); columns > 1; columns--) {
        size_t fits = lb_text_fit(text, columns);
        lb_buf_clear(&part);
        lb_buf_append(&part, text, fits);
        if (fits && fits <= length && lb_svg_width(lb_buf_text(&part), size) <= width) {
            length = fits;
            break;
        }
    }
    lb_buf_free(&part);
    return length;
}

size_t lb_svg_break(const char *text, int size, int width, size_t *next)
{
    struct lb_buf part = {0};
    size_t length = 0;
    for (size_t at = 0; !at || text[at]; at++) {
        size_t end = at + strcspn(text + at, " ");
        lb_buf_clear(&part);
        lb_buf_append(&part, text, end);
        if (length && lb_svg_width(lb_buf_text(&part), size) > width)
            break;
        length = end;
        at = end;
        if (!text[at])
            break;
    }
    if (lb_svg_width(lb_buf_text(&part), size) > width && length && !memchr(text, ' ', length))
        length = cut(text, length, size, width);
    lb_buf_free(&part);
    *next = length + strspn(text + length, " ");
    return length;
}

int lb_svg_lines(const char *text, int size, int width)
{
    int lines = 0;
    size_t next;
    for (; *text; text += next, lines++)
        if (!lb_svg_break(text, size, width, &next) && !next)
            break;
    return lines;
}

double lb_svg_paragraph(struct lb_buf *out, const struct lb_svg_words *how, int width, const char *text)
{
    struct lb_svg_words line = *how;
    int size = how->size ? how->size : LB_SVG_SIZE;
    struct lb_buf part = {0};
    size_t next;
    for (; *text; text += next) {
        size_t length = lb_svg_break(text, size, width, &next);
        if (!next)
            break;
        lb_buf_clear(&part);
        lb_buf_append(&part, text, length);
        lb_svg_text(out, &line, lb_buf_text(&part));
        line.y += size + 3;
    }
    out->failed = out->failed || part.failed;
    lb_buf_free(&part);
    return line.y;
}
