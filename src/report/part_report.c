#include "report/part_report.h"
#include "base/decimal.h"
#include "base/money.h"
#include "report/json.h"

#include <string.h>

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

static void put_offers(struct lb_buf *out, const struct lb_part_card *card, const struct lb_style *style)
{
    static const struct lb_table_column columns[] = {{.heading = "offered by", .may_shrink = true},
                                                     {.heading = "price", .align = LB_RIGHT},
                                                     {.heading = ""},
                                                     {.heading = "pack of", .align = LB_RIGHT},
                                                     {.heading = "stock", .align = LB_RIGHT},
                                                     {.heading = "until"}};
    struct lb_table table = {.columns = columns, .column_count = 6, .indent = 2};
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
    }
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

void lb_report_part(struct lb_buf *out, const struct lb_part_card *card, const struct lb_style *style)
{
    lb_style_put(out, style, LB_BOLD, card->part->brand);
    lb_buf_putc(out, ' ');
    lb_style_put(out, style, LB_BOLD, card->part->number);
    lb_buf_putc(out, '\n');
    put_facts(out, card, style);
    put_offers(out, card, style);
    put_applications(out, card, style);
}

static json_t *part_json(struct lb_maker *maker, const struct lb_part *part)
{
    json_t *object = lb_maker_object(maker);
    lb_maker_set(maker, object, "brand", lb_report_json_text(part->brand));
    lb_maker_set(maker, object, "part_number", lb_report_json_text(part->number));
    return object;
}

static json_t *groups_json(struct lb_maker *maker, const struct lb_part_group *groups, size_t count)
{
    json_t *array = lb_maker_array(maker);
    for (size_t g = 0; g < count; g++) {
        json_t *group = lb_maker_array(maker);
        for (size_t i = 0; i < groups[g].count; i++) {
            json_t *member = part_json(maker, groups[g].members[i].part);
            lb_maker_set(maker, member, "quantity", lb_report_json_quantity(groups[g].members[i].quantity));
            lb_maker_add(maker, group, member);
        }
        lb_maker_add(maker, array, group);
    }
    return array;
}

static json_t *parts_json(struct lb_maker *maker, const struct lb_part *const *parts, size_t count)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < count; i++)
        lb_maker_add(maker, array, part_json(maker, parts[i]));
    return array;
}

static json_t *source_json(struct lb_maker *maker, const struct lb_place *place)
{
    json_t *object = lb_maker_object(maker);
    lb_maker_set(maker, object, "file", lb_report_json_text(place->file));
    lb_maker_set(maker, object, "line", json_integer(place->line));
    return object;
}

static json_t *offers_json(struct lb_maker *maker, const struct lb_part_card *card)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < card->part->offer_count; i++) {
        const struct lb_part_offer *offer = &card->part->offers[i];
        json_t *object = lb_maker_object(maker);
        lb_maker_set(maker, object, "supplier", lb_report_json_text(card->suppliers[offer->supplier].name));
        lb_maker_set(maker, object, "supplier_code", lb_report_json_text_or_null(offer->supplier_code));
        lb_maker_set(maker, object, "price", lb_report_json_money(offer->price, offer->currency));
        lb_maker_set(maker, object, "core_deposit", lb_report_json_money(offer->deposit, offer->currency));
        lb_maker_set(maker, object, "pack_quantity", lb_report_json_quantity(offer->pack_quantity));
        lb_maker_set(maker, object, "minimum_packs", json_integer(offer->minimum_packs));
        lb_maker_set(maker, object, "stock", offer->stock < 0 ? json_null() : json_integer(offer->stock));
        lb_maker_set(maker, object, "valid_to", lb_report_json_text_or_null(offer->valid_to));
        lb_maker_set(maker, object, "live", json_boolean(offer->live));
        lb_maker_set(maker, object, "source", source_json(maker, &offer->place));
        lb_maker_add(maker, array, object);
    }
    return array;
}

static json_t *applications_json(struct lb_maker *maker, const struct lb_part_card *card)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < card->application_count; i++) {
        const struct lb_part_application *a = &card->applications[i];
        json_t *object = lb_maker_object(maker);
        lb_maker_set(maker, object, "make", lb_report_json_text(a->make));
        lb_maker_set(maker, object, "model", lb_report_json_text(a->model));
        lb_maker_set(maker, object, "built_from", lb_report_json_text_or_null(a->built_from));
        lb_maker_set(maker, object, "built_to", lb_report_json_text_or_null(a->built_to));
        lb_maker_set(maker, object, "when", lb_report_json_text_or_null(a->when));
        lb_maker_set(maker, object, "position", lb_report_json_text_or_null(a->position));
        lb_maker_set(maker, object, "quantity",
                     a->quantity < 0 ? json_null() : lb_report_json_quantity(a->quantity));
        lb_maker_set(maker, object, "source", source_json(maker, &a->place));
        lb_maker_add(maker, array, object);
    }
    return array;
}

json_t *lb_report_part_json(const struct lb_part_card *card)
{
    struct lb_maker maker = {0};
    const struct lb_part *part = card->part;
    json_t *object = part_json(&maker, part);
    lb_maker_set(&maker, object, "version", json_integer(1));
    lb_maker_set(&maker, object, "part_type", lb_report_json_text(part->part_type));
    lb_maker_set(&maker, object, "description", lb_report_json_text(part->description));
    lb_maker_set(&maker, object, "spec", lb_report_json_text(part->spec.text));
    lb_maker_set(&maker, object, "status",
                 lb_report_json_text(part->discontinued ? "discontinued" : "current"));
    lb_maker_set(&maker, object, "superseded_by",
                 groups_json(&maker, card->superseded_by, card->superseded_by_count));
    lb_maker_set(&maker, object, "current", groups_json(&maker, card->current, card->current_count));
    lb_maker_set(&maker, object, "same", parts_json(&maker, card->same, card->same_count));
    lb_maker_set(&maker, object, "instead", parts_json(&maker, card->instead, card->instead_count));
    lb_maker_set(&maker, object, "offers", offers_json(&maker, card));
    lb_maker_set(&maker, object, "applications", applications_json(&maker, card));
    return lb_maker_end(&maker, object);
}
