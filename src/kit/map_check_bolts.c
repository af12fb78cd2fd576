/* Torques: not stated, or past what thread and class bear. A torque is the catalogue's word and is never
 * corrected; it is shown beside what a standard says. */
#include "base/decimal.h"
#include "kit/map_checker.h"

#include <stdlib.h>
#include <string.h>

static bool is_threaded(const char *kind)
{
    static const char *const kinds[] = {"bolt", "nut", "screw", "stud"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kind, kinds[i]) == 0)
            return true;
    return false;
}

static void put_torque(struct lb_buf *out, int64_t torque)
{
    lb_decimal_print_places(out, (torque + LB_MILLION / 20) / (LB_MILLION / 10), 1);
    lb_buf_puts(out, " N·m");
}

/* K and what goes with it: spec.h. A bolt that is turned on by an angle is judged by the torque before. */
static void judge_torque(struct checker *c, const struct lb_map_fastening *row)
{
    const struct lb_spec *spec = &row->article.spec;
    int64_t limit = lb_thread_torque_limit(spec);
    struct lb_buf words = {0};
    if (!limit || row->torque <= limit)
        return;
    lb_buf_printf(&words, "%s of %s: ", row->item, c->map->components[row->component]);
    put_torque(&words, row->torque);
    lb_buf_puts(&words, " is ");
    put_torque(&words, row->torque - limit);
    lb_buf_puts(&words, " above the ");
    put_torque(&words, limit);
    lb_buf_puts(&words, " at which ");
    if (spec->grade[0])
        lb_buf_printf(&words, "%s carries its proof load", spec->text);
    else
        lb_buf_printf(&words, "%s would carry its proof load were it of class 12.9, the strongest",
                      spec->text);
    lb_buf_puts(&words,
                " (ISO 898-1; T = K·d·F with K 0.20, zinc plated and not oiled). It may be right for another "
                "friction or a bolt made to be stretched: look it up in the maker's manual.");
    c->failed |= words.failed;
    check_find(c, LB_WARNING, "torque-high", &row->row, "%s", lb_buf_text(&words));
    lb_buf_free(&words);
}

/* The items of one component without a torque, each once. */
struct untold {
    const struct lb_row *row; /* of the first */
    struct lb_buf items;
    size_t count;
};

static void add_item(struct checker *c, struct untold *untold, struct lb_names *seen,
                     const struct lb_map_fastening *row)
{
    struct lb_buf key = {0};
    size_t before = seen->count;
    uint32_t id;
    lb_buf_printf(&key, "%u\x1f%s", row->component, row->item);
    c->failed |= key.failed || !lb_names_add(seen, lb_buf_text(&key), &id);
    lb_buf_free(&key);
    if (seen->count == before)
        return;
    if (!untold->row)
        untold->row = &row->row;
    lb_buf_printf(&untold->items, "%s%s", untold->count++ ? ", " : "", row->item);
    c->failed |= untold->items.failed;
}

lb_status check_torques(struct checker *c)
{
    const struct lb_map *m = c->map;
    struct lb_names seen = {0};
    struct untold *untold = check_alloc(c, m->component_count + 1, sizeof *untold);
    for (size_t i = 0; i < m->fastening_count && !c->failed; i++) {
        const struct lb_map_fastening *row = &m->fastenings[i];
        if (!is_threaded(row->kind))
            continue;
        if (row->torque)
            judge_torque(c, row);
        else if (!row->angle)
            add_item(c, &untold[row->component], &seen, row);
    }
    for (size_t i = 0; untold && i < m->component_count; i++) {
        if (untold[i].count && !c->failed)
            check_find(c, LB_WARNING, "no-torque", untold[i].row,
                       "%s: neither torque nor angle is stated for %s.", m->components[i],
                       lb_buf_text(&untold[i].items));
        lb_buf_free(&untold[i].items);
    }
    lb_names_free(&seen);
    return LB_OK;
}
