#include "garage/service_log.h"
#include "base/shell.h"
#include "catalog/partkey.h"

#include <stdlib.h>
#include <string.h>

static lb_status read_components(struct lb_log *log, struct lb_log_entry *entry, struct lb_statement *st,
                                 struct lb_error *err)
{
    LB_VEC(const char *) names = {0};
    bool row;
    lb_status status;
    lb_bind_integer(st, 1, entry->id);
    while (!(status = lb_step(st, &row, err)) && row) {
        const char *name = NULL;
        if ((status = lb_keep_text(st, 0, &log->texts, &name, err)))
            break;
        if (!LB_PUSH(&names, name)) {
            status = lb_fail_nomem(err);
            break;
        }
    }
    const char **kept = status ? NULL : lb_arena_alloc(&log->texts, (names.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(err);
    if (!status && names.count)
        memcpy(kept, names.at, names.count * sizeof *kept);
    entry->components = kept;
    entry->component_count = status ? 0 : names.count;
    free(names.at);
    return status;
}

static lb_status read_part(struct lb_log *log, struct lb_log_part *part, struct lb_statement *st,
                           struct lb_error *err)
{
    const char **texts[] = {&part->brand, &part->number, &part->unit, &part->batch};
    lb_status status = lb_need_texts(st, 0, 2, err);
    for (int i = 0; !status && i < 4; i++)
        status = lb_keep_text(st, i, &log->texts, texts[i], err);
    part->quantity = lb_integer(st, 4);
    return status;
}

static lb_status read_parts(struct lb_log *log, struct lb_log_entry *entry, struct lb_statement *st,
                            struct lb_error *err)
{
    LB_VEC(struct lb_log_part) parts = {0};
    bool row;
    lb_status status;
    lb_bind_integer(st, 1, entry->id);
    while (!(status = lb_step(st, &row, err)) && row) {
        struct lb_log_part part;
        if ((status = read_part(log, &part, st, err)))
            break;
        if (!LB_PUSH(&parts, part)) {
            status = lb_fail_nomem(err);
            break;
        }
    }
    struct lb_log_part *kept = status ? NULL : lb_arena_alloc(&log->texts, (parts.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(err);
    if (!status && parts.count)
        memcpy(kept, parts.at, parts.count * sizeof *kept);
    entry->parts = kept;
    entry->part_count = status ? 0 : parts.count;
    free(parts.at);
    return status;
}

static lb_status read_entry(struct lb_log *log, struct lb_statement *st, struct lb_error *err)
{
    struct lb_log_entry entry = {.id = lb_integer(st, 0),
                                 .day = (int32_t)lb_integer(st, 1),
                                 .has_km = !lb_is_null(st, 2),
                                 .km = lb_integer(st, 2),
                                 .swapped = lb_integer(st, 3) != 0};
    const char **texts[] = {&entry.done, &entry.kit, &entry.note};
    lb_status status = LB_OK;
    for (int i = 0; !status && i < 3; i++)
        status = lb_keep_text(st, 4 + i, &log->texts, texts[i], err);
    if (status)
        return status;
    return LB_PUSH(&log->entries, entry) ? LB_OK : lb_fail_nomem(err);
}

static lb_status read_entries(struct lb_log *log, struct lb_store *store, int64_t vehicle,
                              struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        store, &st,
        "SELECT id, day, km, swapped, done, kit, note FROM log WHERE vehicle = ?1 ORDER BY day, id", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, vehicle);
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = read_entry(log, st, err)))
            break;
    lb_statement_free(st);
    return status;
}

lb_status lb_log_load(struct lb_log *out, struct lb_store *store, int64_t vehicle, struct lb_error *err)
{
    struct lb_statement *components = NULL, *parts = NULL;
    *out = (struct lb_log){0};
    lb_status status = read_entries(out, store, vehicle, err);
    if (!status)
        status = lb_store_prepare(
            store, &components, "SELECT component FROM log_component WHERE log = ?1 ORDER BY component", err);
    if (!status)
        status = lb_store_prepare(
            store, &parts,
            "SELECT brand, part_number, unit, batch, quantity FROM log_part WHERE log = ?1 ORDER BY id", err);
    for (size_t i = 0; !status && i < out->entries.count; i++) {
        status = read_components(out, &out->entries.at[i], components, err);
        if (!status)
            status = read_parts(out, &out->entries.at[i], parts, err);
    }
    lb_statement_free(components);
    lb_statement_free(parts);
    if (status)
        lb_log_free(out);
    return status;
}

void lb_log_free(struct lb_log *log)
{
    free(log->entries.at);
    lb_arena_free(&log->texts);
    *log = (struct lb_log){0};
}

static lb_status write_line(struct lb_store *store, int64_t vehicle, struct lb_log_entry *entry,
                            struct lb_error *err)
{
    struct lb_statement *st;
    const char *const texts[] = {entry->done, entry->kit, entry->note};
    lb_status status = lb_store_prepare(store, &st,
                                        "INSERT INTO log (vehicle, day, km, swapped, done, kit, note) "
                                        "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                                        err);
    if (status)
        return status;
    lb_bind_integer(st, 1, vehicle);
    lb_bind_integer(st, 2, entry->day);
    if (entry->has_km)
        lb_bind_integer(st, 3, entry->km);
    else
        lb_bind_null(st, 3);
    lb_bind_integer(st, 4, entry->swapped);
    for (int i = 0; i < 3; i++)
        lb_bind_text(st, 5 + i, texts[i]);
    status = lb_run(st, err);
    lb_statement_free(st);
    if (!status)
        entry->id = lb_store_last_id(store);
    return status;
}

static lb_status write_components(struct lb_store *store, const struct lb_log_entry *entry,
                                  struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(
        store, &st, "INSERT OR IGNORE INTO log_component (log, component) VALUES (?1, ?2)", err);
    for (size_t i = 0; !status && i < entry->component_count; i++) {
        lb_bind_integer(st, 1, entry->id);
        lb_bind_text(st, 2, entry->components[i]);
        status = lb_run(st, err);
    }
    lb_statement_free(st);
    return status;
}

static lb_status write_part(struct lb_statement *st, int64_t log, const struct lb_log_part *part,
                            struct lb_error *err)
{
    struct lb_buf key = {0};
    lb_part_key(&key, part->brand, part->number);
    const char *const texts[] = {lb_buf_text(&key), part->brand, part->number, part->unit, part->batch};
    lb_bind_integer(st, 1, log);
    for (int i = 0; i < 5; i++)
        lb_bind_text(st, 2 + i, texts[i]);
    if (part->unit)
        lb_bind_integer(st, 7, part->quantity);
    else
        lb_bind_null(st, 7);
    lb_status status = key.failed ? lb_fail_nomem(err) : lb_run(st, err);
    lb_buf_free(&key);
    return status;
}

static lb_status write_parts(struct lb_store *store, const struct lb_log_entry *entry, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status =
        lb_store_prepare(store, &st,
                         "INSERT INTO log_part (log, part, brand, part_number, unit, batch, quantity) "
                         "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                         err);
    for (size_t i = 0; !status && i < entry->part_count; i++)
        status = write_part(st, entry->id, &entry->parts[i], err);
    lb_statement_free(st);
    return status;
}

/* One day that is off by a century would spoil the rate of all others. */
lb_status lb_log_judge_day(const struct lb_vehicle *vehicle, int32_t day, struct lb_error *err)
{
    struct lb_buf words = {0}, name = {0};
    if (!vehicle->built || day >= vehicle->interval.first)
        return LB_OK;
    lb_date_print(&words, day);
    lb_shell_word(&name, vehicle->name);
    lb_status status =
        words.failed || name.failed
            ? lb_fail_nomem(err)
            : lb_fail(err, LB_DATA,
                      "%s was not built yet on %s, by what is known of it: built %s. If that is "
                      "wrong: lastbolt vehicle set %s built=DATE",
                      vehicle->name, words.text, vehicle->built, name.text);
    lb_buf_free(&words);
    lb_buf_free(&name);
    return status;
}

lb_status lb_log_add(struct lb_store *store, int64_t vehicle, struct lb_log_entry *entry,
                     struct lb_error *err)
{
    lb_status status = lb_store_begin(store, err);
    if (!status)
        status = write_line(store, vehicle, entry, err);
    if (!status)
        status = write_components(store, entry, err);
    if (!status)
        status = write_parts(store, entry, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}

static lb_status refuse_no_line(int64_t id, const char *name, struct lb_error *err)
{
    struct lb_buf word = {0};
    return lb_shell_failed(&word,
                           lb_fail(err, LB_DATA,
                                   "the log of %s has no line %lld. See its numbers with: lastbolt log %s",
                                   name, (long long)id, lb_shell_word(&word, name)),
                           err);
}

lb_status lb_log_drop(struct lb_store *store, int64_t vehicle, const char *name, int64_t id,
                      struct lb_error *err)
{
    struct lb_statement *st;
    bool row = false;
    lb_status status =
        lb_store_prepare(store, &st, "DELETE FROM log WHERE id = ?1 AND vehicle = ?2 RETURNING id", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, id);
    lb_bind_integer(st, 2, vehicle);
    status = lb_step(st, &row, err);
    lb_statement_free(st);
    return status || row ? status : refuse_no_line(id, name, err);
}
