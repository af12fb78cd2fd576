/* What goes by a name, stored: a kit of one vehicle, or a fleet with one for each. */
#include "base/text.h"
#include "kit/build.h"
#include "kit/fleet.h"

#include <stdlib.h>
#include <string.h>

/* One vehicle with all that is to be done to it. */
struct member {
    const struct lb_vehicle *vehicle;
    LB_VEC(struct lb_want) wants; /* the texts stay the caller's */
};

struct defining {
    struct lb_store *store;
    struct lb_error *err;
    const char *typed; /* the name as it was given */
    char *name;        /* as it is stored */
    int64_t fleet;     /* 0: none of that name */
    int64_t plain;     /* the kit that has the name itself; 0: none */
    LB_VEC(struct member) members;
    struct lb_buf word;
};

/* A statement with a text (NULL: none) as ?1 and numbers from ?2 on; NULL: d->err is filled. */
static struct lb_statement *prepare(struct defining *d, const char *sql, const char *text,
                                    const int64_t *numbers, int count)
{
    struct lb_statement *st;
    if (lb_store_prepare(d->store, &st, sql, d->err))
        return NULL;
    if (text)
        lb_bind_text(st, 1, text);
    for (int i = 0; i < count; i++)
        lb_bind_integer(st, 2 + i, numbers[i]);
    return st;
}

/* The same at its first row, if there is one. */
static struct lb_statement *ask(struct defining *d, const char *sql, const char *text, const int64_t *numbers,
                                int count, bool *row)
{
    struct lb_statement *st = prepare(d, sql, text, numbers, count);
    *row = false;
    if (!st || !lb_step(st, row, d->err))
        return st;
    lb_statement_free(st);
    return NULL;
}

static lb_status change(struct defining *d, const char *sql, const char *text, const int64_t *numbers,
                        int count)
{
    struct lb_statement *st = prepare(d, sql, text, numbers, count);
    if (!st)
        return d->err->status;
    lb_status status = lb_run(st, d->err);
    lb_statement_free(st);
    return status;
}

/* One that only asks which fleet. */
static lb_status change_fleet(struct defining *d, const char *sql)
{
    return change(d, sql, NULL, &d->fleet, 1);
}

/* Who has the name now. A fleet's kit cannot be built by itself: the fleet says what it is. */
static lb_status find_name(struct defining *d)
{
    bool row = false;
    lb_status status = LB_OK;
    struct lb_statement *st =
        ask(d,
            "SELECT f.name, NULL, f.id, 0, NULL FROM fleet f WHERE f.name = ?1 "
            "UNION ALL SELECT k.name, f.name, 0, k.id, v.name FROM kit k JOIN vehicle v ON v.id = k.vehicle "
            "LEFT JOIN fleet f ON f.id = k.fleet WHERE k.name = ?1",
            d->typed, NULL, 0, &row);
    if (!st)
        return d->err->status;
    if (row && lb_text(st, 1))
        status =
            lb_fail(d->err, LB_DATA,
                    "%s is the kit for %s in %s. Build %s again with all its vehicles, or choose another "
                    "name.",
                    lb_text(st, 0), lb_text(st, 4), lb_text(st, 1), lb_text(st, 1));
    if (row) {
        d->fleet = lb_integer(st, 2);
        d->plain = lb_integer(st, 3);
    }
    d->name = strdup(row ? lb_text(st, 0) : d->typed);
    lb_statement_free(st);
    return status || d->name ? status : lb_fail_nomem(d->err);
}

static lb_status gather(struct defining *d, const struct lb_fleet_part *parts, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t m = 0;
        while (m < d->members.count && d->members.at[m].vehicle->id != parts[i].vehicle->id)
            m++;
        if (m == d->members.count && !LB_PUSH(&d->members, (struct member){.vehicle = parts[i].vehicle}))
            return lb_fail_nomem(d->err);
        for (size_t w = 0; w < parts[i].want_count; w++)
            if (!LB_PUSH(&d->members.at[m].wants, parts[i].wants[w]))
                return lb_fail_nomem(d->err);
    }
    return LB_OK;
}

/* What was ordered or taken off the shelf for a kit hangs on it. */
static lb_status refuse_supplied(struct defining *d)
{
    bool row;
    struct lb_statement *st =
        ask(d,
            "SELECT k.name, v.name FROM kit k JOIN vehicle v ON v.id = k.vehicle WHERE k.fleet = ?2 "
            "AND k.place IS NULL AND EXISTS (SELECT 1 FROM supply s WHERE s.kit = k.id) ORDER BY k.id",
            NULL, &d->fleet, 1, &row);
    if (!st)
        return d->err->status;
    lb_status status =
        row ? lb_fail(
                  d->err, LB_DATA,
                  "parts were ordered, or taken off the shelf, for %s in %s. Name %s too, or choose another "
                  "name; nothing was changed.",
                  lb_text(st, 1), d->name, lb_text(st, 1))
            : LB_OK;
    lb_statement_free(st);
    return status;
}

/* Kits without a place were not named. An id may be given to another kit later, so what was shown for a set
 * of kits goes with any of them. */
static lb_status drop_unnamed(struct defining *d)
{
    lb_status status = refuse_supplied(d);
    if (!status)
        status = change_fleet(
            d, "DELETE FROM shown WHERE EXISTS (SELECT 1 FROM kit k WHERE k.fleet = ?2 AND k.place IS "
               "NULL AND instr(' ' || shown.kits || ' ', ' ' || k.id || ' ') > 0)");
    return status ? status : change_fleet(d, "DELETE FROM kit WHERE fleet = ?2 AND place IS NULL");
}

/* The kit for the vehicle may be called so: nobody else is. */
static lb_status refuse_taken(struct defining *d, const char *name, const struct lb_vehicle *vehicle)
{
    bool row;
    struct lb_statement *st = ask(d,
                                  "SELECT 1 FROM kit WHERE name = ?1 AND NOT (coalesce(fleet, 0) = ?2 AND "
                                  "vehicle = ?3) UNION ALL SELECT 1 FROM fleet WHERE name = ?1",
                                  name, (const int64_t[]){d->fleet, vehicle->id}, 2, &row);
    if (!st)
        return d->err->status;
    lb_statement_free(st);
    return row ? lb_fail(d->err, LB_DATA,
                         "the kit for %s would be called %s, and there is another one of that name. Choose "
                         "another name than %s.",
                         vehicle->name, name, d->name)
               : LB_OK;
}

static lb_status define_member(struct defining *d, size_t place)
{
    const struct member *member = &d->members.at[place];
    bool row = false;
    lb_buf_clear(&d->word);
    lb_buf_printf(&d->word, "%s/%s", d->name, member->vehicle->name);
    if (d->word.failed)
        return lb_fail_nomem(d->err);
    const char *name = lb_buf_text(&d->word);
    const int64_t numbers[] = {d->fleet, member->vehicle->id, (int64_t)place};
    lb_status status = refuse_taken(d, name, member->vehicle);
    if (!status)
        status = change(d, "UPDATE kit SET name = ?1, place = ?4 WHERE fleet = ?2 AND vehicle = ?3", name,
                        numbers, 3);
    if (!status)
        status =
            change(d,
                   "INSERT INTO kit (name, fleet, vehicle, place) SELECT ?1, ?2, ?3, ?4 WHERE NOT EXISTS "
                   "(SELECT 1 FROM kit WHERE fleet = ?2 AND vehicle = ?3)",
                   name, numbers, 3);
    struct lb_statement *st =
        status ? NULL
               : ask(d, "SELECT id FROM kit WHERE fleet = ?2 AND vehicle = ?3", NULL, numbers, 2, &row);
    if (!st)
        return d->err->status;
    int64_t id = row ? lb_integer(st, 0) : 0;
    lb_statement_free(st);
    return build_store_wants(d->store, id, member->wants.at, member->wants.count, d->err);
}

/* A kit that had the name becomes the fleet's kit for its vehicle. */
static lb_status define_fleet(struct defining *d)
{
    lb_status status = LB_OK;
    if (!d->fleet) {
        status = change(d, "INSERT INTO fleet (name) VALUES (?1)", d->name, NULL, 0);
        d->fleet = lb_store_last_id(d->store);
    }
    if (!status && d->plain)
        status = change(d, "UPDATE kit SET fleet = ?2 WHERE id = ?3", NULL,
                        (const int64_t[]){d->fleet, d->plain}, 2);
    if (!status)
        status = change_fleet(d, "UPDATE kit SET place = NULL WHERE fleet = ?2");
    for (size_t i = 0; !status && i < d->members.count; i++)
        status = define_member(d, i);
    return status ? status : drop_unnamed(d);
}

/* A fleet's kit for the vehicle becomes the one that has the name. */
static lb_status define_plain(struct defining *d)
{
    const struct member *only = &d->members.at[0];
    lb_status status = LB_OK;
    if (d->fleet) {
        status = change_fleet(d, "UPDATE kit SET place = NULL WHERE fleet = ?2");
        if (!status)
            status = change(d, "UPDATE kit SET name = ?1, fleet = NULL WHERE fleet = ?2 AND vehicle = ?3",
                            d->name, (const int64_t[]){d->fleet, only->vehicle->id}, 2);
        if (!status)
            status = drop_unnamed(d);
        if (!status)
            status = change_fleet(d, "DELETE FROM fleet WHERE id = ?2");
    }
    return status ? status
                  : build_define(d->store, d->name, only->vehicle, only->wants.at, only->wants.count, d->err);
}

static lb_status define(struct defining *d, const struct lb_fleet_part *parts, size_t count)
{
    lb_status status = find_name(d);
    if (!status)
        status = gather(d, parts, count);
    if (!status)
        status = d->members.count == 1 ? define_plain(d) : define_fleet(d);
    for (size_t i = 0; i < d->members.count; i++)
        free(d->members.at[i].wants.at);
    free(d->members.at);
    free(d->name);
    lb_buf_free(&d->word);
    return status;
}

lb_status lb_fleet_build(struct lb_fleet **out, struct lb_store *store, const char *name,
                         const struct lb_fleet_part *parts, size_t part_count, int32_t today,
                         struct lb_error *err)
{
    struct defining d = {.store = store, .err = err, .typed = name};
    *out = NULL;
    if (!*name)
        return lb_fail(err, LB_DATA, "a kit needs a name.");
    if (lb_text_name_refusal(name))
        return lb_fail(err, LB_DATA, "no kit can be called \"%.*s\": the name %s.", LB_FIT(name, 60),
                       lb_text_name_refusal(name));
    if (!part_count)
        return lb_fail(err, LB_DATA, "a kit needs a vehicle.");
    lb_status status = lb_store_begin(store, err);
    if (!status)
        status = define(&d, parts, part_count);
    if (!status)
        status = lb_fleet_open(out, store, name, today, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status) {
        lb_fleet_free(*out);
        *out = NULL;
        lb_store_rollback(store);
    }
    return status;
}

lb_status lb_kit_build(struct lb_kit **out, struct lb_store *store, const char *name,
                       const struct lb_vehicle *vehicle, const struct lb_want *wants, size_t want_count,
                       int32_t today, struct lb_error *err)
{
    const struct lb_fleet_part part = {vehicle, wants, want_count};
    struct lb_fleet *fleet;
    lb_status status = lb_fleet_build(&fleet, store, name, &part, 1, today, err);
    *out = status ? NULL : lb_fleet_take(fleet);
    return status;
}
