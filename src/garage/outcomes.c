#include "garage/outcomes_parts.h"

#include <stdlib.h>
#include <string.h>

/* What is handed out, and the memory of everything it points to. */
struct owned {
    struct lb_outcomes outcomes;
    struct lb_names keys;
    struct lb_arena arena;
};

/* While the conditions are taken apart. */
struct maker {
    struct owned *owned;
    const struct lb_facts *facts;
    struct lb_error *err;
    struct lb_names texts; /* of clauses: the number is the clause's */
    open_clauses clauses;
    LB_VEC(uint32_t) uses; /* clauses, condition by condition */
    LB_VEC(struct lb_condition *) parsed;
};

static void write_clause(struct lb_buf *out, const struct clause *clause)
{
    lb_buf_printf(out, "%s\x1f%d", clause->key, (int)clause->relation);
    for (const struct value *value = clause->values; value; value = value->next)
        lb_buf_printf(out, "\x1f%s", value->text);
}

static lb_status add_clause(struct maker *m, const struct clause *clause)
{
    struct lb_buf text = {0};
    struct open_clause open = {.clause = clause};
    uint32_t id;
    size_t before = m->texts.count;
    write_clause(&text, clause);
    bool kept = !text.failed && lb_names_add(&m->texts, text.text, &id);
    lb_buf_free(&text);
    if (kept && m->texts.count > before)
        kept = lb_names_add(&m->owned->keys, clause->key, &open.key) && LB_PUSH(&m->clauses, open);
    return kept && LB_PUSH(&m->uses, id) ? LB_OK : lb_fail_nomem(m->err);
}

/* The clauses of one text that the facts leave open. */
static lb_status add_text(struct maker *m, const char *text)
{
    struct lb_condition *condition;
    lb_status status = lb_condition_parse(&condition, text, m->err);
    if (status || !condition)
        return status;
    if (!LB_PUSH(&m->parsed, condition)) {
        lb_condition_free(condition);
        return lb_fail_nomem(m->err);
    }
    for (const struct clause *c = condition->clauses; !status && c; c = c->next)
        if (lb_condition_ask_clause(c, m->facts) == LB_UNKNOWN)
            status = add_clause(m, c);
    return status;
}

/* `built_from` and `built_to` are two clauses on `built`; an end that cannot be read is open. */
static lb_status add_end(struct maker *m, const char *sign, const char *cell)
{
    struct lb_interval day;
    struct lb_buf text = {0};
    if (!cell || lb_date_parse(cell, &day))
        return LB_OK;
    lb_buf_printf(&text, "built %s %s", sign, cell);
    lb_status status = text.failed ? lb_fail_nomem(m->err) : add_text(m, text.text);
    lb_buf_free(&text);
    return status;
}

static lb_status take_apart(struct maker *m, const struct lb_cells *cells, size_t count)
{
    uint32_t *start = lb_arena_alloc(&m->owned->arena, (count + 1) * sizeof *start);
    if (!start)
        return lb_fail_nomem(m->err);
    m->owned->outcomes.start = start;
    for (size_t i = 0; i < count; i++) {
        lb_status status = add_text(m, cells[i].when);
        if (!status)
            status = add_end(m, ">=", cells[i].built_from);
        if (!status)
            status = add_end(m, "<=", cells[i].built_to);
        if (status)
            return status;
        start[i + 1] = (uint32_t)m->uses.count;
    }
    return LB_OK;
}

static lb_status find_outcomes(struct maker *m)
{
    struct lb_names *keys = &m->owned->keys;
    uint32_t *counts = lb_arena_alloc(&m->owned->arena, (keys->count + 1) * sizeof *counts);
    uint32_t year = lb_names_find(keys, "year"), built = lb_names_find(keys, "built");
    if (!counts)
        return lb_fail_nomem(m->err);
    for (uint32_t key = 0; key < keys->count; key++)
        if (key == built ? !outcomes_of_built(&m->clauses, key, year, m->facts->built, &counts[key])
                         : !outcomes_of_fact(&m->clauses, key, &counts[key]))
            return lb_fail_nomem(m->err);
    m->owned->outcomes.keys = keys->at;
    m->owned->outcomes.key_count = keys->count;
    m->owned->outcomes.counts = counts;
    return LB_OK;
}

static lb_status hand_out(struct maker *m)
{
    struct lb_open_clause *clauses = lb_arena_alloc(&m->owned->arena, (m->uses.count + 1) * sizeof *clauses);
    if (!clauses)
        return lb_fail_nomem(m->err);
    for (size_t i = 0; i < m->uses.count; i++) {
        const struct open_clause *open = &m->clauses.at[m->uses.at[i]];
        clauses[i] = (struct lb_open_clause){open->key, open->met, open->met_by_built};
    }
    m->owned->outcomes.clauses = clauses;
    return LB_OK;
}

lb_status lb_outcomes_make(struct lb_outcomes **out, const struct lb_facts *facts,
                           const struct lb_cells *cells, size_t count, struct lb_error *err)
{
    *out = NULL;
    struct maker m = {.owned = calloc(1, sizeof *m.owned), .facts = facts, .err = err};
    if (!m.owned)
        return lb_fail_nomem(err);
    lb_status status = take_apart(&m, cells, count);
    if (!status)
        status = find_outcomes(&m);
    if (!status)
        status = hand_out(&m);
    lb_names_free(&m.texts);
    free(m.clauses.at);
    free(m.uses.at);
    for (size_t i = 0; i < m.parsed.count; i++)
        lb_condition_free(m.parsed.at[i]);
    free(m.parsed.at);
    if (status)
        lb_outcomes_free(&m.owned->outcomes);
    else
        *out = &m.owned->outcomes;
    return status;
}

void lb_outcomes_free(struct lb_outcomes *outcomes)
{
    if (!outcomes)
        return;
    struct owned *owned = (struct owned *)outcomes; /* its first member */
    lb_names_free(&owned->keys);
    lb_arena_free(&owned->arena);
    free(owned);
}
