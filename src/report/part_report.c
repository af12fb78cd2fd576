#include "report/part_report.h"
#include "base/decimal.h"
#include "base/money.h"
#include "kit/former.h"

#include <string.h>

enum { WAS_SHOWN = 3 };

static void write_groups(struct lb_buf *out, const struct lb_part_group *groups, size_t count)
{
    for (size_t g = 0; g < count; g++) {
        lb_buf_puts(out, g ? "; or " : "");
        for (size_t i = 0; i < groups[g].count; i++) {
            lb_buf_printf(out, "%s%s %s", i ? " with " : "", groups[g].members[i].part->brand,
                          groups[g].members[i].part->number);
            if (groups[g].members[i].quantity != LB_MILLION) {
                lb_buf_puts(out, " x ");
                lb_decimal_print(out, groups[g].members[i].quantity);
            }
        }
    }
}

static void write_parts(struct lb_buf *out, const struct lb_part *const *parts, size_t count)
{
    for (size_t i = 0; i < count; i++)
        lb_buf_printf(out, "%s%s %s", i ? ", " : "", parts[i]->brand, parts[i]->number);
}

static void add_fact(struct lb_table *table, const char *name, struct lb_buf *text, enum lb_tone tone)
{
    if (text->length) {
        lb_table_cell(table, LB_DIM, name);
        lb_table_cell(table, tone, text->text);
    }
    lb_buf_clear(text);
}

static void put_facts(struct lb_buf *out, const struct lb_part_card *card, const struct lb_style *style)
{
    static const struct lb_table_column columns[] = {{0}, {.may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 2, .indent = 2};
    struct lb_buf text = {0};
    const struct lb_part *part = card->part;
    lb_buf_printf(&text, "%s%s%s", part->part_type ? part->part_type : "not described by any catalogue",
                  part->spec.text ? ", " : "", part->spec.text ? part->spec.text : "");
    add_fact(&table, "what", &text, LB_PLAIN);
    lb_buf_puts(&text, part->description ? part->description : "");
    add_fact(&table, "description", &text, LB_PLAIN);
    lb_buf_puts(&text, part->discontinued ? "discontinued" : "current");
    add_fact(&table, "status", &text, part->discontinued ? LB_YELLOW : LB_PLAIN);
    write_groups(&text, card->superseded_by, card->superseded_by_count);
    add_fact(&table, "superseded by", &text, LB_YELLOW);
    if (card->superseded_by_count)
        write_groups(&text, card->current, card->current_count);
    add_fact(&table, "now", &text, LB_BOLD);
    write_parts(&text, card->same, card->same_count);
    add_fact(&table, "the same as", &text, LB_PLAIN);
    write_parts(&text, card->instead, card->instead_count);
    add_fact(&table, "or instead", &text, LB_PLAIN);
    lb_table_print(&table, out, style);
    lb_table_free(&table);
    lb_buf_free(&text);
}

/* "was 12.50 until 2026-11-20", the last few, a line each. */
static void write_was(struct lb_buf *out, const struct lb_part_offer *offer)
{
    for (size_t i = 0; i < offer->was_count && i < WAS_SHOWN; i++) {
        const struct lb_price_was *was = &offer->was[i];
        lb_buf_puts(out, i ? "\nwas " : "was ");
        lb_money_print(out, was->price, was->currency);
        lb_buf_printf(out, " until %.10s", was->until);
    }
}

static void put_offers(struct lb_buf *out, const struct lb_part_card *card, const struct lb_style *style)
{
    static const struct lb_table_column columns[] = {{.heading = "offered by", .may_shrink = true},
                                                     {.heading = "price", .align = LB_RIGHT},
                                                     {.heading = ""},
                                                     {.heading = "pack of", .align = LB_RIGHT},
                                                     {.heading = "stock", .align = LB_RIGHT},
                                                     {.heading = "until"},
                                                     {.heading = ""}};
    struct lb_table table = {.columns = columns, .column_count = 7, .indent = 2};
    struct lb_buf text = {0};
    for (size_t i = 0; i < card->part->offer_count; i++) {
        const struct lb_part_offer *offer = &card->part->offers[i];
        enum lb_tone tone = offer->live ? LB_PLAIN : LB_DIM;
        lb_table_cell(&table, tone, card->suppliers[offer->supplier].label);
        lb_money_print(&text, offer->price, offer->currency);
        lb_table_cell(&table, tone, lb_buf_text(&text));
        lb_table_cell(&table, tone, offer->currency);
        lb_buf_clear(&text);
        lb_decimal_print(&text, offer->pack_quantity);
        lb_table_cell(&table, tone, lb_buf_text(&text));
        lb_buf_clear(&text);
        if (offer->stock >= 0)
            lb_table_cellf(&table, tone, "%lld", (long long)offer->stock);
        else
            lb_table_cell(&table, LB_DIM, "not stated");
        lb_table_cellf(&table, tone, "%s%s", offer->valid_to ? offer->valid_to : "",
                       offer->live ? "" : " (not live)");
        lb_buf_clear(&text);
        write_was(&text, offer);
        lb_table_cell(&table, LB_DIM, lb_buf_text(&text));
        lb_buf_clear(&text);
    }
    table.failed = table.failed || text.failed;
    lb_table_print(&table, out, style);
    lb_table_free(&table);
    lb_buf_free(&text);
}

static void put_applications(struct lb_buf *out, const struct lb_part_card *card,
                             const struct lb_style *style)
{
    static const struct lb_table_column columns[] = {{.heading = "fits"},
                                                     {.heading = "built from"},
                                                     {.heading = "to"},
                                                     {.heading = "when", .may_shrink = true},
                                                     {.heading = "position"}};
    struct lb_table table = {.columns = columns, .column_count = 5, .indent = 2};
    for (size_t i = 0; i < card->application_count; i++) {
        const struct lb_part_application *a = &card->applications[i];
        lb_table_cellf(&table, LB_PLAIN, "%s %s", a->make, a->model);
        lb_table_cell(&table, LB_PLAIN, a->built_from);
        lb_table_cell(&table, LB_PLAIN, a->built_to);
        lb_table_cell(&table, LB_PLAIN, a->when);
        lb_table_cell(&table, LB_PLAIN, a->position);
    }
    lb_table_print(&table, out, style);
    lb_table_free(&table);
}

static void put_former(struct lb_buf *out, const struct lb_part *part, const struct lb_style *style)
{
    static const struct lb_table_column columns[] = {{.heading = "no longer listed", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = 1, .indent = 2};
    struct lb_buf text = {0};
    for (size_t i = 0; i < part->former_count; i++) {
        lb_former_say(&text, &part->former[i]);
        lb_table_cell(&table, LB_DIM, lb_buf_text(&text));
        lb_buf_clear(&text);
    }
    table.failed = table.failed || text.failed;
    lb_table_print(&table, out, style);
    lb_table_free(&table);
    lb_buf_free(&text);
}

void lb_report_part(struct lb_buf *out, const struct lb_part_card *card, const struct lb_style *style)
{
    lb_style_put(out, style, LB_BOLD, card->part->brand);
    lb_buf_putc(out, ' ');
    lb_style_put(out, style, LB_BOLD, card->part->number);
    lb_buf_putc(out, '\n');
    put_facts(out, card, style);
    put_offers(out, card, style);
    put_applications(out, card, style);
    put_former(out, card->part, style);
}
