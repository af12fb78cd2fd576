/* Parts read from the index, each once: its row, offers, applications to this vehicle, successors and
 * contents. */
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "garage/applies.h"
#include "kit/build.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FROM(table)  LB_PLACED(table)
#define PLACE        "s.name, " LB_PLACE_LINE
#define AMONG(table) LB_PLACED_AMONG(table)
#define IN_ORDER     LB_IN_ORDER

static const char *const sql[QUERY_COUNT] = {
    [QUERY_PART] = "SELECT " PLACE ", r.brand, r.part_number, r.part_type, r.description, r.spec, "
                   "coalesce(r.unit, 'each'), r.status, r.maker_part" AMONG("parts") IN_ORDER,
    [QUERY_OFFERS] = "SELECT " PLACE ", r.supplier, r.supplier_code, r.currency, r.price, "
                     "coalesce(r.core_deposit, 0), r.pack_quantity, r.minimum_packs, coalesce(r.stock, -1), "
                     "coalesce(r.lead_days, -1), r.valid_to, r.id" AMONG("offers") IN_ORDER,
    [QUERY_APPLICATIONS] = "SELECT " PLACE ", r.\"when\", r.built_from, r.built_to, r.position, "
                           "coalesce(r.quantity, -1)" AMONG(
                               "applications") "WHERE r.make_key = ?2 AND r.model_key = ?3" IN_ORDER,
    [QUERY_SUCCESSORS] = "SELECT " PLACE ", r.new, r.new_brand, r.new_number, coalesce(r.\"group\", ''), "
                         "r.quantity" FROM("supersessions") "WHERE r.part = ?1 ORDER BY 6, 1, 2",
    [QUERY_CONTENTS] = "SELECT " PLACE ", r.item_type, r.item, r.item_spec, r.quantity" FROM(
        "contents") "WHERE r.part = ?1" IN_ORDER,
    [QUERY_SAME] = "SELECT r.other, r.other_brand, r.other_number, NULL, " PLACE FROM(
        "crossrefs") "WHERE r.part = ?1 AND r.relation = 'same' UNION ALL "
                     "SELECT r.part, r.brand, r.part_number, NULL, " PLACE FROM(
                         "crossrefs") "WHERE r.other = ?1 AND r.relation = 'same' ORDER BY 5, 6",
    [QUERY_INSTEAD] = "SELECT r.part, r.brand, r.part_number, NULL, " PLACE FROM(
        "crossrefs") "WHERE r.other = ?1 AND r.relation = 'instead'" IN_ORDER,
    [QUERY_LISTED] = "SELECT DISTINCT NULL, r.brand, r.part_number, NULL, NULL, 0" FROM(
        "applications") "WHERE r.make_key = ?2 AND r.model_key = ?3",
    [QUERY_TYPES] = "SELECT DISTINCT r.part_type, r.brand, r.part_number" AMONG("parts"),
    [QUERY_BY_ROWS] = "SELECT NULL, r.brand, r.part_number, r.spec, " PLACE AMONG(
        "parts") "WHERE r.part_type = ?2" IN_ORDER,
    [QUERY_APPLIES] = "SELECT 1" AMONG("applications") " LIMIT 1",
    [QUERY_BOXES] = "SELECT DISTINCT r.part, r.brand, r.part_number, NULL, NULL, 0" FROM(
        "contents") "WHERE r.item_type = ?1 ORDER BY 1",
    [QUERY_FORMER] =
        "SELECT s.name, f.line, f.kind, f.gone, c ->> 'brand', c ->> 'part_number', "
        "c ->> 'part_type', c ->> 'description', c ->> 'spec', c ->> 'unit', c ->> 'supplier', "
        "c ->> 'currency', c ->> 'make', c ->> 'model', c ->> 'built_from', c ->> 'built_to', "
        "c ->> 'when', c ->> 'position', coalesce(c ->> 'price', 0), "
        "coalesce(c ->> 'pack_quantity', 1000000) FROM (SELECT *, cells AS c FROM former "
        "WHERE part = ?1 AND kind IN ('parts', 'offers', 'applications')) f "
        "JOIN source s ON s.id = f.source ORDER BY f.gone DESC, f.kind DESC, s.name, f.line, f.id",
    [QUERY_GONE] = "SELECT part, cells ->> 'brand', cells ->> 'part_number', cells ->> 'spec', "
                   "cells ->> 'part_type' FROM former WHERE kind = 'parts' AND cells ->> 'part_type' IN "
                   "(SELECT value FROM json_each(?1)) ORDER BY gone DESC, id",
    [QUERY_LISTED_ONCE] = "SELECT part, cells ->> 'make', cells ->> 'model' FROM former "
                          "WHERE kind = ?1",
    [QUERY_WAS] = "SELECT price, currency, until FROM price_was WHERE row = ?1 ORDER BY id DESC",
};

lb_status build_text(struct build *b, const char *text, const char **out)
{
    uint32_t id;
    *out = NULL;
    if (!text)
        return LB_OK;
    if (!lb_names_add(&b->texts, text, &id))
        return lb_fail_nomem(b->err);
    *out = b->texts.at[id];
    return LB_OK;
}

const char *build_words(struct build *b, const char *format, ...)
{
    char *text;
    va_list args;
    va_start(args, format);
    int length = vasprintf(&text, format, args);
    va_end(args);
    const char *kept = length < 0 ? NULL : lb_arena_text(&b->arena, text, (size_t)length);
    if (length >= 0)
        free(text);
    if (!kept)
        lb_fail_nomem(b->err);
    return kept;
}

/* What is asked of a part's own rows is asked three times in a row; the rows are looked up once. */
static lb_status find_rows(struct build *b, const char *part)
{
    lb_status status = b->lookup ? LB_OK : lb_lookup_open(&b->lookup, b->store, b->err);
    if (status || (b->rows_of == part && part))
        return status;
    b->rows_of = part;
    return lb_lookup_part(b->lookup, part, &b->rows, b->err);
}

static bool asks_by_rows(enum part_query query)
{
    return query == QUERY_PART || query == QUERY_OFFERS || query == QUERY_APPLICATIONS ||
           query == QUERY_APPLIES || query == QUERY_TYPES;
}

struct lb_statement *build_query(struct build *b, enum part_query query, const char *parameter)
{
    if (!b->queries[query] && lb_store_prepare(b->store, &b->queries[query], sql[query], b->err))
        return NULL;
    lb_statement_reset(b->queries[query]);
    if (asks_by_rows(query)) {
        if (find_rows(b, parameter))
            return NULL;
        parameter = lb_buf_text(&b->rows);
    }
    lb_bind_text(b->queries[query], 1, parameter);
    if (query == QUERY_APPLICATIONS || query == QUERY_LISTED) {
        lb_bind_text(b->queries[query], 2, lb_buf_text(&b->make_key));
        lb_bind_text(b->queries[query], 3, lb_buf_text(&b->model_key));
    }
    return b->queries[query];
}

struct lb_statement *build_query_type(struct build *b, const char *part_type, const struct lb_spec *spec)
{
    if (!b->lookup && lb_lookup_open(&b->lookup, b->store, b->err))
        return NULL;
    b->rows_of = NULL;
    if (lb_lookup_type(b->lookup, part_type, spec, &b->rows, b->err))
        return NULL;
    struct lb_statement *st = build_query(b, QUERY_BY_ROWS, lb_buf_text(&b->rows));
    if (st)
        lb_bind_text(st, 2, part_type);
    return st;
}

lb_status build_place(struct build *b, struct lb_statement *st, int column, struct lb_place *place)
{
    place->line = (uint32_t)lb_integer(st, column + 1);
    return build_text(b, lb_text(st, column), &place->file);
}

static lb_status read_mention(struct build *b, struct lb_statement *st, struct mention *mention)
{
    const char *key = lb_text(st, 0);
    if (!key) { /* rows that have no part key of their own */
        lb_part_key(&b->scratch, lb_text(st, 1), lb_text(st, 2));
        key = lb_buf_text(&b->scratch);
    }
    lb_status status = b->scratch.failed ? lb_fail_nomem(b->err) : build_text(b, key, &mention->key);
    if (!status)
        status = build_text(b, lb_text(st, 1), &mention->brand);
    if (!status)
        status = build_text(b, lb_text(st, 2), &mention->number);
    if (!status)
        status = build_text(b, lb_text(st, 3), &mention->spec);
    return status ? status : build_place(b, st, 4, &mention->place);
}

lb_status build_mentions(struct build *b, struct lb_statement *st, struct mentions *out)
{
    bool row;
    lb_status status;
    out->count = 0;
    if (!st)
        return b->err->status;
    while (!(status = lb_step(st, &row, b->err)) && row) {
        struct mention mention = {0};
        status = read_mention(b, st, &mention);
        if (!status && !LB_PUSH(out, mention))
            status = lb_fail_nomem(b->err);
        if (status)
            break;
    }
    lb_statement_reset(st);
    return status;
}

/* Runs one query over a part; `read` is called for each of its rows. */
static lb_status each(struct build *b, struct entry *entry, enum part_query query,
                      lb_status (*read)(struct build *, struct entry *, struct lb_statement *))
{
    bool row;
    lb_status status;
    struct lb_statement *st = build_query(b, query, entry->part.key);
    if (!st)
        return b->err->status;
    while (!(status = lb_step(st, &row, b->err)) && row)
        if ((status = read(b, entry, st)))
            break;
    lb_statement_reset(st);
    return status;
}

/* The first row wins; a later catalogue may still say that the part is discontinued. */
static lb_status read_part(struct build *b, struct entry *entry, struct lb_statement *st)
{
    struct lb_part *part = &entry->part;
    const char *spec, *status_text = lb_text(st, 8), *maker = lb_text(st, 9);
    part->discontinued |= status_text && strcmp(status_text, "discontinued") == 0;
    part->maker_part |= maker && strcmp(maker, "yes") == 0;
    if (part->part_type)
        return LB_OK;
    struct lb_unit unit = lb_unit_find(lb_text(st, 7) ? lb_text(st, 7) : "", LB_MASS);
    entry->dimension = unit.dimension;
    lb_status status = build_place(b, st, 0, &part->place);
    if (!status)
        status = build_text(b, lb_text(st, 2), &part->brand);
    if (!status)
        status = build_text(b, lb_text(st, 3), &part->number);
    if (!status)
        status = build_text(b, lb_text(st, 4), &part->part_type);
    if (!status)
        status = build_text(b, lb_text(st, 5), &part->description);
    if (!status)
        status = build_text(b, lb_text(st, 6), &spec);
    if (!status)
        status = build_text(b, lb_text(st, 7) ? lb_text(st, 7) : "each", &entry->unit);
    if (!status)
        part->spec = lb_spec_parse(spec);
    return status;
}

static bool is_live(const struct build *b, const struct lb_part_offer *offer)
{
    struct lb_interval valid;
    if (offer->valid_to && !lb_date_parse(offer->valid_to, &valid) && valid.last < b->today)
        return false;
    return offer->stock < 0 || (offer->stock > 0 && offer->stock >= offer->minimum_packs);
}

static lb_status read_offer(struct build *b, struct entry *entry, struct lb_statement *st)
{
    struct lb_unit unit = lb_unit_find(entry->unit ? entry->unit : "", LB_MASS);
    struct lb_part_offer offer = {.price = lb_integer(st, 5),
                                  .deposit = lb_integer(st, 6),
                                  .pack_quantity = lb_unit_to_base(unit, lb_integer(st, 7)),
                                  .minimum_packs = lb_integer(st, 8),
                                  .stock = lb_integer(st, 9),
                                  .lead_days = lb_integer(st, 10),
                                  .row = lb_integer(st, 12)};
    lb_status status = build_place(b, st, 0, &offer.place);
    if (!status)
        status = build_supplier(b, lb_text(st, 2), lb_text(st, 4), &offer.supplier);
    if (!status)
        status = build_text(b, lb_text(st, 3), &offer.supplier_code);
    if (!status)
        status = build_text(b, lb_text(st, 4), &offer.currency);
    if (!status)
        status = build_text(b, lb_text(st, 11), &offer.valid_to);
    if (status)
        return status;
    offer.live = is_live(b, &offer);
    entry->part.live |= offer.live;
    return LB_PUSH(&entry->offers, offer) ? LB_OK : lb_fail_nomem(b->err);
}

static void note_fact(void *context, const char *key, const char *turns_on)
{
    (void)turns_on;
    struct lb_buf *facts = context;
    if (!strstr(lb_buf_text(facts), key))
        lb_buf_printf(facts, "%s%s", facts->length ? ", " : "", key);
}

static lb_status read_application(struct build *b, struct entry *entry, struct lb_statement *st)
{
    struct application row = {.quantity = lb_integer(st, 6)};
    lb_buf_clear(&b->scratch);
    lb_status status = lb_applies(&b->facts, lb_text(st, 2), lb_text(st, 3), lb_text(st, 4), note_fact,
                                  &b->scratch, &row.truth, b->err);
    if (!status)
        status = build_place(b, st, 0, &row.place);
    if (!status && row.truth == LB_UNKNOWN)
        status =
            b->scratch.failed ? lb_fail_nomem(b->err) : build_text(b, lb_buf_text(&b->scratch), &row.asks);
    if (status)
        return status;
    if (!lb_position_parse(lb_text(st, 5), &row.position))
        row.position = 0;
    return LB_PUSH(&entry->applications, row) ? LB_OK : lb_fail_nomem(b->err);
}

static lb_status read_successor(struct build *b, struct entry *entry, struct lb_statement *st)
{
    struct successor successor = {.quantity = lb_integer(st, 6)};
    lb_status status = build_place(b, st, 0, &successor.place);
    if (!status)
        status = build_text(b, lb_text(st, 5), &successor.group);
    if (!status) /* known by its key for now, so that a chain is not read row within row */
        status = lb_names_add(&b->part_keys, lb_text(st, 2), &successor.part) ? LB_OK : lb_fail_nomem(b->err);
    while (!status && b->parts.count < b->part_keys.count)
        status = LB_PUSH(&b->parts, NULL) ? LB_OK : lb_fail_nomem(b->err);
    if (!status && !b->parts.at[successor.part]) {
        struct entry *next = lb_arena_alloc(&b->arena, sizeof *next);
        if (!next)
            return lb_fail_nomem(b->err);
        next->part.key = b->part_keys.at[successor.part];
        b->parts.at[successor.part] = next;
        status = build_text(b, lb_text(st, 3), &next->part.brand);
        if (!status)
            status = build_text(b, lb_text(st, 4), &next->part.number);
    }
    if (status)
        return status;
    entry->part.superseded = true;
    return LB_PUSH(&entry->successors, successor) ? LB_OK : lb_fail_nomem(b->err);
}

static lb_status read_content(struct build *b, struct entry *entry, struct lb_statement *st)
{
    struct lb_content content = {.quantity = lb_integer(st, 5)};
    const char *spec;
    lb_status status = build_place(b, st, 0, &content.place);
    if (!status)
        status = build_text(b, lb_text(st, 2), &content.item_type);
    if (!status)
        status = build_text(b, lb_text(st, 3), &content.item_part);
    if (!status)
        status = build_text(b, lb_text(st, 4), &spec);
    if (status)
        return status;
    content.spec = lb_spec_parse(spec);
    return LB_PUSH(&entry->contents, content) ? LB_OK : lb_fail_nomem(b->err);
}

static lb_status read_all(struct build *b, struct entry *entry)
{
    static const struct {
        enum part_query query;
        lb_status (*read)(struct build *, struct entry *, struct lb_statement *);
    } stages[] = {
        {QUERY_PART, read_part},
        {QUERY_OFFERS, read_offer},
        {QUERY_APPLICATIONS, read_application},
        {QUERY_SUCCESSORS, read_successor},
        {QUERY_CONTENTS, read_content},
    };
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = each(b, entry, stages[i].query, stages[i].read);
    entry->part.offers = entry->offers.at;
    entry->part.offer_count = entry->offers.count;
    entry->part.contents = entry->contents.at;
    entry->part.content_count = entry->contents.count;
    return status;
}

lb_status build_part(struct build *b, const char *key, const char *brand, const char *number, uint32_t *part)
{
    if (!lb_names_add(&b->part_keys, key, part))
        return lb_fail_nomem(b->err);
    while (b->parts.count < b->part_keys.count)
        if (!LB_PUSH(&b->parts, NULL))
            return lb_fail_nomem(b->err);
    struct entry *entry = b->parts.at[*part];
    if (entry && entry->loaded)
        return LB_OK;
    if (!entry) {
        entry = lb_arena_alloc(&b->arena, sizeof *entry);
        if (!entry)
            return lb_fail_nomem(b->err);
        entry->part.key = b->part_keys.at[*part];
        b->parts.at[*part] = entry;
    }
    entry->loaded = true;
    lb_status status = entry->part.brand ? LB_OK : build_text(b, brand, &entry->part.brand);
    if (!status && !entry->part.number)
        status = build_text(b, number, &entry->part.number);
    return status ? status : read_all(b, entry);
}

const char *lb_part_unit(const struct lb_part *part)
{
    const struct entry *entry = entry_of(part);
    const char *symbol = lb_unit_symbol(entry->dimension);
    return !entry->unit ? "each" : *symbol ? symbol : entry->unit;
}
