#include "plan/step_rows.h"

#include "base/arena.h"
#include "base/vec.h"

#include <stdlib.h>
#include <string.h>

/* The steps at one component or circuit. Circuits: off drains, back fills, tighten bleeds. */
struct station {
    uint32_t loosen, off, back, tighten;
};

struct owned_rows {
    struct lb_step_rows rows; /* first: what is handed out */
    struct lb_arena arena;
};

struct placed {
    uint32_t step;
    struct lb_step_row row;
};

struct making {
    const struct lb_plan *plan;
    struct owned_rows *owned;
    struct station *stations; /* by component, then by circuit */
    LB_VEC(struct placed) placed;
    bool failed;
};

static void *room_for(struct making *m, size_t count, size_t size)
{
    void *memory = count < SIZE_MAX / 2 / size ? lb_arena_alloc(&m->owned->arena, (count + 1) * size) : NULL;
    m->failed = m->failed || !memory;
    return memory;
}

static struct station *station_of(const struct making *m, struct lb_thing thing)
{
    return &m->stations[thing.is_circuit ? m->plan->map->component_count + thing.id : thing.id];
}

/* Of two steps of a kind the one that loosens comes first and the one that tightens last (plan/order_rows.c).
 */
static void find_stations(struct making *m)
{
    size_t count = m->plan->map->component_count + m->plan->map->circuit_count;
    m->stations = room_for(m, count, sizeof *m->stations);
    for (size_t i = 0; !m->failed && i < count; i++)
        m->stations[i] = (struct station){LB_NO_STEP, LB_NO_STEP, LB_NO_STEP, LB_NO_STEP};
    for (uint32_t i = 0; !m->failed && i < m->plan->step_count; i++) {
        const struct lb_step *step = &m->plan->steps[i];
        struct station *station = station_of(m, step->thing);
        if (step->kind == LB_STEP_OFF || step->kind == LB_STEP_DRAIN) {
            station->loosen = station->loosen == LB_NO_STEP ? i : station->loosen;
            station->off = i;
        } else {
            station->back = station->back == LB_NO_STEP ? i : station->back;
            station->tighten = i;
        }
    }
}

static void place(struct making *m, uint32_t step, enum lb_step_row_kind kind, uint32_t index, unsigned roles,
                  uint32_t other)
{
    if (step != LB_NO_STEP && !LB_PUSH(&m->placed, ((struct placed){step, {kind, index, roles, other}})))
        m->failed = true;
}

static bool is_disturbed(const struct making *m, uint32_t component, enum lb_level at)
{
    return component != LB_NO_NAME && m->plan->levels[component] >= at;
}

static uint32_t earlier(uint32_t a, uint32_t b)
{
    return a < b ? a : b; /* LB_NO_STEP is the greatest */
}

static uint32_t later(uint32_t a, uint32_t b)
{
    return a == LB_NO_STEP || (b != LB_NO_STEP && b > a) ? b : a;
}

/* Takes one more row into a fastening. */
static void take_row(const struct making *m, struct lb_fastened *into, const struct lb_map_fastening *row)
{
    const struct station *s = &m->stations[row->component];
    bool loose = row->at <= LB_LOOSENED;
    if (into->row_count++ == 0)
        *into = (struct lb_fastened){.rows = into->rows,
                                     .row_count = 1,
                                     .reuse = row->reuse,
                                     .quantity = row->article.quantity,
                                     .undone = LB_NO_STEP,
                                     .out = LB_NO_STEP,
                                     .in = LB_NO_STEP,
                                     .tight = LB_NO_STEP};
    if (row->reuse < into->reuse)
        into->reuse = row->reuse;
    if (row->article.quantity > into->quantity)
        into->quantity = row->article.quantity;
    into->undone = earlier(into->undone, loose ? s->loosen : s->off);
    into->out = earlier(into->out, s->off);
    into->in = later(into->in, s->back);
    into->tight = later(into->tight, loose ? s->tighten : s->back);
}

/* Where each joint's rows are to stand: counted first, since the rows of one joint need not stand together.
 */
static uint32_t *count_joints(struct making *m)
{
    const struct lb_map *map = m->plan->map;
    uint32_t *counts = room_for(m, map->joint_count + 1, sizeof *counts);
    for (size_t i = 0; counts && i < map->fastening_count; i++)
        if (is_disturbed(m, map->fastenings[i].component, map->fastenings[i].at))
            counts[map->fastenings[i].joint]++;
    return counts;
}

static void gather_fastened(struct making *m)
{
    const struct lb_map *map = m->plan->map;
    struct lb_step_rows *out = &m->owned->rows;
    struct lb_fastened *fastened = room_for(m, map->fastening_count, sizeof *fastened);
    uint32_t *rows = room_for(m, map->fastening_count, sizeof *rows), *counts = count_joints(m), taken = 0;
    uint32_t *of_joint = room_for(m, map->joint_count + 1, sizeof *of_joint); /* 1 + its place; 0: none yet */
    for (uint32_t i = 0; !m->failed && i < map->fastening_count; i++) {
        const struct lb_map_fastening *row = &map->fastenings[i];
        if (!is_disturbed(m, row->component, row->at))
            continue;
        uint32_t at =
            row->joint && of_joint[row->joint] ? of_joint[row->joint] - 1 : (uint32_t)out->fastened_count++;
        if (!fastened[at].row_count) {
            fastened[at].rows = &rows[taken];
            taken += row->joint ? counts[row->joint] : 1;
            of_joint[row->joint] = at + 1;
        }
        rows[(size_t)(fastened[at].rows - rows) + fastened[at].row_count] = i;
        take_row(m, &fastened[at], row);
    }
    out->fastened = fastened;
}

/* One entry a step, with all that happens there. */
static void place_fastened(struct making *m, uint32_t index)
{
    const struct lb_fastened *f = &m->owned->rows.fastened[index];
    const uint32_t steps[] = {f->undone, f->out, f->in, f->tight};
    for (unsigned i = 0; i < 4; i++) {
        unsigned roles = 0;
        bool done = false;
        for (unsigned k = 0; k < 4; k++) {
            roles |= steps[k] == steps[i] ? 1U << k : 0;
            done = done || (k < i && steps[k] == steps[i]);
        }
        if (!done)
            place(m, steps[i], LB_ROW_FASTENED, index, roles, LB_NO_STEP);
    }
}

static void place_both(struct making *m, struct lb_thing thing, enum lb_step_row_kind kind, uint32_t index)
{
    const struct station *s = station_of(m, thing);
    place(m, s->off, kind, index, LB_COMES_OUT, LB_NO_STEP);
    place(m, s->back, kind, index, LB_GOES_IN, LB_NO_STEP);
}

static void place_map(struct making *m)
{
    const struct lb_plan *plan = m->plan;
    const struct lb_map *map = plan->map;
    for (uint32_t i = 0; i < map->caution_count; i++)
        if (map->cautions[i].thing.id != LB_NO_NAME)
            place(m, station_of(m, map->cautions[i].thing)->loosen, LB_ROW_CAUTION, i, 0, LB_NO_STEP);
    for (uint32_t i = 0; i < map->circuit_row_count; i++) {
        struct lb_thing thing = {1, map->circuit_rows[i].circuit};
        place_both(m, thing, LB_ROW_CIRCUIT, i);
        if (station_of(m, thing)->tighten != station_of(m, thing)->back)
            place(m, station_of(m, thing)->tighten, LB_ROW_CIRCUIT, i, LB_IS_TIGHTENED, LB_NO_STEP);
    }
    for (uint32_t i = 0; i < map->consumable_count; i++)
        if (is_disturbed(m, map->consumables[i].component, map->consumables[i].at))
            place_both(m, (struct lb_thing){0, map->consumables[i].component}, LB_ROW_CONSUMABLE, i);
    for (size_t i = 0; i < plan->inspect_count; i++)
        place(m, m->stations[map->component_rows[plan->inspects[i]].component].off, LB_ROW_INSPECT,
              plan->inspects[i], LB_COMES_OUT, LB_NO_STEP);
}

static uint32_t step_named(const struct making *m, const struct lb_step_name *name)
{
    if (name->thing.id == LB_NO_NAME)
        return LB_NO_STEP;
    const struct station *s = station_of(m, name->thing);
    const uint32_t steps[] = {s->loosen, s->off, s->back, s->tighten};
    for (size_t i = 0; i < 4; i++)
        if (steps[i] != LB_NO_STEP && strcmp(m->plan->steps[steps[i]].verb, name->verb) == 0)
            return steps[i];
    return LB_NO_STEP;
}

static void place_sequences(struct making *m)
{
    const struct lb_map *map = m->plan->map;
    for (uint32_t i = 0; i < map->sequence_count; i++) {
        uint32_t first = step_named(m, &map->sequences[i].first),
                 then = step_named(m, &map->sequences[i].then);
        if (then != LB_NO_STEP)
            place(m, first, LB_ROW_SEQUENCE, i, 0, then);
    }
}

static void place_renewed(struct making *m)
{
    for (uint32_t i = 0; i < m->plan->need_count; i++) {
        const struct lb_need *need = &m->plan->needs[i];
        for (size_t o = 0; o < need->origin_count; o++)
            if (need->origins[o].kind == LB_FROM_COMPONENT && need->origins[o].component != LB_NO_NAME)
                place_both(m, (struct lb_thing){0, need->origins[o].component}, LB_ROW_RENEWED, i);
    }
}

static int by_step(const void *a, const void *b)
{
    const struct placed *x = a, *y = b;
    const uint32_t left[] = {x->step, x->row.kind, x->row.index, x->row.roles};
    const uint32_t right[] = {y->step, y->row.kind, y->row.index, y->row.roles};
    for (size_t i = 0; i < 4; i++)
        if (left[i] != right[i])
            return left[i] < right[i] ? -1 : 1;
    return 0;
}

/* The same need may stand twice for one component (two rows that merged): once is enough. */
static bool is_repeated(const struct making *m, size_t i)
{
    return i > 0 && by_step(&m->placed.at[i - 1], &m->placed.at[i]) == 0;
}

static void hand_out(struct making *m)
{
    struct lb_step_rows *out = &m->owned->rows;
    struct lb_step_row *at = room_for(m, m->placed.count, sizeof *at);
    uint32_t *start = room_for(m, m->plan->step_count + 1, sizeof *start), count = 0;
    size_t next = 0;
    if (m->failed)
        return;
    if (m->placed.count)
        qsort(m->placed.at, m->placed.count, sizeof *m->placed.at, by_step);
    for (uint32_t step = 0; step <= m->plan->step_count; step++) {
        start[step] = count;
        for (; next < m->placed.count && m->placed.at[next].step == step; next++)
            if (!is_repeated(m, next))
                at[count++] = m->placed.at[next].row;
    }
    out->start = start;
    out->at = at;
}

lb_status lb_step_rows_make(struct lb_step_rows **out, const struct lb_plan *plan, struct lb_error *err)
{
    struct making m = {.plan = plan, .owned = calloc(1, sizeof *m.owned)};
    *out = NULL;
    if (!m.owned)
        return lb_fail_nomem(err);
    find_stations(&m);
    if (!m.failed)
        gather_fastened(&m);
    for (uint32_t i = 0; !m.failed && i < m.owned->rows.fastened_count; i++)
        place_fastened(&m, i);
    if (!m.failed) {
        place_map(&m);
        place_sequences(&m);
        place_renewed(&m);
        hand_out(&m);
    }
    free(m.placed.at);
    *out = &m.owned->rows;
    if (!m.failed)
        return LB_OK;
    lb_step_rows_free(*out);
    *out = NULL;
    return lb_fail_nomem(err);
}

void lb_step_rows_free(struct lb_step_rows *rows)
{
    if (!rows)
        return;
    struct owned_rows *owned = (struct owned_rows *)rows; /* its first member */
    lb_arena_free(&owned->arena);
    free(owned);
}
