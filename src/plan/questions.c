/* §3.9: which facts of this vehicle are not known but matter, and which lines each of them settles. */
#include "plan/work.h"

#include <stdlib.h>
#include <string.h>

/* A row that was met. What its facts turn on is kept once each: the texts are few, and equal ones are one
 * pointer. */
static void meet(struct work *w, const struct lb_row *row)
{
    lb_plan_add_doubts(w->met, row);
    for (uint32_t i = 0; i < row->turn_count; i++) {
        size_t known = 0;
        while (known < w->turns.count && (w->turns.at[known].fact != row->turns[i].fact ||
                                          w->turns.at[known].words != row->turns[i].words))
            known++;
        if (known == w->turns.count && !LB_PUSH(&w->turns, row->turns[i]))
            w->turns_failed = true;
    }
}

static int by_words(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static lb_status list_turns(struct work *w, struct lb_question *question)
{
    const char **turns = lb_plan_alloc(w, w->turns.count + 1, sizeof *turns);
    if (!turns)
        return LB_NOMEM;
    for (size_t i = 0; i < w->turns.count; i++)
        if (w->turns.at[i].fact == question->fact)
            turns[question->turn_count++] = w->turns.at[i].words;
    qsort(turns, question->turn_count, sizeof *turns, by_words);
    question->turns = turns;
    return LB_OK;
}

static bool reached(const struct work *w, uint32_t component, enum lb_level at)
{
    return component != LB_NO_NAME && w->level[component] >= at;
}

static void meet_targets(struct work *w)
{
    meet(w, &w->map->platform);
    for (size_t i = 0; i < w->target_count; i++)
        meet(w, &w->targets[i].row);
    for (size_t i = 0; i < w->map->component_row_count; i++)
        if (w->renew[w->map->component_rows[i].component])
            meet(w, &w->map->component_rows[i].row);
}

static void meet_access(struct work *w)
{
    for (size_t i = 0; i < w->map->access_count; i++) {
        const struct lb_map_access *row = &w->map->access[i];
        if (row->thing.id != LB_NO_NAME && row->needs != LB_NO_NAME &&
            w->level[node_of(w, row->thing)] >= access_trigger(row))
            meet(w, &row->row);
    }
}

static void meet_disturbed(struct work *w)
{
    const struct lb_map *map = w->map;
    for (size_t i = 0; i < map->fastening_count; i++)
        if (reached(w, map->fastenings[i].component, map->fastenings[i].at))
            meet(w, &map->fastenings[i].row);
    for (size_t i = 0; i < map->opens_count; i++)
        if (reached(w, map->opens[i].component, map->opens[i].at))
            meet(w, &map->opens[i].row);
    for (size_t i = 0; i < map->circuit_row_count; i++)
        if (w->level[node_of_circuit(w, map->circuit_rows[i].circuit)])
            meet(w, &map->circuit_rows[i].row);
    for (size_t i = 0; i < map->consumable_count; i++)
        if (reached(w, map->consumables[i].component, map->consumables[i].at))
            meet(w, &map->consumables[i].row);
}

static bool is_met(const struct work *w, uint32_t fact)
{
    return w->met[fact / 64] >> (fact % 64) & 1;
}

/* question_of[fact]: which question asks it. Two passes over the doubts of the lines: count, then fill. */
static lb_status settle(struct work *w, struct lb_question *questions, size_t count,
                        const uint32_t *question_of)
{
    const struct lb_plan *plan = w->plan;
    uint32_t **fill = lb_plan_alloc(w, count + 1, sizeof *fill);
    if (!fill)
        return LB_NOMEM;
    for (size_t i = 0; i < plan->need_count; i++)
        for (size_t d = 0; d < plan->needs[i].doubt_count; d++)
            questions[question_of[plan->needs[i].doubts[d]]].settle_count++;
    for (size_t q = 0; q < count; q++) {
        fill[q] = lb_plan_alloc(w, questions[q].settle_count + 1, sizeof **fill);
        if (!fill[q])
            return LB_NOMEM;
        questions[q].settles = fill[q];
    }
    for (size_t i = 0; i < plan->need_count; i++)
        for (size_t d = 0; d < plan->needs[i].doubt_count; d++)
            *fill[question_of[plan->needs[i].doubts[d]]]++ = (uint32_t)i;
    return LB_OK;
}

lb_status lb_plan_question(struct work *w)
{
    struct lb_question *questions = lb_plan_alloc(w, w->map->fact_count + 1, sizeof *questions);
    uint32_t *question_of = lb_plan_alloc(w, w->map->fact_count + 1, sizeof *question_of);
    if (!questions || !question_of)
        return LB_NOMEM;
    meet_targets(w);
    meet_access(w);
    meet_disturbed(w);
    size_t count = 0;
    lb_status status = w->turns_failed ? lb_fail_nomem(w->err) : LB_OK;
    for (uint32_t fact = 0; !status && fact < w->map->fact_count; fact++) {
        if (!is_met(w, fact))
            continue;
        question_of[fact] = (uint32_t)count;
        questions[count].fact = fact;
        status = list_turns(w, &questions[count++]);
    }
    free(w->turns.at);
    if (status)
        return status;
    w->plan->questions = questions;
    w->plan->question_count = count;
    status = settle(w, questions, count, question_of);
    return status ? status : lb_plan_ask_first(w);
}
