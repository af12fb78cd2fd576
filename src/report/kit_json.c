#include "report/kit_json.h"

#include "report/origins.h"
#include "report/parcel_json.h"

static json_t *part_quantity_json(struct lb_maker *m, const struct lb_part *part, int64_t quantity)
{
    json_t *object = lb_report_part_name_json(m, part);
    lb_maker_set(m, object, "quantity", lb_report_json_quantity(quantity));
    return object;
}

static json_t *texts_json(struct lb_maker *m, const char *const *texts, size_t count)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < count; i++)
        lb_maker_add(m, array, lb_report_json_text(texts[i]));
    return array;
}

static json_t *names_json(struct lb_maker *m, const char *const *names, const uint32_t *ids, size_t count)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < count; i++)
        lb_maker_add(m, array, lb_report_json_text(names[ids[i]]));
    return array;
}

static json_t *rows_json(struct lb_maker *m, const struct lb_map *map, const struct lb_row *const *rows,
                         size_t count)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < count; i++) {
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "file", lb_report_json_text(map->sources[rows[i]->source]));
        lb_maker_set(m, object, "line", json_integer(rows[i]->line));
        lb_maker_add(m, array, object);
    }
    return array;
}

static void set_article(struct lb_maker *m, json_t *object, const struct lb_article *article)
{
    lb_maker_set(m, object, "part_type", lb_report_json_text(article->part_type));
    lb_maker_set(m, object, "spec", lb_report_json_text(article->spec.text));
    lb_maker_set(m, object, "quantity", lb_report_json_quantity(article->quantity));
    lb_maker_set(m, object, "unit", lb_report_json_text(article->unit));
}

static void set_origins(struct lb_maker *m, json_t *object, const struct lb_kit *kit,
                        const struct lb_need *need)
{
    const struct lb_map *map = kit->plan->map;
    struct lb_origins origins;
    if (!lb_origins_of(&origins, kit, need)) {
        m->failed = true;
        return;
    }
    lb_maker_set(m, object, "components",
                 names_json(m, map->components, origins.components.at, origins.components.count));
    lb_maker_set(m, object, "circuits",
                 names_json(m, map->circuits, origins.circuits.at, origins.circuits.count));
    lb_maker_set(m, object, "sources", rows_json(m, map, origins.rows.at, origins.rows.count));
    lb_origins_free(&origins);
}

static json_t *together_json(struct lb_maker *m, const struct lb_candidate *chosen)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; chosen && i < chosen->companion_count; i++)
        lb_maker_add(m, array,
                     part_quantity_json(m, chosen->companions[i].part, chosen->companions[i].quantity));
    return array;
}

static json_t *covered_json(struct lb_maker *m, const struct lb_kit *kit, const struct lb_line *line)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < line->cover_count; i++) {
        json_t *object = part_quantity_json(m, line->covers[i].box, line->covers[i].quantity);
        lb_maker_set(m, object, "line", json_integer(kit->lines[line->covers[i].line].number));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *line_json(struct lb_maker *m, const struct lb_kit *kit, const struct lb_line *line)
{
    const struct lb_candidate *chosen = line->chosen == LB_NO_NAME ? NULL : &line->candidates[line->chosen];
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "line", json_integer(line->number));
    set_article(m, object, &line->need->article);
    set_origins(m, object, kit, line->need);
    lb_maker_set(m, object, "reason", lb_report_json_text(lb_reason_name(line->need->reason)));
    lb_maker_set(m, object, "missed_before", json_boolean(line->need->missed));
    lb_maker_set(m, object, "need", lb_report_json_text(line->need->sure ? "sure" : "ask"));
    lb_maker_set(m, object, "decision", lb_report_json_text(lb_decision_name(line->decision)));
    lb_maker_set(m, object, "decided", json_boolean(line->decided));
    lb_maker_set(m, object, "fit", lb_report_json_text_or_null(chosen ? lb_fit_name(chosen->fit) : NULL));
    lb_maker_set(m, object, "chosen", chosen ? lb_report_part_name_json(m, chosen->part) : json_null());
    lb_maker_set(m, object, "because", lb_report_json_text(line->because));
    lb_maker_set(m, object, "together", together_json(m, chosen));
    lb_maker_set(m, object, "covered", covered_json(m, kit, line));
    lb_maker_set(m, object, "here", lb_report_json_quantity(line->here));
    lb_maker_set(m, object, "on_way", lb_report_json_quantity(line->on_way));
    lb_maker_set(m, object, "from_shelf", lb_report_json_quantity(line->from_shelf));
    lb_maker_set(m, object, "opened", json_boolean(line->opened));
    lb_maker_set(m, object, "to_buy", lb_report_json_quantity(line->to_buy));
    return object;
}

static json_t *lines_json(struct lb_maker *m, const struct lb_kit *kit, bool spares)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < kit->line_count; i++)
        if (kit->lines[i].spare == spares)
            lb_maker_add(m, array, line_json(m, kit, &kit->lines[i]));
    return array;
}

static json_t *teardown_json(struct lb_maker *m, const struct lb_plan *plan)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < plan->teardown_count; i++) {
        const struct lb_teardown *t = &plan->teardown[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "component", lb_report_json_text(plan->map->components[t->component]));
        lb_maker_set(m, object, "state", lb_report_json_text(lb_level_name(t->level)));
        lb_maker_set(m, object, "need", lb_report_json_text(t->sure ? "sure" : "ask"));
        lb_maker_set(m, object, "target", json_boolean(t->target));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *suggestions_json(struct lb_maker *m, const struct lb_plan *plan)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < plan->suggestion_count; i++) {
        const struct lb_suggestion *s = &plan->suggestions[i];
        const struct lb_map_component *row = &plan->map->component_rows[s->component_row];
        json_t *object = lb_maker_object(m), *extras = lb_maker_array(m);
        for (size_t e = 0; e < s->extra_count; e++) {
            json_t *extra = lb_maker_object(m);
            set_article(m, extra, &s->extras[e].article);
            lb_maker_add(m, extras, extra);
        }
        lb_maker_set(m, object, "component", lb_report_json_text(plan->map->components[s->component]));
        lb_maker_set(m, object, "part_type", lb_report_json_text(row->article.part_type));
        lb_maker_set(m, object, "extra_needs", extras);
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *questions_json(struct lb_maker *m, const struct lb_kit *kit)
{
    const struct lb_plan *plan = kit->plan;
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < plan->question_count; i++) {
        const struct lb_question *q = &plan->questions[i];
        json_t *object = lb_maker_object(m), *settles = lb_maker_array(m);
        for (size_t s = 0; s < q->settle_count; s++)
            lb_maker_add(m, settles, json_integer(kit->lines[q->settles[s]].number));
        lb_maker_set(m, object, "fact", lb_report_json_text(plan->map->facts[q->fact]));
        lb_maker_set(m, object, "settles", settles);
        json_t *turns = lb_maker_array(m);
        for (size_t t = 0; t < q->turn_count; t++)
            lb_maker_add(m, turns, lb_report_json_text(q->turns[t]));
        lb_maker_set(m, object, "turns_on", turns);
        lb_maker_set(m, object, "where_to_look",
                     lb_report_json_text_or_null(kit->survey->where_to_look[q->fact]));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *gaps_json(struct lb_maker *m, const struct lb_kit *kit)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < kit->gap_count; i++) {
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "code", lb_report_json_text(lb_gap_name(kit->gaps[i].code)));
        lb_maker_set(m, object, "line", json_integer(kit->gaps[i].line));
        lb_maker_set(m, object, "message", lb_report_json_text(kit->gaps[i].message));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *order_json(struct lb_maker *m, const struct lb_plan *plan)
{
    json_t *array = lb_maker_array(m);
    struct lb_buf words = {0};
    for (size_t i = 0; i < plan->step_count; i++) {
        const struct lb_step *step = &plan->steps[i];
        const char *const *names = step->thing.is_circuit ? plan->map->circuits : plan->map->components;
        lb_buf_clear(&words);
        lb_buf_printf(&words, "%s %s", step->verb, names[step->thing.id]);
        lb_maker_add(m, array, lb_report_json_text(lb_buf_text(&words)));
    }
    m->failed = m->failed || words.failed;
    lb_buf_free(&words);
    return array;
}

static json_t *inspect_json(struct lb_maker *m, const struct lb_plan *plan)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < plan->inspect_count; i++) {
        const struct lb_map_component *row = &plan->map->component_rows[plan->inspects[i]];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "component", lb_report_json_text(plan->map->components[row->component]));
        lb_maker_set(m, object, "look_at", lb_report_json_text(row->inspect));
        lb_maker_add(m, array, object);
    }
    return array;
}

static void set_plan(struct lb_maker *m, json_t *object, const struct lb_kit *kit)
{
    const struct lb_plan *plan = kit->plan;
    lb_maker_set(m, object, "teardown", teardown_json(m, plan));
    lb_maker_set(m, object, "lines", lines_json(m, kit, false));
    lb_maker_set(m, object, "spares", lines_json(m, kit, true));
    lb_maker_set(m, object, "suggestions", suggestions_json(m, plan));
    lb_maker_set(m, object, "questions", questions_json(m, kit));
    lb_maker_set(m, object, "ask_first",
                 names_json(m, plan->map->facts, plan->ask_first, plan->ask_first_count));
    lb_maker_set(m, object, "ask_first_exact", json_boolean(plan->ask_first_exact));
    lb_maker_set(m, object, "gaps", gaps_json(m, kit));
    lb_maker_set(m, object, "order_of_work", order_json(m, plan));
    lb_maker_set(m, object, "tools", texts_json(m, plan->tools, plan->tool_count));
    lb_maker_set(m, object, "cautions", texts_json(m, plan->cautions, plan->caution_count));
    lb_maker_set(m, object, "inspect", inspect_json(m, plan));
}

json_t *lb_report_kit_json(const struct lb_kit *kit)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *jobs = lb_maker_array(&m);
    for (size_t i = 0; i < kit->want_count; i++)
        lb_maker_add(&m, jobs, lb_report_json_text(kit->wants[i].name));
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kit", lb_report_json_text(kit->name));
    lb_maker_set(&m, object, "vehicle", lb_report_json_text(kit->vehicle.name));
    lb_maker_set(&m, object, "platform", lb_report_json_text(kit->survey->platform));
    lb_maker_set(&m, object, "jobs", jobs);
    lb_maker_set(&m, object, "verdict", lb_report_json_text(kit->gap_count ? "gaps" : "complete"));
    set_plan(&m, object, kit);
    lb_maker_set(&m, object, "cost", lb_report_cost_json(kit));
    lb_maker_set(&m, object, "remarks", texts_json(&m, kit->remarks, kit->remark_count));
    return lb_maker_end(&m, object);
}
