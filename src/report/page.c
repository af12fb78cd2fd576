#include "report/page.h"

#include "base/date.h"
#include "base/decimal.h"
#include "base/money.h"
#include "base/shell.h"
#include "kit/kit.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void lb_page_heading(const struct lb_page *page, const char *heading)
{
    lb_buf_putc(page->out, '\n');
    lb_style_put(page->out, page->style, LB_BOLD, heading);
    lb_buf_putc(page->out, '\n');
}

void lb_page_say(const struct lb_page *page, enum lb_tone tone, const char *format, ...)
{
    char *text = NULL;
    va_list args;
    va_start(args, format);
    int length = vasprintf(&text, format, args);
    va_end(args);
    if (length < 0) {
        page->out->failed = true;
        return;
    }
    lb_buf_puts(page->out, "  ");
    lb_style_wrap(page->out, page->style, tone, LB_PAGE_INDENT, LB_PAGE_INDENT, text);
    free(text);
}

void lb_page_say_words(const struct lb_page *page, enum lb_tone tone, struct lb_buf *words)
{
    lb_page_say(page, tone, "%s", lb_buf_text(words));
    page->out->failed = page->out->failed || words->failed;
    lb_buf_free(words);
}

void lb_page_say_fact(const struct lb_page *page, const struct lb_kit *kit)
{
    const struct lb_plan *plan = kit->plan;
    struct lb_buf words = {0};
    lb_buf_puts(&words, "Say what you find: vehicle set ");
    lb_shell_word(&words, kit->vehicle.name);
    lb_buf_putc(&words, ' ');
    lb_shell_word(&words,
                  plan->map->facts[plan->ask_first_count ? plan->ask_first[0] : plan->questions[0].fact]);
    lb_buf_puts(&words, "=…");
    lb_page_say_words(page, LB_DIM, &words);
}

void lb_page_print(const struct lb_page *page, struct lb_table *table)
{
    lb_table_print(table, page->out, page->style);
    lb_table_free(table);
}

/* Litres as a jug shows them: to the millilitre below one litre, else to ten, rounded up so that it suffices.
 */
static void put_litres(struct lb_buf *out, int64_t quantity)
{
    bool small = quantity < LB_MILLION;
    int64_t step = small ? LB_MILLION / 1000 : LB_MILLION / 100;
    if (quantity % step)
        quantity += step - quantity % step;
    lb_decimal_print(out, small ? quantity * 1000 : quantity);
    lb_buf_puts(out, small ? " mL" : " L");
}

void lb_page_amount(struct lb_buf *out, int64_t quantity, const char *unit)
{
    if (strcmp(unit, "L") == 0 && quantity >= 0 && quantity < INT64_MAX - LB_MILLION) {
        put_litres(out, quantity);
        return;
    }
    lb_decimal_print(out, quantity);
    if (strcmp(unit, "each") != 0)
        lb_buf_printf(out, " %s", unit);
}

void lb_page_plain(struct lb_buf *out, const char *name)
{
    for (; *name; name++)
        lb_buf_putc(out, *name == '-' ? ' ' : *name);
}

void lb_page_money(struct lb_buf *out, int64_t minor, const char *currency)
{
    lb_money_print(out, minor, currency);
    lb_buf_printf(out, " %s", currency);
}

void lb_page_day(struct lb_buf *out, int32_t day)
{
    lb_buf_printf(out, "%s ", lb_date_weekday(day));
    lb_date_print(out, day);
}

const char *lb_page_plural(size_t count)
{
    return count == 1 ? "" : "s";
}

void lb_page_cell(struct lb_table *table, enum lb_tone tone, struct lb_buf *words)
{
    lb_table_cell(table, tone, lb_buf_text(words));
    table->failed = table->failed || words->failed;
    lb_buf_free(words);
}

void lb_page_money_cell(struct lb_table *table, int64_t minor, const char *currency)
{
    struct lb_buf words = {0};
    lb_money_print(&words, minor, currency);
    lb_page_cell(table, LB_PLAIN, &words);
}

const struct lb_table_column lb_page_gap_columns[LB_GAP_COLUMNS] = {
    {.heading = "kit", .may_shrink = true},
    {.heading = "line", .align = LB_RIGHT},
    {.heading = "gap"},
    {.heading = "what is wrong", .may_shrink = true}};

void lb_page_gap(struct lb_table *table, const char *kit, int line, const char *code, const char *message)
{
    lb_table_cell(table, LB_PLAIN, kit);
    if (line)
        lb_table_cellf(table, LB_BOLD, "%d", line);
    else
        lb_table_cell(table, LB_PLAIN, "");
    lb_table_cell(table, lb_page_gap_tone(code), code);
    lb_table_cell(table, LB_PLAIN, message);
}

enum lb_tone lb_page_gap_tone(const char *code)
{
    return strcmp(code, lb_gap_name(LB_GAP_ASK)) == 0 || strcmp(code, lb_gap_name(LB_GAP_FIT_UNKNOWN)) == 0
               ? LB_YELLOW
               : LB_RED;
}

void lb_page_km(struct lb_buf *out, int64_t km)
{
    lb_buf_printf(out, "%lld", (long long)lb_decimal_muldiv(km, 1, LB_MILLION));
}
