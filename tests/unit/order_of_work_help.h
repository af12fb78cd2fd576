/* Generated maps for the order of work, and a reading of formats.md §3.10 of its own: which steps there are,
 * what must come before what, and whether rows contradict each other. */
#ifndef LB_TESTS_ORDER_OF_WORK_HELP_H
#define LB_TESTS_ORDER_OF_WORK_HELP_H

#include "plan/plan.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { COMPONENTS = 12, CIRCUITS = 2, THINGS = COMPONENTS + CIRCUITS, ROWS = 24, STEPS = 64, RULES = 512 };
enum source { RULE, ACCESS, SEQUENCE, OPENS };
/* FIRM must hold; a STRONG wish where nothing firm speaks against it, then a WEAK one. */
enum force { FIRM, STRONG, WEAK };

struct rule {
    int before, after;
    enum source source;
    unsigned row;
    enum force force;
};

struct work_map {
    struct lb_map map;
    const char *names[COMPONENTS], *circuits[CIRCUITS];
    char name_text[THINGS][16];
    struct lb_map_component components[COMPONENTS];
    struct lb_map_access access[ROWS];
    struct lb_map_opens opens[ROWS];
    struct lb_map_sequence sequences[ROWS];
    struct lb_target targets[3];
    size_t target_count;
    /* The reading: */
    int level[THINGS];
    char steps[STEPS][32];
    int step_count;
    struct rule rules[RULES];
    int rule_count;
};

static const char *const sources[] = {"components.csv", "access.csv", "sequence.csv", "opens.csv"};
static unsigned state;

static unsigned pick(unsigned below)
{
    state = state * 1664525U + 1013904223U;
    return (state >> 8) % below;
}

/* --- maps --- */

static void draw_access(struct work_map *m, unsigned components, unsigned circuits)
{
    for (unsigned n = pick(ROWS); n > 0; n--) {
        struct lb_map_access row = {.row = {.source = ACCESS, .line = 2 + (unsigned)m->map.access_count},
                                    .state = LB_LOOSENED + pick(3),
                                    .to = pick(2) ? LB_UNTOUCHED : LB_LOOSENED + pick(3)};
        row.thing.is_circuit = circuits && pick(6) == 0;
        row.thing.id = row.thing.is_circuit ? pick(circuits) : pick(components - 1);
        /* Access goes upwards, so it does not go round in a circle. */
        row.needs =
            row.thing.is_circuit ? pick(components) : row.thing.id + 1 + pick(components - row.thing.id - 1);
        m->access[m->map.access_count++] = row;
    }
}

static void draw_opens(struct work_map *m, unsigned components, unsigned circuits)
{
    unsigned count = circuits ? pick(6) : 0;
    for (unsigned i = 0; i < count; i++)
        m->opens[i] = (struct lb_map_opens){.row = {.source = OPENS, .line = 2 + i},
                                            .component = pick(components),
                                            .circuit = pick(circuits),
                                            .share = 1000000,
                                            .at = LB_LOOSENED + pick(3)};
    m->map.opens_count = count;
}

static struct lb_step_name draw_step(unsigned components, unsigned circuits)
{
    static const char *const verbs[] = {"remove",    "fit",   "loosen",     "tighten", "loosen", "tighten",
                                        "set-aside", "refit", "disconnect", "connect", "remove", "fit"};
    static const char *const circuit_verbs[] = {"drain", "fill", "bleed"};
    bool circuit = circuits && pick(5) == 0;
    return (struct lb_step_name){circuit ? circuit_verbs[pick(3)] : verbs[pick(12)],
                                 {circuit, circuit ? pick(circuits) : pick(components)}};
}

static void draw_sequences(struct work_map *m, unsigned components, unsigned circuits)
{
    unsigned count = pick(pick(2) ? 6 : ROWS);
    for (unsigned i = 0; i < count; i++)
        m->sequences[i] = (struct lb_map_sequence){.row = {.source = SEQUENCE, .line = 2 + i},
                                                   .first = draw_step(components, circuits),
                                                   .then = draw_step(components, circuits)};
    m->map.sequence_count = count;
}

static void draw_names(struct work_map *m, unsigned components, unsigned circuits)
{
    for (unsigned i = 0; i < components; i++) {
        snprintf(m->name_text[i], sizeof m->name_text[i], "c%u", i);
        m->names[i] = m->name_text[i];
        bool plug = pick(4) == 0;
        m->components[i] =
            (struct lb_map_component){.row = {.line = 2 + i},
                                      .component = i,
                                      .article = {.part_type = "part", .quantity = 1000000, .unit = ""},
                                      .off = plug ? "disconnect" : "remove",
                                      .back = plug ? "connect" : "fit"};
    }
    for (unsigned i = 0; i < circuits; i++) {
        snprintf(m->name_text[COMPONENTS + i], sizeof m->name_text[0], "k%u", i);
        m->circuits[i] = m->name_text[COMPONENTS + i];
    }
    m->map = (struct lb_map){.sources = sources,
                             .components = m->names,
                             .component_count = components,
                             .circuits = m->circuits,
                             .circuit_count = circuits,
                             .component_rows = m->components,
                             .component_row_count = components,
                             .access = m->access,
                             .opens = m->opens,
                             .sequences = m->sequences};
}

static void draw(struct work_map *m)
{
    unsigned components = 2 + pick(COMPONENTS - 1), circuits = pick(CIRCUITS + 1);
    memset(m, 0, sizeof *m);
    draw_names(m, components, circuits);
    draw_access(m, components, circuits);
    draw_opens(m, components, circuits);
    draw_sequences(m, components, circuits);
    for (unsigned n = 1 + pick(3); n > 0; n--) {
        bool circuit = circuits && pick(5) == 0;
        m->targets[m->target_count++] =
            (struct lb_target){.row = {.source = LB_NO_NAME},
                               .thing = {circuit, circuit ? pick(circuits) : pick(components)},
                               .refit = (int)pick(2)};
    }
}

/* --- the reading --- */

static unsigned index_of(struct lb_thing thing)
{
    return thing.is_circuit ? COMPONENTS + thing.id : thing.id;
}

static int trigger_of(const struct lb_map_access *row)
{
    return row->to == LB_UNTOUCHED ? LB_LOOSENED : (int)row->to;
}

static bool raise_to(struct work_map *m, unsigned thing, int level)
{
    bool raised = m->level[thing] < level;
    m->level[thing] = raised ? level : m->level[thing];
    return raised;
}

/* §3.1 as a fixpoint. */
static void close_teardown(struct work_map *m)
{
    bool again = true;
    for (size_t i = 0; i < m->target_count; i++)
        raise_to(m, index_of(m->targets[i].thing), LB_REMOVED);
    while (again) {
        again = false;
        for (size_t i = 0; i < m->map.access_count; i++)
            if (m->level[index_of(m->access[i].thing)] >= trigger_of(&m->access[i]))
                again |= raise_to(m, m->access[i].needs, (int)m->access[i].state);
        for (size_t i = 0; i < m->map.opens_count; i++)
            if (m->level[m->opens[i].component] >= (int)m->opens[i].at)
                again |= raise_to(m, COMPONENTS + m->opens[i].circuit, LB_REMOVED);
    }
}

static int find_step(const struct work_map *m, const char *verb, unsigned thing)
{
    char text[32];
    snprintf(text, sizeof text, "%s %s", verb, m->name_text[thing]);
    for (int i = 0; i < m->step_count; i++)
        if (strcmp(m->steps[i], text) == 0)
            return i;
    return -1;
}

static int add_step(struct work_map *m, const char *verb, unsigned thing)
{
    char text[sizeof m->steps[0]];
    snprintf(text, sizeof text, "%s %s", verb, m->name_text[thing]);
    strcpy(m->steps[m->step_count], text);
    return m->step_count++;
}

static void add_rule(struct work_map *m, int before, int after, enum source source, unsigned row,
                     enum force force)
{
    cr_assert(before >= 0 && after >= 0 && m->rule_count < RULES);
    m->rules[m->rule_count++] = (struct rule){before, after, source, row, force};
}

static int off_of(const struct work_map *m, unsigned thing)
{
    static const char *const verbs[] = {"", "loosen", "set-aside"};
    if (thing >= COMPONENTS)
        return find_step(m, "drain", thing);
    return find_step(m, m->level[thing] == LB_REMOVED ? m->components[thing].off : verbs[m->level[thing]],
                     thing);
}

static int back_of(const struct work_map *m, unsigned thing)
{
    static const char *const verbs[] = {"", "tighten", "refit"};
    if (thing >= COMPONENTS)
        return find_step(m, "fill", thing);
    return find_step(m, m->level[thing] == LB_REMOVED ? m->components[thing].back : verbs[m->level[thing]],
                     thing);
}

/* The step after which a thing is at least loosened, and the one up to which it is. */
static int loose_of(const struct work_map *m, unsigned thing)
{
    int loosen = thing < COMPONENTS ? find_step(m, "loosen", thing) : -1;
    return loosen >= 0 ? loosen : off_of(m, thing);
}

static int tight_of(const struct work_map *m, unsigned thing)
{
    int tighten = thing < COMPONENTS ? find_step(m, "tighten", thing) : -1;
    return tighten >= 0 ? tighten : back_of(m, thing);
}

static void read_steps(struct work_map *m)
{
    static const char *const verbs[][2] = {{"", ""}, {"loosen", "tighten"}, {"set-aside", "refit"}};
    for (unsigned i = 0; i < COMPONENTS; i++) {
        if (!m->level[i])
            continue;
        bool removed = m->level[i] == LB_REMOVED;
        int off = add_step(m, removed ? m->components[i].off : verbs[m->level[i]][0], i);
        add_rule(m, off, add_step(m, removed ? m->components[i].back : verbs[m->level[i]][1], i), RULE, 0,
                 FIRM);
    }
    for (unsigned i = COMPONENTS; i < THINGS; i++) {
        if (!m->level[i])
            continue;
        int drain = add_step(m, "drain", i), fill = add_step(m, "fill", i);
        add_rule(m, drain, fill, RULE, 0, FIRM);
        add_rule(m, fill, add_step(m, "bleed", i), RULE, 0, FIRM);
    }
}

static bool creates(const struct work_map *m, const struct lb_step_name *name)
{
    return !name->thing.is_circuit && m->level[name->thing.id] == LB_REMOVED &&
           (strcmp(name->verb, "loosen") == 0 || strcmp(name->verb, "tighten") == 0);
}

/* The step that a sequence row names, created where it may be. */
static int name_step(struct work_map *m, const struct lb_step_name *name)
{
    unsigned thing = index_of(name->thing);
    int step = find_step(m, name->verb, thing);
    if (step >= 0)
        return step;
    step = add_step(m, name->verb, thing);
    if (name->verb[0] == 'l')
        add_rule(m, step, off_of(m, thing), RULE, 0, FIRM);
    else
        add_rule(m, back_of(m, thing), step, RULE, 0, FIRM);
    return step;
}

static void read_sequences(struct work_map *m)
{
    for (unsigned i = 0; i < m->map.sequence_count; i++) {
        const struct lb_step_name *names[] = {&m->sequences[i].first, &m->sequences[i].then};
        bool both = true;
        for (int n = 0; n < 2; n++)
            both &= find_step(m, names[n]->verb, index_of(names[n]->thing)) >= 0 || creates(m, names[n]);
        if (!both)
            continue;
        int first = name_step(m, names[0]);
        add_rule(m, first, name_step(m, names[1]), SEQUENCE, i, FIRM);
    }
}

/* `needs` in its state before the thing gets where the row says, and until it is back. A step of loosening
 * that a sequence row asked for comes under rows on any state only where nothing speaks against it; so does
 * draining. */
static void read_access(struct work_map *m, unsigned i)
{
    const struct lb_map_access *row = &m->access[i];
    unsigned thing = index_of(row->thing);
    if (m->level[thing] < trigger_of(row))
        return;
    bool loose = row->state == LB_LOOSENED;
    int reached = loose ? loose_of(m, row->needs) : off_of(m, row->needs);
    int left = loose ? tight_of(m, row->needs) : back_of(m, row->needs);
    enum force force = row->thing.is_circuit ? STRONG : FIRM;
    add_rule(m, reached, off_of(m, thing), ACCESS, i, force);
    add_rule(m, back_of(m, thing), left, ACCESS, i, force);
    if (row->thing.is_circuit || trigger_of(row) > LB_LOOSENED)
        return;
    force = row->to == LB_LOOSENED ? FIRM : WEAK;
    add_rule(m, reached, loose_of(m, thing), ACCESS, i, force);
    add_rule(m, tight_of(m, thing), left, ACCESS, i, force);
}

static void read_opens(struct work_map *m, unsigned i)
{
    const struct lb_map_opens *row = &m->opens[i];
    unsigned circuit = COMPONENTS + row->circuit;
    if (m->level[row->component] < (int)row->at)
        return;
    add_rule(m, off_of(m, circuit),
             row->at == LB_LOOSENED ? loose_of(m, row->component) : off_of(m, row->component), OPENS, i,
             FIRM);
    add_rule(m, back_of(m, row->component), back_of(m, circuit), OPENS, i, FIRM);
}

static void read_map(struct work_map *m)
{
    close_teardown(m);
    read_steps(m);
    read_sequences(m);
    for (unsigned i = 0; i < m->map.access_count; i++)
        read_access(m, i);
    for (unsigned i = 0; i < m->map.opens_count; i++)
        read_opens(m, i);
}

/* Do the rules up to `force` go round in a circle? `rows`: only those of these rows (bits by source), or
 * NULL. */
static bool go_round(const struct work_map *m, enum force force, const unsigned *rows)
{
    bool gone[STEPS] = {false}, again = true;
    int left = m->step_count;
    while (again) {
        again = false;
        for (int step = 0; step < m->step_count; step++) {
            bool free = !gone[step];
            for (int i = 0; free && i < m->rule_count; i++) {
                const struct rule *rule = &m->rules[i];
                bool counts = rule->force <= force &&
                              (!rows || rule->source == RULE || rows[rule->source] >> rule->row & 1);
                free = !(counts && rule->after == step && !gone[rule->before]);
            }
            if (free) {
                gone[step] = again = true;
                left--;
            }
        }
    }
    return left > 0;
}

#endif
