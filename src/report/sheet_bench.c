/* What must be on the bench before the first bolt is undone: a row a line, with a box to tick, what answers
 * it and where that comes from. */
#include "report/origins.h"
#include "report/sheet_page.h"

#include "base/decimal.h"

#include <string.h>

static void open_paragraph(struct sheet *sheet)
{
    lb_html_open(&sheet->html, "div");
}

static void close_paragraph(struct sheet *sheet)
{
    lb_html_words(&sheet->html, &sheet->words);
    lb_html_close(&sheet->html);
}

static void put_what_for(struct sheet *sheet, const struct lb_need *need)
{
    struct lb_origins origins;
    struct lb_buf *words = &sheet->words;
    if (!lb_origins_of(&origins, sheet->kit, need)) {
        sheet->html.out->failed = true;
        return;
    }
    for (size_t i = 0; i < origins.circuits.count; i++) {
        lb_buf_puts(words, i ? ", " : "");
        lb_page_plain(words, sheet->map->circuits[origins.circuits.at[i]]);
    }
    for (size_t i = 0; !origins.circuits.count && i < origins.components.count; i++)
        lb_buf_printf(words, "%s%s", i ? ", " : "", sheet->kit->component_names[origins.components.at[i]]);
    lb_origins_free(&origins);
    open_paragraph(sheet);
    close_paragraph(sheet);
}

/* "to buy: 2 packs of 10, Bolt Barn, BO530640" for each offer that the basket takes of the part. */
static void put_to_buy(struct sheet *sheet, const struct lb_part *part)
{
    const struct lb_kit *kit = sheet->kit;
    bool any = false;
    for (size_t p = 0; p < kit->basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &kit->basket->parcels[p];
        for (size_t i = 0; i < parcel->line_count; i++) {
            if (kit->bought[parcel->lines[i].part] != part)
                continue;
            const struct lb_part_offer *offer = &part->offers[parcel->lines[i].offer];
            lb_buf_puts(&sheet->words, any ? "; " : "still to buy: ");
            lb_buf_puts(&sheet->words, kit->suppliers[offer->supplier].label);
            if (offer->supplier_code)
                lb_buf_printf(&sheet->words, " %s", offer->supplier_code);
            if (offer->pack_quantity != LB_MILLION) {
                lb_buf_puts(&sheet->words, ", pack of ");
                lb_page_amount(&sheet->words, offer->pack_quantity, lb_part_unit(part));
            }
            any = true;
        }
    }
    if (!any)
        lb_buf_puts(&sheet->words, "still to buy: nobody offers it now");
}

static void put_amount_of(struct sheet *sheet, int64_t quantity, int64_t whole, const struct lb_part *part)
{
    if (quantity == whole)
        return;
    lb_page_amount(&sheet->words, quantity, lb_part_unit(part));
    lb_buf_putc(&sheet->words, ' ');
}

/* Where the chosen part comes from, one place a line of text. */
static void put_places(struct sheet *sheet, const struct lb_line *line)
{
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    const struct {
        int64_t quantity;
        const char *words;
    } places[] = {{line->here, "here"},
                  {line->on_way, "on its way"},
                  {line->from_shelf,
                   line->opened ? "on the shelf, opened: see that it may still be used" : "on the shelf"}};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        if (!places[i].quantity)
            continue;
        open_paragraph(sheet);
        put_amount_of(sheet, places[i].quantity, chosen->quantity, chosen->part);
        lb_buf_puts(&sheet->words, places[i].words);
        close_paragraph(sheet);
    }
    if (!line->to_buy)
        return;
    open_paragraph(sheet);
    put_amount_of(sheet, line->to_buy, chosen->quantity, chosen->part);
    put_to_buy(sheet, chosen->part);
    close_paragraph(sheet);
}

static void put_companion(struct sheet *sheet, const struct lb_companion *companion)
{
    open_paragraph(sheet);
    lb_buf_puts(&sheet->words, "with ");
    lb_page_amount(&sheet->words, companion->quantity, lb_part_unit(companion->part));
    lb_buf_printf(&sheet->words, " × %s %s: ", companion->part->brand, companion->part->number);
    if (companion->to_buy)
        put_to_buy(sheet, companion->part);
    else
        lb_buf_puts(&sheet->words, companion->seen_to ? "here or on its way" : "on the shelf");
    close_paragraph(sheet);
}

static void put_chosen(struct sheet *sheet, const struct lb_line *line)
{
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    lb_html_open(&sheet->html, "div");
    lb_html_open(&sheet->html, "b");
    lb_html_textf(&sheet->html, "%s %s", chosen->part->brand, chosen->part->number);
    lb_html_close(&sheet->html);
    lb_html_close(&sheet->html);
    put_places(sheet, line);
    for (size_t i = 0; i < chosen->companion_count; i++)
        put_companion(sheet, &chosen->companions[i]);
}

static void put_covers(struct sheet *sheet, const struct lb_line *line)
{
    for (size_t i = 0; i < line->cover_count; i++) {
        const struct lb_cover *cover = &line->covers[i];
        open_paragraph(sheet);
        if (cover->quantity < line->need->article.quantity) {
            lb_page_amount(&sheet->words, cover->quantity, line->need->article.unit);
            lb_buf_putc(&sheet->words, ' ');
        }
        lb_buf_printf(&sheet->words, "in the box of %s %s, line %d", cover->box->brand, cover->box->number,
                      sheet->kit->lines[cover->line].number);
        close_paragraph(sheet);
    }
}

static const char *mark_of(enum lb_gap_code code)
{
    if (code == LB_GAP_ASK || code == LB_GAP_FIT_UNKNOWN)
        return "Ask";
    return code == LB_GAP_REUSED_SINGLE_USE ? "Mind" : "Missing";
}

/* The messages begin with what the line is for, which stands beside them here. */
static const char *without_type(const char *message, const char *part_type)
{
    size_t length = strlen(part_type);
    return strncmp(message, part_type, length) == 0 && strncmp(message + length, ": ", 2) == 0
               ? message + length + 2
               : message;
}

static void put_gaps(struct sheet *sheet, const struct lb_line *line)
{
    for (size_t i = 0; i < sheet->kit->gap_count; i++) {
        const struct lb_gap *gap = &sheet->kit->gaps[i];
        if (gap->line != line->number)
            continue;
        open_paragraph(sheet);
        sheet_mark(sheet, mark_of(gap->code));
        lb_buf_puts(&sheet->words, without_type(gap->message, line->need->article.part_type));
        close_paragraph(sheet);
    }
}

static void put_answer(struct sheet *sheet, const struct lb_line *line)
{
    static const char *const words[] = {"", "you have it", "the old one goes back", "left out"};
    if (line->decision != LB_BUY)
        lb_html_element(&sheet->html, "div", NULL,
                        line->spare && !line->decided ? "goes back if it is sound" : words[line->decision]);
    else if (line->chosen != LB_NO_NAME && (line->to_buy || line->here || line->on_way || line->from_shelf))
        put_chosen(sheet, line);
    if (line->decision == LB_BUY)
        put_covers(sheet, line);
    put_gaps(sheet, line);
}

static void put_line(struct sheet *sheet, const struct lb_line *line)
{
    struct lb_html *html = &sheet->html;
    lb_html_open(html, "tr");
    lb_html_open_class(html, "td", "no");
    lb_html_textf(html, "%d", line->number);
    lb_html_close(html);
    lb_html_open(html, "th");
    lb_html_attr(html, "scope", "row");
    sheet_tick(sheet, "line", (size_t)line->number);
    sheet_put_article(&sheet->words, line->need->article.quantity, &line->need->article);
    lb_html_words(html, &sheet->words);
    lb_html_close(html);
    put_what_for(sheet, line->need);
    lb_html_close(html);
    lb_html_open(html, "td");
    put_answer(sheet, line);
    lb_html_close(html);
    lb_html_close(html);
}

static void open_table(struct sheet *sheet, const char *caption)
{
    static const char *const heads[] = {"Line", "What, and for what", "With what, and from where", NULL};
    sheet_table(sheet, "lines", caption, heads);
}

/* Lines of a kind; reason -1: any. */
static void put_group(struct sheet *sheet, bool spares, int reason, const char *caption)
{
    bool open = false;
    for (size_t i = 0; i < sheet->kit->line_count; i++) {
        const struct lb_line *line = &sheet->kit->lines[i];
        if (line->spare != spares || (reason >= 0 && (int)line->need->reason != reason))
            continue;
        if (!open)
            open_table(sheet, caption);
        open = true;
        put_line(sheet, line);
    }
    if (open) {
        lb_html_close(&sheet->html);
        lb_html_close(&sheet->html);
    }
}

void sheet_bench(struct sheet *sheet)
{
    /* by enum lb_reason */
    static const char *const captions[] = {"Parts to renew",    "Hardware that must not go back",
                                           "Seals and gaskets", "Fluids",
                                           "Consumables",       "Missed before"};
    if (!sheet->kit->need_count)
        return;
    sheet_section(sheet, "bench", "What must be on the bench");
    lb_html_element(
        &sheet->html, "p", "lead",
        "Tick each line when it lies there. A line that cannot be ticked is better found before the first "
        "bolt is undone.");
    for (int i = 0; i < (int)(sizeof captions / sizeof *captions); i++)
        put_group(sheet, false, i, captions[i]);
    lb_html_close(&sheet->html);
}

void sheet_spares(struct sheet *sheet)
{
    if (sheet->kit->line_count == sheet->kit->need_count)
        return;
    sheet_section(sheet, "spares", "Spares to have at hand");
    put_group(sheet, true, -1, "Goes back if it is sound, else new");
    lb_html_close(&sheet->html);
}
