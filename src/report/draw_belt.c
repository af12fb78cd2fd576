/* Belts: each belt's picture, its pulleys in words, and whether the belt that was chosen is as long as the
 * run asks for. */
#include "report/draw_belt.h"

#include "base/text.h"
#include "report/draw.h"
#include "report/draw_graph.h"
#include "report/svg.h"

#include <stdlib.h>

enum { LINE = LB_SVG_SIZE + 3, NAME_COLUMNS = 40, WIDE = BELT_WIDTH - 2 * BELT_MARGIN };
#define DEGREES (180 / 3.14159265358979323846)
#define MILLION 1000000

/* The run's line of the kit, with a part chosen for it; NULL: none. */
static const struct lb_line *line_of(const struct lb_kit *kit, uint32_t belt)
{
    for (size_t i = 0; i < kit->need_count; i++) {
        const struct lb_need *need = kit->lines[i].need;
        for (size_t o = 0; o < need->origin_count && kit->lines[i].chosen != LB_NO_NAME; o++)
            if (need->origins[o].kind == LB_FROM_COMPONENT && need->origins[o].component == belt)
                return &kit->lines[i];
    }
    return NULL;
}

static void find_length(struct belt_view *view)
{
    const struct lb_map *map = view->kit->plan->map;
    const struct lb_line *line = line_of(view->kit, view->mapped.belt);
    const struct lb_spec *spec = NULL;
    if (line && line->candidates[line->chosen].part->spec.kind == LB_SPEC_BELT) {
        view->part = line->candidates[line->chosen].part;
        spec = &view->part->spec;
    }
    for (size_t i = 0; !spec && i < map->component_row_count; i++)
        if (map->component_rows[i].component == view->mapped.belt &&
            map->component_rows[i].article.spec.kind == LB_SPEC_BELT)
            spec = &map->component_rows[i].article.spec;
    if (!spec)
        return;
    view->designation = spec->text;
    view->length = (int64_t)spec->length * 1000;
    view->fit = lb_belt_fit(view->run.length, view->length, view->mapped.slack, &view->over);
}

static lb_status find_names(struct belt_view *view, struct lb_error *err)
{
    const struct lb_map *map = view->kit->plan->map;
    view->name = draw_name(&view->arena, view->kit, &(struct lb_thing){0, view->mapped.belt});
    for (size_t i = 0; view->name && i < view->mapped.count && i < LB_BELT_MOST; i++) {
        const struct lb_map_pulley *row = &map->pulleys[view->mapped.rows[i]];
        view->names[i] = row->component == LB_NO_NAME
                             ? lb_arena_text(&view->arena, row->name, lb_text_fit(row->name, NAME_COLUMNS))
                             : draw_name(&view->arena, view->kit, &(struct lb_thing){0, row->component});
        if (!view->names[i])
            return lb_fail_nomem(err);
    }
    return view->name ? LB_OK : lb_fail_nomem(err);
}

static lb_status refuse(const struct belt_view *view, size_t place, const char *words, struct lb_error *err)
{
    const struct lb_map *map = view->kit->plan->map;
    const struct lb_row *row = &map->pulleys[view->mapped.rows[place < LB_BELT_MOST ? place : 0]].row;
    return lb_fail_at(err, map->sources[row->source], row->line, 0, "%s", words);
}

static lb_status look_at_run(struct belt_view *view, struct lb_error *err)
{
    struct lb_buf words = {0};
    const struct lb_map *map = view->kit->plan->map;
    size_t twice = lb_map_belt_twice(&view->mapped, map), at = twice;
    lb_map_belt_run(&view->run, map, &view->mapped);
    if (twice < view->mapped.count) {
        lb_buf_printf(&words,
                      "%s: %s and %s have the same place in the order. Number the pulleys as the "
                      "belt meets them.",
                      view->name, view->names[twice - 1], view->names[twice]);
    } else if (view->run.fault) {
        lb_belt_explain(&words, &view->run, view->name, view->names);
        at = view->run.at;
    }
    lb_status status = words.failed   ? lb_fail_nomem(err)
                       : words.length ? refuse(view, at, lb_buf_text(&words), err)
                                      : LB_OK;
    lb_buf_free(&words);
    return status;
}

/* Where all is written that is drawn and said of the belts. */
struct sheet {
    struct lb_buf body, words;
    double y;
};

static void say(struct sheet *sheet, bool bold, const struct lb_buf *words)
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
    lb_svg_number(out, (double)millionths / MILLION);
    lb_buf_puts(out, " mm");
}

/* "1 Crankshaft pulley: ribs, turns clockwise, 80 degrees of belt" */
static void say_pulleys(struct sheet *sheet, const struct belt_view *view)
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
    if (over < MILLION / 20)
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

static void say_length(struct sheet *sheet, const struct belt_view *view)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, "The run is ");
    lb_svg_number(&words, view->run.length);
    lb_buf_puts(&words, " mm long at the belt's effective line. ");
    if (!view->designation) {
        lb_buf_puts(&words, "How long the belt is, neither its part nor the map says (such as 6PK1555).");
    } else {
        lb_buf_printf(&words, "The belt %.*s", LB_FIT(view->designation, NAME_COLUMNS));
        if (view->part) {
            lb_buf_printf(&words, " (%.*s", LB_FIT(view->part->brand, NAME_COLUMNS));
            lb_buf_printf(&words, " %.*s)", LB_FIT(view->part->number, NAME_COLUMNS));
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
        lb_buf_printf(words, "%s%.*s", between, LB_FIT(map->facts[f], NAME_COLUMNS));
        between = ", ";
    }
}

static void say_ask(struct sheet *sheet, const struct belt_view *view)
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

static void say_notes(struct sheet *sheet, const struct belt_view *view)
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

static void put_belt(struct sheet *sheet, const struct belt_view *view)
{
    struct lb_buf name = {0};
    lb_buf_printf(&name, "%s%s", view->name, view->mapped.ask && !view->mapped.open ? " (ask)" : "");
    sheet->y += BELT_MARGIN + LB_SVG_SIZE;
    say(sheet, true, &name);
    lb_buf_free(&name);
    if (!view->mapped.open)
        sheet->y = belt_put_picture(&sheet->body, view, sheet->y - 6) + 4;
    if (view->mapped.ask)
        say_ask(sheet, view);
    if (!view->mapped.open) {
        say_pulleys(sheet, view);
        say_length(sheet, view);
        say_notes(sheet, view);
    }
}

static lb_status draw_belt(struct sheet *sheet, const struct lb_kit *kit, const struct lb_mapped_belt *mapped,
                           struct lb_error *err)
{
    struct belt_view view = {.kit = kit, .mapped = *mapped};
    lb_status status = find_names(&view, err);
    if (!status && !mapped->open)
        status = look_at_run(&view, err);
    if (!status && !mapped->open)
        find_length(&view);
    if (!status)
        put_belt(sheet, &view);
    lb_arena_free(&view.arena);
    return status;
}

static void put_drawing(struct lb_buf *out, const struct sheet *sheet, const struct lb_kit *kit)
{
    struct lb_buf title = {0};
    lb_buf_printf(&title, "How the belts of the kit %s run", kit->name);
    lb_svg_begin(out, BELT_WIDTH, (int)sheet->y, lb_buf_text(&title), lb_buf_text(&sheet->words));
    lb_buf_append(out, lb_buf_text(&sheet->body), sheet->body.length);
    lb_svg_end(out);
    out->failed = out->failed || sheet->body.failed || sheet->words.failed || title.failed;
    lb_buf_free(&title);
}

/* By component: the map has a run for it. NULL: out of memory. */
static bool *find_belts(const struct lb_map *map)
{
    bool *belts = calloc(map->component_count + 1, sizeof *belts);
    for (size_t i = 0; belts && i < map->pulley_count; i++)
        belts[map->pulleys[i].belt] = true;
    return belts;
}

static lb_status draw_belts(struct sheet *sheet, const struct lb_kit *kit, const bool *belts, size_t *drawn,
                            struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < kit->plan->teardown_count; i++) {
        struct lb_mapped_belt mapped;
        if (!belts[kit->plan->teardown[i].component])
            continue;
        lb_map_belt(&mapped, kit->plan->map, kit->plan->teardown[i].component);
        status = draw_belt(sheet, kit, &mapped, err);
        ++*drawn;
    }
    return status;
}

lb_status lb_draw_belts(struct lb_buf *out, const struct lb_kit *kit, size_t *count, struct lb_error *err)
{
    struct sheet sheet = {.y = 0};
    size_t drawn = 0;
    bool *belts = find_belts(kit->plan->map);
    lb_status status = belts ? draw_belts(&sheet, kit, belts, &drawn, err) : lb_fail_nomem(err);
    if (!status && drawn)
        put_drawing(out, &sheet, kit);
    if (!status && out->failed)
        status = lb_fail_nomem(err);
    free(belts);
    lb_buf_free(&sheet.body);
    lb_buf_free(&sheet.words);
    if (count)
        *count = status ? 0 : drawn;
    return status;
}
