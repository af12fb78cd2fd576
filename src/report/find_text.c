#include "report/find_text.h"

#include "base/ascii.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"
#include "base/words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    QUERY_SHOWN = 60, /* columns of a long query that are repeated */
    POINTS = 6,       /* columns of "+12.34" */
    MORE = 5,         /* times as many are suggested */
};

struct page {
    struct lb_buf *out;
    const struct lb_find_result *result;
    const struct lb_find_view *view;
    const struct lb_style *style;
    bool prices; /* somebody offers one of them */
};

/* A sentence on lines of its own. */
static void say(const struct page *page, enum lb_tone tone, int indent, const char *text)
{
    lb_buf_printf(page->out, "%*s", indent, "");
    lb_style_wrap(page->out, page->style, tone, indent, indent + 2, text);
}

static void put_remarks(const struct page *page)
{
    for (size_t i = 0; i < page->result->remark_count; i++)
        say(page, LB_YELLOW, 0, page->result->remarks[i]);
    if (page->result->remark_count)
        lb_buf_putc(page->out, '\n');
}

static bool has_word(const char *text, const struct lb_words *wanted)
{
    struct lb_words words = {.at = text};
    while (lb_words_next(&words))
        if (words.length == wanted->length && memcmp(words.text, wanted->text, words.length) == 0)
            return true;
    return false;
}

static bool says_all(const char *text, const char *wanted)
{
    struct lb_words words = {.at = wanted};
    while (lb_words_next(&words))
        if (!has_word(text, &words))
            return false;
    return true;
}

/* "radiator hose: upper, 32 mm": the part type with blanks for hyphens, and the description and spec as far
 * as they say more. Most catalogues repeat the type in the description, which then stands alone. */
static void write_what(struct lb_buf *text, const struct lb_find_hit *hit)
{
    if (hit->part_type && !(hit->description && says_all(hit->description, hit->part_type)))
        for (const char *p = hit->part_type; *p; p++)
            lb_buf_putc(text, *p == '-' ? ' ' : *p);
    if (hit->description)
        lb_buf_printf(text, "%s%s", text->length ? ": " : "", hit->description);
    if (hit->spec && !strcasestr(lb_buf_text(text), hit->spec))
        lb_buf_printf(text, "%s%s", !text->length ? "" : hit->description ? ", " : ": ", hit->spec);
}

static void add_what(struct lb_table *table, const struct lb_find_hit *hit)
{
    struct lb_buf text = {0};
    write_what(&text, hit);
    if (text.length)
        lb_table_cell(table, LB_PLAIN, text.text);
    else
        lb_table_cell(table, LB_DIM, "not described by any catalogue");
    table->failed = table->failed || text.failed;
    lb_buf_free(&text);
}

/* In words, so that it reads the same without colour. */
static void add_fit(struct lb_table *table, const struct lb_find_hit *hit)
{
    if (hit->fit == LB_FIND_FITS)
        lb_table_cell(table, LB_GREEN, "fits");
    else if (hit->fit == LB_FIND_ASK && hit->asks)
        lb_table_cellf(table, LB_YELLOW, "depends on %s", hit->asks);
    else if (hit->fit == LB_FIND_ASK)
        lb_table_cell(table, LB_YELLOW, "no list says");
    else
        lb_table_cell(table, LB_RED, hit->fit == LB_FIND_NO ? "does not fit" : "");
}

/* The price, and below it how much that buys, when it is not one. */
static void add_price(struct lb_table *table, const struct page *page, const struct lb_find_hit *hit)
{
    struct lb_buf price = {0};
    if (hit->priced) {
        lb_money_print(&price, hit->price, hit->currency);
        lb_buf_printf(&price, " %s", hit->currency);
    } else if (page->prices) {
        lb_buf_puts(&price, "no offer");
    }
    if (hit->priced && hit->pack_quantity != LB_MILLION) {
        lb_buf_puts(&price, "\nfor ");
        lb_decimal_print(&price, hit->pack_quantity);
    }
    lb_table_cell(table, hit->priced ? LB_PLAIN : LB_DIM, lb_buf_text(&price));
    table->failed = table->failed || price.failed;
    lb_buf_free(&price);
}

static void add_hit(struct lb_table *table, const struct page *page, size_t at)
{
    const struct lb_find_hit *hit = &page->result->hits[at];
    bool gone = hit->superseded || hit->discontinued || hit->fit == LB_FIND_NO;
    lb_table_cellf(table, LB_PLAIN, "%zu", at + 1);
    lb_table_cellf(table, gone ? LB_DIM : LB_BOLD, "%s %s", hit->brand, hit->part_number);
    add_what(table, hit);
    add_fit(table, hit);
    add_price(table, page, hit);
}

static void note(const struct page *page, int indent, const char *text)
{
    lb_buf_printf(page->out, "%*s- ", indent, "");
    lb_style_wrap(page->out, page->style, LB_YELLOW, indent + 2, indent + 2, text);
}

/* What belongs to a part and to none of its columns: what became of it, and why it was found. */
static void put_below(const struct page *page, const struct lb_find_hit *hit, int indent)
{
    if (hit->superseded || hit->now)
        note(page, indent, hit->now ? hit->now : "superseded");
    if (hit->discontinued)
        note(page, indent, "discontinued");
    if (hit->note)
        note(page, indent, hit->note);
    for (size_t i = 0; page->view->why && i < hit->reason_count; i++) {
        int column = indent + 1 + POINTS;
        if (hit->reasons[i].points != 0)
            lb_buf_printf(page->out, "%*s%+*.2f  ", indent - 1, "", POINTS, hit->reasons[i].points);
        else
            lb_buf_printf(page->out, "%*s", column, "");
        lb_style_wrap(page->out, page->style, LB_DIM, column, column, hit->reasons[i].words);
    }
}

/* Prints what a table came to, and under each part what there is to say of it across all columns: a row
 * begins where a line begins with its number, which is `digits` wide. */
static void put_rows(const struct page *page, const char *line, size_t digits)
{
    const struct lb_find_hit *hits = page->result->hits;
    size_t begun = 0;
    for (size_t length; *line; line += length) {
        length = strcspn(line, "\n") + 1;
        bool begins = length > digits && lb_ascii_digit(line[digits - 1]);
        if (begins && begun)
            put_below(page, &hits[begun - 1], (int)digits + 4);
        begun += begins;
        lb_buf_append(page->out, line, length);
    }
    if (begun)
        put_below(page, &hits[begun - 1], (int)digits + 4);
}

static void put_hits(const struct page *page)
{
    char *heading = NULL;
    if (page->view->vehicle && asprintf(&heading, "on %s", page->view->vehicle) < 0) {
        page->out->failed = true;
        return;
    }
    const struct lb_table_column columns[] = {{.align = LB_RIGHT},
                                              {.heading = "part", .may_shrink = true},
                                              {.heading = "what it is", .may_shrink = true},
                                              {.heading = heading ? heading : "fit", .may_shrink = true},
                                              {.heading = "price", .align = LB_RIGHT}};
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    struct lb_buf rows = {0};
    for (size_t i = 0; i < page->result->hit_count; i++)
        add_hit(&table, page, i);
    lb_table_print(&table, &rows, page->style);
    if (rows.failed)
        page->out->failed = true;
    else
        put_rows(page, lb_buf_text(&rows), (size_t)snprintf(NULL, 0, "%zu", page->result->hit_count));
    lb_buf_free(&rows);
    lb_table_free(&table);
    free(heading);
}

/* Five times as many, as long as there are that many and so many may be asked for. */
static int64_t next_limit(const struct page *page)
{
    int64_t next = (int64_t)page->view->limit * MORE;
    if (!page->result->total_least && next > page->result->total)
        next = page->result->total;
    return next < LB_FIND_LIMIT ? next : LB_FIND_LIMIT;
}

static bool left_out(const struct page *page)
{
    return page->view->vehicle && !page->view->all;
}

/* "10 of at least 123 parts", "3 parts". */
static void write_count(struct lb_buf *line, const struct lb_find_result *result, bool more)
{
    int64_t count = more ? result->total : (int64_t)result->hit_count;
    if (more)
        lb_buf_printf(line, "%zu of %s", result->hit_count, result->total_least ? "at least " : "");
    lb_buf_printf(line, "%lld part%s", (long long)count, count == 1 ? "" : "s");
}

/* "10 of 123 parts; more with --limit 50." */
static void put_closing(const struct page *page)
{
    const struct lb_find_result *result = page->result;
    struct lb_buf line = {0};
    bool more = result->total_least || result->total > (int64_t)result->hit_count;
    bool limited = more && result->hit_count >= (size_t)page->view->limit;
    write_count(&line, result, more);
    if (limited && page->view->limit < LB_FIND_LIMIT)
        lb_buf_printf(&line, "; more with --limit %lld", (long long)next_limit(page));
    else if (limited)
        lb_buf_puts(&line, "; one more word makes them fewer");
    lb_buf_putc(&line, '.');
    if (!page->prices)
        lb_buf_printf(&line, " Nobody offers %s.", result->hit_count == 1 ? "it" : "these");
    if (left_out(page))
        lb_buf_printf(&line, " With --all also what does not fit %s.", page->view->vehicle);
    lb_buf_putc(page->out, '\n');
    say(page, LB_PLAIN, 0, lb_buf_text(&line));
    page->out->failed = page->out->failed || line.failed;
    lb_buf_free(&line);
}

/* Never a blank page: what was looked for, and what else may help. */
static void put_nothing(const struct page *page)
{
    const struct lb_find_result *result = page->result;
    const struct lb_find_view *view = page->view;
    struct lb_buf line = {0};
    size_t shown = lb_text_fit(view->query, QUERY_SHOWN);
    lb_buf_printf(&line, "Nothing%s%s was found for \"%.*s%s\".", left_out(page) ? " that fits " : "",
                  left_out(page) ? view->vehicle : "", (int)shown, view->query,
                  view->query[shown] ? "…" : "");
    say(page, LB_BOLD, 0, lb_buf_text(&line));
    for (size_t i = 0; i < result->advice_count; i++)
        say(page, LB_PLAIN, 2, result->advice[i]);
    if (!result->advice_count)
        say(page, LB_PLAIN, 2, "try fewer words, or the part of a number that can still be read");
    page->out->failed = page->out->failed || line.failed;
    lb_buf_free(&line);
}

void lb_report_find(struct lb_buf *out, const struct lb_find_result *result, const struct lb_find_view *view,
                    const struct lb_style *style)
{
    struct page page = {.out = out, .result = result, .view = view, .style = style};
    for (size_t i = 0; i < result->hit_count; i++)
        page.prices = page.prices || result->hits[i].priced;
    put_remarks(&page);
    if (!result->hit_count) {
        put_nothing(&page);
        return;
    }
    put_hits(&page);
    put_closing(&page);
}
