/* Belts: which the kit touches, whether each can run, and how long the one that was chosen is. */
#include "report/draw_belt.h"

#include "base/text.h"
#include "report/draw.h"
#include "report/draw_graph.h"
#include "report/svg.h"

#include <stdlib.h>

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
                             ? lb_arena_text(&view->arena, row->name, lb_text_fit(row->name, BELT_NAME))
                             : draw_name(&view->arena, view->kit, &(struct lb_thing){0, row->component});
        if (!view->names[i])
            return lb_fail_nomem(err);
    }
    return view->name ? LB_OK : lb_fail_nomem(err);
}

/* The first pulley of a run that cannot be, and how many such runs there were. */
struct faults {
    size_t count;
    struct lb_buf words;
    const struct lb_row *row;
};

/* Why it cannot run goes into the drawing, and once into what the caller is told. */
static lb_status note_fault(struct belt_view *view, size_t place, const struct lb_buf *words,
                            struct faults *faults, struct lb_error *err)
{
    const struct lb_map *map = view->kit->plan->map;
    const struct lb_row *row = &map->pulleys[view->mapped.rows[place < LB_BELT_MOST ? place : 0]].row;
    struct lb_buf text = {0};
    lb_buf_printf(&text, "%s (%s:%u)", lb_buf_text(words), map->sources[row->source], row->line);
    if (!faults->count++) {
        lb_buf_puts(&faults->words, lb_buf_text(words));
        faults->row = row;
    }
    if (!text.failed && !words->failed && !faults->words.failed)
        view->fault = lb_arena_text(&view->arena, lb_buf_text(&text), text.length);
    lb_buf_free(&text);
    return view->fault ? LB_OK : lb_fail_nomem(err);
}

static lb_status look_at_run(struct belt_view *view, struct faults *faults, struct lb_error *err)
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
                       : words.length ? note_fault(view, at, &words, faults, err)
                                      : LB_OK;
    lb_buf_free(&words);
    return status;
}

static lb_status draw_belt(struct belt_sheet *sheet, const struct lb_kit *kit,
                           const struct lb_mapped_belt *mapped, struct faults *faults, struct lb_error *err)
{
    struct belt_view view = {.kit = kit, .mapped = *mapped};
    lb_status status = find_names(&view, err);
    if (!status && !mapped->open)
        status = look_at_run(&view, faults, err);
    if (!status && !mapped->open && !view.fault)
        find_length(&view);
    if (!status)
        belt_put(sheet, &view);
    lb_arena_free(&view.arena);
    return status;
}

static void put_drawing(struct lb_buf *out, const struct belt_sheet *sheet, const struct lb_kit *kit)
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

static lb_status draw_belts(struct belt_sheet *sheet, const struct lb_kit *kit, const bool *belts,
                            size_t *drawn, struct faults *faults, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < kit->plan->teardown_count; i++) {
        struct lb_mapped_belt mapped;
        if (!belts[kit->plan->teardown[i].component])
            continue;
        lb_map_belt(&mapped, kit->plan->map, kit->plan->teardown[i].component);
        status = draw_belt(sheet, kit, &mapped, faults, err);
        ++*drawn;
    }
    return status;
}

static lb_status tell_faults(const struct faults *faults, size_t drawn, const struct lb_map *map,
                             struct lb_error *err)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, lb_buf_text(&faults->words));
    if (faults->count > 1)
        lb_buf_printf(&words, " %zu more cannot be drawn either; the drawing says why.", faults->count - 1);
    if (drawn > faults->count)
        lb_buf_puts(&words, " The kit's other belts are drawn.");
    lb_status status = words.failed ? lb_fail_nomem(err)
                                    : lb_fail_at(err, map->sources[faults->row->source], faults->row->line, 0,
                                                 "%s", words.text);
    lb_buf_free(&words);
    return status;
}

lb_status lb_draw_belts(struct lb_buf *out, const struct lb_kit *kit, size_t *count, struct lb_error *err)
{
    struct belt_sheet sheet = {.y = 0};
    struct faults faults = {0};
    size_t drawn = 0;
    bool *belts = find_belts(kit->plan->map);
    lb_status status = belts ? draw_belts(&sheet, kit, belts, &drawn, &faults, err) : lb_fail_nomem(err);
    if (!status && drawn)
        put_drawing(out, &sheet, kit);
    if (count)
        *count = status ? 0 : drawn;
    if (!status && out->failed)
        status = lb_fail_nomem(err);
    if (!status && faults.count)
        status = tell_faults(&faults, drawn, kit->plan->map, err);
    free(belts);
    lb_buf_free(&sheet.body);
    lb_buf_free(&sheet.words);
    lb_buf_free(&faults.words);
    return status;
}
