/* What it costs, as bars: by purpose and by supplier, each currency for itself, as charged. */
#include "report/draw_cost.h"

#include "base/decimal.h"
#include "base/money.h"
#include "base/text.h"
#include "report/draw.h"
#include "report/page.h"
#include "report/svg.h"

#include <string.h>

enum { WIDTH = 400, MARGIN = 10, WIDE = WIDTH - 2 * MARGIN, LINE = LB_SVG_SIZE + 3, BAR = 12 };
enum { LABEL_COLUMNS = 34, NAMED_MOST = 12 };
#define GOODS_FILL "#a9c4de"

/* What of a part is bought for a line. */
static int64_t bought_for(const struct lb_line *line, const struct lb_part *part)
{
    if (line->decision != LB_BUY || line->chosen == LB_NO_NAME)
        return 0;
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    int64_t quantity = chosen->part == part ? line->to_buy : 0;
    for (size_t i = 0; i < chosen->companion_count; i++)
        quantity += chosen->companions[i].part == part ? chosen->companions[i].to_buy : 0;
    return quantity;
}

/* Shares as they run up, so that rounding leaves nothing over. */
static void share_out(const struct lb_kit *kit, const struct lb_parcel_line *bought,
                      int64_t sums[DRAW_PURPOSES])
{
    const struct lb_part *part = kit->bought[bought->part];
    int64_t whole = 0, seen = 0, given = 0;
    for (size_t i = 0; i < kit->line_count; i++)
        whole += bought_for(&kit->lines[i], part);
    for (size_t i = 0; i < kit->line_count && whole; i++) {
        seen += bought_for(&kit->lines[i], part);
        int64_t now = lb_decimal_muldiv(bought->amount, seen, whole);
        sums[kit->lines[i].need->reason] += now - given;
        given = now;
    }
}

void draw_cost_purposes(const struct lb_kit *kit, const char *currency, int64_t sums[DRAW_PURPOSES])
{
    memset(sums, 0, DRAW_PURPOSES * sizeof *sums);
    for (size_t i = 0; i < kit->basket->parcel_count; i++) {
        const struct lb_parcel *parcel = &kit->basket->parcels[i];
        for (size_t l = 0; l < parcel->line_count && strcmp(parcel->currency, currency) == 0; l++)
            share_out(kit, &parcel->lines[l], sums);
    }
}

/* What is being drawn: one currency's bars, one below the other. */
struct sheet {
    struct lb_buf body, words; /* words: the same for those who cannot see it */
    double y;
    bool listing; /* some amount was told since the last heading */
    int64_t most; /* what the longest bar stands for */
    const char *currency;
};

enum kind { GOODS, SHIPPING, TAX };

static double length_of(const struct sheet *sheet, int64_t amount)
{
    return sheet->most > 0 ? (double)amount / (double)sheet->most * WIDE : 0;
}

/* A piece of a bar; returns where the next one begins. */
static double put_piece(struct sheet *sheet, double x, enum kind kind, int64_t amount)
{
    struct lb_svg_box box = {.x = x,
                             .y = sheet->y,
                             .width = length_of(sheet, amount),
                             .height = BAR,
                             .fill = kind == GOODS ? GOODS_FILL : NULL};
    if (amount <= 0)
        return x;
    box.width = box.width < 1 ? 1 : box.width;
    lb_svg_box(&sheet->body, &box);
    if (kind != GOODS)
        lb_svg_hatch(&sheet->body, &box, kind == SHIPPING ? 6 : 3);
    return x + box.width;
}

static void put_heading(struct sheet *sheet, const char *heading)
{
    sheet->y += LINE + 4;
    lb_svg_text(&sheet->body, &(struct lb_svg_words){.x = MARGIN, .y = sheet->y, .size = 13, .bold = true},
                heading);
    lb_buf_printf(&sheet->words, "%s%s: ", sheet->words.length ? ". " : "", heading);
    sheet->listing = false;
}

/* Label and amount in one line, the bar comes below it. */
static void put_label(struct sheet *sheet, const char *label, int64_t amount, bool bold)
{
    struct lb_buf money = {0}, name = {0};
    size_t fits = lb_text_fit(label, LABEL_COLUMNS);
    lb_page_money(&money, amount, sheet->currency);
    lb_buf_append(&name, label, fits);
    lb_buf_puts(&name, label[fits] ? "\xe2\x80\xa6" : "");
    sheet->y += LINE + 2;
    lb_svg_text(&sheet->body, &(struct lb_svg_words){.x = MARGIN, .y = sheet->y, .bold = bold},
                lb_buf_text(&name));
    lb_svg_text(
        &sheet->body,
        &(struct lb_svg_words){.x = WIDTH - MARGIN, .y = sheet->y, .anchor = LB_SVG_END, .bold = bold},
        lb_buf_text(&money));
    lb_buf_printf(&sheet->words, "%s%s %s", sheet->listing ? "; " : "", lb_buf_text(&name),
                  lb_buf_text(&money));
    sheet->listing = true;
    sheet->body.failed = sheet->body.failed || money.failed || name.failed;
    lb_buf_free(&money);
    lb_buf_free(&name);
    sheet->y += 4;
}

static void put_bar(struct sheet *sheet, const char *label, enum kind kind, int64_t amount)
{
    if (amount <= 0)
        return;
    put_label(sheet, label, amount, false);
    put_piece(sheet, MARGIN, kind, amount);
    sheet->y += BAR;
}

static void put_purposes(struct sheet *sheet, const struct lb_kit *kit, const struct lb_basket_total *total)
{
    static const char *const labels[DRAW_PURPOSES] = {
        [LB_TARGET] = "Parts to renew",  [LB_SINGLE_USE] = "Hardware that is used once",
        [LB_SEALING] = "Seals",          [LB_FLUID] = "Fluids",
        [LB_CONSUMABLE] = "Consumables", [LB_MISSED_BEFORE] = "Missed before",
    };
    int64_t sums[DRAW_PURPOSES];
    draw_cost_purposes(kit, total->currency, sums);
    sheet->most = total->shipping > total->tax ? total->shipping : total->tax;
    for (size_t i = 0; i < DRAW_PURPOSES; i++)
        sheet->most = sums[i] > sheet->most ? sums[i] : sheet->most;
    put_heading(sheet, "What the money is for");
    for (size_t i = 0; i < DRAW_PURPOSES; i++)
        put_bar(sheet, labels[i], GOODS, sums[i]);
    put_bar(sheet, "Shipping", SHIPPING, total->shipping);
    put_bar(sheet, "Tax", TAX, total->tax);
    put_label(sheet, "Together", total->total, true);
}

static void put_sum(struct lb_buf *words, const char *between, const char *what, int64_t amount,
                    const char *currency)
{
    lb_buf_printf(words, "%s%s ", between, what);
    lb_money_print(words, amount, currency);
}

static void put_parcel(struct sheet *sheet, const struct lb_parcel *parcel, const char *label)
{
    struct lb_buf words = {0};
    put_label(sheet, label, parcel->total, false);
    double x = put_piece(sheet, MARGIN, GOODS, parcel->goods);
    x = put_piece(sheet, x, SHIPPING, parcel->shipping);
    put_piece(sheet, x, TAX, parcel->tax);
    put_sum(&words, "", "goods", parcel->goods, parcel->currency);
    if (parcel->shipping_not_stated)
        lb_buf_puts(&words, ", shipping not stated");
    else
        put_sum(&words, ", ", "shipping", parcel->shipping, parcel->currency);
    put_sum(&words, ", ", "tax", parcel->tax, parcel->currency);
    sheet->y += BAR + LINE;
    lb_svg_text(&sheet->body, &(struct lb_svg_words){.x = MARGIN, .y = sheet->y - 2, .dim = true},
                lb_buf_text(&words));
    lb_buf_printf(&sheet->words, ", of it %s", lb_buf_text(&words));
    sheet->body.failed = sheet->body.failed || words.failed;
    lb_buf_free(&words);
}

static void put_legend(struct sheet *sheet)
{
    static const char *const words[] = {"goods", "shipping", "tax"};
    double x = MARGIN;
    sheet->y += 8;
    for (enum kind kind = GOODS; kind <= TAX; kind++) {
        int64_t most = sheet->most;
        sheet->most = WIDE; /* 28 px */
        x = put_piece(sheet, x, kind, 28) + 6;
        sheet->most = most;
        lb_svg_text(&sheet->body, &(struct lb_svg_words){.x = x, .y = sheet->y + 11}, words[kind]);
        x += lb_svg_width(words[kind], LB_SVG_SIZE) + 18;
    }
    sheet->y += BAR;
}

static void put_suppliers(struct sheet *sheet, const struct lb_kit *kit, const struct lb_basket_total *total)
{
    const struct lb_basket *basket = kit->basket;
    sheet->most = 0;
    for (size_t i = 0; i < basket->parcel_count; i++)
        if (strcmp(basket->parcels[i].currency, total->currency) == 0 &&
            basket->parcels[i].total > sheet->most)
            sheet->most = basket->parcels[i].total;
    put_heading(sheet, "Who gets it");
    put_legend(sheet);
    for (size_t i = 0; i < basket->parcel_count; i++)
        if (strcmp(basket->parcels[i].currency, total->currency) == 0)
            put_parcel(sheet, &basket->parcels[i], kit->suppliers[basket->parcels[i].supplier].label);
    put_label(sheet, "Together", total->total, true);
    if (total->deposits)
        put_label(sheet, "Deposits besides, to be claimed back", total->deposits, false);
}

static void put_note(struct sheet *sheet, const char *note)
{
    sheet->y += LINE;
    sheet->y =
        lb_svg_paragraph(&sheet->body, &(struct lb_svg_words){.x = MARGIN, .y = sheet->y}, WIDE, note) - LINE;
    lb_buf_printf(&sheet->words, "%s%s", sheet->words.length ? ". " : "", note);
}

/* What is to be bought and has no price: no part was found, or nobody can supply it. */
static bool without_price(const struct lb_kit *kit, const struct lb_line *line)
{
    const struct lb_basket *basket = kit->basket;
    if (line->decision != LB_BUY)
        return false;
    if (line->chosen == LB_NO_NAME)
        return true;
    for (size_t i = 0; i < basket->unmet_count; i++)
        if (bought_for(line, kit->bought[basket->unmet[i]]))
            return true;
    return false;
}

static void put_unpriced(struct sheet *sheet, const struct lb_kit *kit)
{
    struct lb_buf words = {0};
    size_t count = 0;
    for (size_t i = 0; i < kit->line_count; i++) {
        const struct lb_line *line = &kit->lines[i];
        if (!without_price(kit, line) || count++ >= NAMED_MOST)
            continue;
        lb_buf_printf(&words, "%s%d ",
                      count == 1 ? "Without a price, and in none of these sums: line " : ", ", line->number);
        lb_buf_printf(&words, "%.*s", LB_FIT(line->need->article.part_type, LABEL_COLUMNS));
    }
    if (count > NAMED_MOST)
        lb_buf_printf(&words, " and %zu more", count - NAMED_MOST);
    if (count) {
        lb_buf_puts(&words, ".");
        sheet->y += 6;
        put_note(sheet, lb_buf_text(&words));
    }
    sheet->body.failed = sheet->body.failed || words.failed;
    lb_buf_free(&words);
}

lb_status lb_draw_cost(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err)
{
    struct sheet sheet = {.y = MARGIN - 4};
    struct lb_buf title = {0};
    const struct lb_basket *basket = kit->basket;
    for (size_t i = 0; i < basket->total_count; i++) {
        sheet.currency = basket->totals[i].currency;
        put_purposes(&sheet, kit, &basket->totals[i]);
        put_suppliers(&sheet, kit, &basket->totals[i]);
        sheet.y += i + 1 < basket->total_count ? LINE : 0;
    }
    if (!basket->total_count)
        put_note(&sheet, "Nothing with a price is to be bought for this kit.");
    put_unpriced(&sheet, kit);
    lb_buf_printf(&title, "What the kit %s costs, each part where it is cheapest", kit->name);
    lb_svg_begin(out, WIDTH, (int)sheet.y + MARGIN, lb_buf_text(&title), lb_buf_text(&sheet.words));
    lb_buf_append(out, lb_buf_text(&sheet.body), sheet.body.length);
    lb_svg_end(out);
    out->failed = out->failed || sheet.body.failed || sheet.words.failed || title.failed;
    lb_buf_free(&sheet.body);
    lb_buf_free(&sheet.words);
    lb_buf_free(&title);
    return out->failed ? lb_fail_nomem(err) : LB_OK;
}
