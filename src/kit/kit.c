#include "kit/build.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

static void note_position(struct line_build *line, lb_position position)
{
    for (int i = 0; i < line->position_count; i++)
        if (line->positions[i] == position)
            return;
    if (line->position_count < (int)(sizeof line->positions / sizeof *line->positions))
        line->positions[line->position_count++] = position;
}

/* Where on the vehicle the line's parts go: the positions of the components that it renews. */
static void read_positions(const struct lb_map *map, struct line_build *line)
{
    const struct lb_need *need = line->line.need;
    for (size_t i = 0; i < need->origin_count; i++) {
        lb_position position = 0;
        const char *text = need->origins[i].kind == LB_FROM_COMPONENT
                               ? map->component_rows[need->origins[i].index].position
                               : NULL;
        if (text && !lb_position_parse(text, &position))
            position = 0;
        note_position(line, position);
    }
}

lb_status build_lines(struct build *b)
{
    const struct lb_plan *plan = b->kit.plan;
    for (size_t i = 0; i < plan->need_count + plan->spare_count; i++) {
        bool spare = i >= plan->need_count;
        struct line_build line = {
            .line = {.number = (int)i + 1,
                     .need = spare ? &plan->spares[i - plan->need_count] : &plan->needs[i],
                     .spare = spare,
                     .decision = spare ? LB_REUSE : LB_BUY,
                     .chosen = LB_NO_NAME,
                     .because = ""}};
        read_positions(plan->map, &line);
        if (!LB_PUSH(&b->lines, line))
            return lb_fail_nomem(b->err);
    }
    return LB_OK;
}

lb_status build_remark(struct build *b, const char *words)
{
    if (!words)
        return LB_NOMEM;
    return LB_PUSH(&b->remarks, words) ? LB_OK : lb_fail_nomem(b->err);
}

static const char *describe_unknown(struct build *b, uint32_t component)
{
    const struct lb_plan *plan = b->kit.plan;
    bool target = plan->causes[component].kind == LB_CAUSE_TARGET;
    return build_words(
        b,
        target ? "%s is what the job is about, but no components row that applies to this vehicle describes "
                 "it: which part it takes is not known, and no line asks for one"
               : "%s is in the way, but no components row that applies to this vehicle describes it; its "
                 "fastenings may be missing from the map",
        plan->map->components[component]);
}

/* What the map refers to but does not describe: reported, never refused. */
static lb_status build_remarks(struct build *b)
{
    const struct lb_plan *plan = b->kit.plan;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < plan->unknown_part_count; i++)
        status = build_remark(b, describe_unknown(b, plan->unknown_parts[i]));
    for (size_t i = 0; !status && i < plan->dry_circuit_count; i++)
        status = build_remark(
            b, build_words(
                   b,
                   "%s is opened, but no circuits row that applies to this vehicle says what fills it and "
                   "how much",
                   plan->map->circuits[plan->dry_circuits[i]]));
    b->kit.remarks = b->remarks.at;
    b->kit.remark_count = b->remarks.count;
    return status;
}

/* Its `name`, else the component with blanks for hyphens. */
static lb_status build_names(struct build *b)
{
    const struct lb_map *map = b->kit.plan->map;
    const char **names = lb_arena_alloc(&b->arena, (map->component_count + 1) * sizeof *names);
    if (!names)
        return lb_fail_nomem(b->err);
    for (size_t i = map->component_row_count; i-- > 0;)
        if (map->component_rows[i].name)
            names[map->component_rows[i].component] = map->component_rows[i].name;
    for (size_t c = 0; c < map->component_count; c++) {
        if (names[c])
            continue;
        char *spoken = lb_arena_text(&b->arena, map->components[c], strlen(map->components[c]));
        if (!spoken)
            return lb_fail_nomem(b->err);
        names[c] = spoken;
        while ((spoken = strchr(spoken, '-')))
            *spoken = ' ';
    }
    b->kit.component_names = names;
    return LB_OK;
}

static lb_status hand_out(struct build *b)
{
    struct lb_line *lines = lb_arena_alloc(&b->arena, (b->lines.count + 1) * sizeof *lines);
    if (!lines)
        return lb_fail_nomem(b->err);
    for (size_t i = 0; i < b->lines.count; i++) {
        struct line_build *line = &b->lines.at[i];
        line->line.candidates = line->candidates.at;
        line->line.candidate_count = line->candidates.count;
        line->line.covers = line->covers.at;
        line->line.cover_count = line->covers.count;
        lines[i] = line->line;
    }
    b->kit.lines = lines;
    b->kit.line_count = b->lines.count;
    b->kit.need_count = b->kit.plan->need_count;
    b->kit.suppliers = b->suppliers.at;
    b->kit.supplier_count = b->suppliers.count;
    b->kit.rates = b->rates.at;
    b->kit.rate_count = b->rates.count;
    return LB_OK;
}

/* Lines keep their candidates in growing arrays, so the pointers are set once nothing grows any more. */
static lb_status point_lines(struct build *b)
{
    for (size_t i = 0; i < b->lines.count; i++) {
        b->lines.at[i].line.candidates = b->lines.at[i].candidates.at;
        b->lines.at[i].line.candidate_count = b->lines.at[i].candidates.count;
    }
    return LB_OK;
}

static lb_status make_plan(struct build *b)
{
    lb_status status =
        lb_survey_make(&b->kit.survey, b->store, &b->kit.vehicle, b->kit.wants, b->kit.want_count, b->err);
    if (!status)
        status = lb_plan_make(&b->kit.plan, &b->kit.survey->map, b->kit.survey->targets,
                              b->kit.survey->target_count, b->err);
    b->facts = lb_vehicle_facts(&b->kit.vehicle);
    lb_text_fold(&b->make_key, b->kit.vehicle.make);
    lb_text_fold(&b->model_key, b->kit.vehicle.model);
    return status;
}

static lb_status compute(struct build *b, const char *name)
{
    static lb_status (*const stages[])(struct build *) = {
        make_plan,       build_lines,   build_suppliers, build_listed,  build_candidates, build_currency,
        build_decisions, build_supply,  build_choose,    build_history, point_lines,      build_basket,
        build_gaps,      build_remarks, build_names,     hand_out,
    };
    lb_status status = build_definition(b, name);
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](b);
    return status;
}

lb_status lb_kit_open(struct lb_kit **out, struct lb_store *store, const char *name, int32_t today,
                      struct lb_error *err)
{
    bool held = false;
    *out = NULL;
    struct build *b = calloc(1, sizeof *b);
    if (!b)
        return lb_fail_nomem(err);
    b->store = store;
    b->err = err;
    b->today = today;
    lb_status status = lb_store_hold(store, &held, err);
    if (!status)
        status = compute(b, name);
    lb_store_release(store, held);
    if (status)
        lb_kit_free(&b->kit);
    else
        *out = &b->kit;
    return status;
}

static void free_parts(struct build *b)
{
    for (size_t i = 0; i < b->parts.count; i++) {
        struct entry *entry = b->parts.at[i];
        if (!entry)
            continue;
        free(entry->applications.at);
        free(entry->successors.at);
        free(entry->offers.at);
        free(entry->contents.at);
        free(entry->former.at);
    }
    free(b->parts.at);
}

void lb_kit_free(struct lb_kit *kit)
{
    if (!kit)
        return;
    struct build *b = (struct build *)kit; /* its first member */
    for (size_t i = 0; i < b->lines.count; i++) {
        free(b->lines.at[i].candidates.at);
        free(b->lines.at[i].covers.at);
        free(b->lines.at[i].supplies.at);
        free(b->lines.at[i].box_shares.at);
    }
    lb_shelf_free(&b->shelf);
    for (int i = 0; i < QUERY_COUNT; i++)
        lb_statement_free(b->queries[i]);
    lb_lookup_close(b->lookup);
    lb_buf_free(&b->rows);
    free_parts(b);
    free(b->lines.at);
    free(b->gaps.at);
    free(b->remarks.at);
    free(b->suppliers.at);
    free(b->rates.at);
    free(b->listed.at);
    lb_names_free(&b->texts);
    lb_names_free(&b->part_keys);
    lb_names_free(&b->supplier_names);
    lb_buf_free(&b->make_key);
    lb_buf_free(&b->model_key);
    lb_buf_free(&b->scratch);
    lb_basket_free(b->kit.basket);
    lb_plan_free(b->kit.plan);
    lb_survey_free(b->kit.survey);
    lb_vehicle_free(&b->kit.vehicle);
    lb_arena_free(&b->arena);
    free(b);
}

int64_t lb_kit_id(const struct lb_kit *kit)
{
    return ((const struct build *)kit)->id; /* its first member */
}

const struct lb_line *lb_kit_line(const struct lb_kit *kit, long number, struct lb_error *err)
{
    if (number >= 1 && (size_t)number <= kit->line_count)
        return &kit->lines[number - 1];
    lb_fail(err, LB_DATA, "kit %s has no line %ld; its lines are 1 to %zu.", kit->name, number,
            kit->line_count);
    return NULL;
}
