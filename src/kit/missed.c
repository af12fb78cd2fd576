#include "kit/missed.h"
#include "base/date.h"
#include "base/text.h"
#include "catalog/lookup.h"
#include "catalog/spans.h"
#include "importers/recast.h"

#include <stdlib.h>
#include <string.h>

struct keeping {
    struct lb_missed missed; /* first: what is handed out */
    struct lb_rules rules;   /* as they were */
    struct lb_arena texts;
    struct lb_store *store;
    struct lb_error *err;
    const struct lb_missing *said;
};

/* A copy that lives as long as what is handed out. */
static lb_status keep(struct keeping *k, const struct lb_buf *text, const char **out)
{
    *out = text->failed ? NULL : lb_arena_text(&k->texts, lb_buf_text(text), text->length);
    return *out ? LB_OK : lb_fail_nomem(k->err);
}

/* As a catalogue keeps it; when none has it so, with a hyphen where it has something else between words. */
static lb_status read_type(struct keeping *k)
{
    struct lb_buf type = {0};
    lb_status status = lb_missed_judge_text("type of part", k->said->part_type, k->err);
    lb_text_fold(&type, k->said->part_type);
    if (!status)
        status = lb_lookup_knows_type(k->store, lb_buf_text(&type), &k->missed.type_known, k->err);
    if (!status && !k->missed.type_known) {
        lb_buf_clear(&type);
        lb_recast_lower_words(&type, k->said->part_type);
        status = lb_lookup_knows_type(k->store, lb_buf_text(&type), &k->missed.type_known, k->err);
    }
    if (!status && !type.failed && !type.length)
        status = lb_fail(k->err, LB_DATA, "\"%.100s\" is no type of part.", k->said->part_type);
    if (!status)
        status = keep(k, &type, &k->missed.rule.part_type);
    lb_buf_free(&type);
    return status;
}

/* Only asked when a type is not known: it reads all of them. */
static lb_status find_near(struct keeping *k)
{
    struct lb_names types = {0};
    struct lb_buf words = {0};
    struct lb_statement *st = NULL;
    uint32_t id;
    bool row;
    lb_status status =
        k->missed.type_known
            ? LB_OK
            : lb_store_prepare(k->store, &st, "SELECT DISTINCT r.part_type" LB_PLACED("parts"), k->err);
    while (!status && st && !(status = lb_step(st, &row, k->err)) && row)
        if (lb_text(st, 0) && !lb_names_add(&types, lb_text(st, 0), &id))
            status = lb_fail_nomem(k->err);
    if (!status && lb_text_nearest(&words, k->missed.rule.part_type, types.at, types.count))
        status = keep(k, &words, &k->missed.near);
    lb_statement_free(st);
    lb_names_free(&types);
    lb_buf_free(&words);
    return status;
}

static lb_status read_spec(struct keeping *k)
{
    const char *spec = k->said->spec ? k->said->spec : "";
    struct lb_buf kept = {0};
    lb_status status = lb_missed_judge_text("spec", spec, k->err);
    lb_missed_trim(&kept, spec);
    if (!status)
        status = keep(k, &kept, &k->missed.rule.spec);
    lb_buf_free(&kept);
    return status;
}

static lb_status read_quantity(struct keeping *k)
{
    struct lb_rule *rule = &k->missed.rule;
    struct lb_buf unit = {0};
    lb_status status =
        lb_missed_quantity(k->said->quantity ? k->said->quantity : "1", &rule->quantity, &unit, k->err);
    if (!status)
        status = keep(k, &unit, &rule->unit);
    lb_buf_free(&unit);
    return status;
}

/* The one that people call so; LB_NO_NAME: none, or err is filled because several are. */
static lb_status find_spoken(struct keeping *k, const struct lb_kit *kit, uint32_t *component)
{
    const struct lb_map *map = kit->plan->map;
    *component = LB_NO_NAME;
    for (uint32_t c = 0; c < map->component_count; c++) {
        if (!lb_text_same_words(kit->component_names[c], k->said->component))
            continue;
        if (*component != LB_NO_NAME)
            return lb_fail(k->err, LB_DATA, "\"%.100s\" may be %s or %s of %s. Say which of them.",
                           k->said->component, map->components[*component], map->components[c],
                           kit->survey->platform);
        *component = c;
    }
    return LB_OK;
}

static lb_status find_component(struct keeping *k, const struct lb_kit *kit, uint32_t *component)
{
    const struct lb_map *map = kit->plan->map;
    lb_status status = LB_OK;
    *component = LB_NO_NAME;
    for (uint32_t c = 0; *component == LB_NO_NAME && c < map->component_count; c++)
        if (lb_text_same_words(map->components[c], k->said->component))
            *component = c;
    if (*component == LB_NO_NAME)
        status = find_spoken(k, kit, component);
    for (uint32_t c = 0; !status && *component == LB_NO_NAME && c < map->circuit_count; c++)
        if (lb_text_same_words(map->circuits[c], k->said->component))
            status = lb_fail(k->err, LB_DATA,
                             "%s is a circuit of %s. Name the component that was worked on when it was "
                             "missing.",
                             map->circuits[c], kit->survey->platform);
    if (!status && *component == LB_NO_NAME)
        status = lb_survey_refuse_unknown(kit->survey->platform, "component", k->said->component,
                                          map->components, map->component_count, k->err);
    return status;
}

/* From the kit as it is without the rule: platform, component, its name, the day. */
static lb_status read_kit(struct keeping *k, const struct lb_kit *kit, int32_t today)
{
    struct lb_rule *rule = &k->missed.rule;
    uint32_t component;
    struct lb_buf day = {0}, texts[3] = {{0}};
    lb_status status = find_component(k, kit, &component);
    lb_date_print(&day, today);
    if (!status)
        status = keep(k, &day, &rule->missed);
    lb_buf_puts(&texts[0], kit->survey->platform);
    lb_buf_puts(&texts[1], status ? "" : kit->plan->map->components[component]);
    lb_buf_puts(&texts[2], kit->name);
    const char **const outs[] = {&rule->platform, &rule->component, &rule->kit};
    for (int i = 0; i < 3; i++) {
        if (!status)
            status = keep(k, &texts[i], outs[i]);
        lb_buf_free(&texts[i]);
    }
    lb_buf_free(&day);
    return status;
}

/* The line of the kit that the rule is part of. */
static int find_line(const struct lb_kit *kit, int64_t number)
{
    for (size_t i = 0; i < kit->need_count; i++) {
        const struct lb_need *need = kit->lines[i].need;
        for (size_t o = 0; need->missed && o < need->origin_count; o++) {
            const struct lb_origin *origin = &need->origins[o];
            if (origin->kind != LB_FROM_CONSUMABLE)
                continue;
            const struct lb_map_consumable *row = &kit->plan->map->consumables[origin->index];
            if (row->own && row->row.line == number)
                return kit->lines[i].number;
        }
    }
    return 0;
}

static const char *find_unit(const struct lb_line *line, const char *unit)
{
    const char *other = NULL;
    for (size_t i = 0; i < line->candidate_count; i++) {
        const char *theirs = lb_part_unit(line->candidates[i].part);
        if (strcmp(theirs, unit) == 0)
            return NULL;
        other = other ? other : theirs;
    }
    return other;
}

static lb_status take(struct keeping *k, int32_t today)
{
    struct lb_kit *before = NULL;
    lb_status status = lb_kit_open(&before, k->store, k->said->kit, today, k->err);
    if (!status)
        status = read_kit(k, before, today);
    lb_kit_free(before);
    lb_status (*const stages[])(struct keeping *) = {read_type, read_quantity, read_spec, find_near};
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](k);
    if (!status)
        status = lb_rules_load(&k->rules, k->store, k->err);
    if (!status)
        status = lb_rule_keep(k->store, &k->rules, &k->missed.rule, &k->missed.was, k->err);
    if (!status)
        status = lb_kit_open(&k->missed.kit, k->store, k->said->kit, today, k->err);
    if (!status)
        k->missed.line = find_line(k->missed.kit, k->missed.rule.number);
    if (!status && k->missed.line)
        k->missed.counted_in = find_unit(&k->missed.kit->lines[k->missed.line - 1], k->missed.rule.unit);
    return status;
}

lb_status lb_missed_keep(struct lb_missed **out, struct lb_store *store, const struct lb_missing *missing,
                         int32_t today, struct lb_error *err)
{
    *out = NULL;
    struct keeping *k = calloc(1, sizeof *k);
    if (!k)
        return lb_fail_nomem(err);
    k->store = store;
    k->err = err;
    k->said = missing;
    lb_status status = lb_store_begin(store, err);
    if (!status)
        status = take(k, today);
    if (!status)
        status = lb_store_commit(store, err);
    if (status) {
        lb_missed_free(&k->missed);
        lb_store_rollback(store);
    } else {
        *out = &k->missed;
    }
    return status;
}

void lb_missed_free(struct lb_missed *missed)
{
    if (!missed)
        return;
    struct keeping *k = (struct keeping *)missed; /* its first member */
    lb_kit_free(missed->kit);
    lb_rules_free(&k->rules);
    lb_arena_free(&k->texts);
    free(k);
}
