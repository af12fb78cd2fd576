/* What the open conditions turn on, in numbers: which outcomes of which fact meet them. */
#include "kit/surveyor.h"

#include <string.h>

/* The map's numbers of the facts that the conditions name. */
static uint32_t *number_facts(struct surveyor *s, const struct lb_outcomes *outcomes)
{
    uint32_t *facts = lb_arena_alloc(&s->arena, (outcomes->key_count + 1) * sizeof *facts);
    for (size_t k = 0; facts && k < outcomes->key_count; k++)
        facts[k] = lb_names_find(&s->fact_names, outcomes->keys[k]);
    return facts;
}

static struct lb_map_clause map_clause(const struct lb_open_clause *open, const uint32_t *facts,
                                       uint32_t built, const struct lb_outcomes *outcomes)
{
    bool year = built != LB_NO_NAME && strcmp(outcomes->keys[open->fact], "year") == 0;
    return (struct lb_map_clause){facts[open->fact], year ? built : LB_NO_NAME, open->outcomes,
                                  year ? open->built_as_year : 0};
}

static lb_status fill(struct surveyor *s, const struct lb_outcomes *outcomes)
{
    size_t conditions = s->conditions.count, clauses = outcomes->start[conditions];
    struct lb_map_condition *condition = lb_arena_alloc(&s->arena, (conditions + 1) * sizeof *condition);
    struct lb_map_clause *clause = lb_arena_alloc(&s->arena, (clauses + 1) * sizeof *clause);
    uint32_t *counts = lb_arena_alloc(&s->arena, (s->fact_names.count + 1) * sizeof *counts);
    uint32_t *facts = number_facts(s, outcomes), built = lb_names_find(&s->fact_names, "built");
    if (!condition || !clause || !counts || !facts)
        return lb_fail_nomem(s->err);
    for (size_t k = 0; k < outcomes->key_count; k++)
        if (facts[k] != LB_NO_NAME)
            counts[facts[k]] = outcomes->counts[k];
    for (size_t i = 0; i < clauses; i++)
        clause[i] = map_clause(&outcomes->clauses[i], facts, built, outcomes);
    for (size_t i = 0; i < conditions; i++)
        condition[i] = (struct lb_map_condition){&clause[outcomes->start[i]],
                                                 outcomes->start[i + 1] - outcomes->start[i]};
    s->survey.map.conditions = condition;
    s->survey.map.outcome_counts = counts;
    return LB_OK;
}

lb_status survey_outcomes(struct surveyor *s)
{
    struct lb_outcomes *outcomes;
    if (!s->condition_cells.count)
        return LB_OK;
    lb_status status =
        lb_outcomes_make(&outcomes, &s->facts, s->condition_cells.at, s->condition_cells.count, s->err);
    if (!status)
        status = fill(s, outcomes);
    lb_outcomes_free(outcomes);
    return status;
}
