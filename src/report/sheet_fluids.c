/* What goes into which circuit, in which mixture, out of how many containers. */
#include "report/sheet_page.h"

#include "base/decimal.h"
#include "base/glycol.h"

#include <string.h>

/* What the lines take for a circuits row, as fluid or as diluent. */
static int64_t taken_for(const struct sheet *sheet, uint32_t row, enum lb_origin_kind kind)
{
    int64_t quantity = 0;
    for (size_t n = 0; n < sheet->plan->need_count; n++) {
        const struct lb_need *need = &sheet->plan->needs[n];
        for (size_t i = 0; need->reason == LB_FLUID && i < need->origin_count; i++)
            if (need->origins[i].kind == kind && need->origins[i].index == row)
                quantity += need->origins[i].quantity;
    }
    return quantity;
}

bool sheet_is_filled(const struct sheet *sheet, uint32_t row)
{
    return taken_for(sheet, row, LB_FROM_FLUID) || taken_for(sheet, row, LB_FROM_DILUENT);
}

void sheet_put_filling(const struct sheet *sheet, struct lb_buf *out, uint32_t index)
{
    const struct lb_map_circuit *row = &sheet->map->circuit_rows[index];
    int64_t fluid = taken_for(sheet, index, LB_FROM_FLUID),
            diluent = taken_for(sheet, index, LB_FROM_DILUENT);
    if (diluent) {
        lb_page_amount(out, fluid + diluent, row->fluid.unit);
        lb_buf_puts(out, ": ");
    }
    sheet_put_article(out, fluid, &row->fluid);
    if (diluent) {
        lb_buf_puts(out, " and ");
        sheet_put_article(out, diluent, &row->diluent);
    }
}

/* What a row mixes without saying with what is short for another reason. */
bool sheet_is_filled_in_part(const struct sheet *sheet, uint32_t index)
{
    const struct lb_map_circuit *row = &sheet->map->circuit_rows[index];
    bool short_of_diluent = !row->diluent.part_type && (row->mix >= 0 || row->has_freeze_to);
    return !short_of_diluent &&
           taken_for(sheet, index, LB_FROM_FLUID) + taken_for(sheet, index, LB_FROM_DILUENT) <
               row->fluid.quantity;
}

void sheet_put_part_filled(const struct sheet *sheet, struct lb_buf *out, uint32_t index)
{
    const struct lb_map_circuit *row = &sheet->map->circuit_rows[index];
    lb_buf_puts(out, "is what the catalogue counts as lost of ");
    lb_page_amount(out, row->fluid.quantity, row->fluid.unit);
    lb_buf_puts(out,
                ". Fill to the level that the maker's manual names; it also says whether what was drained "
                "may go back.");
}

/* The share of concentrate, or -1 where the row mixes nothing. */
static int64_t share_of(const struct lb_map_circuit *row)
{
    int64_t share = row->mix;
    if (!row->diluent.part_type)
        return -1;
    if (share < 0 && row->has_freeze_to && !lb_glycol_share(row->freeze_to, &share))
        return -1;
    return share;
}

/* The table is of ethylene glycol: nothing is said of what is something else, by its own name. */
static bool may_be_ethylene_glycol(const struct lb_article *fluid)
{
    const char *type = fluid->part_type, *spec = fluid->spec.text ? fluid->spec.text : "";
    return (strstr(type, "coolant") || strstr(type, "antifreeze")) && !strcasestr(type, "propylene") &&
           !strcasestr(spec, "propylene") && !strcasestr(spec, "glycol-free");
}

static void put_freezing(struct sheet *sheet, const struct lb_map_circuit *row)
{
    int64_t share = share_of(row), celsius;
    if (share <= 0 || !may_be_ethylene_glycol(&row->fluid) || !lb_glycol_freezing(share, &celsius))
        return;
    lb_html_open(&sheet->html, "li");
    lb_buf_puts(&sheet->words, "Freeze protection of that mixture: to about ");
    lb_decimal_print(&sheet->words, celsius / LB_MILLION * LB_MILLION); /* towards the warmer */
    lb_buf_puts(&sheet->words, " °C (");
    lb_decimal_print_places(&sheet->words, (share + LB_MILLION / 20) / (LB_MILLION / 10), 1);
    lb_buf_puts(&sheet->words,
                " % by volume, by the ASHRAE table for ethylene glycol and water). The maker's data "
                "decide; what stays in the circuit mixes with it.");
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

static void put_part_filled(struct sheet *sheet, uint32_t index)
{
    if (!sheet_is_filled_in_part(sheet, index))
        return;
    lb_html_open(&sheet->html, "li");
    lb_buf_puts(&sheet->words, "That ");
    sheet_put_part_filled(sheet, &sheet->words, index);
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

static void put_step_numbers(struct sheet *sheet, uint32_t circuit)
{
    const char *before = "Steps: ";
    for (size_t i = 0; i < sheet->plan->step_count; i++) {
        const struct lb_step *step = &sheet->plan->steps[i];
        if (!step->thing.is_circuit || step->thing.id != circuit)
            continue;
        lb_buf_printf(&sheet->words, "%s%s %zu", before, step->verb, i + 1);
        before = ", ";
    }
    lb_html_open(&sheet->html, "li");
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_text(&sheet->html, ". Fill and bleed as the maker's manual says.");
    lb_html_close(&sheet->html);
}

static void put_circuit(struct sheet *sheet, uint32_t index)
{
    const struct lb_map_circuit *row = &sheet->map->circuit_rows[index];
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "h3");
    lb_page_plain(&sheet->words, sheet->map->circuits[row->circuit]);
    lb_html_words(html, &sheet->words);
    lb_html_close(html);
    lb_html_open(html, "ul");
    lb_html_open(html, "li");
    lb_buf_puts(&sheet->words, "Fill in ");
    sheet_put_filling(sheet, &sheet->words, index);
    lb_buf_puts(&sheet->words, "; the circuit holds ");
    lb_page_amount(&sheet->words, row->fluid.quantity, row->fluid.unit);
    lb_html_words(html, &sheet->words);
    sheet_source(sheet, &row->row);
    lb_html_close(html);
    put_part_filled(sheet, index);
    put_freezing(sheet, row);
    put_step_numbers(sheet, row->circuit);
    lb_html_close(html);
}

/* The pack that the basket buys; else the one that all live offers have; 0: not known. */
static int64_t pack_of(const struct lb_kit *kit, const struct lb_part *part)
{
    int64_t pack = 0;
    for (size_t p = 0; p < kit->basket->parcel_count; p++)
        for (size_t i = 0; i < kit->basket->parcels[p].line_count; i++)
            if (kit->bought[kit->basket->parcels[p].lines[i].part] == part)
                return part->offers[kit->basket->parcels[p].lines[i].offer].pack_quantity;
    for (size_t i = 0; i < part->offer_count; i++) {
        if (!part->offers[i].live)
            continue;
        if (pack && part->offers[i].pack_quantity != pack)
            return 0;
        pack = part->offers[i].pack_quantity;
    }
    return pack;
}

static void put_cell(struct sheet *sheet, const char *element)
{
    lb_html_open(&sheet->html, element);
    if (strcmp(element, "th") == 0)
        lb_html_attr(&sheet->html, "scope", "row");
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

static bool is_poured(const struct lb_line *line)
{
    return !line->spare && line->need->reason == LB_FLUID && line->decision == LB_BUY &&
           line->chosen != LB_NO_NAME;
}

static void put_containers(struct sheet *sheet, const struct lb_line *line)
{
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    const char *unit = lb_part_unit(chosen->part);
    int64_t pack = pack_of(sheet->kit, chosen->part),
            count =
                pack && chosen->quantity < INT64_MAX - pack ? lb_decimal_ceil_div(chosen->quantity, pack) : 0;
    lb_html_open(&sheet->html, "tr");
    sheet_put_article(&sheet->words, line->need->article.quantity, &line->need->article);
    lb_buf_printf(&sheet->words, ", line %d", line->number);
    put_cell(sheet, "th");
    lb_buf_printf(&sheet->words, "%s %s", chosen->part->brand, chosen->part->number);
    put_cell(sheet, "td");
    if (count) {
        lb_buf_printf(&sheet->words, "%lld of ", (long long)count);
        lb_page_amount(&sheet->words, pack, unit);
    } else {
        lb_buf_puts(&sheet->words, "size not known");
    }
    put_cell(sheet, "td");
    if (count && count * pack == chosen->quantity)
        lb_buf_puts(&sheet->words, "nothing");
    else if (count)
        lb_page_amount(&sheet->words, count * pack - chosen->quantity, unit);
    put_cell(sheet, "td");
    lb_html_close(&sheet->html);
}

static void open_containers(struct sheet *sheet)
{
    static const char *const heads[] = {"Fluid", "Chosen", "Containers to open", "Left in the last", NULL};
    sheet_table(sheet, NULL, "Containers to open", heads);
}

static void put_all_containers(struct sheet *sheet)
{
    bool open = false;
    for (size_t i = 0; i < sheet->kit->line_count; i++) {
        if (!is_poured(&sheet->kit->lines[i]))
            continue;
        if (!open)
            open_containers(sheet);
        open = true;
        put_containers(sheet, &sheet->kit->lines[i]);
    }
    if (open) {
        lb_html_close(&sheet->html);
        lb_html_close(&sheet->html);
    }
}

void sheet_fluids(struct sheet *sheet)
{
    bool open = false;
    for (uint32_t i = 0; i < sheet->map->circuit_row_count; i++) {
        if (!sheet_is_filled(sheet, i))
            continue;
        if (!open)
            sheet_section(sheet, "fluids", "Fluids");
        open = true;
        put_circuit(sheet, i);
    }
    if (!open)
        return;
    put_all_containers(sheet);
    lb_html_close(&sheet->html);
}
