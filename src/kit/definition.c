/* A kit as the owner stated it: its name, vehicle, jobs and decisions. */
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "kit/build.h"
#include "kit/fleet.h"
#include "store/unknown.h"

#include <stdlib.h>
#include <string.h>

/* Runs one statement without rows. Texts bind first, then numbers. */
static lb_status run(struct lb_store *store, const char *sql, const char *const *texts, int text_count,
                     int64_t number, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(store, &st, sql, err);
    if (status)
        return status;
    for (int i = 0; i < text_count; i++)
        lb_bind_text(st, i + 1, texts[i]);
    lb_bind_integer(st, text_count + 1, number);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}

lb_status build_store_wants(struct lb_store *store, int64_t kit, const struct lb_want *wants, size_t count,
                            struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = run(store, "DELETE FROM kit_target WHERE kit = ?1", NULL, 0, kit, err);
    if (!status)
        status = lb_store_prepare(
            store, &st, "INSERT INTO kit_target (kit, \"order\", kind, name) VALUES (?, ?, ?, ?)", err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < count; i++) {
        lb_bind_integer(st, 1, kit);
        lb_bind_integer(st, 2, (int64_t)i);
        lb_bind_text(st, 3, wants[i].kind == LB_WANT_JOB ? "job" : "replace");
        lb_bind_text(st, 4, wants[i].name);
        status = lb_run(st, err);
    }
    lb_statement_free(st);
    return status;
}

static lb_status kit_id(struct lb_store *store, const char *name, int64_t *id, struct lb_error *err)
{
    struct lb_statement *st;
    bool row = false;
    lb_status status = lb_store_prepare(store, &st, "SELECT id FROM kit WHERE name = ?", err);
    if (status)
        return status;
    lb_bind_text(st, 1, name);
    status = lb_step(st, &row, err);
    *id = row ? lb_integer(st, 0) : 0;
    lb_statement_free(st);
    return status;
}

/* The same name again is a new definition; the decisions stay. */
lb_status build_define(struct lb_store *store, const char *name, const struct lb_vehicle *vehicle,
                       const struct lb_want *wants, size_t want_count, struct lb_error *err)
{
    int64_t id = 0;
    lb_status status =
        run(store,
            "INSERT INTO kit (name, vehicle) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET vehicle = ?2",
            &name, 1, vehicle->id, err);
    if (!status)
        status = kit_id(store, name, &id, err);
    return status ? status : build_store_wants(store, id, wants, want_count, err);
}

lb_status lb_kit_each(struct lb_store *store,
                      lb_status (*each)(void *, const char *name, const char *vehicle, const char *targets),
                      void *context, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        store, &st,
        "SELECT k.name, v.name, coalesce((SELECT group_concat(t.name, ', ') FROM (SELECT name FROM "
        "kit_target WHERE kit = k.id ORDER BY \"order\") t), '') "
        "FROM kit k JOIN vehicle v ON v.id = k.vehicle WHERE k.fleet IS NULL UNION ALL "
        "SELECT f.name, (SELECT group_concat(m.name, ', ') FROM (SELECT v.name FROM kit k JOIN vehicle v "
        "ON v.id = k.vehicle WHERE k.fleet = f.id ORDER BY k.place) m), "
        "coalesce((SELECT group_concat(t.name, ', ') FROM (SELECT t.name FROM kit_target t JOIN kit k "
        "ON k.id = t.kit WHERE k.fleet = f.id GROUP BY t.name ORDER BY min(k.place), min(t.\"order\")) t), "
        "'') "
        "FROM fleet f ORDER BY 1",
        err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = each(context, lb_text(st, 0), lb_text(st, 1), lb_text(st, 2))))
            break;
    lb_statement_free(st);
    return status;
}

static lb_status read_wants(struct build *b)
{
    struct lb_statement *st;
    bool row;
    LB_VEC(struct lb_want) wants = {0};
    lb_status status = lb_store_prepare(
        b->store, &st, "SELECT kind, name FROM kit_target WHERE kit = ? ORDER BY \"order\"", b->err);
    if (status)
        return status;
    lb_bind_integer(st, 1, b->id);
    while (!(status = lb_step(st, &row, b->err)) && row) {
        struct lb_want want = {.kind = lb_text(st, 0)[0] == 'j' ? LB_WANT_JOB : LB_WANT_REPLACE};
        want.name = lb_arena_text(&b->arena, lb_text(st, 1), strlen(lb_text(st, 1)));
        if (!want.name || !LB_PUSH(&wants, want)) {
            status = lb_fail_nomem(b->err);
            break;
        }
    }
    lb_statement_free(st);
    struct lb_want *kept = lb_arena_alloc(&b->arena, (wants.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(b->err);
    if (!status && wants.count)
        memcpy(kept, wants.at, wants.count * sizeof *kept);
    b->kit.wants = kept;
    b->kit.want_count = wants.count;
    free(wants.at);
    return status;
}

lb_status build_definition(struct build *b, const char *name)
{
    struct lb_statement *st;
    bool row = false;
    lb_status status = lb_store_prepare(
        b->store, &st,
        "SELECT k.id, k.name, v.name FROM kit k JOIN vehicle v ON v.id = k.vehicle WHERE k.name = ?", b->err);
    if (status)
        return status;
    lb_bind_text(st, 1, name);
    status = lb_step(st, &row, b->err);
    if (!status && !row)
        status = lb_fleet_refuse(b->store, name, b->err);
    if (!status && !row)
        status = lb_store_refuse_unknown(
            b->store, "kit", name, "SELECT name FROM kit UNION SELECT name FROM fleet ORDER BY name",
            "Build it with: lastbolt kit build NAME --vehicle V --job J", b->err);
    if (!status) {
        b->id = lb_integer(st, 0);
        status = build_text(b, lb_text(st, 1), &b->kit.name);
    }
    if (!status)
        status = lb_vehicle_load(b->store, lb_text(st, 2), &b->kit.vehicle, b->err);
    lb_statement_free(st);
    return status ? status : read_wants(b);
}

lb_status build_take_part(struct build *b, struct line_build *line, const char *brand, const char *number,
                          enum lb_via via)
{
    uint32_t part;
    const struct application *row;
    lb_part_key(&b->scratch, brand, number);
    if (b->scratch.failed)
        return lb_fail_nomem(b->err);
    lb_status status = build_part(b, lb_buf_text(&b->scratch), brand, number, &part);
    if (status)
        return status;
    line->line.chosen = LB_NO_NAME;
    for (size_t i = 0; i < line->candidates.count; i++)
        if (line->candidates.at[i].part == &b->parts.at[part]->part)
            line->line.chosen = (uint32_t)i;
    if (line->line.chosen != LB_NO_NAME)
        return LB_OK;
    struct lb_candidate named = {.fit = build_own_fit(b->parts.at[part], line, &row),
                                 .via = via,
                                 .through = LB_NO_NAME,
                                 .place = b->parts.at[part]->part.place};
    b->parts.at[part]->seen = 0;
    return build_add(b, line, named, part, &line->line.chosen);
}

static enum lb_decision read_decision(const char *text)
{
    return text[0] == 'b' ? LB_BUY : text[0] == 'h' ? LB_HAVE : text[0] == 'r' ? LB_REUSE : LB_DROP;
}

lb_status build_decisions(struct build *b)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        b->store, &st,
        "SELECT decision, brand, part_number FROM kit_decision WHERE kit = ?1 AND line_key = ?2", b->err);
    for (size_t i = 0; !status && i < b->lines.count; i++) {
        struct line_build *line = &b->lines.at[i];
        lb_bind_integer(st, 1, b->id);
        lb_bind_text(st, 2, line->line.need->key);
        status = lb_step(st, &row, b->err);
        if (status || !row)
            continue;
        line->line.decided = true;
        line->line.decision = read_decision(lb_text(st, 0));
        line->line.named = !lb_is_null(st, 1);
        if (line->line.named)
            status = build_take_part(b, line, lb_text(st, 1), lb_text(st, 2), LB_VIA_OWNER);
        lb_statement_reset(st);
    }
    lb_statement_free(st);
    return status;
}

/* A catalogue listed the part once: that says more than that none knows it. */
static lb_status refuse_former(struct lb_store *store, const char *brand, const char *number,
                               struct lb_error *err)
{
    struct build *b = calloc(1, sizeof *b);
    if (!b)
        return lb_fail_nomem(err);
    b->store = store;
    b->err = err;
    lb_status status = build_suppliers(b);
    if (!status)
        status = build_refuse_former(b, brand, number);
    lb_kit_free(&b->kit);
    return status;
}

static lb_status refuse_unknown_part(struct lb_store *store, const char *brand, const char *number,
                                     struct lb_error *err)
{
    struct lb_buf key = {0}, rows = {0};
    struct lb_lookup *lookup = NULL;
    struct lb_statement *st = NULL;
    bool row = false;
    lb_part_key(&key, brand, number);
    lb_status status = key.failed ? lb_fail_nomem(err) : lb_lookup_open(&lookup, store, err);
    if (!status)
        status = lb_lookup_part(lookup, lb_buf_text(&key), &rows, err);
    if (!status)
        status = lb_store_prepare(
            store, &st,
            "SELECT 1" LB_PLACED(
                "parts") "WHERE r.id IN (SELECT value FROM json_each(?1)) "
                         "UNION ALL SELECT 1" LB_PLACED(
                             "offers") "WHERE r.id IN (SELECT value FROM json_each(?1)) LIMIT 1",
            err);
    if (!status) {
        lb_bind_text(st, 1, lb_buf_text(&rows));
        status = lb_step(st, &row, err);
    }
    if (!status && !row)
        status = refuse_former(store, brand, number, err);
    if (!status && !row)
        status = lb_fail(err, LB_DATA,
                         "no catalogue knows %s %s. Check brand and number, or import the list that has it.",
                         brand, number);
    lb_statement_free(st);
    lb_lookup_close(lookup);
    lb_buf_free(&key);
    lb_buf_free(&rows);
    return status;
}

lb_status lb_kit_decide(struct lb_store *store, const struct lb_kit *kit, const struct lb_line *line,
                        enum lb_decision decision, const char *brand, const char *number,
                        struct lb_error *err)
{
    const char *texts[] = {line->need->key, lb_decision_name(decision), brand, number};
    lb_status status = lb_store_begin(store, err);
    if (!status && brand)
        status = refuse_unknown_part(store, brand, number, err);
    if (!status)
        status = run(store,
                     "INSERT OR REPLACE INTO kit_decision (kit, line_key, decision, brand, part_number) "
                     "VALUES (?5, ?1, ?2, ?3, ?4)",
                     texts, 4, ((const struct build *)kit)->id, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}
