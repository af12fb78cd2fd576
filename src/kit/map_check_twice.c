/* Rows that say the same thing twice to one vehicle, and rows of one joint that differ. */
#include "base/decimal.h"
#include "kit/map_checker.h"

#include <stdlib.h>
#include <string.h>

/* A row is held against at most so many earlier ones of its kind and name. */
enum { LOOKED_BACK = 24 };

/* What makes two rows the same but for their condition. */
struct keyed {
    const struct lb_row *row;
    const char *name; /* for people */
    int64_t quantity; /* adds up; 0: does not */
    uint32_t before;  /* the one before it with the same key; LB_NO_NAME: none */
};

struct twins {
    struct checker *c;
    struct lb_names keys;
    LB_VEC(uint32_t) last; /* by key */
    LB_VEC(struct keyed) rows;
    struct lb_buf key;
};

static void tell_twin(struct twins *t, const struct keyed *now, const struct keyed *before)
{
    const char *file = check_file(t->c, before->row);
    if (!now->quantity) {
        bool in_run = lb_buf_text(&t->key)[0] == 'P'; /* two pulleys at one place */
        check_find(
            t->c, in_run ? LB_WARNING : LB_NOTE, "repeated", now->row,
            "%s: the same stands at %s:%u, and both rows apply to some vehicle. Remove one, or give them "
            "conditions that exclude each other.%s",
            now->name, file, before->row->line,
            in_run ? " As it stands such a kit's drawing is without this belt." : "");
        return;
    }
    struct lb_buf sum = {0};
    lb_decimal_print(&sum, before->quantity);
    lb_buf_puts(&sum, " + ");
    lb_decimal_print(&sum, now->quantity);
    t->c->failed |= sum.failed;
    check_find(
        t->c, LB_WARNING, "duplicate", now->row,
        "%s: the same stands at %s:%u; where both rows apply they add up (%s). Remove one, or give them "
        "conditions that exclude each other.",
        now->name, file, before->row->line, lb_buf_text(&sum));
    lb_buf_free(&sum);
}

/* The row whose key stands in t->key. */
static void meet(struct twins *t, const struct lb_row *row, const char *name, int64_t quantity)
{
    struct keyed now = {row, name, quantity, LB_NO_NAME};
    uint32_t id;
    if (t->key.failed || !lb_names_add(&t->keys, lb_buf_text(&t->key), &id) ||
        (id == t->last.count && !LB_PUSH(&t->last, LB_NO_NAME)) || id >= t->last.count) {
        t->c->failed = true;
        return;
    }
    now.before = t->last.at[id];
    uint32_t at = now.before;
    for (int i = 0; i < LOOKED_BACK && at != LB_NO_NAME; i++, at = t->rows.at[at].before) {
        if (!check_together(t->c, row, t->rows.at[at].row))
            continue;
        tell_twin(t, &now, &t->rows.at[at]);
        break;
    }
    t->last.at[id] = (uint32_t)t->rows.count;
    t->c->failed |= !LB_PUSH(&t->rows, now);
    lb_buf_clear(&t->key);
}

static void key_article(struct twins *t, char kind, uint32_t component, const struct lb_article *article)
{
    lb_buf_printf(&t->key, "%c%u\x1f%s\x1f%s\x1f", kind, component, article->part_type, article->unit);
    lb_spec_key(&t->key, &article->spec);
    lb_buf_putc(&t->key, '\x1f');
}

/* "bolts of pump", in the checker's memory. */
static const char *named(struct checker *c, const char *what, const char *of, const char *whose)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s%s%s", what, of, whose);
    char *kept = words.failed ? NULL : lb_arena_text(&c->arena, words.text, words.length);
    c->failed |= !kept;
    lb_buf_free(&words);
    return kept ? kept : "";
}

static void meet_articles(struct twins *t)
{
    const struct lb_map *m = t->c->map;
    for (size_t i = 0; i < m->component_row_count; i++) {
        const struct lb_map_component *row = &m->component_rows[i];
        key_article(t, 'C', row->component, &row->article);
        lb_buf_puts(&t->key, row->position ? row->position : "");
        meet(t, &row->row, m->components[row->component], row->article.quantity);
    }
    for (size_t i = 0; i < m->fastening_count; i++) {
        const struct lb_map_fastening *row = &m->fastenings[i];
        lb_buf_printf(&t->key, "F%u\x1f%s\x1f%s", row->component, row->item, row->article.part_type);
        meet(t, &row->row, named(t->c, row->item, " of ", m->components[row->component]),
             row->joint ? 0 : row->article.quantity); /* of a joint only the largest counts */
    }
    for (size_t i = 0; i < m->consumable_count; i++) {
        const struct lb_map_consumable *row = &m->consumables[i];
        key_article(t, 'U', row->component, &row->article);
        lb_buf_printf(&t->key, "%d", row->at);
        meet(t, &row->row, named(t->c, row->article.part_type, " for ", m->components[row->component]),
             row->article.quantity);
    }
    for (size_t i = 0; i < m->circuit_row_count; i++) {
        lb_buf_printf(&t->key, "K%u", m->circuit_rows[i].circuit);
        meet(t, &m->circuit_rows[i].row, m->circuits[m->circuit_rows[i].circuit],
             m->circuit_rows[i].fluid.quantity);
    }
}

static void meet_relations(struct twins *t)
{
    const struct lb_map *m = t->c->map;
    for (size_t i = 0; i < m->access_count; i++) {
        const struct lb_map_access *row = &m->access[i];
        lb_buf_printf(&t->key, "A%d\x1f%u\x1f%u\x1f%d", row->thing.is_circuit, row->thing.id, row->needs,
                      row->to);
        meet(t, &row->row,
             named(t->c, (row->thing.is_circuit ? m->circuits : m->components)[row->thing.id], " needs ",
                   m->components[row->needs]),
             0);
    }
    for (size_t i = 0; i < m->opens_count; i++) {
        const struct lb_map_opens *row = &m->opens[i];
        lb_buf_printf(&t->key, "O%u\x1f%u\x1f%d", row->component, row->circuit, row->at);
        meet(t, &row->row, named(t->c, m->components[row->component], " opens ", m->circuits[row->circuit]),
             0);
    }
    for (size_t i = 0; i < m->caution_count; i++) {
        const struct lb_map_caution *row = &m->cautions[i];
        lb_buf_printf(&t->key, "W%d\x1f%u\x1f%s", row->thing.is_circuit, row->thing.id, row->text);
        meet(t, &row->row, "this caution", 0);
    }
}

static void meet_others(struct twins *t)
{
    const struct checker *c = t->c;
    for (size_t i = 0; i < c->steps.count; i++) {
        lb_buf_printf(&t->key, "S%s\x1f%s", c->steps.at[i].first, c->steps.at[i].then);
        meet(t, &c->map->sequences[i].row, named(t->c, c->steps.at[i].first, " before ", c->steps.at[i].then),
             0);
    }
    for (size_t i = 0; i < c->job_rows.count; i++) {
        const struct job_row *row = &c->job_rows.at[i];
        struct lb_thing thing = row->target.thing;
        lb_buf_printf(&t->key, "J%u\x1f%d\x1f%u", row->job, thing.is_circuit, thing.id);
        meet(t, &row->target.row,
             named(t->c, (thing.is_circuit ? c->map->circuits : c->map->components)[thing.id], " in the job ",
                   c->jobs.at[row->job]),
             0);
    }
    for (size_t i = 0; i < c->pulleys.count; i++) {
        const struct pulley_row *row = &c->pulleys.at[i];
        lb_buf_printf(&t->key, "P%u\x1f%lld", row->belt, (long long)row->order);
        meet(t, &row->row, named(t->c, "this place in the run", " of ", c->map->components[row->belt]), 0);
    }
}

static void free_twins(struct twins *t)
{
    lb_names_free(&t->keys);
    free(t->last.at);
    free(t->rows.at);
    lb_buf_free(&t->key);
}

lb_status check_duplicates(struct checker *c)
{
    struct twins t = {.c = c};
    meet_articles(&t);
    meet_relations(&t);
    meet_others(&t);
    free_twins(&t);
    return LB_OK;
}

/* Against the joint's earlier rows: one finding a row. */
static void judge_joint(struct checker *c, const uint32_t *before, const struct lb_map_fastening *row)
{
    const struct lb_map *m = c->map;
    uint32_t at = before[row - m->fastenings];
    for (int i = 0; i < LOOKED_BACK && at != LB_NO_NAME; i++, at = before[at]) {
        const struct lb_map_fastening *other = &m->fastenings[at];
        if (lb_article_agrees(&other->article, &row->article) || !check_together(c, &other->row, &row->row))
            continue;
        check_find(
            c, LB_ERROR, "joint-differs", &row->row,
            "%s of %s and %s of %s (%s:%u) are one joint but differ in part_type, spec or unit. Make the "
            "rows agree, or give them different joints.",
            row->item, m->components[row->component], other->item, m->components[other->component],
            check_file(c, &other->row), other->row.line);
        return;
    }
}

lb_status check_joints(struct checker *c)
{
    const struct lb_map *m = c->map;
    uint32_t *last = check_alloc(c, m->joint_count + 1, sizeof *last);
    uint32_t *before = check_alloc(c, m->fastening_count + 1, sizeof *before);
    if (c->failed)
        return LB_OK;
    for (size_t i = 0; i <= m->joint_count; i++)
        last[i] = LB_NO_NAME;
    for (size_t i = 0; i < m->fastening_count; i++) {
        const struct lb_map_fastening *row = &m->fastenings[i];
        if (!row->joint)
            continue;
        before[i] = last[row->joint];
        last[row->joint] = (uint32_t)i;
        judge_joint(c, before, row);
    }
    return LB_OK;
}
