/* A kit as it is now, as a lock. */
#include "base/decimal.h"
#include "kit/build.h"
#include "kit/lock_maker.h"

#include <stdlib.h>
#include <string.h>

lb_status lock_copy(struct lock_maker *m, const char *text, const char **out)
{
    *out = text ? lb_arena_text(&m->lock->texts, text, strlen(text)) : NULL;
    return text && !*out ? lb_fail_nomem(m->err) : LB_OK;
}

lb_status lock_copy_all(struct lock_maker *m, const struct lock_pair *pairs, size_t count)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = lock_copy(m, pairs[i].from, pairs[i].to);
    return status;
}

int64_t lock_bounded(int64_t quantity)
{
    const int64_t most = 9000000000000 * LB_MILLION;
    return quantity > most ? most : quantity < -most ? -most : quantity;
}

lb_status lock_take_words(struct lock_maker *m, struct lb_buf *words, const char **out)
{
    lb_status status = words->failed ? lb_fail_nomem(m->err) : lock_copy(m, lb_buf_text(words), out);
    lb_buf_free(words);
    return status;
}

lb_status lock_note_source(struct lock_maker *m, const char *name)
{
    uint32_t id;
    return !name || lb_names_add(&m->sources, name, &id) ? LB_OK : lb_fail_nomem(m->err);
}

static lb_status take_vehicle(struct lock_maker *m)
{
    const struct lb_vehicle *vehicle = &m->kit->vehicle;
    struct lb_kit_lock *lock = m->lock;
    lb_status status = LOCK_COPY(m, {m->kit->name, &lock->kit}, {vehicle->name, &lock->vehicle},
                                 {vehicle->make, &lock->make}, {vehicle->model, &lock->model},
                                 {vehicle->built, &lock->built}, {vehicle->vin, &lock->vin},
                                 {m->kit->survey->platform, &lock->platform});
    for (size_t i = 0; !status && i < vehicle->facts.count; i++) {
        struct lb_lock_fact fact;
        status =
            LOCK_COPY(m, {vehicle->facts.at[i].key, &fact.key}, {vehicle->facts.at[i].value, &fact.value});
        if (!status && !LB_PUSH(&lock->facts, fact))
            status = lb_fail_nomem(m->err);
    }
    return status;
}

static lb_status take_wants(struct lock_maker *m)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < m->kit->want_count; i++) {
        struct lb_buf words = {0};
        const char *text;
        lb_buf_printf(&words, "%s %s", m->kit->wants[i].kind == LB_WANT_JOB ? "job" : "replace",
                      m->kit->wants[i].name);
        status = lock_take_words(m, &words, &text);
        if (!status && !LB_PUSH(&m->lock->wants, text))
            status = lb_fail_nomem(m->err);
    }
    return status;
}

static int by_name(const void *left, const void *right)
{
    return strcmp(((const struct lb_lock_source *)left)->name, ((const struct lb_lock_source *)right)->name);
}

static lb_status note_row(struct lock_maker *m, const struct lb_row *row)
{
    return row->source == LB_NO_NAME ? LB_OK : lock_note_source(m, m->map->sources[row->source]);
}

/* The files whose rows apply: another edition of one of them may say something else. */
static lb_status note_map(struct lock_maker *m)
{
    const struct lb_map *map = m->map;
    const struct lb_survey *survey = m->kit->survey;
    lb_status status = note_row(m, &map->platform);
#define NOTE(rows, count)                                                                                    \
    for (size_t i = 0; !status && i < (count); i++)                                                          \
        status = note_row(m, &(rows)[i].row);
    NOTE(survey->targets, survey->target_count)
    NOTE(map->component_rows, map->component_row_count)
    NOTE(map->fastenings, map->fastening_count)
    NOTE(map->access, map->access_count)
    NOTE(map->sequences, map->sequence_count)
    NOTE(map->circuit_rows, map->circuit_row_count)
    NOTE(map->opens, map->opens_count)
    NOTE(map->consumables, map->consumable_count)
    NOTE(map->cautions, map->caution_count)
#undef NOTE
    return status;
}

static lb_status take_sources(struct lock_maker *m)
{
    lb_status status = note_map(m);
    for (size_t i = 0; !status && i < m->sources.count; i++) {
        struct lb_lock_source source;
        status = lock_copy(m, m->sources.at[i], &source.name);
        if (!status)
            status = lock_fingerprint(&source.fingerprint, &m->lock->texts, m->store, source.name, m->err);
        if (!status && source.fingerprint && !LB_PUSH(&m->lock->sources, source))
            status = lb_fail_nomem(m->err);
    }
    if (m->lock->sources.count)
        qsort(m->lock->sources.at, m->lock->sources.count, sizeof *m->lock->sources.at, by_name);
    return status;
}

lb_status lb_lock_make(struct lb_kit_lock *out, struct lb_store *store, const struct lb_kit *kit,
                       int32_t today, struct lb_error *err)
{
    static lb_status (*const stages[])(struct lock_maker *) = {
        take_vehicle,       take_wants,     lock_take_lines, lock_take_fastenings,
        lock_take_circuits, lock_take_work, take_sources,
    };
    struct lock_maker m = {.lock = out, .store = store, .kit = kit, .map = kit->plan->map, .err = err};
    lb_status status = LB_OK;
    *out = (struct lb_kit_lock){.locked = today};
    ((struct build *)kit)->err = err; /* its first member; the one it was opened with may be gone */
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](&m);
    lb_names_free(&m.sources);
    if (status)
        lb_lock_free(out);
    return status;
}
