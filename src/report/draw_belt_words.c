/* What is said of a belt below its picture: its pulleys, whether the belt that was chosen is as long as the
 * run asks for, or why it is not drawn. */
#include "base/decimal.h"
#include "base/text.h"
#include "report/draw_belt.h"
#include "report/svg.h"

#include <math.h>

enum { WIDE = BELT_WIDTH - 2 * BELT_MARGIN };
#define DEGREES (180 / M_PI)

static void say(struct belt_sheet *sheet, bool bold, const struct lb_buf *words)
{
    sheet->y =
        lb_svg_paragraph(&sheet->body, &(struct lb_svg_words){.x = BELT_MARGIN, .y = sheet->y, .bold = bold},
                         bold ? WIDE - 30 : WIDE, lb_buf_text(words));
    const char *text = lb_buf_text(words);
    lb_buf_printf(&sheet->words, "%s%s%s", sheet->words.length ? " " : "", text,
                  words->length && text[words->length - 1] == '.' ? "" : ".");
    sheet->body.failed = sheet->body.failed || words->failed;
}

static void put_mm(struct lb_buf *out, int64_t millionths)
{
    lb_svg_number(out, (double)millionths / (double)LB_MILLION);
    lb_buf_puts(out, " mm");
}

/* "1 Crankshaft pulley: ribs, turns clockwise, 80 degrees of belt" */
static void say_pulleys(struct belt_sheet *sheet, const struct belt_view *view)
{
    const struct lb_map *map = view->kit->plan->map;
    for (size_t i = 0; i < view->run.count; i++) {
        const struct lb_map_pulley *row = &map->pulleys[view->mapped.rows[i]];
        struct lb_buf words = {0};
        lb_buf_printf(&words, "%zu  %s: %s, turns %s, %.0f\u00b0 wrapped", i + 1, view->names[i],
                      row->back ? "BACK of the belt" : "ribs",
                      view->run.turns[i].clockwise ? "clockwise" : "anticlockwise",
                      view->run.turns[i].wrap * DEGREES);
        if (row->slack >= 0) {
            lb_buf_puts(&words, ", TIGHTENS the belt: takes up ");
            put_mm(&words, row->slack);
        }
        lb_buf_puts(&words, ".");
        say(sheet, false, &words);
        lb_buf_free(&words);
    }
}

static void put_verdict(struct lb_buf *words, const struct belt_view *view)
{
    int64_t over = view->over < 0 ? -view->over : view->over;
    if (over < LB_MILLION / 20)
        lb_buf_puts(words, "as long as the run");
    else {
        put_mm(words, over);
        lb_buf_printf(words, " %s than the run", view->over < 0 ? "shorter" : "longer");
    }
    if (view->mapped.slack < 0) {
        lb_buf_puts(words, view->fit == LB_BELT_UNSAID
                               ? ". The map does not say what a tensioner takes up (slack_mm), so whether it "
                                 "fits must be asked."
                               : ": it fits.");
        return;
    }
    lb_buf_puts(words, ". The tensioner takes up ");
    put_mm(words, view->mapped.slack);
    lb_buf_puts(words, view->fit == LB_BELT_FITS
                           ? ": within its range."
                           : ": NOT within its range. Check the belt's number, and the map's pulleys.");
}

static void say_length(struct belt_sheet *sheet, const struct belt_view *view)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, "The run is ");
    lb_svg_number(&words, view->run.length);
    lb_buf_puts(&words, " mm long at the belt's effective line. ");
    if (!view->designation) {
        lb_buf_puts(&words, "How long the belt is, neither its part nor the map says (such as 6PK1555).");
    } else {
        lb_buf_printf(&words, "The belt %.*s", LB_FIT(view->designation, BELT_NAME));
        if (view->part) {
            lb_buf_printf(&words, " (%.*s", LB_FIT(view->part->brand, BELT_NAME));
            lb_buf_printf(&words, " %.*s)", LB_FIT(view->part->number, BELT_NAME));
        }
        lb_buf_puts(&words, view->part ? " is " : ", which the map asks for, is ");
        put_verdict(&words, view);
    }
    sheet->y += 4;
    say(sheet, true, &words);
    lb_buf_free(&words);
}

/* Facts that its rows hang on, each once. */
static void put_facts(struct lb_buf *words, const struct belt_view *view)
{
    const struct lb_map *map = view->kit->plan->map;
    const char *between = "";
    for (size_t f = 0; f < map->fact_count; f++) {
        bool turns = false;
        for (uint32_t d = 0; d < map->platform.doubt_count; d++)
            turns = turns || map->platform.doubts[d] == f;
        for (size_t i = 0; i < view->mapped.count && i < LB_BELT_MOST; i++) {
            const struct lb_row *row = &map->pulleys[view->mapped.rows[i]].row;
            for (uint32_t d = 0; d < row->doubt_count; d++)
                turns = turns || row->doubts[d] == f;
        }
        if (!turns)
            continue;
        lb_buf_printf(words, "%s%.*s", between, LB_FIT(map->facts[f], BELT_NAME));
        between = ", ";
    }
}

static void say_ask(struct belt_sheet *sheet, const struct belt_view *view)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, view->mapped.open
                            ? "ASK: the map has several runs for this belt, and which it is turns on: "
                            : "ASK: whether this is the run turns on facts that are not known: ");
    put_facts(&words, view);
    lb_buf_puts(&words, view->mapped.open ? ". It is drawn when that is stated (vehicle set)." : ".");
    say(sheet, true, &words);
    lb_buf_free(&words);
}

static void say_notes(struct belt_sheet *sheet, const struct belt_view *view)
{
    struct lb_buf words = {0};
    if (view->run.crossed)
        lb_buf_puts(&words,
                    "The belt crosses itself, since one pulley has its ribs and the other its back. ");
    lb_buf_puts(&words, "Drawn to scale as the map places the pulleys (y is up), running in the map's order. "
                        "Computed from catalogue values: the maker's manual decides.");
    say(sheet, false, &words);
    lb_buf_free(&words);
}

static void say_fault(struct belt_sheet *sheet, const struct belt_view *view)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "NOT DRAWN: %s", view->fault);
    say(sheet, true, &words);
    lb_buf_free(&words);
}

void belt_put(struct belt_sheet *sheet, const struct belt_view *view)
{
    struct lb_buf name = {0};
    bool runs = !view->mapped.open && !view->fault;
    lb_buf_printf(&name, "%s%s", view->name, view->mapped.ask && !view->mapped.open ? " (ask)" : "");
    sheet->y += BELT_MARGIN + LB_SVG_SIZE;
    say(sheet, true, &name);
    lb_buf_free(&name);
    if (runs)
        sheet->y = belt_put_picture(&sheet->body, view, sheet->y - 6) + 4;
    if (view->fault)
        say_fault(sheet, view);
    if (view->mapped.ask)
        say_ask(sheet, view);
    if (runs) {
        say_pulleys(sheet, view);
        say_length(sheet, view);
        say_notes(sheet, view);
    }
}
