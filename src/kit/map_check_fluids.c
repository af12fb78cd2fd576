/* Circuits: opened but never filled, filled by half, opened by nothing of it. */
#include "base/decimal.h"
#include "kit/map_checker.h"

#include <stdlib.h>
#include <string.h>

enum { FILLS_MOST = 64 }; /* rows of one circuit that are looked at */

struct fills {
    struct checker *c;
    uint32_t *first, *next; /* circuits rows, by circuit and by row; LB_NO_NAME: none */
    struct lb_names asked;  /* circuit and condition: once is enough */
};

static void list_fills(struct fills *f)
{
    const struct lb_map *m = f->c->map;
    f->first = check_alloc(f->c, m->circuit_count + 1, sizeof *f->first);
    f->next = check_alloc(f->c, m->circuit_row_count + 1, sizeof *f->next);
    if (f->c->failed)
        return;
    for (size_t i = 0; i < m->circuit_count; i++)
        f->first[i] = LB_NO_NAME;
    for (size_t i = m->circuit_row_count; i-- > 0;) {
        uint32_t circuit = m->circuit_rows[i].circuit;
        f->next[i] = f->first[circuit];
        f->first[circuit] = (uint32_t)i;
    }
}

/* Asked before of this circuit under this condition? */
static bool is_new(struct fills *f, uint32_t circuit, const struct lb_row *row)
{
    struct lb_buf key = {0};
    size_t before = f->asked.count;
    uint32_t id;
    lb_buf_printf(&key, "%u\x1f%s", circuit, check_when(f->c, row));
    f->c->failed |= key.failed || !lb_names_add(&f->asked, lb_buf_text(&key), &id);
    lb_buf_free(&key);
    return f->asked.count > before;
}

/* Some vehicle loses the fluid, and no circuits row says what goes back in. */
static void judge_fill(struct fills *f, uint32_t circuit, const struct lb_row *row, const char *what)
{
    struct checker *c = f->c;
    const struct lb_condition *holds = check_condition(c, row), *fails[FILLS_MOST];
    struct lb_variant_question question = {.holds = &holds, .hold_count = 1, .fails = fails};
    struct lb_buf who = {0};
    bool found;
    if (!c->circuit_of[circuit] || !is_new(f, circuit, row))
        return;
    for (uint32_t i = f->first[circuit]; i != LB_NO_NAME; i = f->next[i]) {
        const struct lb_condition *fills = check_condition(c, &c->map->circuit_rows[i].row);
        if (!fills || question.fail_count == FILLS_MOST)
            return;
        fails[question.fail_count++] = fills;
    }
    c->failed |= lb_variants_find(&c->variants, &question, &found, &who, NULL) != LB_OK || who.failed;
    if (!c->failed && found)
        check_find(
            c, LB_ERROR, "never-filled", row,
            "%s %s, but no circuits row of it applies to a vehicle with %s. Add one, or correct a condition.",
            what, c->map->circuits[circuit], lb_buf_text(&who));
    lb_buf_free(&who);
}

static void judge_fills(struct checker *c)
{
    struct fills f = {.c = c};
    list_fills(&f);
    for (size_t i = 0; i < c->map->opens_count && !c->failed; i++) {
        const struct lb_map_opens *row = &c->map->opens[i];
        struct lb_buf what = {0};
        lb_buf_printf(&what, "%s opens", c->map->components[row->component]);
        c->failed |= what.failed;
        judge_fill(&f, row->circuit, &row->row, lb_buf_text(&what));
        lb_buf_free(&what);
    }
    for (size_t i = 0; i < c->job_rows.count && !c->failed; i++) {
        const struct lb_target *target = &c->job_rows.at[i].target;
        if (target->thing.is_circuit)
            judge_fill(&f, target->thing.id, &target->row, "the job drains");
    }
    lb_names_free(&f.asked);
}

/* Which of the two counts is lb_plan_mix's to say. */
static void judge_mix(struct checker *c, const struct lb_map_circuit *row)
{
    const char *circuit = c->map->circuits[row->circuit];
    bool mixed = row->mix >= 0 ? row->mix < 100 * LB_MILLION : row->has_freeze_to != 0;
    if (mixed && !row->diluent.part_type)
        check_find(c, LB_ERROR, "no-diluent", &row->row,
                   "%s is mixed, but diluent_type does not say with what, so the kit has only a part of its "
                   "volume. State it.",
                   circuit);
    if (row->mix >= 0 && row->has_freeze_to)
        check_find(c, LB_WARNING, "mixed-twice", &row->row,
                   "%s states both mix_percent and freeze_to: mix_percent counts, freeze_to says nothing. "
                   "Remove one of them.",
                   circuit);
}

lb_status check_fluids(struct checker *c)
{
    const struct lb_map *m = c->map;
    judge_fills(c);
    for (size_t i = 0; i < m->circuit_row_count; i++)
        judge_mix(c, &m->circuit_rows[i]);
    for (size_t i = 0; i < m->opens_count; i++)
        if (m->opens[i].share == 0)
            check_find(c, LB_WARNING, "share-zero", &m->opens[i].row,
                       "%s opens %s and loses nothing of it: the kit drains it and buys no fluid. State the "
                       "share, or remove the row.",
                       m->components[m->opens[i].component], m->circuits[m->opens[i].circuit]);
    return LB_OK;
}
