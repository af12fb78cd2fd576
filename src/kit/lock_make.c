/* A kit as it is now, as a lock. */
#include "base/decimal.h"
#include "kit/build.h"
#include "kit/lock_text.h"

#include <stdlib.h>
#include <string.h>

struct maker {
    struct lb_kit_lock *lock;
    struct lb_store *store;
    const struct lb_kit *kit;
    const struct lb_map *map;
    struct lb_names sources;
    struct lb_error *err;
};

static lb_status copy(struct maker *m, const char *text, const char **out)
{
    *out = text ? lb_arena_text(&m->lock->texts, text, strlen(text)) : NULL;
    return text && !*out ? lb_fail_nomem(m->err) : LB_OK;
}

struct pair {
    const char *from, **to;
};

static lb_status copy_all(struct maker *m, const struct pair *pairs, size_t count)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = copy(m, pairs[i].from, pairs[i].to);
    return status;
}
#define COPY(m, ...)                                                                                         \
    copy_all(m, (const struct pair[]){__VA_ARGS__},                                                          \
             sizeof((const struct pair[]){__VA_ARGS__}) / sizeof(struct pair))

/* As large as a quantity may be in a text (base/decimal.h). */
static int64_t bounded(int64_t quantity)
{
    const int64_t most = 9000000000000 * LB_MILLION;
    return quantity > most ? most : quantity < -most ? -most : quantity;
}

static lb_status take_vehicle(struct maker *m)
{
    const struct lb_vehicle *vehicle = &m->kit->vehicle;
    struct lb_kit_lock *lock = m->lock;
    lb_status status =
        COPY(m, {m->kit->name, &lock->kit}, {vehicle->name, &lock->vehicle}, {vehicle->make, &lock->make},
             {vehicle->model, &lock->model}, {vehicle->built, &lock->built}, {vehicle->vin, &lock->vin},
             {m->kit->survey->platform, &lock->platform});
    for (size_t i = 0; !status && i < vehicle->facts.count; i++) {
        struct lb_lock_fact fact;
        status = COPY(m, {vehicle->facts.at[i].key, &fact.key}, {vehicle->facts.at[i].value, &fact.value});
        if (!status && !LB_PUSH(&lock->facts, fact))
            status = lb_fail_nomem(m->err);
    }
    return status;
}

static lb_status take_words(struct maker *m, struct lb_buf *words, const char **out)
{
    lb_status status = words->failed ? lb_fail_nomem(m->err) : copy(m, lb_buf_text(words), out);
    lb_buf_free(words);
    return status;
}

static lb_status take_wants(struct maker *m)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < m->kit->want_count; i++) {
        struct lb_buf words = {0};
        const char *text;
        lb_buf_printf(&words, "%s %s", m->kit->wants[i].kind == LB_WANT_JOB ? "job" : "replace",
                      m->kit->wants[i].name);
        status = take_words(m, &words, &text);
        if (!status && !LB_PUSH(&m->lock->wants, text))
            status = lb_fail_nomem(m->err);
    }
    return status;
}

static lb_status note_source(struct maker *m, const char *name)
{
    uint32_t id;
    return !name || lb_names_add(&m->sources, name, &id) ? LB_OK : lb_fail_nomem(m->err);
}

/* The parts row, the row that makes it fit, and the offers' rows. */
static lb_status note_part(struct maker *m, const struct lb_candidate *chosen)
{
    lb_status status = note_source(m, chosen->part->place.file);
    if (!status)
        status = note_source(m, chosen->place.file);
    for (size_t i = 0; !status && i < chosen->part->offer_count; i++)
        if (chosen->part->offers[i].live)
            status = note_source(m, chosen->part->offers[i].place.file);
    return status;
}

static lb_status add_place(struct maker *m, struct lb_lock_line *line, const char *component,
                           const char *item)
{
    struct lb_lock_place place;
    for (size_t i = 0; i < line->places.count; i++)
        if (strcmp(line->places.at[i].component, component) == 0 &&
            strcmp(line->places.at[i].item ? line->places.at[i].item : "", item ? item : "") == 0)
            return LB_OK;
    lb_status status = COPY(m, {component, &place.component}, {item, &place.item});
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

static lb_status take_places(struct maker *m, struct lb_lock_line *line, const struct lb_need *need)
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

static lb_status take_line(struct maker *m, const struct lb_line *from)
{
    const struct lb_need *need = from->need;
    struct lb_lock_line line = {.quantity = bounded(need->article.quantity),
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
    lb_status status = COPY(m, {need->key, &kept->key}, {need->article.part_type, &kept->part_type},
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

static lb_status take_lines(struct maker *m)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < m->kit->line_count; i++)
        status = take_line(m, &m->kit->lines[i]);
    if (m->lock->lines.count)
        qsort(m->lock->lines.at, m->lock->lines.count, sizeof *m->lock->lines.at, by_line);
    return status;
}

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

static lb_status take_fastening(struct maker *m, const struct lb_map_fastening *row)
{
    struct lb_lock_fastening fastening = {.quantity = bounded(row->article.quantity),
                                          .reuse = row->reuse,
                                          .torque = row->torque ? bounded(row->torque) : LB_LOCK_UNSAID,
                                          .angle = row->angle ? bounded(row->angle) : LB_LOCK_UNSAID};
    lb_status status = COPY(m, {m->map->components[row->component], &fastening.component},
                            {row->item, &fastening.item}, {row->article.part_type, &fastening.part_type},
                            {row->article.spec.text, &fastening.spec}, {row->article.unit, &fastening.unit});
    if (status)
        return status;
    return LB_PUSH(&m->lock->fastenings, fastening) ? LB_OK : lb_fail_nomem(m->err);
}

/* Those that the job disturbs (formats.md §3.3), also what goes back: its torque matters on the day. */
static lb_status take_fastenings(struct maker *m)
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

static lb_status take_circuit(struct maker *m, const struct lb_map_circuit *row)
{
    struct lb_lock_circuit circuit = {
        .capacity = bounded(row->fluid.quantity),
        .mix = row->mix < 0 ? LB_LOCK_UNSAID : bounded(row->mix),
        .freeze_to = row->has_freeze_to ? bounded(row->freeze_to) : LB_LOCK_UNSAID,
    };
    lb_status status =
        COPY(m, {m->map->circuits[row->circuit], &circuit.circuit}, {row->fluid.part_type, &circuit.fluid},
             {row->fluid.spec.text, &circuit.spec}, {row->diluent.part_type, &circuit.diluent});
    if (status)
        return status;
    return LB_PUSH(&m->lock->circuits, circuit) ? LB_OK : lb_fail_nomem(m->err);
}

static lb_status take_circuits(struct maker *m)
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

static lb_status take_step(struct maker *m, const struct lb_step *step)
{
    struct lb_buf words = {0};
    const char *text;
    lb_buf_printf(&words, "%s %s", step->verb,
                  (step->thing.is_circuit ? m->map->circuits : m->map->components)[step->thing.id]);
    lb_status status = take_words(m, &words, &text);
    if (status)
        return status;
    return LB_PUSH(&m->lock->steps, text) ? LB_OK : lb_fail_nomem(m->err);
}

static lb_status take_work(struct maker *m)
{
    const struct lb_plan *plan = m->kit->plan;
    const char *text;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < plan->caution_count; i++) {
        status = copy(m, plan->cautions[i], &text);
        if (!status && !LB_PUSH(&m->lock->cautions, text))
            status = lb_fail_nomem(m->err);
    }
    for (size_t i = 0; !status && i < plan->step_count; i++)
        status = take_step(m, &plan->steps[i]);
    for (size_t i = 0; !status && i < plan->question_count; i++) {
        status = copy(m, m->map->facts[plan->questions[i].fact], &text);
        if (!status && !LB_PUSH(&m->lock->questions, text))
            status = lb_fail_nomem(m->err);
    }
    return status;
}

static int by_name(const void *left, const void *right)
{
    return strcmp(((const struct lb_lock_source *)left)->name, ((const struct lb_lock_source *)right)->name);
}

static lb_status note_row(struct maker *m, const struct lb_row *row)
{
    return row->source == LB_NO_NAME ? LB_OK : note_source(m, m->map->sources[row->source]);
}

/* The files whose rows apply: another edition of one of them may say something else. */
static lb_status note_map(struct maker *m)
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

static lb_status take_sources(struct maker *m)
{
    lb_status status = note_map(m);
    for (size_t i = 0; !status && i < m->sources.count; i++) {
        struct lb_lock_source source;
        status = copy(m, m->sources.at[i], &source.name);
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
    static lb_status (*const stages[])(struct maker *) = {
        take_vehicle, take_wants, take_lines, take_fastenings, take_circuits, take_work, take_sources,
    };
    struct maker m = {.lock = out, .store = store, .kit = kit, .map = kit->plan->map, .err = err};
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
