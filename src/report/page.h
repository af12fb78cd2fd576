/* What the pages for people are put together from: headings, sentences, amounts, tables of gaps. Shared
 * between the files of report/ only; what a page tells is up to its sections (kit_page.h, buy_page.h).
 *
 *     struct lb_page page = {.out = &out, .style = &style};
 *     lb_page_heading(&page, "What is missing");
 *     lb_page_say(&page, LB_DIM, "To buy one: kit set %s LINE buy", name);
 */
#ifndef LB_REPORT_PAGE_H
#define LB_REPORT_PAGE_H

#include "report/table.h"

#include <stdint.h>

enum { LB_PAGE_INDENT = 2 }; /* of what stands below a heading */

struct lb_page {
    struct lb_buf *out;
    const struct lb_kit *kit; /* on a kit's own page only */
    const struct lb_style *style;
};

/* On a line of its own, after an empty one. */
void lb_page_heading(const struct lb_page *page, const char *heading);
/* A sentence, indented and wrapped. */
void lb_page_say(const struct lb_page *page, enum lb_tone tone, const char *format, ...) LB_PRINTF(3, 4);
/* The same of what was written, which it frees. */
void lb_page_say_words(const struct lb_page *page, enum lb_tone tone, struct lb_buf *words);
void lb_page_print(const struct lb_page *page, struct lb_table *table); /* and frees it */

/* "4" for pieces, "3.6 L" and "150 mL" else. */
void lb_page_amount(struct lb_buf *out, int64_t quantity, const char *unit);
void lb_page_plain(struct lb_buf *out, const char *name); /* hyphens as blanks: "brake fluid" */
void lb_page_money(struct lb_buf *out, int64_t minor, const char *currency); /* "12.50 EUR" */
void lb_page_day(struct lb_buf *out, int32_t day);                           /* "Thu 2026-12-03" */
const char *lb_page_plural(size_t count);                                    /* "" for one, else "s" */

/* Below what is not known: how to say the fact that is asked first. The kit's plan has questions. */
void lb_page_say_fact(const struct lb_page *page, const struct lb_kit *kit);

/* Adds what was written as a cell, and empties it. */
void lb_page_cell(struct lb_table *table, enum lb_tone tone, struct lb_buf *words);
void lb_page_money_cell(struct lb_table *table, int64_t minor, const char *currency); /* "12.50" */

/* A table of gaps: kit NULL where there is one kit only; line 0: the gap is not about one line. */
enum { LB_GAP_COLUMNS = 4 };
extern const struct lb_table_column lb_page_gap_columns[LB_GAP_COLUMNS];
void lb_page_gap(struct lb_table *table, const char *kit, int line, const char *code, const char *message);
/* Yellow: to be asked; red: something is missing. */
enum lb_tone lb_page_gap_tone(const char *code);

/* Appends a distance (millionths of a km) in whole kilometres, as odometers show them: "91733". */
void lb_page_km(struct lb_buf *out, int64_t km);

#endif
