/* Belt runs: each kind of vehicle that a belt's rows tell apart is looked at; a run that several have counts
 * once. */
#include "kit/map_check_belts.h"

#include <stdlib.h>

bool belts_first(struct belts *b, char kind, const char *key)
{
    struct lb_buf text = {0};
    size_t before = b->seen.count;
    uint32_t id;
    lb_buf_printf(&text, "%c%u %s", kind, b->belt, key);
    b->c->failed |= text.failed || !lb_names_add(&b->seen, lb_buf_text(&text), &id);
    lb_buf_free(&text);
    return b->seen.count > before;
}

/* Of a vehicle that states all that the row asks for; unknown: no value is known that settles it. */
static enum lb_truth applies(struct belts *b, const struct lb_row *row)
{
    struct lb_facts facts = lb_guess_facts(&b->guess);
    const struct lb_condition *condition = check_condition(b->c, row);
    b->looked++;
    return condition ? lb_condition_ask(condition, &facts, NULL, NULL) : LB_TRUE;
}

/* The pulleys that the guess has; false: of one that cannot be said. Their places make up the key. */
static bool take_run(struct belts *b, struct lb_buf *key)
{
    const struct lb_map *map = b->c->map;
    b->run.count = 0;
    for (uint32_t i = b->pulleys.first[b->belt]; i != LB_NO_NAME; i = b->pulleys.next[i]) {
        struct lb_map_pulley pulley = map->pulleys[i];
        enum lb_truth truth = applies(b, &pulley.row);
        if (truth == LB_UNKNOWN)
            return false;
        if (truth == LB_FALSE)
            continue;
        pulley.row.doubt_count = pulley.row.turn_count = 0;
        b->c->failed |= !LB_PUSH(&b->run, pulley);
        lb_buf_printf(key, "%u ", i);
    }
    b->map = (struct lb_map){.components = map->components,
                             .component_count = map->component_count,
                             .pulleys = b->run.at,
                             .pulley_count = b->run.count};
    return b->run.count > 0 && !b->c->failed;
}

/* The belt's own rows that the guess has; false: there are rows, and none of them applies. */
static bool take_rows(struct belts *b, struct lb_buf *key)
{
    b->asks.count = 0;
    for (uint32_t i = b->rows.first[b->belt]; i != LB_NO_NAME; i = b->rows.next[i]) {
        const struct lb_map_component *row = &b->c->map->component_rows[i];
        if (applies(b, &row->row) != LB_TRUE)
            continue;
        b->c->failed |= !LB_PUSH(&b->asks, row);
        lb_buf_printf(key, "of %u ", i);
    }
    return (b->asks.count || b->rows.first[b->belt] == LB_NO_NAME) && !b->c->failed;
}

/* Works out the run of the guess as it stands, unless another had the same. */
static lb_status look_at_guess(struct belts *b)
{
    struct lb_buf key = {0};
    bool first = take_rows(b, &key) && take_run(b, &key) && belts_first(b, 'r', lb_buf_text(&key));
    b->c->failed |= key.failed;
    lb_buf_free(&key);
    return first && !b->c->failed ? belts_look_at_run(b) : LB_OK;
}

static void note_condition(struct belts *b, const struct lb_row *row)
{
    const struct lb_condition *condition = check_condition(b->c, row);
    if (condition)
        b->c->failed |= !LB_PUSH(&b->asked, condition);
}

static lb_status look_at_belt(struct belts *b, uint32_t belt)
{
    struct checker *c = b->c;
    b->belt = belt;
    b->asked.count = 0;
    for (uint32_t i = b->pulleys.first[belt]; i != LB_NO_NAME; i = b->pulleys.next[i])
        note_condition(b, &c->map->pulleys[i].row);
    for (uint32_t i = b->rows.first[belt]; i != LB_NO_NAME; i = b->rows.next[i])
        note_condition(b, &c->map->component_rows[i].row);
    lb_status status =
        c->failed ? LB_OK
                  : lb_guess_make(&b->guess, &c->variants, b->asked.at, b->asked.count, false, c->err);
    lb_guess_first(&b->guess);
    bool more = true;
    while (!status && !c->failed && more && b->looked < BELTS_LOOKED_MOST) {
        status = look_at_guess(b);
        more = lb_guess_next(&b->guess);
    }
    lb_guess_free(&b->guess);
    return status;
}

static void begin_chain(struct checker *c, struct chain *chain, size_t rows)
{
    chain->first = check_alloc(c, c->map->component_count + 1, sizeof *chain->first);
    chain->next = check_alloc(c, rows + 1, sizeof *chain->next);
    for (size_t i = 0; !c->failed && i < c->map->component_count; i++)
        chain->first[i] = LB_NO_NAME;
}

/* From the last row on, so that lists go as the map does. */
static void link_row(struct chain *chain, uint32_t component, size_t row)
{
    chain->next[row] = chain->first[component];
    chain->first[component] = (uint32_t)row;
}

static void list_rows(struct belts *b)
{
    struct checker *c = b->c;
    begin_chain(c, &b->pulleys, c->map->pulley_count);
    begin_chain(c, &b->rows, c->map->component_row_count);
    for (size_t i = c->map->pulley_count; !c->failed && i-- > 0;)
        link_row(&b->pulleys, c->map->pulleys[i].belt, i);
    for (size_t i = c->map->component_row_count; !c->failed && i-- > 0;)
        link_row(&b->rows, c->map->component_rows[i].component, i);
}

lb_status check_belts(struct checker *c)
{
    struct belts b = {.c = c};
    if (!c->map->pulley_count)
        return LB_OK;
    list_rows(&b);
    lb_status status = c->failed ? LB_OK : check_parts_open(&b.parts, c);
    for (uint32_t i = 0; !status && !c->failed && i < c->map->component_count; i++)
        if (b.pulleys.first[i] != LB_NO_NAME)
            status = look_at_belt(&b, i);
    if (!status && b.looked >= BELTS_LOOKED_MOST)
        check_find(c, LB_NOTE, "not-finished", &c->map->pulleys[0].row,
                   "there are so many belts, kinds of vehicle and parts that not every run was worked out: "
                   "one that cannot be may be left.");
    check_parts_close(&b.parts);
    lb_names_free(&b.seen);
    free(b.asked.at);
    free(b.asks.at);
    free(b.run.at);
    return status;
}
