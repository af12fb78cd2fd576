#include "report/html.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

static bool is_one_of(const char *element, const char *const *list)
{
    for (; *list; list++)
        if (strcmp(element, *list) == 0)
            return true;
    return false;
}

/* These stand on a line of their own, so that the page can be read and compared as text. */
static bool is_block(const char *element)
{
    static const char *const list[] = {
        "head",    "title", "meta",   "style", "body", "header",  "main", "nav",    "h1",    "h2",
        "h3",      "p",     "ul",     "ol",    "li",   "section", "div",  "table",  "thead", "tbody",
        "caption", "tr",    "figure", "dl",    "dt",   "dd",      "html", "footer", NULL};
    return is_one_of(element, list);
}

static bool is_void(const char *element)
{
    static const char *const list[] = {"input", "meta", "br", "hr", NULL};
    return is_one_of(element, list);
}

static void end_tag(struct lb_html *html)
{
    if (html->in_tag)
        lb_buf_putc(html->out, '>');
    html->in_tag = false;
}

void lb_html_open(struct lb_html *html, const char *element)
{
    end_tag(html);
    if (html->depth == LB_HTML_DEPTH) {
        html->out->failed = true;
        return;
    }
    html->open[html->depth++] = element;
    lb_buf_printf(html->out, "<%s", element);
    html->in_tag = true;
}

/* C0 and C1 controls, marks of direction (Unicode TR 9), surrogates are no UTF-8 already, noncharacters. */
static bool is_dropped(utf8proc_int32_t c)
{
    return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x200E || c == 0x200F ||
           (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || (c >= 0xFDD0 && c <= 0xFDEF) ||
           (c & 0xFFFE) == 0xFFFE;
}

static const char *escape_of(utf8proc_int32_t c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    case '\t':
    case '\n':
    case '\r':
        return " ";
    default:
        return is_dropped(c) ? "" : NULL;
    }
}

void lb_html_escape(struct lb_buf *out, const char *text)
{
    while (text && *text) {
        utf8proc_int32_t c;
        utf8proc_ssize_t used = utf8proc_iterate((const utf8proc_uint8_t *)text, -1, &c);
        const char *escape = used > 0 ? escape_of(c) : "\xEF\xBF\xBD";
        size_t length = used > 0 ? (size_t)used : 1;
        if (escape)
            lb_buf_puts(out, escape);
        else
            lb_buf_append(out, text, length);
        text += length;
    }
}

void lb_html_attr(struct lb_html *html, const char *name, const char *value)
{
    if (!html->in_tag) {
        html->out->failed = true;
        return;
    }
    lb_buf_printf(html->out, " %s", name);
    if (!value)
        return;
    lb_buf_puts(html->out, "=\"");
    lb_html_escape(html->out, value);
    lb_buf_putc(html->out, '"');
}

static char *format_text(struct lb_html *html, const char *format, va_list args)
{
    char *text = NULL;
    if (vasprintf(&text, format, args) >= 0)
        return text;
    html->out->failed = true;
    return NULL;
}

void lb_html_attrf(struct lb_html *html, const char *name, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    char *text = format_text(html, format, args);
    va_end(args);
    lb_html_attr(html, name, text ? text : "");
    free(text);
}

void lb_html_close(struct lb_html *html)
{
    end_tag(html);
    if (!html->depth) {
        html->out->failed = true;
        return;
    }
    const char *element = html->open[--html->depth];
    if (!is_void(element))
        lb_buf_printf(html->out, "</%s>", element);
    if (is_block(element))
        lb_buf_putc(html->out, '\n');
}

void lb_html_text(struct lb_html *html, const char *text)
{
    end_tag(html);
    lb_html_escape(html->out, text);
}

void lb_html_textf(struct lb_html *html, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    char *text = format_text(html, format, args);
    va_end(args);
    lb_html_text(html, text);
    free(text);
}

void lb_html_words(struct lb_html *html, struct lb_buf *words)
{
    lb_html_text(html, lb_buf_text(words));
    html->out->failed = html->out->failed || words->failed;
    lb_buf_clear(words);
}

void lb_html_open_class(struct lb_html *html, const char *element, const char *class_name)
{
    lb_html_open(html, element);
    if (class_name)
        lb_html_attr(html, "class", class_name);
}

void lb_html_element(struct lb_html *html, const char *element, const char *class_name, const char *text)
{
    lb_html_open_class(html, element, class_name);
    lb_html_text(html, text);
    lb_html_close(html);
}

void lb_html_markup(struct lb_html *html, const char *markup)
{
    end_tag(html);
    lb_buf_puts(html->out, markup);
}
