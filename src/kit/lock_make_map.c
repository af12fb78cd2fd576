/* What a kit's service map says of it that matters on the day, as a lock has it. */
#include "kit/lock_maker.h"

#include <stdlib.h>
#include <string.h>

static int by_item(const void *left, const void *right)
{
    const struct lb_lock_fastening *a = left, *b = right;
    int order = strcmp(a->component, b->component);
    order = order ? order : strcmp(a->item, b->item);
    order = order ? order : strcmp(a->part_type, b->part_type);
    order = order ? order : strcmp(a->spec ? a->spec : "", b->spec ? b->spec : "");
    order = order ? order : (int)a->reuse - (int)b->reuse;
    order = order ? order : (a->quantity > b->quantity) - (a->quantity < b->quantity);
    order = order ? order : (a->torque > b->torque) - (a->torque < b->torque);
    return order ? order : (a->angle > b->angle) - (a->angle < b->angle);
}

static lb_status take_fastening(struct lock_maker *m, const struct lb_map_fastening *row)
{
    struct lb_lock_fastening fastening = {.quantity = lock_bounded(row->article.quantity),
                                          .reuse = row->reuse,
                                          .torque = row->torque ? lock_bounded(row->torque) : LB_LOCK_UNSAID,
                                          .angle = row->angle ? lock_bounded(row->angle) : LB_LOCK_UNSAID};
    lb_status status =
        LOCK_COPY(m, {m->map->components[row->component], &fastening.component}, {row->item, &fastening.item},
                  {row->article.part_type, &fastening.part_type}, {row->article.spec.text, &fastening.spec},
                  {row->article.unit, &fastening.unit});
    if (status)
        return status;
    return LB_PUSH(&m->lock->fastenings, fastening) ? LB_OK : lb_fail_nomem(m->err);
}

/* Those that the job disturbs (formats.md §3.3), also what goes back: its torque matters on the day. */
lb_status lock_take_fastenings(struct lock_maker *m)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < m->map->fastening_count; i++) {
        const struct lb_map_fastening *row = &m->map->fastenings[i];
        if (row->component != LB_NO_NAME && m->kit->plan->levels[row->component] >= row->at)
            status = take_fastening(m, row);
    }
    if (m->lock->fastenings.count)
        qsort(m->lock->fastenings.at, m->lock->fastenings.count, sizeof *m->lock->fastenings.at, by_item);
    return status;
}

static int by_circuit(const void *left, const void *right)
{
    const struct lb_lock_circuit *a = left, *b = right;
    int order = strcmp(a->circuit, b->circuit);
    order = order ? order : strcmp(a->fluid, b->fluid);
    order = order ? order : strcmp(a->spec ? a->spec : "", b->spec ? b->spec : "");
    order = order ? order : (a->capacity > b->capacity) - (a->capacity < b->capacity);
    return order ? order : (a->mix > b->mix) - (a->mix < b->mix);
}

static lb_status take_circuit(struct lock_maker *m, const struct lb_map_circuit *row)
{
    struct lb_lock_circuit circuit = {
        .capacity = lock_bounded(row->fluid.quantity),
        .mix = row->mix < 0 ? LB_LOCK_UNSAID : lock_bounded(row->mix),
        .freeze_to = row->has_freeze_to ? lock_bounded(row->freeze_to) : LB_LOCK_UNSAID,
    };
    lb_status status = LOCK_COPY(
        m, {m->map->circuits[row->circuit], &circuit.circuit}, {row->fluid.part_type, &circuit.fluid},
        {row->fluid.spec.text, &circuit.spec}, {row->diluent.part_type, &circuit.diluent});
    if (status)
        return status;
    return LB_PUSH(&m->lock->circuits, circuit) ? LB_OK : lb_fail_nomem(m->err);
}

lb_status lock_take_circuits(struct lock_maker *m)
{
    const struct lb_plan *plan = m->kit->plan;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < m->map->circuit_row_count; i++)
        for (size_t o = 0; !status && o < plan->opened_count; o++)
            if (plan->opened[o] == m->map->circuit_rows[i].circuit)
                status = take_circuit(m, &m->map->circuit_rows[i]);
    if (m->lock->circuits.count)
        qsort(m->lock->circuits.at, m->lock->circuits.count, sizeof *m->lock->circuits.at, by_circuit);
    return status;
}

static lb_status take_step(struct lock_maker *m, const struct lb_step *step)
{
    struct lb_buf words = {0};
    const char *text;
    lb_buf_printf(&words, "%s %s", step->verb,
                  (step->thing.is_circuit ? m->map->circuits : m->map->components)[step->thing.id]);
    lb_status status = lock_take_words(m, &words, &text);
    if (status)
        return status;
    return LB_PUSH(&m->lock->steps, text) ? LB_OK : lb_fail_nomem(m->err);
}

lb_status lock_take_work(struct lock_maker *m)
{
    const struct lb_plan *plan = m->kit->plan;
    const char *text;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < plan->caution_count; i++) {
        status = lock_copy(m, plan->cautions[i], &text);
        if (!status && !LB_PUSH(&m->lock->cautions, text))
            status = lb_fail_nomem(m->err);
    }
    for (size_t i = 0; !status && i < plan->step_count; i++)
        status = take_step(m, &plan->steps[i]);
    for (size_t i = 0; !status && i < plan->question_count; i++) {
        status = lock_copy(m, m->map->facts[plan->questions[i].fact], &text);
        if (!status && !LB_PUSH(&m->lock->questions, text))
            status = lb_fail_nomem(m->err);
    }
    return status;
}
