#include "garage/applies.h"
#include "kit/surveyor.h"

#include <stdlib.h>
#include <string.h>

lb_status survey_rows(struct surveyor *s, const char *sql, const char *parameter,
                      lb_status (*read)(struct surveyor *, struct lb_statement *))
{
    struct lb_statement *statement;
    bool row;
    lb_status status = lb_store_prepare(s->store, &statement, sql, s->err);
    if (status)
        return status;
    lb_bind_text(statement, 1, parameter);
    while (!(status = lb_step(statement, &row, s->err)) && row)
        if ((status = read(s, statement)))
            break;
    lb_statement_free(statement);
    return status;
}

static void note_doubt(void *context, const char *key, const char *turns_on)
{
    struct surveyor *s = context;
    uint32_t fact, words;
    if (!lb_names_add(&s->fact_names, key, &fact) || !lb_names_add(&s->texts, turns_on, &words) ||
        !LB_PUSH(&s->turns, ((struct lb_turn){fact, s->texts.at[words]}))) {
        s->doubts_failed = true;
        return;
    }
    for (size_t i = 0; i < s->doubts.count; i++)
        if (s->doubts.at[i] == fact)
            return;
    if (!LB_PUSH(&s->doubts, fact))
        s->doubts_failed = true;
}

static lb_status keep_doubts(struct surveyor *s, struct lb_row *row)
{
    if (!s->doubts.count)
        return LB_OK;
    uint32_t *kept = lb_arena_alloc(&s->arena, s->doubts.count * sizeof *kept);
    struct lb_turn *turns = lb_arena_alloc(&s->arena, s->turns.count * sizeof *turns);
    if (!kept || !turns)
        return lb_fail_nomem(s->err);
    memcpy(kept, s->doubts.at, s->doubts.count * sizeof *kept);
    memcpy(turns, s->turns.at, s->turns.count * sizeof *turns);
    row->turns = turns;
    row->turn_count = (uint32_t)s->turns.count;
    row->doubts = kept;
    row->doubt_count = (uint32_t)s->doubts.count;
    return LB_OK;
}

static lb_status keep_cells(struct surveyor *s, const char *when, const char *from, const char *to)
{
    struct lb_cells cells;
    lb_status status = survey_text(s, when, &cells.when);
    if (!status)
        status = survey_text(s, from, &cells.built_from);
    if (!status)
        status = survey_text(s, to, &cells.built_to);
    if (status)
        return status;
    return LB_PUSH(&s->condition_cells, cells) ? LB_OK : lb_fail_nomem(s->err);
}

/* Rows with the same words hang on the same condition. */
static lb_status number_condition(struct surveyor *s, const char *when, const char *from, const char *to,
                                  struct lb_row *row)
{
    struct lb_buf words = {0};
    size_t before = s->conditions.count;
    lb_buf_printf(&words, "%s\x1f%s\x1f%s", when ? when : "", from ? from : "", to ? to : "");
    lb_status status =
        words.failed ? lb_fail_nomem(s->err) : survey_name(s, &s->conditions, words.text, &row->condition);
    lb_buf_free(&words);
    return status || s->conditions.count == before ? status : keep_cells(s, when, from, to);
}

lb_status survey_row(struct surveyor *s, struct lb_statement *st, int built_from, bool *applies,
                     struct lb_row *row)
{
    enum lb_truth truth;
    bool dated = built_from >= 0;
    const char *when = lb_text(st, ROW_WHEN), *from = dated ? lb_text(st, built_from) : NULL,
               *to = dated ? lb_text(st, built_from + 1) : NULL;
    *row = (struct lb_row){.line = (uint32_t)lb_integer(st, ROW_LINE)};
    s->doubts.count = 0;
    s->turns.count = 0;
    lb_status status = lb_applies(&s->facts, when, from, to, note_doubt, s, &truth, s->err);
    if (!status && s->doubts_failed)
        status = lb_fail_nomem(s->err);
    *applies = !status && truth != LB_FALSE;
    if (!*applies)
        return status;
    status = survey_name(s, &s->sources, lb_text(st, ROW_SOURCE), &row->source);
    if (!status && s->doubts.count)
        status = number_condition(s, when, from, to, row);
    return status ? status : keep_doubts(s, row);
}

lb_status survey_name(struct surveyor *s, struct lb_names *names, const char *name, uint32_t *id)
{
    return lb_names_add(names, name, id) ? LB_OK : lb_fail_nomem(s->err);
}

lb_status survey_text(struct surveyor *s, const char *text, const char **out)
{
    uint32_t id;
    *out = NULL;
    if (!text)
        return LB_OK;
    lb_status status = survey_name(s, &s->texts, text, &id);
    if (!status)
        *out = s->texts.at[id];
    return status;
}

lb_status survey_article(struct surveyor *s, const char *part_type, const char *spec, int64_t quantity,
                         const char *unit, struct lb_article *out)
{
    const char *text;
    struct lb_unit known = lb_unit_find(unit ? unit : "", LB_MASS);
    lb_status status = survey_text(s, part_type, &out->part_type);
    if (!status)
        status = survey_text(s, spec, &text);
    if (status)
        return status;
    out->spec = lb_spec_parse(text);
    out->dimension = known.dimension;
    out->quantity = lb_unit_to_base(known, quantity);
    return survey_text(s, known.dimension == LB_OTHER_UNIT ? unit : lb_unit_symbol(known.dimension),
                       &out->unit);
}

enum lb_level survey_level(const char *text, enum lb_level otherwise)
{
    if (!text)
        return otherwise;
    return text[0] == 'l' ? LB_LOOSENED : text[0] == 'a' ? LB_ASIDE : LB_REMOVED;
}

/* Where the owner reads each fact that is asked; a row for this platform goes before a general one. */
static lb_status survey_facts(struct surveyor *s)
{
    struct lb_statement *statement;
    bool row;
    const char **where = lb_arena_alloc(&s->arena, (s->fact_names.count + 1) * sizeof *where);
    if (!where)
        return lb_fail_nomem(s->err);
    s->survey.where_to_look = where;
    lb_status status = lb_store_prepare(
        s->store, &statement,
        "SELECT r.where_to_look" LB_PLACED("facts") "WHERE r.key = ?1 "
                                                    "AND (r.platform IS NULL OR r.platform = ?2) "
                                                    "ORDER BY r.platform IS NULL, s.name, " LB_PLACE_LINE
                                                    " LIMIT 1",
        s->err);
    for (size_t i = 0; !status && i < s->fact_names.count; i++) {
        lb_bind_text(statement, 1, s->fact_names.at[i]);
        lb_bind_text(statement, 2, s->survey.platform);
        status = lb_step(statement, &row, s->err);
        if (!status && row)
            status = survey_text(s, lb_text(statement, 0), &where[i]);
        lb_statement_reset(statement);
    }
    lb_statement_free(statement);
    return status;
}

void survey_hand_out(struct surveyor *s)
{
    struct lb_map *map = &s->survey.map;
    *map = (struct lb_map){.platform = map->platform,
                           .conditions = map->conditions,
                           .outcome_counts = map->outcome_counts,
                           .sources = s->sources.at,
                           .components = s->components.at,
                           .component_count = s->components.count,
                           .circuits = s->circuits.at,
                           .circuit_count = s->circuits.count,
                           .facts = s->fact_names.at,
                           .fact_count = s->fact_names.count,
                           .joint_count = s->joints.count,
                           .condition_count = s->conditions.count,
                           .component_rows = s->component_rows.at,
                           .component_row_count = s->component_rows.count,
                           .fastenings = s->fastenings.at,
                           .fastening_count = s->fastenings.count,
                           .access = s->access.at,
                           .access_count = s->access.count,
                           .sequences = s->sequences.at,
                           .sequence_count = s->sequences.count,
                           .circuit_rows = s->circuit_rows.at,
                           .circuit_row_count = s->circuit_rows.count,
                           .opens = s->opens.at,
                           .opens_count = s->opens.count,
                           .consumables = s->consumables.at,
                           .consumable_count = s->consumables.count,
                           .cautions = s->cautions.at,
                           .caution_count = s->cautions.count,
                           .pulleys = s->pulleys.at,
                           .pulley_count = s->pulleys.count};
    s->survey.targets = s->targets.at;
    s->survey.target_count = s->targets.count;
}

lb_status lb_survey_make(struct lb_survey **out, struct lb_store *store, const struct lb_vehicle *vehicle,
                         const struct lb_want *wants, size_t want_count, struct lb_error *err)
{
    *out = NULL;
    struct surveyor *s = calloc(1, sizeof *s);
    if (!s)
        return lb_fail_nomem(err);
    s->store = store;
    s->vehicle = vehicle;
    s->facts = lb_vehicle_facts(vehicle);
    s->err = err;
    lb_status status = survey_platform(s);
    if (!status)
        status = survey_map(s);
    if (!status)
        status = survey_rules(s);
    if (!status)
        status = survey_targets(s, wants, want_count);
    if (!status)
        status = survey_facts(s);
    if (!status)
        status = survey_outcomes(s);
    if (status) {
        lb_survey_free(&s->survey);
        return status;
    }
    survey_hand_out(s);
    *out = &s->survey;
    return LB_OK;
}

lb_status survey_all(struct surveyor **out, struct lb_store *store, const char *platform, void *reader,
                     struct lb_error *err)
{
    *out = NULL;
    struct surveyor *s = calloc(1, sizeof *s);
    if (!s)
        return lb_fail_nomem(err);
    s->store = store;
    s->facts.built = (struct lb_interval){LB_DATE_MIN, LB_DATE_MAX};
    s->err = err;
    s->reader = reader;
    lb_status status = survey_text(s, platform, &s->survey.platform);
    if (!status)
        status = survey_map(s);
    if (status)
        lb_survey_free(&s->survey);
    else
        *out = s;
    return status;
}

void lb_survey_free(struct lb_survey *survey)
{
    if (!survey)
        return;
    struct surveyor *s = (struct surveyor *)survey; /* its first member */
    struct lb_names *names[] = {&s->components, &s->circuits, &s->fact_names, &s->joints,
                                &s->sources,    &s->texts,    &s->conditions, &s->rules};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        lb_names_free(names[i]);
    free(s->condition_cells.at);
    free(s->doubts.at);
    free(s->turns.at);
    free(s->component_rows.at);
    free(s->fastenings.at);
    free(s->access.at);
    free(s->sequences.at);
    free(s->circuit_rows.at);
    free(s->opens.at);
    free(s->consumables.at);
    free(s->cautions.at);
    free(s->pulleys.at);
    free(s->targets.at);
    lb_arena_free(&s->arena);
    free(s);
}
