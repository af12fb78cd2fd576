/* The lines of a kit, with the parts that answer them, as a lock has them. */
#include "kit/build.h"
#include "kit/lock_maker.h"

#include <stdlib.h>
#include <string.h>

/* The parts row, the row that makes it fit, and the offers' rows. */
static lb_status note_part(struct lock_maker *m, const struct lb_candidate *chosen)
{
    lb_status status = lock_note_source(m, chosen->part->place.file);
    if (!status)
        status = lock_note_source(m, chosen->place.file);
    for (size_t i = 0; !status && i < chosen->part->offer_count; i++)
        if (chosen->part->offers[i].live)
            status = lock_note_source(m, chosen->part->offers[i].place.file);
    return status;
}

static lb_status add_place(struct lock_maker *m, struct lb_lock_line *line, const char *component,
                           const char *item)
{
    struct lb_lock_place place;
    for (size_t i = 0; i < line->places.count; i++)
        if (strcmp(line->places.at[i].component, component) == 0 &&
            strcmp(line->places.at[i].item ? line->places.at[i].item : "", item ? item : "") == 0)
            return LB_OK;
    lb_status status = LOCK_COPY(m, {component, &place.component}, {item, &place.item});
    if (status)
        return status;
    return LB_PUSH(&line->places, place) ? LB_OK : lb_fail_nomem(m->err);
}

static int by_component(const void *left, const void *right)
{
    const struct lb_lock_place *a = left, *b = right;
    int order = strcmp(a->component, b->component);
    return order ? order : strcmp(a->item ? a->item : "", b->item ? b->item : "");
}

static lb_status take_places(struct lock_maker *m, struct lb_lock_line *line, const struct lb_need *need)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < need->origin_count; i++) {
        const struct lb_origin *origin = &need->origins[i];
        bool fluid = origin->kind == LB_FROM_FLUID || origin->kind == LB_FROM_DILUENT;
        status = add_place(m, line,
                           fluid ? m->map->circuits[m->map->circuit_rows[origin->index].circuit]
                                 : m->map->components[origin->component],
                           origin->kind == LB_FROM_FASTENING ? m->map->fastenings[origin->index].item : NULL);
    }
    if (!status && line->places.count)
        qsort(line->places.at, line->places.count, sizeof *line->places.at, by_component);
    return status;
}

static lb_status take_line(struct lock_maker *m, const struct lb_line *from)
{
    const struct lb_need *need = from->need;
    struct lb_lock_line line = {.quantity = lock_bounded(need->article.quantity),
                                .reason = need->reason,
                                .decision = from->decision,
                                .spare = from->spare,
                                .sure = need->sure,
                                .decided = from->decided,
                                .number = from->number,
                                .wanted = from->decision == LB_BUY &&
                                          (from->chosen == LB_NO_NAME || from->to_buy > 0)};
    if (!LB_PUSH(&m->lock->lines, line))
        return lb_fail_nomem(m->err);
    struct lb_lock_line *kept = &m->lock->lines.at[m->lock->lines.count - 1];
    lb_status status = LOCK_COPY(m, {need->key, &kept->key}, {need->article.part_type, &kept->part_type},
                                 {need->article.spec.text, &kept->spec}, {need->article.unit, &kept->unit});
    if (!status)
        status = take_places(m, kept, need);
    if (status || from->chosen == LB_NO_NAME)
        return status;
    status = lock_take_part(&kept->part, &m->lock->texts, (const struct build *)m->kit, /* its first member */
                            from->candidates[from->chosen].part);
    return status ? status : note_part(m, &from->candidates[from->chosen]);
}

static int by_line(const void *left, const void *right)
{
    const struct lb_lock_line *a = left, *b = right;
    if (a->spare != b->spare)
        return a->spare - b->spare;
    return a->reason != b->reason ? (int)a->reason - (int)b->reason : strcmp(a->key, b->key);
}

lb_status lock_take_lines(struct lock_maker *m)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < m->kit->line_count; i++)
        status = take_line(m, &m->kit->lines[i]);
    if (m->lock->lines.count)
        qsort(m->lock->lines.at, m->lock->lines.count, sizeof *m->lock->lines.at, by_line);
    return status;
}
