/* Names that nothing describes, steps that no plan has, and what nothing leads to. */
#include "base/text.h"
#include "kit/map_checker.h"
#include "plan/trial.h"

#include <stdlib.h>
#include <string.h>

enum { SUGGESTED_MOST = 40 }; /* names with suggestions: each is held against all names there are */

enum what { COMPONENT = 'c', CIRCUIT = 'o', EITHER = 'e' };

struct unknowns {
    struct checker *c;
    struct tally tally; /* by what, table and name */
    struct lb_names known, circuits;
};

static void meet_name(struct unknowns *u, enum what what, const char *table, const char *name,
                      const struct lb_row *row)
{
    struct lb_buf key = {0};
    lb_buf_printf(&key, "%c%s\x1f%s", what, table, name);
    u->c->failed |= key.failed;
    check_tally(u->c, &u->tally, lb_buf_text(&key), row);
    lb_buf_free(&key);
}

static void meet_component(struct unknowns *u, const char *table, uint32_t component,
                           const struct lb_row *row)
{
    if (!u->c->component_of[component])
        meet_name(u, COMPONENT, table, u->c->map->components[component], row);
}

static void meet_circuit(struct unknowns *u, const char *table, uint32_t circuit, const struct lb_row *row)
{
    if (!u->c->circuit_of[circuit])
        meet_name(u, CIRCUIT, table, u->c->map->circuits[circuit], row);
}

static void meet_thing(struct unknowns *u, const char *table, struct lb_thing thing, const struct lb_row *row)
{
    bool known = thing.is_circuit ? u->c->circuit_of[thing.id] != NULL : u->c->component_of[thing.id] != NULL;
    if (!known)
        meet_name(u, EITHER, table,
                  (thing.is_circuit ? u->c->map->circuits : u->c->map->components)[thing.id], row);
}

static void meet_map(struct unknowns *u)
{
    const struct lb_map *m = u->c->map;
    for (size_t i = 0; i < m->fastening_count; i++)
        meet_component(u, "fastenings", m->fastenings[i].component, &m->fastenings[i].row);
    for (size_t i = 0; i < m->consumable_count; i++)
        meet_component(u, "consumables", m->consumables[i].component, &m->consumables[i].row);
    for (size_t i = 0; i < m->opens_count; i++) {
        meet_component(u, "opens", m->opens[i].component, &m->opens[i].row);
        meet_circuit(u, "opens", m->opens[i].circuit, &m->opens[i].row);
    }
    for (size_t i = 0; i < m->access_count; i++) {
        meet_thing(u, "access", m->access[i].thing, &m->access[i].row);
        meet_component(u, "access", m->access[i].needs, &m->access[i].row);
    }
    for (size_t i = 0; i < m->caution_count; i++)
        meet_thing(u, "cautions", m->cautions[i].thing, &m->cautions[i].row);
}

static void meet_others(struct unknowns *u)
{
    const struct checker *c = u->c;
    for (size_t i = 0; i < c->job_rows.count; i++) {
        const struct lb_target *target = &c->job_rows.at[i].target;
        (target->thing.is_circuit ? meet_circuit : meet_component)(u, "jobs", target->thing.id, &target->row);
    }
    for (size_t i = 0; i < c->pulleys.count; i++) {
        meet_component(u, "pulleys", c->pulleys.at[i].component, &c->pulleys.at[i].row);
        if (c->pulleys.at[i].belt != c->pulleys.at[i].component)
            meet_component(u, "pulleys", c->pulleys.at[i].belt, &c->pulleys.at[i].row);
    }
    for (size_t i = 0; i < c->steps.count; i++) {
        const char *const texts[] = {c->steps.at[i].first, c->steps.at[i].then};
        for (int t = 0; t < 2; t++) {
            const char *blank = strchr(texts[t], ' '), *name = blank ? blank + 1 : texts[t];
            if (lb_names_find(&u->known, name) == LB_NO_NAME &&
                lb_names_find(&u->circuits, name) == LB_NO_NAME)
                meet_name(u, EITHER, "sequence", name, &c->map->sequences[i].row);
        }
    }
}

static void list_known(struct unknowns *u)
{
    const struct checker *c = u->c;
    uint32_t id;
    for (size_t i = 0; i < c->map->component_count; i++)
        if (c->component_of[i])
            u->c->failed |= !lb_names_add(&u->known, c->map->components[i], &id);
    for (size_t i = 0; i < c->map->circuit_count; i++)
        if (c->circuit_of[i])
            u->c->failed |= !lb_names_add(&u->circuits, c->map->circuits[i], &id);
}

static void suggest(const struct unknowns *u, enum what what, const char *name, struct lb_buf *out)
{
    size_t start = out->length;
    const struct lb_names *known = what == CIRCUIT ? &u->circuits : &u->known;
    lb_buf_puts(out, " Did you mean ");
    bool near = lb_text_nearest(out, name, known->at, known->count);
    if (!near && what == EITHER)
        near = lb_text_nearest(out, name, u->circuits.at, u->circuits.count);
    if (near)
        lb_buf_puts(out, "? Correct it, or add the row.");
    else if (!out->failed)
        out->length = start;
    if (!near)
        lb_buf_puts(out, " Correct it, or add the row.");
}

static void tell_unknown(struct unknowns *u, size_t i)
{
    const char *key = u->tally.keys.at[i], *split = strchr(key, '\x1f');
    const struct tallied *met = &u->tally.at.at[i];
    enum what what = (enum what)key[0];
    struct lb_buf words = {0};
    lb_buf_printf(&words, "no %s row describes \"%s\"",
                  what == CIRCUIT     ? "circuits"
                  : what == COMPONENT ? "components"
                                      : "components or circuits",
                  split + 1);
    if (met->count > 1)
        lb_buf_printf(&words, ", which %zu rows of %.*s name", met->count, (int)(split - key - 1), key + 1);
    lb_buf_putc(&words, '.');
    if (i < SUGGESTED_MOST)
        suggest(u, what, split + 1, &words);
    else
        lb_buf_puts(&words, " Correct it, or add the row.");
    u->c->failed |= words.failed;
    check_find(u->c, LB_ERROR, what == CIRCUIT ? "unknown-circuit" : "unknown-component", met->row, "%s",
               lb_buf_text(&words));
    lb_buf_free(&words);
}

lb_status check_names(struct checker *c)
{
    struct unknowns u = {.c = c};
    list_known(&u);
    if (!c->failed)
        meet_map(&u);
    if (!c->failed)
        meet_others(&u);
    for (size_t i = 0; i < u.tally.at.count && !c->failed; i++)
        tell_unknown(&u, i);
    check_tally_free(&u.tally);
    lb_names_free(&u.known);
    lb_names_free(&u.circuits);
    if (!c->platforms.count && c->rows.count)
        check_find(c, LB_ERROR, "no-platform", c->rows.at[0].row,
                   "no platforms row says which vehicles %s is for, so no kit can be built with it. Add one.",
                   c->report.platform);
    return LB_OK;
}

/* Every step that some plan can have, as a sequence row writes it (formats.md §3.10). */
static void add_step(struct checker *c, struct lb_names *steps, const char *verb, const char *name)
{
    struct lb_buf text = {0};
    uint32_t id;
    lb_buf_printf(&text, "%s %s", verb, name);
    c->failed |= text.failed || !lb_names_add(steps, lb_buf_text(&text), &id);
    lb_buf_free(&text);
}

static void list_steps(struct checker *c, struct lb_names *steps)
{
    const struct lb_map *m = c->map;
    for (size_t i = 0; i < m->component_row_count; i++) {
        const struct lb_map_component *row = &m->component_rows[i];
        const char *const verbs[] = {row->off, row->back, "loosen", "tighten"};
        for (int v = 0; v < 4; v++)
            add_step(c, steps, verbs[v], m->components[row->component]);
    }
    for (size_t i = 0; i < m->access_count; i++) {
        if (m->access[i].state != LB_ASIDE)
            continue;
        add_step(c, steps, "set-aside", m->components[m->access[i].needs]);
        add_step(c, steps, "refit", m->components[m->access[i].needs]);
    }
    static const char *const circuit_verbs[] = {"drain", "fill", "bleed"};
    for (size_t i = 0; i < m->circuit_count; i++)
        for (int v = 0; v < 3; v++)
            add_step(c, steps, circuit_verbs[v], m->circuits[i]);
}

static void judge_step(struct checker *c, const struct lb_names *steps, const struct lb_map_sequence *row,
                       const struct lb_step_name *step, const char *text)
{
    struct lb_thing thing = step->thing;
    if (thing.id == LB_NO_NAME || lb_names_find(steps, text) != LB_NO_NAME)
        return;
    if (thing.is_circuit) {
        check_find(c, LB_WARNING, "dead-step", &row->row,
                   "no plan has the step `%s`, so the row says nothing: a circuit has drain, fill and bleed.",
                   text);
        return;
    }
    const struct lb_map_component *known = c->component_of[thing.id];
    if (!known)
        return; /* told already */
    bool aside = strcmp(step->verb, "set-aside") == 0 || strcmp(step->verb, "refit") == 0;
    check_find(c, LB_WARNING, "dead-step", &row->row,
               "no plan has the step `%s`, so the row says nothing: the steps of %s are %s, %s, loosen and "
               "tighten%s",
               text, c->map->components[thing.id], known->off, known->back,
               aside ? ", and no access row sets it aside." : ".");
}

lb_status check_steps(struct checker *c)
{
    struct lb_names steps = {0};
    list_steps(c, &steps);
    for (size_t i = 0; i < c->steps.count && !c->failed; i++) {
        const struct lb_map_sequence *row = &c->map->sequences[i];
        if (strcmp(c->steps.at[i].first, c->steps.at[i].then) == 0) {
            check_find(c, LB_ERROR, "before-itself", &row->row,
                       "`%s` cannot come before itself. Correct one of the two steps.", c->steps.at[i].first);
            continue;
        }
        judge_step(c, &steps, row, &row->first, c->steps.at[i].first);
        judge_step(c, &steps, row, &row->then, c->steps.at[i].then);
    }
    lb_names_free(&steps);
    return LB_OK;
}

/* Worn parts are suggested while their surroundings are open, so nothing else need lead to them. */
static void tell_unreached(struct checker *c, const bool *worn)
{
    const struct lb_map *m = c->map;
    for (size_t i = 0; i < m->component_count; i++) {
        const struct lb_map_component *row = c->component_of[i];
        if (row && !worn[i] && c->levels[i] == LB_UNTOUCHED)
            check_find(
                c, LB_WARNING, "unreached", &row->row,
                "no job gets to %s, and it has no wear interval. Name it in a job, let an access row of "
                "something else need it, or state when it wears.",
                m->components[i]);
    }
    for (size_t i = 0; i < m->circuit_count; i++) {
        const struct lb_map_circuit *row = c->circuit_of[i];
        if (row && c->levels[m->component_count + i] == LB_UNTOUCHED)
            check_find(c, LB_WARNING, "unreached", &row->row,
                       "no job drains %s or opens it. Name it in a job, or say what opens it.",
                       m->circuits[i]);
    }
}

lb_status check_reach(struct checker *c)
{
    const struct lb_map *m = c->map;
    bool *worn = check_alloc(c, m->component_count + 1, sizeof *worn);
    struct lb_target *targets = check_alloc(c, c->job_rows.count + 1, sizeof *targets);
    c->levels = check_alloc(c, m->component_count + m->circuit_count + 1, sizeof *c->levels);
    if (c->failed)
        return LB_OK;
    for (size_t i = 0; i < c->job_rows.count; i++)
        targets[i] = c->job_rows.at[i].target;
    for (size_t i = 0; i < m->component_row_count; i++)
        worn[m->component_rows[i].component] |=
            m->component_rows[i].wear_km > 0 || m->component_rows[i].wear_months > 0;
    lb_status status = lb_plan_reach(m, targets, c->job_rows.count, c->levels, c->err);
    if (!status && c->job_rows.count)
        tell_unreached(c, worn);
    else if (!status)
        check_find(c, LB_NOTE, "no-jobs", c->rows.at[0].row,
                   "%s has no jobs: its components can only be asked for one by one.", c->report.platform);
    return status;
}
