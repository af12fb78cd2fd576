/* The rows of a trial: what its targets may meet on any vehicle, and what of that one vehicle has. */
#include "kit/map_trial.h"

#include <stdlib.h>
#include <string.h>

/* Rows point to what they hang on; a row that counts as true keeps its condition's number for the clash. */
static bool keep_row(struct trial *t, struct lb_row *row)
{
    bool conditional = row->doubt_count > 0;
    if (conditional && t->truth[row->condition] == LB_FALSE)
        return false;
    row->condition = conditional ? row->condition : LB_NO_NAME;
    row->doubt_count = row->turn_count = 0;
    return true;
}

static void note_condition(struct trial *t, const struct lb_row *row)
{
    if (!row->doubt_count || t->is_asked[row->condition])
        return;
    t->is_asked[row->condition] = true;
    t->asked_ids[t->asked_count] = row->condition;
    t->asked[t->asked_count++] = check_condition(t->c, row);
}

#define CLEAR(vec) ((vec).count = 0)

static void clear_part(struct part_map *part)
{
    CLEAR(part->components);
    CLEAR(part->access);
    CLEAR(part->sequences);
    CLEAR(part->opens);
    CLEAR(part->targets);
}

static void free_part(struct part_map *part)
{
    free(part->components.at);
    free(part->access.at);
    free(part->sequences.at);
    free(part->opens.at);
    free(part->targets.at);
}

static void close_part(const struct trial *t, struct part_map *part)
{
    const struct lb_map *m = t->c->map;
    part->map = (struct lb_map){.sources = m->sources,
                                .components = m->components,
                                .component_count = m->component_count,
                                .circuits = m->circuits,
                                .circuit_count = m->circuit_count,
                                .component_rows = part->components.at,
                                .component_row_count = part->components.count,
                                .access = part->access.at,
                                .access_count = part->access.count,
                                .sequences = part->sequences.at,
                                .sequence_count = part->sequences.count,
                                .opens = part->opens.at,
                                .opens_count = part->opens.count};
}

static size_t node_of_thing(const struct lb_map *m, struct lb_thing thing)
{
    return thing.is_circuit ? m->component_count + thing.id : thing.id;
}

static bool same_thing(struct lb_thing a, struct lb_thing b)
{
    return a.is_circuit == b.is_circuit && a.id == b.id;
}

static bool reached(const struct trial *t, const enum lb_level *levels, struct lb_thing thing)
{
    return thing.id != LB_NO_NAME && levels[node_of_thing(t->c->map, thing)] != LB_UNTOUCHED;
}

/* Rows that contradict themselves are told of already (needs-itself, before-itself) and stay out. */
static void take_reached(struct trial *t, const enum lb_level *levels)
{
    const struct lb_map *m = t->c->map;
    for (size_t i = 0; i < m->component_row_count; i++)
        if (levels[m->component_rows[i].component])
            TRIAL_TAKE(t, &t->all.components, m->component_rows[i]);
    for (size_t i = 0; i < m->access_count; i++) {
        const struct lb_map_access *row = &m->access[i];
        bool itself = !row->thing.is_circuit && row->thing.id == row->needs;
        if (reached(t, levels, row->thing) && !itself)
            TRIAL_TAKE(t, &t->all.access, *row);
    }
    for (size_t i = 0; i < m->sequence_count; i++) {
        const struct lb_map_sequence *row = &m->sequences[i];
        bool itself =
            strcmp(row->first.verb, row->then.verb) == 0 && same_thing(row->first.thing, row->then.thing);
        if (!itself && reached(t, levels, row->first.thing) && reached(t, levels, row->then.thing))
            TRIAL_TAKE(t, &t->all.sequences, *row);
    }
    for (size_t i = 0; i < m->opens_count; i++)
        if (levels[m->opens[i].component])
            TRIAL_TAKE(t, &t->all.opens, m->opens[i]);
}

void trial_note_conditions(struct trial *t)
{
    for (size_t i = 0; i < t->all.components.count; i++)
        note_condition(t, &t->all.components.at[i].row);
    for (size_t i = 0; i < t->all.access.count; i++)
        note_condition(t, &t->all.access.at[i].row);
    for (size_t i = 0; i < t->all.sequences.count; i++)
        note_condition(t, &t->all.sequences.at[i].row);
    for (size_t i = 0; i < t->all.opens.count; i++)
        note_condition(t, &t->all.opens.at[i].row);
    for (size_t i = 0; i < t->all.targets.count; i++)
        note_condition(t, &t->all.targets.at[i].row);
}

#define FILTER(t, kind)                                                                                      \
    for (size_t i = 0; i < (t)->all.kind.count; i++) {                                                       \
        TRIAL_TAKE(t, &(t)->some.kind, (t)->all.kind.at[i]);                                                 \
        if (!(t)->c->failed && !keep_row(t, &(t)->some.kind.at[(t)->some.kind.count - 1].row))               \
            (t)->some.kind.count--;                                                                          \
    }

void trial_filter(struct trial *t)
{
    struct lb_facts facts = lb_guess_facts(&t->guess);
    for (size_t i = 0; i < t->asked_count; i++)
        t->truth[t->asked_ids[i]] = lb_condition_ask(t->asked[i], &facts, NULL, NULL);
    clear_part(&t->some);
    FILTER(t, components)
    FILTER(t, access)
    FILTER(t, sequences)
    FILTER(t, opens)
    FILTER(t, targets)
    close_part(t, &t->some);
    t->c->tried += t->all.components.count + t->all.access.count + t->all.sequences.count +
                   t->all.opens.count + t->asked_count + t->c->map->component_count;
}

lb_status trial_gather(struct trial *t)
{
    struct checker *c = t->c;
    enum lb_level *levels = calloc(c->map->component_count + c->map->circuit_count + 1, sizeof *levels);
    if (!levels)
        return lb_fail_nomem(c->err);
    lb_status status = lb_plan_reach(c->map, t->all.targets.at, t->all.targets.count, levels, c->err);
    if (!status)
        take_reached(t, levels);
    free(levels);
    return status;
}

void trial_clear_rows(struct trial *t)
{
    clear_part(&t->all);
}

void trial_free_rows(struct trial *t)
{
    free_part(&t->all);
    free_part(&t->some);
}
