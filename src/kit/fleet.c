/* What goes by a name, opened: the kits of a fleet, or the one kit. */
#include "kit/fleet.h"

#include "kit/build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MEMBERS_SHOWN = 6 }; /* in a message */

struct opened {
    struct lb_fleet fleet; /* first: what is handed out */
    char *name;
    LB_VEC(struct lb_kit *) kits;
    LB_VEC(int) before;
};

/* The id and the name as it is stored; *id 0: no fleet has the name. `own` may be NULL; else it is the
 * caller's to free. */
static lb_status find(struct lb_store *store, const char *name, int64_t *id, char **own, struct lb_error *err)
{
    struct lb_statement *st;
    bool row = false;
    *id = 0;
    lb_status status = lb_store_prepare(store, &st, "SELECT id, name FROM fleet WHERE name = ?1", err);
    if (status)
        return status;
    lb_bind_text(st, 1, name);
    status = lb_step(st, &row, err);
    if (!status && row) {
        *id = lb_integer(st, 0);
        if (own && !(*own = strdup(lb_text(st, 1))))
            status = lb_fail_nomem(err);
    }
    lb_statement_free(st);
    return status;
}

static lb_status list_members(struct lb_names *out, struct lb_store *store, int64_t id, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    uint32_t known;
    lb_status status =
        lb_store_prepare(store, &st, "SELECT name FROM kit WHERE fleet = ?1 ORDER BY place, id", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, id);
    while (!(status = lb_step(st, &row, err)) && row)
        if (!lb_names_add(out, lb_text(st, 0), &known)) {
            status = lb_fail_nomem(err);
            break;
        }
    lb_statement_free(st);
    return status;
}

/* A kit that cannot be worked out says why; a fleet's also which. */
static lb_status say_which(struct lb_error *err, const char *kit)
{
    lb_status status = err->status;
    char *words = status == LB_NOMEM || !err->words ? NULL : strdup(err->words);
    if (words)
        lb_fail(err, status, "%s: %s", kit, words);
    free(words);
    return status;
}

static lb_status add_kit(struct opened *o, struct lb_store *store, const char *name, int32_t today,
                         struct lb_error *err)
{
    struct lb_kit *kit;
    lb_status status = lb_kit_open(&kit, store, name, today, err);
    if (status)
        return o->fleet.single ? status : say_which(err, name);
    if (!LB_PUSH(&o->kits, kit)) {
        lb_kit_free(kit);
        return lb_fail_nomem(err);
    }
    if (!LB_PUSH(&o->before, o->fleet.line_count))
        return lb_fail_nomem(err);
    o->fleet.line_count += (int)kit->line_count;
    return LB_OK;
}

static lb_status open_all(struct opened *o, struct lb_store *store, const char *name, int32_t today,
                          struct lb_error *err)
{
    struct lb_names names = {0};
    lb_status status = find(store, name, &o->fleet.id, &o->name, err);
    o->fleet.single = !o->fleet.id;
    if (!status && !o->fleet.single)
        status = list_members(&names, store, o->fleet.id, err);
    if (!status && o->fleet.single)
        status = add_kit(o, store, name, today, err);
    for (size_t i = 0; !status && i < names.count; i++)
        status = add_kit(o, store, names.at[i], today, err);
    lb_names_free(&names);
    if (!status && !o->kits.count)
        status = lb_store_refuse_damaged(store, err); /* a fleet has kits */
    return status;
}

lb_status lb_fleet_open(struct lb_fleet **out, struct lb_store *store, const char *name, int32_t today,
                        struct lb_error *err)
{
    bool held = false;
    *out = NULL;
    struct opened *o = calloc(1, sizeof *o);
    if (!o)
        return lb_fail_nomem(err);
    lb_status status = lb_store_hold(store, &held, err);
    if (!status)
        status = open_all(o, store, name, today, err);
    lb_store_release(store, held);
    o->fleet.kits = o->kits.at;
    o->fleet.kit_count = o->kits.count;
    o->fleet.before = o->before.at;
    if (status) {
        lb_fleet_free(&o->fleet);
        return status;
    }
    o->fleet.name = o->fleet.single ? o->kits.at[0]->name : o->name;
    *out = &o->fleet;
    return LB_OK;
}

void lb_fleet_free(struct lb_fleet *fleet)
{
    struct opened *o = (struct opened *)fleet; /* its first member */
    for (size_t i = 0; o && i < o->kits.count; i++)
        lb_kit_free(o->kits.at[i]);
    if (!o)
        return;
    free(o->kits.at);
    free(o->before.at);
    free(o->name);
    free(o);
}

struct lb_kit *lb_fleet_take(struct lb_fleet *fleet)
{
    struct opened *o = (struct opened *)fleet; /* its first member */
    struct lb_kit *kit = o->kits.at[--o->kits.count];
    lb_fleet_free(fleet);
    return kit;
}

int lb_fleet_number(const struct lb_fleet *fleet, size_t kit, int line)
{
    return fleet->before[kit] + line;
}

const struct lb_line *lb_fleet_line(const struct lb_fleet *fleet, long number, size_t *kit,
                                    struct lb_error *err)
{
    if (fleet->single) {
        *kit = 0;
        return lb_kit_line(fleet->kits[0], number, err);
    }
    for (size_t k = fleet->kit_count; number >= 1 && number <= fleet->line_count && k-- > 0;)
        if (number > fleet->before[k]) {
            *kit = k;
            return lb_kit_line(fleet->kits[k], number - fleet->before[k], err);
        }
    lb_fail(err, LB_DATA, "%s has no line %ld; its lines are 1 to %d over all its vehicles.", fleet->name,
            number, fleet->line_count);
    return NULL;
}

size_t lb_fleet_gap_count(const struct lb_fleet *fleet)
{
    size_t count = 0;
    for (size_t k = 0; k < fleet->kit_count; k++)
        count += fleet->kits[k]->gap_count;
    return count;
}

lb_status lb_fleet_is(struct lb_store *store, const char *name, bool *is, struct lb_error *err)
{
    int64_t id;
    lb_status status = find(store, name, &id, NULL, err);
    *is = !status && id;
    return status;
}

lb_status lb_fleet_names(struct lb_names *out, struct lb_store *store, const char *const *names, size_t count,
                         struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++) {
        int64_t id;
        uint32_t known;
        status = find(store, names[i], &id, NULL, err);
        if (!status && id)
            status = list_members(out, store, id, err);
        else if (!status && !lb_names_add(out, names[i], &known))
            status = lb_fail_nomem(err);
    }
    return status;
}

lb_status lb_fleet_refuse(struct lb_store *store, const char *name, struct lb_error *err)
{
    struct lb_names names = {0};
    struct lb_buf words = {0};
    char *own = NULL;
    int64_t id;
    lb_status status = find(store, name, &id, &own, err);
    if (!status && id)
        status = list_members(&names, store, id, err);
    for (size_t i = 0; i < names.count && i < MEMBERS_SHOWN; i++)
        lb_buf_printf(&words, "%s%s", i ? ", " : "", names.at[i]);
    if (names.count > MEMBERS_SHOWN)
        lb_buf_printf(&words, " and %zu more", names.count - MEMBERS_SHOWN);
    if (!status && id)
        status = words.failed ? lb_fail_nomem(err)
                              : lb_fail(err, LB_DATA, "%s is a kit of %zu vehicle%s; name one: %s", own,
                                        names.count, names.count == 1 ? "" : "s", lb_buf_text(&words));
    lb_names_free(&names);
    lb_buf_free(&words);
    free(own);
    return status;
}
