/* One run of a belt: it cannot be, or no belt is long enough or short enough for it. */
#include "base/decimal.h"
#include "kit/map_check_belts.h"

#include <stdlib.h>

static void put_vehicle(struct belts *b, struct lb_buf *words)
{
    struct lb_buf who = {0};
    lb_guess_say(&who, &b->guess);
    if (who.length)
        lb_buf_printf(words, " This is so for a vehicle with %s.", lb_buf_text(&who));
    words->failed |= who.failed;
    lb_buf_free(&who);
}

static void tell(struct belts *b, enum lb_severity severity, const char *code, const struct lb_row *row,
                 struct lb_buf *words)
{
    put_vehicle(b, words);
    b->c->failed |= words->failed;
    check_find(b->c, severity, code, row, "%s", lb_buf_text(words));
}

static const struct lb_map_pulley *pulley_at(const struct belts *b, size_t place)
{
    return &b->run.at[b->mapped.rows[place < LB_BELT_MOST ? place : 0]];
}

static void tell_run(struct belts *b)
{
    struct lb_buf words = {0};
    const char *names[LB_BELT_MOST] = {0};
    const struct lb_row *at = &pulley_at(b, b->geometry.at)->row,
                        *other = &pulley_at(b, b->geometry.other)->row;
    for (size_t i = 0; i < b->mapped.count && i < LB_BELT_MOST; i++)
        names[i] = pulley_at(b, i)->name;
    lb_buf_printf(&words, "%d %u:%u %u:%u", (int)b->geometry.fault, at->source, at->line, other->source,
                  other->line);
    bool told = !belts_first(b, 'f', lb_buf_text(&words));
    lb_buf_clear(&words);
    lb_belt_explain(&words, &b->geometry, b->c->map->components[b->belt], names);
    if (at != other)
        lb_buf_printf(&words, " The other row is %s:%u.", check_file(b->c, other), other->line);
    if (!told)
        tell(b, LB_ERROR, "belt-run", at, &words);
    lb_buf_free(&words);
}

/* The belt that comes nearest to the run. */
struct nearest {
    struct belts *b;
    size_t count;      /* belts with a length */
    bool fits, unsaid; /* one does; of one it cannot be said */
    int64_t length, over;
};

static bool judge_length(void *context, const struct lb_spec *spec)
{
    struct nearest *near = context;
    struct belts *b = near->b;
    int64_t length = (int64_t)spec->length * 1000, over;
    b->looked++;
    if (spec->kind != LB_SPEC_BELT)
        return b->looked < BELTS_LOOKED_MOST;
    enum lb_belt_fit fit = lb_belt_fit(b->geometry.length, length, b->mapped.slack, &over);
    near->fits |= fit == LB_BELT_FITS;
    near->unsaid |= fit == LB_BELT_UNSAID;
    if (!near->count++ || llabs(over) < llabs(near->over)) {
        near->length = length;
        near->over = over;
    }
    return !near->fits && b->looked < BELTS_LOOKED_MOST;
}

static void put_mm(struct lb_buf *words, int64_t millionths)
{
    const int64_t tenth = LB_MILLION / 10;
    lb_decimal_print_places(words, (millionths + tenth / 2) / tenth, 1);
    lb_buf_puts(words, " mm");
}

/* The row that says what can be taken up, else the run's first. */
static const struct lb_row *row_of_slack(const struct belts *b)
{
    for (size_t i = 0; i < b->mapped.count; i++)
        if (pulley_at(b, i)->slack >= 0)
            return &pulley_at(b, i)->row;
    return &pulley_at(b, 0)->row;
}

static void tell_length(struct belts *b, const struct lb_map_component *row, const struct nearest *near)
{
    struct lb_buf words = {0};
    bool stated = row->article.spec.kind == LB_SPEC_BELT;
    lb_buf_printf(&words, "%s: its run is ", b->c->map->components[b->belt]);
    put_mm(&words, (int64_t)(b->geometry.length * LB_MILLION));
    lb_buf_puts(&words, " long and the tensioner takes up ");
    put_mm(&words, b->mapped.slack);
    if (stated)
        lb_buf_printf(&words, ", but the belt that is asked for, %s, is ", row->article.spec.text);
    else
        lb_buf_printf(&words, ", and no part of type %s is within that: the nearest is ",
                      row->article.part_type);
    put_mm(&words, llabs(near->over));
    lb_buf_printf(&words,
                  " %s than the run. Check the pulleys' x, y, diameter and side, and the belt's %s (%s:%u).",
                  near->over < 0 ? "shorter" : "longer", stated ? "spec" : "type and the catalogues",
                  check_file(b->c, &row->row), row->row.line);
    tell(b, LB_WARNING, "belt-length", row_of_slack(b), &words);
    lb_buf_free(&words);
}

/* Is what the row asks for as long as the run? */
static lb_status hold_against(struct belts *b, const struct lb_map_component *row)
{
    struct nearest near = {.b = b};
    lb_status status = LB_OK;
    if (row->article.spec.kind == LB_SPEC_BELT)
        judge_length(&near, &row->article.spec);
    else
        status = check_parts_each(&b->parts, row->article.part_type,
                                  row->article.spec.kind == LB_SPEC_NONE ? NULL : &row->article.spec,
                                  judge_length, &near);
    if (!status && near.count && !near.fits && !near.unsaid && b->looked < BELTS_LOOKED_MOST)
        tell_length(b, row, &near);
    return status;
}

lb_status belts_look_at_run(struct belts *b)
{
    size_t count = b->run.count < LB_BELT_MOST ? b->run.count : 0;
    lb_status status = LB_OK;
    lb_map_belt(&b->mapped, &b->map, b->belt);
    if (lb_map_belt_twice(&b->mapped, &b->map) < b->mapped.count)
        return LB_OK;
    b->looked += count * count * count / 16; /* about as long as so many rows take */
    lb_map_belt_run(&b->geometry, &b->map, &b->mapped);
    if (b->geometry.fault)
        tell_run(b);
    for (size_t i = 0; !status && !b->geometry.fault && i < b->asks.count; i++)
        status = hold_against(b, b->asks.at[i]);
    return status;
}
