/* What must be on the bench: two lines of text a row, what and what for on the left, what answers it on the
 * right. */
#include "base/shell.h"
#include "report/kit_page.h"
#include "report/origins.h"

#include "base/decimal.h"

#include <string.h>

static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT},
                                                 {.heading = "need", .align = LB_RIGHT},
                                                 {.heading = "what, and for what", .may_shrink = true},
                                                 {.heading = "with", .may_shrink = true}};

/* Whatever group the line stands in: some of it was fetched in the middle of a job once. */
static void put_missed(const struct lb_kit *kit, struct lb_buf *out, const struct lb_need *need)
{
    for (size_t i = 0; need->missed && i < need->origin_count; i++) {
        if (need->origins[i].kind != LB_FROM_CONSUMABLE)
            continue;
        const struct lb_map_consumable *row = &kit->plan->map->consumables[need->origins[i].index];
        lb_buf_puts(out, row->missed ? "\n" : "");
        if (row->missed)
            lb_kit_say_missed(kit, row, out);
    }
}

static void put_what(const struct lb_page *page, struct lb_buf *out, const struct lb_need *need)
{
    const char *spec = need->article.spec.text;
    struct lb_origins origins;
    lb_buf_printf(out, "%s%s%s\n", need->article.part_type, spec ? " " : "", spec ? spec : "");
    if (!lb_origins_of(&origins, page->kit, need)) {
        out->failed = true;
        return;
    }
    /* What a fluid fills says more than the dozen components that open the circuit. */
    for (size_t i = 0; i < origins.circuits.count; i++) {
        lb_buf_puts(out, i ? ", " : "");
        lb_page_plain(out, page->kit->plan->map->circuits[origins.circuits.at[i]]);
    }
    for (size_t i = 0; !origins.circuits.count && i < origins.components.count; i++) {
        lb_buf_puts(out, i ? ", " : "");
        lb_buf_puts(out, page->kit->component_names[origins.components.at[i]]);
    }
    lb_origins_free(&origins);
    put_missed(page->kit, out, need);
}

static const struct lb_part_offer *offer_taken(const struct lb_kit *kit, const struct lb_part *part)
{
    for (size_t p = 0; p < kit->basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &kit->basket->parcels[p];
        for (size_t i = 0; i < parcel->line_count; i++)
            if (kit->bought[parcel->lines[i].part] == part)
                return &part->offers[parcel->lines[i].offer];
    }
    return NULL;
}

static void put_offer(const struct lb_kit *kit, struct lb_buf *out, const struct lb_part *part,
                      const char *unit)
{
    const struct lb_part_offer *offer = offer_taken(kit, part);
    if (!offer) {
        lb_buf_puts(out, "\nnot to be had now");
        return;
    }
    lb_buf_putc(out, '\n');
    lb_page_money(out, offer->price, offer->currency);
    if (offer->pack_quantity != LB_MILLION) {
        lb_buf_puts(out, " for ");
        lb_page_amount(out, offer->pack_quantity, unit);
    }
    lb_buf_printf(out, ", %s", kit->suppliers[offer->supplier].label);
}

static void put_companions(const struct lb_kit *kit, struct lb_buf *out, const struct lb_candidate *chosen)
{
    for (size_t i = 0; i < chosen->companion_count; i++) {
        const struct lb_companion *companion = &chosen->companions[i];
        lb_buf_puts(out, "\nwith ");
        lb_decimal_print(out, companion->to_buy ? companion->to_buy : companion->quantity);
        lb_buf_printf(out, " × %s %s", companion->part->brand, companion->part->number);
        if (companion->to_buy)
            put_offer(kit, out, companion->part, "each");
        else
            lb_buf_puts(out, "\nneed not be bought");
    }
}

static void put_covers(const struct lb_kit *kit, struct lb_buf *out, const struct lb_line *line)
{
    for (size_t i = 0; i < line->cover_count; i++) {
        const struct lb_cover *cover = &line->covers[i];
        lb_buf_puts(out, out->length ? "\n" : "");
        if (cover->quantity < line->need->article.quantity) {
            lb_page_amount(out, cover->quantity, line->need->article.unit);
            lb_buf_puts(out, " ");
        }
        lb_buf_printf(out, "in the box of line %d", kit->lines[cover->line].number);
    }
}

static void put_doubts(const struct lb_kit *kit, struct lb_buf *out, const struct lb_line *line)
{
    if (line->need->sure)
        return;
    lb_buf_puts(out, out->length ? "\nask: " : "ask: ");
    for (size_t i = 0; i < line->need->doubt_count; i++)
        lb_buf_printf(out, "%s%s", i ? ", " : "", kit->plan->map->facts[line->need->doubts[i]]);
}

/* What need not be bought, and how much of it when it is not all that the line takes. */
static void put_supply(struct lb_buf *out, const struct lb_line *line)
{
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    const struct {
        int64_t quantity;
        const char *words;
    } kinds[] = {{line->here, "here"},
                 {line->on_way, "on the way"},
                 {line->from_shelf,
                  line->opened ? "on the shelf, opened; see that it may still be used" : "on the shelf"}};
    const char *before = "\n";
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        if (!kinds[i].quantity)
            continue;
        lb_buf_puts(out, before);
        before = ", ";
        if (kinds[i].quantity != chosen->quantity) {
            lb_page_amount(out, kinds[i].quantity, lb_part_unit(chosen->part));
            lb_buf_putc(out, ' ');
        }
        lb_buf_puts(out, kinds[i].words);
    }
}

/* What answers the line: how many are to be bought when that is not the number needed, who makes it, what it
 * costs, what is there already. */
static void put_chosen(const struct lb_kit *kit, struct lb_buf *out, const struct lb_line *line)
{
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    if (line->to_buy && line->to_buy != line->need->article.quantity) {
        lb_page_amount(out, line->to_buy, line->need->article.unit);
        lb_buf_puts(out, strcmp(line->need->article.unit, "each") == 0 ? " × " : " of ");
    }
    lb_buf_printf(out, "%s %s", chosen->part->brand, chosen->part->number);
    if (line->to_buy)
        put_offer(kit, out, chosen->part, line->need->article.unit);
    put_supply(out, line);
    put_companions(kit, out, chosen);
    if (line->to_buy && chosen->fit == LB_FIT_ASK)
        lb_buf_printf(out, "\nfits depending on %s", chosen->asks ? chosen->asks : "facts not known");
    if (line->to_buy && chosen->fit == LB_FIT_NO)
        lb_buf_puts(out, "\nno catalogue says that it fits");
}

static void put_answer(const struct lb_kit *kit, struct lb_buf *out, const struct lb_line *line)
{
    static const char *const words[] = {"", "you have it", "goes back in", "left out"};
    if (line->decision != LB_BUY) /* that a spare goes back needs no words unless the owner said so */
        lb_buf_puts(out, line->spare && !line->decided ? "" : words[line->decision]);
    else if (line->chosen == LB_NO_NAME && (line->to_buy || !line->cover_count))
        lb_buf_puts(out, line->candidate_count ? "no part that can be bought" : "no part found");
    else if (line->to_buy || line->here || line->on_way || line->from_shelf)
        put_chosen(kit, out, line);
    if (line->decision == LB_BUY)
        put_covers(kit, out, line);
    put_doubts(kit, out, line);
}

/* The worst gap of a line gives its answer the colour. */
static enum lb_tone tone_of(const struct lb_kit *kit, const struct lb_line *line)
{
    enum lb_tone tone = line->decision == LB_BUY ? LB_PLAIN : LB_DIM;
    for (size_t i = 0; i < kit->gap_count; i++) {
        if (kit->gaps[i].line != line->number)
            continue;
        if (lb_page_gap_tone(lb_gap_name(kit->gaps[i].code)) == LB_RED)
            return LB_RED;
        tone = LB_YELLOW;
    }
    return tone;
}

static void add_line(const struct lb_page *page, struct lb_table *table, const struct lb_line *line)
{
    struct lb_buf words = {0};
    lb_table_cellf(table, LB_BOLD, "%d", line->number);
    lb_page_amount(&words, line->need->article.quantity, line->need->article.unit);
    lb_table_cell(table, LB_PLAIN, lb_buf_text(&words));
    lb_buf_clear(&words);
    put_what(page, &words, line->need);
    lb_table_cell(table, LB_PLAIN, lb_buf_text(&words));
    lb_buf_clear(&words);
    put_answer(page->kit, &words, line);
    lb_table_cell(table, tone_of(page->kit, line), words.length ? lb_buf_text(&words) : "");
    table->failed = table->failed || words.failed;
    lb_buf_free(&words);
}

static size_t put_group(const struct lb_page *page, bool spares, int reason, const char *heading)
{
    struct lb_table table = {.columns = columns, .column_count = 4, .indent = 2};
    size_t count = 0;
    for (size_t i = 0; i < page->kit->line_count; i++) {
        const struct lb_line *line = &page->kit->lines[i];
        if (line->spare != spares || (!spares && (int)line->need->reason != reason))
            continue;
        if (count++ == 0)
            lb_page_heading(page, heading);
        add_line(page, &table, line);
    }
    lb_page_print(page, &table);
    return count;
}

void lb_page_lines(const struct lb_page *page)
{
    /* by enum lb_reason */
    static const char *const headings[] = {"Parts to renew",    "Hardware that must not go back",
                                           "Seals and gaskets", "Fluids",
                                           "Consumables",       "Missed before"};
    for (size_t i = 0; i < sizeof headings / sizeof *headings; i++)
        put_group(page, false, (int)i, headings[i]);
}

void lb_page_spares(const struct lb_page *page)
{
    struct lb_buf words = {0};
    if (!put_group(page, true, 0, "Check, and buy only if worn"))
        return;
    lb_buf_puts(&words, "To buy one: kit set ");
    lb_shell_word(&words, page->kit->name);
    lb_buf_puts(&words, " LINE buy");
    lb_page_say_words(page, LB_DIM, &words);
}
