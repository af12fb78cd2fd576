#include "plan/open_lines.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_FACTS = 64, STEPS = 4000000 };

static int by_name(const void *a, const void *b, void *context)
{
    const struct lb_map *map = context;
    return strcmp(map->facts[*(const uint32_t *)a], map->facts[*(const uint32_t *)b]);
}

/* All facts that some line to be asked about hangs on. */
static lb_status list_facts(struct open_lines *lines)
{
    struct work *w = lines->w;
    uint64_t *seen = lb_plan_alloc(w, w->words, sizeof *seen);
    lines->facts = lb_plan_alloc(w, w->map->fact_count + 1, sizeof *lines->facts);
    lines->place = lb_plan_alloc(w, w->map->fact_count + 1, sizeof *lines->place);
    if (!seen || !lines->facts || !lines->place)
        return LB_NOMEM;
    for (size_t i = 0; i < w->plan->need_count; i++)
        for (size_t d = 0; d < w->plan->needs[i].doubt_count; d++)
            seen[w->plan->needs[i].doubts[d] / 64] |= (uint64_t)1 << (w->plan->needs[i].doubts[d] % 64);
    for (uint32_t fact = 0; fact < w->map->fact_count; fact++) {
        lines->place[fact] = LB_NO_NAME;
        if (seen[fact / 64] >> (fact % 64) & 1)
            lines->facts[lines->fact_count++] = fact;
    }
    qsort_r(lines->facts, lines->fact_count, sizeof *lines->facts, by_name, (void *)w->map);
    for (uint32_t i = 0; i < lines->fact_count; i++)
        lines->place[lines->facts[i]] = i;
    return LB_OK;
}

static int compare_sets(const void *a, const void *b, void *context)
{
    const struct work *w = context;
    return memcmp(a, b, w->condition_words * sizeof(uint64_t));
}

static int compare_ways(const void *a, const void *b, void *context)
{
    const struct work *w = context;
    const struct ways *p = &w->need_ways[*(const uint32_t *)a], *q = &w->need_ways[*(const uint32_t *)b];
    size_t size = w->condition_words * sizeof(uint64_t);
    if (p->count != q->count || p->has_rest != q->has_rest)
        return p->count * 2 + p->has_rest < q->count * 2 + q->has_rest ? -1 : 1;
    int order = memcmp(p->sets, q->sets, p->count * size);
    return order || !p->has_rest ? order
                                 : memcmp(p->sets + WAYS_KEPT * w->condition_words,
                                          q->sets + WAYS_KEPT * w->condition_words, size);
}

/* The lines to be asked about, those with the same ways side by side. */
static uint32_t *sort_needs(struct work *w, size_t *count)
{
    uint32_t *needs = lb_plan_alloc(w, w->plan->need_count + 1, sizeof *needs);
    *count = 0;
    for (uint32_t i = 0; needs && i < w->plan->need_count; i++) {
        if (!w->plan->needs[i].doubt_count)
            continue;
        qsort_r(w->need_ways[i].sets, w->need_ways[i].count, w->condition_words * sizeof(uint64_t),
                compare_sets, w);
        needs[(*count)++] = i;
    }
    if (needs)
        qsort_r(needs, *count, sizeof *needs, compare_ways, w);
    return needs;
}

static const uint64_t *way_at(const struct work *w, const struct ways *ways, unsigned i)
{
    return ways->sets + i * w->condition_words;
}

static bool is_apart(const struct open_lines *lines, size_t number)
{
    const struct lb_map *map = lines->w->map;
    if (!map->conditions || !map->outcome_counts)
        return false;
    const struct lb_map_condition *condition = &map->conditions[number];
    for (uint32_t i = 0; i < condition->clause_count; i++) {
        uint32_t fact = condition->clauses[i].fact;
        if (fact >= map->fact_count || lines->place[fact] == LB_NO_NAME || !map->outcome_counts[fact])
            return false;
    }
    return condition->clause_count;
}

static bool all_apart(const struct open_lines *lines, const struct ways *ways)
{
    const struct work *w = lines->w;
    for (unsigned i = 0; i < ways->count; i++)
        for (size_t c = 0; (c = ways_next(w, way_at(w, ways, i), c)) != NO_CONDITION; c++)
            if (!is_apart(lines, c))
                return false;
    return true;
}

/* The candidate that tells the clause's fact as well, or LB_NO_NAME. */
static uint32_t teller_of(const struct open_lines *lines, const struct lb_map_clause *clause)
{
    const struct lb_map *map = lines->w->map;
    bool tells = clause->told_by < map->fact_count && map->outcome_counts[clause->told_by];
    return tells ? lines->place[clause->told_by] : LB_NO_NAME;
}

/* Calls `each` for every clause of the kept ways. */
static void each_clause(const struct open_lines *lines, struct open_line *line, const struct ways *ways,
                        void (*each)(const struct open_lines *, struct open_line *, unsigned way,
                                     const struct lb_map_clause *))
{
    const struct work *w = lines->w;
    for (unsigned i = 0; i < ways->count; i++)
        for (size_t c = 0; (c = ways_next(w, way_at(w, ways, i), c)) != NO_CONDITION; c++)
            for (uint32_t k = 0; k < w->map->conditions[c].clause_count; k++)
                each(lines, line, i, &w->map->conditions[c].clauses[k]);
}

static void add_place(struct open_line *line, uint32_t place)
{
    uint32_t at = 0;
    while (at < line->fact_count && line->facts[at] < place)
        at++;
    if (place == LB_NO_NAME || (at < line->fact_count && line->facts[at] == place))
        return;
    memmove(&line->facts[at + 1], &line->facts[at], (line->fact_count++ - at) * sizeof *line->facts);
    line->facts[at] = place;
}

static void add_facts(const struct open_lines *lines, struct open_line *line, unsigned way,
                      const struct lb_map_clause *clause)
{
    (void)way;
    add_place(line, lines->place[clause->fact]);
    add_place(line, teller_of(lines, clause));
}

static uint32_t local(const struct open_line *line, uint32_t place)
{
    uint32_t at = 0;
    while (line->facts[at] != place)
        at++;
    return at;
}

static void ask_of(const struct open_line *line, struct line_ways *ways, unsigned way, uint32_t fact,
                   uint64_t outcomes)
{
    uint64_t *meets = &ways->meets[way * line->fact_count + fact];
    *meets &= outcomes;
    ways->hangs[way] |= (uint64_t)1 << fact;
    if (!*meets)
        ways->dead[way] |= (uint64_t)1 << fact;
}

static void fill_clause(const struct open_lines *lines, struct open_line *line, unsigned way,
                        const struct lb_map_clause *clause)
{
    uint32_t fact = local(line, lines->place[clause->fact]), told_by = teller_of(lines, clause);
    ask_of(line, &line->own, way, fact, clause->outcomes);
    if (told_by == LB_NO_NAME) {
        ask_of(line, &line->taught, way, fact, clause->outcomes);
        return;
    }
    uint32_t teller = local(line, told_by);
    line->teller |= (uint64_t)1 << teller;
    ask_of(line, &line->taught, way, teller, clause->told);
}

static lb_status make_ways(const struct open_lines *lines, const struct open_line *line,
                           struct line_ways *out)
{
    struct work *w = lines->w;
    size_t ways = line->way_count, cells = (ways + 1) * line->fact_count;
    *out = (struct line_ways){lb_plan_alloc(w, ways + 1, sizeof *out->hangs),
                              lb_plan_alloc(w, ways + 1, sizeof *out->dead),
                              lb_plan_alloc(w, cells + 1, sizeof *out->meets)};
    if (!out->hangs || !out->dead || !out->meets)
        return LB_NOMEM;
    for (size_t i = 0; i < cells; i++) {
        uint32_t count = w->map->outcome_counts[lines->facts[line->facts[i % line->fact_count]]];
        out->meets[i] = count < 64 ? ((uint64_t)1 << count) - 1 : UINT64_MAX;
    }
    return LB_OK;
}

static lb_status fill_rest(struct open_lines *lines, struct open_line *line, const struct ways *ways)
{
    struct work *w = lines->w;
    uint64_t *facts = lb_plan_alloc(w, w->words, sizeof *facts);
    struct ways only_rest = {.sets = ways->sets, .has_rest = true};
    if (!facts)
        return LB_NOMEM;
    ways_facts(w, &only_rest, facts);
    for (uint32_t i = 0; i < line->fact_count; i++) {
        uint32_t fact = lines->facts[line->facts[i]];
        line->rest |= (facts[fact / 64] >> (fact % 64) & 1) << i;
    }
    line->has_rest = true;
    lines->doubtful = true;
    return LB_OK;
}

static lb_status fill_line(struct open_lines *lines, struct open_line *line, uint32_t need)
{
    struct work *w = lines->w;
    const struct lb_need *line_need = &w->plan->needs[need];
    const struct ways *ways = &w->need_ways[need];
    line->facts = lb_plan_alloc(w, lines->fact_count + 1, sizeof *line->facts);
    if (!line->facts)
        return LB_NOMEM;
    for (size_t i = 0; i < line_need->doubt_count; i++)
        add_place(line, lines->place[line_need->doubts[i]]);
    line->whole = !all_apart(lines, ways);
    if (!line->whole)
        each_clause(lines, line, ways, add_facts);
    line->whole |= line->fact_count > MOST_FACTS;
    lines->doubtful |= line->whole && line->fact_count > 1;
    if (line->whole)
        return LB_OK;
    line->way_count = ways->count;
    lb_status status = make_ways(lines, line, &line->own);
    if (!status)
        status = make_ways(lines, line, &line->taught);
    if (!status)
        each_clause(lines, line, ways, fill_clause);
    return status || !ways->has_rest ? status : fill_rest(lines, line, ways);
}

lb_status open_lines_list(struct open_lines *lines, struct work *w)
{
    size_t count;
    *lines = (struct open_lines){.w = w, .steps = STEPS};
    lb_status status = list_facts(lines);
    uint32_t *needs = status ? NULL : sort_needs(w, &count);
    lines->at = needs ? lb_plan_alloc(w, count + 1, sizeof *lines->at) : NULL;
    if (!lines->at)
        return LB_NOMEM;
    for (size_t i = 0; !status && i < count; i++) {
        if (!i || compare_ways(&needs[i - 1], &needs[i], w) != 0)
            status = fill_line(lines, &lines->at[lines->count++], needs[i]);
        lines->at[lines->count - 1].lines++;
    }
    return status;
}
