/* Kits whose lines come about in stated ways, made in memory: a target, and for every way a chain of
 * components, each reached under one condition, the last with a seal to be renewed. */
#ifndef LB_TESTS_ASK_HELP_H
#define LB_TESTS_ASK_HELP_H

#include "garage/applies.h"
#include "garage/outcomes.h"
#include "plan/plan.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ASK_FACTS = 24, ASK_CONDITIONS = 64, ASK_LINES = 24, ASK_WAYS = 12, ASK_LONG = 4 };

struct ask_way {
    unsigned count, conditions[ASK_LONG];
};

struct ask_line {
    unsigned count;
    struct ask_way ways[ASK_WAYS];
};

struct ask_kit {
    unsigned condition_count, line_count;
    struct lb_cells conditions[ASK_CONDITIONS];
    char texts[ASK_CONDITIONS][128];
    struct ask_line lines[ASK_LINES];
    bool plain; /* a map whose conditions were not taken apart */
};

/* What is known: the answer to each key, and when it was built. */
struct ask_known {
    unsigned count;
    const char *keys[ASK_FACTS], *values[ASK_FACTS];
    struct lb_interval built;
};

/* A map in memory, and the plan made of it. */
struct ask_map {
    struct lb_map map;
    const char *sources[1], *components[1 + ASK_LINES * ASK_WAYS * ASK_LONG];
    char names[1 + ASK_LINES * ASK_WAYS * ASK_LONG][8], specs[ASK_LINES][16];
    struct lb_names facts;
    struct lb_row rows[ASK_CONDITIONS]; /* by condition: doubts and number */
    uint32_t doubts[ASK_CONDITIONS][8];
    enum lb_truth truth[ASK_CONDITIONS];
    struct lb_map_access access[ASK_LINES * ASK_WAYS * ASK_LONG];
    struct lb_map_fastening fastenings[ASK_LINES * ASK_WAYS];
    struct lb_map_condition conditions[ASK_CONDITIONS];
    struct lb_map_clause clauses[ASK_CONDITIONS * 8];
    uint32_t outcome_counts[ASK_FACTS];
    struct lb_plan *plan;
};

static inline const char *ask_fact(void *context, const char *key)
{
    const struct ask_known *known = context;
    for (unsigned i = 0; i < known->count; i++)
        if (strcmp(known->keys[i], key) == 0)
            return known->values[i];
    return NULL;
}

static inline struct lb_facts ask_facts(const struct ask_known *known)
{
    return (struct lb_facts){ask_fact, (void *)known, known->built};
}

static inline enum lb_truth ask_truth(const struct lb_cells *cells, const struct ask_known *known)
{
    struct lb_facts facts = ask_facts(known);
    enum lb_truth truth = LB_FALSE;
    cr_assert_eq(
        lb_applies(&facts, cells->when, cells->built_from, cells->built_to, NULL, NULL, &truth, NULL), LB_OK,
        "%s", cells->when);
    return truth;
}

/* The doubts of the condition that is being asked. */
struct ask_noting {
    struct ask_map *made;
    struct lb_row *row;
    uint32_t *doubts;
};

static inline void ask_note(void *context, const char *key, const char *turns_on)
{
    struct ask_noting *noting = context;
    uint32_t fact;
    (void)turns_on;
    cr_assert(lb_names_add(&noting->made->facts, key, &fact));
    for (uint32_t i = 0; i < noting->row->doubt_count; i++)
        if (noting->doubts[i] == fact)
            return;
    noting->doubts[noting->row->doubt_count++] = fact;
}

static inline void ask_take_apart(struct ask_map *made, const struct ask_kit *kit,
                                  const struct lb_facts *facts)
{
    struct lb_outcomes *outcomes;
    cr_assert_eq(lb_outcomes_make(&outcomes, facts, kit->conditions, kit->condition_count, NULL), LB_OK);
    for (size_t k = 0; k < outcomes->key_count; k++) {
        uint32_t fact = lb_names_find(&made->facts, outcomes->keys[k]);
        if (fact != LB_NO_NAME) /* else only in conditions that a known fact makes false */
            made->outcome_counts[fact] = outcomes->counts[k];
    }
    for (unsigned c = 0; c < kit->condition_count; c++) {
        made->conditions[c] = (struct lb_map_condition){&made->clauses[outcomes->start[c]],
                                                        outcomes->start[c + 1] - outcomes->start[c]};
        for (uint32_t i = outcomes->start[c]; i < outcomes->start[c + 1]; i++) {
            const struct lb_open_clause *open = &outcomes->clauses[i];
            bool year = strcmp(outcomes->keys[open->fact], "year") == 0;
            made->clauses[i] =
                (struct lb_map_clause){lb_names_find(&made->facts, outcomes->keys[open->fact]),
                                       year ? lb_names_find(&made->facts, "built") : LB_NO_NAME,
                                       open->outcomes, open->built_as_year};
        }
    }
    made->map.conditions = made->conditions;
    made->map.outcome_counts = made->outcome_counts;
    lb_outcomes_free(outcomes);
}

static inline uint32_t ask_component(struct ask_map *made)
{
    uint32_t id = (uint32_t)made->map.component_count++;
    snprintf(made->names[id], sizeof made->names[id], "c%u", id);
    made->components[id] = made->names[id];
    return id;
}

/* All conditions of a way but the last lead from one component to the next; the last is the seal's. */
static inline void ask_add_way(struct ask_map *made, unsigned line, const struct ask_way *way)
{
    uint32_t from = 0;
    for (unsigned i = 0; i < way->count; i++)
        if (made->truth[way->conditions[i]] == LB_FALSE)
            return;
    for (unsigned i = 0; i + 1 < way->count || !from; i++) {
        uint32_t to = ask_component(made);
        made->access[made->map.access_count++] = (struct lb_map_access){
            .row = way->count > 1 ? made->rows[way->conditions[i]] : (struct lb_row){0},
            .thing = {0, from},
            .needs = to,
            .state = LB_REMOVED};
        from = to;
    }
    made->fastenings[made->map.fastening_count++] =
        (struct lb_map_fastening){.row = made->rows[way->conditions[way->count - 1]],
                                  .component = from,
                                  .article = {.part_type = "seal",
                                              .spec = lb_spec_parse(made->specs[line]),
                                              .quantity = 1000000,
                                              .unit = "each"},
                                  .item = "seal",
                                  .kind = "seal",
                                  .sealing = 1,
                                  .at = LB_REMOVED};
}

/* Makes the map as it stands when `known` is known, and its plan. */
static inline struct ask_map *ask_make(const struct ask_kit *kit, const struct ask_known *known)
{
    static const struct lb_target target = {.row = {.source = LB_NO_NAME}};
    struct lb_error err = {0};
    struct ask_map *made = calloc(1, sizeof *made);
    struct lb_facts facts = ask_facts(known);
    cr_assert_not_null(made);
    for (unsigned c = 0; c < kit->condition_count; c++) {
        struct ask_noting noting = {made, &made->rows[c], made->doubts[c]};
        const struct lb_cells *cells = &kit->conditions[c];
        made->rows[c] = (struct lb_row){.line = c + 2, .condition = c, .doubts = made->doubts[c]};
        cr_assert_eq(lb_applies(&facts, cells->when, cells->built_from, cells->built_to, ask_note, &noting,
                                &made->truth[c], NULL),
                     LB_OK);
    }
    if (!kit->plain)
        ask_take_apart(made, kit, &facts);
    ask_component(made);
    for (unsigned l = 0; l < kit->line_count; l++) {
        snprintf(made->specs[l], sizeof made->specs[l], "l%u", l);
        for (unsigned i = 0; i < kit->lines[l].count; i++)
            ask_add_way(made, l, &kit->lines[l].ways[i]);
    }
    made->sources[0] = "test.csv";
    made->map.sources = made->sources;
    made->map.components = made->components;
    made->map.facts = made->facts.at;
    made->map.fact_count = made->facts.count;
    made->map.condition_count = kit->condition_count;
    made->map.access = made->access;
    made->map.fastenings = made->fastenings;
    cr_assert_eq(lb_plan_make(&made->plan, &made->map, &target, 1, &err), LB_OK, "%s", lb_error_text(&err));
    return made;
}

static inline void ask_free(struct ask_map *made)
{
    lb_plan_free(made->plan);
    lb_names_free(&made->facts);
    free(made);
}

static const struct ask_known ask_nothing = {.built = {LB_DATE_MIN, LB_DATE_MAX}};

#endif
