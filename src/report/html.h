/* Writing HTML so that no text gets in raw: elements and attributes are named by the program, texts are
 * escaped. Not a template engine, not a parser.
 *
 *     struct lb_html html = {.out = &out};
 *     lb_html_open(&html, "p");
 *     lb_html_attr(&html, "class", "gap");
 *     lb_html_text(&html, part->description);           // <script> becomes &lt;script&gt;
 *     lb_html_close(&html);
 *
 * In texts and in values control characters are dropped (a tab or a line feed becomes a blank), and so are
 * marks that turn the direction of writing and code points that are no characters; bytes that are no UTF-8
 * become U+FFFD. Out of memory sets out->failed. */
#ifndef LB_REPORT_HTML_H
#define LB_REPORT_HTML_H

#include "base/buf.h"

enum { LB_HTML_DEPTH = 24 };

struct lb_html {
    struct lb_buf *out;
    const char *open[LB_HTML_DEPTH]; /* elements that are open, borrowed: string literals */
    int depth;
    bool in_tag; /* the start tag still takes attributes */
};

/* Names of elements and attributes are literals of the program, in lower case. Deeper than LB_HTML_DEPTH, or
 * closing what is not open, is a fault of the program: it sets out->failed. */
void lb_html_open(struct lb_html *html, const char *element);
/* Of the element that was just opened. NULL value: the attribute alone (`checked`). */
void lb_html_attr(struct lb_html *html, const char *name, const char *value);
void lb_html_attrf(struct lb_html *html, const char *name, const char *format, ...) LB_PRINTF(3, 4);
/* Closes the innermost element; one that has no end tag (`input`, `meta`, `br`) as well. */
void lb_html_close(struct lb_html *html);
/* Appends `text` as a text or a value, also for XML; NULL is empty. */
void lb_html_escape(struct lb_buf *out, const char *text);
/* Text in the innermost element; NULL is empty. */
void lb_html_text(struct lb_html *html, const char *text);
void lb_html_textf(struct lb_html *html, const char *format, ...) LB_PRINTF(2, 3);
/* What was written into `words` as text; empties it. */
void lb_html_words(struct lb_html *html, struct lb_buf *words);
/* A whole element with a text; `class_name` NULL: none. */
void lb_html_element(struct lb_html *html, const char *element, const char *class_name, const char *text);
/* Opens an element with a class. */
void lb_html_open_class(struct lb_html *html, const char *element, const char *class_name);
/* Markup that the program made itself: the style sheet, a drawing. Never text of a catalogue or an owner. */
void lb_html_markup(struct lb_html *html, const char *markup);

#endif
