/* The list of one vehicle made from the rows: what is listed, what stands for it (fitting_heirs.c), what the
 * parts are called (fitting_rows.c), fluids (fitting_fluids.c), and all of it as bytes (fitting_pack.c). */
#include "base/position.h"
#include "base/text.h"
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "garage/applies.h"
#include "garage/fitting_parts.h"

#include <stdlib.h>
#include <string.h>

lb_status fitting_node(struct making *m, const char *key, uint32_t *node)
{
    if (!lb_names_add(&m->keys, key, node))
        return lb_fail_nomem(m->err);
    while (m->nodes.count < m->keys.count)
        if (!LB_PUSH(&m->nodes, (struct node){0}))
            return lb_fail_nomem(m->err);
    return LB_OK;
}

static lb_status read_vehicle(struct making *m)
{
    m->facts = lb_vehicle_facts(m->vehicle);
    lb_text_fold(&m->make_key, m->vehicle->make);
    lb_text_fold(&m->model_key, m->vehicle->model);
    return m->make_key.failed || m->model_key.failed ? lb_fail_nomem(m->err) : LB_OK;
}

/* The facts that one row asks for. */
struct asking {
    struct making *m;
    uint32_t node;
    bool failed;
};

static void note_fact(void *context, const char *key, const char *turns_on)
{
    (void)turns_on;
    struct asking *asking = context;
    struct doubt doubt = {.node = asking->node};
    if (!lb_names_add(&asking->m->facts_asked, key, &doubt.fact) || !LB_PUSH(&asking->m->doubts, doubt))
        asking->failed = true;
}

enum { LISTED_BRAND, LISTED_NUMBER, LISTED_WHEN, LISTED_FROM, LISTED_TO, LISTED_POSITION };

static lb_status judge_row(struct making *m, struct lb_statement *st)
{
    struct asking asking = {.m = m};
    struct stand stand = {.places = ANYWHERE};
    lb_position position;
    lb_status status = lb_need_texts(st, LISTED_BRAND, 2, m->err);
    if (status)
        return status;
    lb_part_key(&m->scratch, lb_text(st, LISTED_BRAND), lb_text(st, LISTED_NUMBER));
    status =
        m->scratch.failed ? lb_fail_nomem(m->err) : fitting_node(m, lb_buf_text(&m->scratch), &asking.node);
    if (!status)
        status = lb_applies(&m->facts, lb_text(st, LISTED_WHEN), lb_text(st, LISTED_FROM),
                            lb_text(st, LISTED_TO), note_fact, &asking, &stand.truth, m->err);
    if (status)
        return status;
    if (asking.failed)
        return lb_fail_nomem(m->err);
    if (lb_position_parse(lb_text(st, LISTED_POSITION), &position) && position)
        stand.places = position;
    struct node *node = &m->nodes.at[asking.node];
    node->listed = true;
    fitting_improve(&node->by[BY_SAME], &stand);
    return LB_OK;
}

static lb_status read_listed(struct making *m)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        m->store, &st,
        "SELECT r.brand, r.part_number, r.\"when\", r.built_from, r.built_to, r.position" LB_PLACED(
            "applications") "WHERE r.make_key = ?1 AND r.model_key = ?2",
        m->err);
    if (status)
        return status;
    lb_bind_text(st, 1, lb_buf_text(&m->make_key));
    lb_bind_text(st, 2, lb_buf_text(&m->model_key));
    while (!(status = lb_step(st, &row, m->err)) && row)
        if ((status = judge_row(m, st)))
            break;
    lb_statement_free(st);
    return status;
}

static int by_node_and_name(const void *left, const void *right, void *context)
{
    const struct doubt *a = left, *b = right;
    const struct making *m = context;
    if (a->node != b->node)
        return a->node < b->node ? -1 : 1;
    return strcmp(m->facts_asked.at[a->fact], m->facts_asked.at[b->fact]);
}

/* "abs, built": the facts of all rows that are open. */
static lb_status write_asks(struct making *m)
{
    lb_status status = LB_OK;
    if (m->doubts.count)
        qsort_r(m->doubts.at, m->doubts.count, sizeof *m->doubts.at, by_node_and_name, m);
    for (size_t i = 0, end; !status && i < m->doubts.count; i = end) {
        const struct doubt *first = &m->doubts.at[i];
        struct stand *stand = &m->nodes.at[first->node].by[BY_SAME];
        lb_buf_clear(&m->scratch);
        for (end = i; end < m->doubts.count && m->doubts.at[end].node == first->node; end++)
            if (end == i || m->doubts.at[end].fact != m->doubts.at[end - 1].fact)
                lb_buf_printf(&m->scratch, "%s%s", end > i ? ", " : "",
                              m->facts_asked.at[m->doubts.at[end].fact]);
        if (stand->truth != LB_UNKNOWN)
            continue;
        stand->asks = m->scratch.failed ? NULL : lb_arena_text(&m->arena, m->scratch.text, m->scratch.length);
        if (!stand->asks)
            status = lb_fail_nomem(m->err);
    }
    return status;
}

static int by_key(const void *left, const void *right)
{
    return strcmp(((const struct lb_listed_part *)left)->key, ((const struct lb_listed_part *)right)->key);
}

/* All that came in, by key. */
static lb_status gather(struct making *m)
{
    for (size_t i = 0; i < m->nodes.count; i++) {
        struct stand stand = {0};
        for (int way = 0; way < WAYS; way++)
            fitting_improve(&stand, &m->nodes.at[i].by[way]);
        if (stand.truth == LB_FALSE)
            continue;
        struct lb_listed_part part = {.key = m->keys.at[i],
                                      .fit = stand.truth == LB_TRUE ? LB_FIND_FITS : LB_FIND_ASK,
                                      .asks = stand.truth == LB_TRUE ? NULL : stand.asks,
                                      .position = stand.places & ANYWHERE ? 0 : (uint16_t)stand.places};
        if (!LB_PUSH(&m->parts, part))
            return lb_fail_nomem(m->err);
    }
    if (m->parts.count)
        qsort(m->parts.at, m->parts.count, sizeof *m->parts.at, by_key);
    return LB_OK;
}

static void making_free(struct making *m)
{
    lb_buf_free(&m->make_key);
    lb_buf_free(&m->model_key);
    lb_buf_free(&m->scratch);
    lb_names_free(&m->keys);
    lb_names_free(&m->facts_asked);
    free(m->nodes.at);
    free(m->heirs.at);
    free(m->doubts.at);
    free(m->waiting.at);
    free(m->parts.at);
    free(m->fluid_types.at);
    free(m->platforms.at);
    lb_arena_free(&m->arena);
}

lb_status fitting_make(struct lb_buf *out, struct lb_store *store, const struct lb_vehicle *vehicle,
                       struct lb_error *err)
{
    static lb_status (*const stages[])(struct making *) = {
        read_vehicle, read_listed, write_asks, fitting_heirs, gather, fitting_rows, fitting_fluids};
    struct making m = {.store = store, .vehicle = vehicle, .err = err};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](&m);
    lb_buf_clear(out);
    const struct lb_shortlist list = {.parts = m.parts.at,
                                      .count = m.parts.count,
                                      .vehicle = vehicle->name,
                                      .fluid_types = m.fluid_types.at,
                                      .fluid_type_count = m.fluid_types.count,
                                      .platforms = m.platforms.at,
                                      .platform_count = m.platforms.count};
    if (!status)
        status = fitting_pack(&list, out, err);
    making_free(&m);
    return status;
}
