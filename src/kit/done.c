#include "kit/done.h"

#include "base/text.h"
#include "catalog/lookup.h"
#include "catalog/partkey.h"
#include "kit/kit.h"

#include <stdlib.h>
#include <string.h>

static const char *keep(struct lb_done *done, const char *text)
{
    return text ? lb_arena_text(&done->texts, text, strlen(text)) : NULL;
}

lb_status lb_done_begin(struct lb_done *done, struct lb_store *store, const struct lb_vehicle *vehicle,
                        struct lb_error *err)
{
    *done = (struct lb_done){.store = store, .vehicle = vehicle};
    lb_status status = lb_survey_make(&done->survey, store, vehicle, NULL, 0, err);
    if (!status)
        return lb_jobs_load(&done->jobs, store, vehicle, done->survey->platform, err);
    if (status != LB_DATA)
        return status;
    done->no_map = keep(done, lb_error_text(err));
    lb_error_free(err);
    return done->no_map ? LB_OK : lb_fail_nomem(err);
}

static lb_status add_component(struct lb_done *done, const char *name, struct lb_error *err)
{
    uint32_t id;
    return lb_names_add(&done->components, name, &id) ? LB_OK : lb_fail_nomem(err);
}

/* What is said twice was done once. */
static void add_words(struct lb_done *done, const char *name)
{
    uint32_t id;
    size_t before = done->said.count;
    bool added = lb_names_add(&done->said, name, &id);
    done->words.failed = done->words.failed || !added;
    if (added && done->said.count > before)
        lb_buf_printf(&done->words, "%s%s", done->words.length ? ", " : "", name);
}

static lb_status add_job(struct lb_done *done, const struct lb_job *job, struct lb_error *err)
{
    lb_status status = LB_OK;
    if (!job->targets.count)
        return lb_fail(err, LB_DATA,
                       "the job %s has nothing to do on %s: none of its rows applies to this vehicle.",
                       job->name, done->vehicle->name);
    for (size_t i = 0; !status && i < job->targets.count; i++)
        if (!job->targets.at[i].refit)
            status = add_component(done, job->targets.at[i].name, err);
    return status;
}

static bool is_among(const char *const *names, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(names[i], name) == 0)
            return true;
    return false;
}

/* Names the nearest of all jobs, components and circuits. */
static lb_status refuse_unknown(const struct lb_done *done, const char *name, struct lb_error *err)
{
    const struct lb_map *map = &done->survey->map;
    struct lb_buf near = {0};
    struct lb_names all = {0};
    uint32_t id;
    bool made = true;
    for (size_t i = 0; i < done->jobs.items.count; i++)
        made = lb_names_add(&all, done->jobs.items.at[i].name, &id) && made;
    for (size_t i = 0; i < map->component_count; i++)
        made = lb_names_add(&all, map->components[i], &id) && made;
    for (size_t i = 0; i < map->circuit_count; i++)
        made = lb_names_add(&all, map->circuits[i], &id) && made;
    if (!made)
        lb_fail_nomem(err);
    else if (all.count && lb_text_nearest(&near, name, all.at, all.count))
        lb_fail(err, LB_DATA, "%s has no job, component or circuit \"%s\". Did you mean %s?",
                done->survey->platform, name, lb_buf_text(&near));
    else
        lb_fail(err, LB_DATA,
                "%s has no job, component or circuit \"%s\". What else was done goes into --note TEXT.",
                done->survey->platform, name);
    lb_buf_free(&near);
    lb_names_free(&all);
    return made ? LB_DATA : LB_NOMEM;
}

static lb_status add_folded(struct lb_done *done, const char *folded, const char *name, struct lb_error *err)
{
    const struct lb_job *job = lb_jobs_find(&done->jobs, folded);
    const struct lb_map *map = done->survey ? &done->survey->map : NULL;
    if (!*folded)
        return lb_fail(err, LB_DATA, "--done needs the name of a job or component.");
    if (map && !job && !is_among(map->components, map->component_count, folded) &&
        !is_among(map->circuits, map->circuit_count, folded))
        return refuse_unknown(done, name, err);
    add_words(done, folded);
    return job ? add_job(done, job, err) : add_component(done, folded, err);
}

lb_status lb_done_name(struct lb_done *done, const char *name, struct lb_error *err)
{
    struct lb_buf folded = {0};
    lb_text_fold(&folded, name);
    lb_status status = folded.failed ? lb_fail_nomem(err) : add_folded(done, lb_buf_text(&folded), name, err);
    if (!status && done->words.failed)
        status = lb_fail_nomem(err);
    lb_buf_free(&folded);
    return status;
}

static lb_status add_targets(struct lb_done *done, const struct lb_kit *kit, struct lb_error *err)
{
    const struct lb_survey *survey = kit->survey;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < survey->target_count; i++) {
        const struct lb_target *target = &survey->targets[i];
        if (target->refit || target->thing.id == LB_NO_NAME)
            continue;
        status = add_component(
            done,
            (target->thing.is_circuit ? survey->map.circuits : survey->map.components)[target->thing.id],
            err);
    }
    return status;
}

static lb_status add_part(struct lb_done *done, const char *brand, const char *number, int64_t quantity,
                          const char *unit, const char *batch, struct lb_error *err)
{
    struct lb_log_part part = {.brand = keep(done, brand),
                               .number = keep(done, number),
                               .unit = keep(done, unit),
                               .batch = keep(done, batch),
                               .quantity = quantity};
    if (!part.brand || !part.number || (unit && !part.unit) || (batch && !part.batch) ||
        !LB_PUSH(&done->parts, part))
        return lb_fail_nomem(err);
    return LB_OK;
}

/* What of a line's part went in: less what came in boxes, which are parts of another line. */
static int64_t of_line(const struct lb_line *line)
{
    int64_t quantity = line->candidates[line->chosen].quantity;
    for (size_t i = 0; i < line->cover_count; i++)
        quantity -= line->covers[i].quantity;
    return quantity;
}

static lb_status add_line(struct lb_done *done, const struct lb_line *line, const char *batch,
                          struct lb_error *err)
{
    if (line->chosen == LB_NO_NAME || line->decision == LB_REUSE || line->decision == LB_DROP)
        return LB_OK;
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    int64_t quantity = of_line(line);
    lb_status status = quantity <= 0 ? LB_OK
                                     : add_part(done, chosen->part->brand, chosen->part->number, quantity,
                                                lb_part_unit(chosen->part), batch, err);
    for (size_t i = 0; quantity > 0 && !status && i < chosen->companion_count; i++) {
        const struct lb_companion *beside = &chosen->companions[i];
        status = add_part(done, beside->part->brand, beside->part->number, beside->quantity,
                          lb_part_unit(beside->part), batch, err);
    }
    return status;
}

static lb_status add_kit(struct lb_done *done, const struct lb_kit *kit, const char *batch, bool words,
                         struct lb_error *err)
{
    if (kit->vehicle.id != done->vehicle->id)
        return lb_fail(err, LB_DATA, "kit %s is for %s, not for %s.", kit->name, kit->vehicle.name,
                       done->vehicle->name);
    for (size_t i = 0; words && i < kit->want_count; i++)
        add_words(done, kit->wants[i].name);
    lb_status status = done->words.failed ? lb_fail_nomem(err) : add_targets(done, kit, err);
    for (size_t i = 0; !status && i < kit->line_count; i++)
        status = add_line(done, &kit->lines[i], batch, err);
    return status;
}

lb_status lb_done_kit(struct lb_done *done, const char *name, int32_t today, const char *batch, bool words,
                      struct lb_error *err)
{
    struct lb_kit *kit;
    lb_status status = lb_kit_open(&kit, done->store, name, today, err);
    if (status)
        return status;
    status = add_kit(done, kit, batch, words, err);
    lb_kit_free(kit);
    return status;
}

/* Does a catalogue know the part? */
static lb_status ask_catalogues(const struct lb_done *done, const char *brand, const char *number,
                                bool *known, struct lb_error *err)
{
    struct lb_lookup *lookup = NULL;
    struct lb_buf key = {0}, rows = {0};
    lb_part_key(&key, brand, number);
    lb_status status = key.failed ? lb_fail_nomem(err) : lb_lookup_open(&lookup, done->store, err);
    if (!status)
        status = lb_lookup_part(lookup, lb_buf_text(&key), &rows, err);
    *known = !status && strcmp(lb_buf_text(&rows), "[]") != 0;
    lb_lookup_close(lookup);
    lb_buf_free(&key);
    lb_buf_free(&rows);
    return status;
}

enum { SPLITS = 8 }; /* words of a brand that are tried */

/* Cuts `text` in two at the nth run of blanks; NULL: there is none. */
static char *cut(char *text, int n)
{
    char *at = text;
    for (;; n--) {
        at += strcspn(at, " \t");
        if (!at[strspn(at, " \t")])
            return NULL;
        if (n == 0)
            break;
        at += strspn(at, " \t");
    }
    size_t blanks = strspn(at, " \t");
    *at = '\0';
    return at + blanks;
}

static lb_status split(struct lb_done *done, const char *part, int at, const char **brand,
                       const char **number, struct lb_error *err)
{
    char *copy = lb_arena_text(&done->texts, part, strlen(part));
    if (!copy)
        return lb_fail_nomem(err);
    *brand = copy;
    *number = cut(copy, at);
    return LB_OK;
}

lb_status lb_done_part(struct lb_done *done, const char *part, const char *batch, bool *known,
                       struct lb_error *err)
{
    const char *brand = NULL, *number = NULL, *first_brand = NULL, *first_number = NULL;
    lb_status status = LB_OK;
    part += strspn(part, " \t");
    *known = false;
    for (int at = 0; !status && !*known && at < SPLITS; at++) {
        status = split(done, part, at, &brand, &number, err);
        if (status || !number)
            break;
        if (!at) {
            first_brand = brand;
            first_number = number;
        }
        status = ask_catalogues(done, brand, number, known, err);
    }
    if (!status && !first_number)
        return lb_fail(err, LB_DATA,
                       "name a part by brand and number in one: --part \"BRAND NUMBER\", not \"%s\".", part);
    if (!status && !*known) {
        brand = first_brand;
        number = first_number;
    }
    return status ? status : add_part(done, brand, number, 0, NULL, batch, err);
}

void lb_done_free(struct lb_done *done)
{
    lb_survey_free(done->survey);
    lb_jobs_free(&done->jobs);
    lb_names_free(&done->components);
    lb_names_free(&done->said);
    lb_arena_free(&done->texts);
    lb_buf_free(&done->words);
    free(done->parts.at);
    *done = (struct lb_done){0};
}
