/* A new edition of a source: the rows whose text no row of the old one has, against the rows of the old one
 * that nothing met. */
#include "catalog/keyring.h"
#include "catalog/partkey.h"
#include "catalog/take.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

struct comparison {
    struct lb_taking *t;
    const struct lb_kind *old_kinds[3];
    int old_kind_count;
    bool same_kinds;
    bool has_former;           /* the source has rows that are listed no more */
    struct lb_keyring keys;    /* the unmet rows by key */
    struct lb_postings *terms; /* that rows are newly found by */
    struct lb_statement *former_add, *former_drop, *price_add, *price_drop;
    struct lb_buf text, had; /* had: the keys of a row as it was, each with its length in front */
};

static const struct lb_kind *first_kind(const struct comparison *c)
{
    return c->t->report.kinds[0];
}

static lb_status name_old_kinds(struct comparison *c, struct lb_error *err)
{
    char *names = strdup(c->t->known_kinds), *rest = names, *name;
    if (!names)
        return lb_fail_nomem(err);
    while (c->old_kind_count < 3 && (name = strsep(&rest, "+")))
        if ((c->old_kinds[c->old_kind_count] = lb_kind_find(name)))
            c->old_kind_count++;
    free(names);
    c->same_kinds =
        c->old_kind_count == c->t->report.kind_count &&
        memcmp(c->old_kinds, c->t->report.kinds, (size_t)c->old_kind_count * sizeof *c->old_kinds) == 0;
    return LB_OK;
}

static lb_status prepare(struct comparison *c, struct lb_error *err)
{
    struct lb_store *store = c->t->store;
    int64_t former = 0;
    lb_buf_printf(&c->text, "SELECT EXISTS (SELECT 1 FROM former WHERE source = %lld)",
                  (long long)c->t->source);
    lb_status status =
        c->text.failed ? lb_fail_nomem(err) : lb_store_integer(store, c->text.text, &former, err);
    c->has_former = former != 0;
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&c->former_add,
         "INSERT INTO former (source, kind, part, line, gone, cells) VALUES (?1, ?2, ?3, "
         "(SELECT line + ?4 - first FROM span WHERE first <= ?4 ORDER BY first DESC LIMIT 1), ?5, ?6)"},
        {&c->former_drop, "DELETE FROM former WHERE part = ?1 AND source = ?2 AND kind = ?3"},
        {&c->price_add, "INSERT INTO price_was (row, price, currency, until) VALUES (?1, ?2, ?3, ?4)"},
        {&c->price_drop, "DELETE FROM price_was WHERE row = ?1"},
    };
    for (size_t i = 0; !status && i < sizeof statements / sizeof *statements; i++)
        status = lb_store_prepare(store, statements[i].statement, statements[i].sql, err);
    return status ? status : lb_postings_new(&c->terms, LB_ROWS_MIXED, err);
}

static void comparison_free(struct comparison *c)
{
    lb_statement_free(c->former_add);
    lb_statement_free(c->former_drop);
    lb_statement_free(c->price_add);
    lb_statement_free(c->price_drop);
    lb_postings_free(c->terms);
    lb_buf_free(&c->had);
    lb_keyring_free(&c->keys);
    lb_buf_free(&c->text);
}

static lb_status write_terms(struct comparison *c, struct lb_error *err)
{
    lb_status status = lb_postings_sort(c->terms) ? LB_OK : lb_fail_nomem(err);
    if (!status && !lb_postings_empty(c->terms))
        status = lb_postings_write(c->terms, c->t->store, err);
    lb_postings_free(c->terms);
    c->terms = NULL;
    return status ? status : lb_postings_new(&c->terms, LB_ROWS_MIXED, err);
}

struct adding {
    struct comparison *c;
    int64_t row;
};

static lb_status remember_term(void *context, const char *key, size_t length)
{
    struct lb_buf *had = context;
    unsigned char size = (unsigned char)(length < 255 ? length : 255);
    lb_buf_append(had, (const char *)&size, 1);
    lb_buf_append(had, key, size);
    return had->failed ? LB_NOMEM : LB_OK;
}

static bool had_term(const struct lb_buf *had, const char *key, size_t length)
{
    for (size_t at = 0; at < had->length; at += 1 + (unsigned char)had->text[at])
        if ((unsigned char)had->text[at] == length && memcmp(had->text + at + 1, key, length) == 0)
            return true;
    return false;
}

static lb_status add_term(void *context, const char *key, size_t length)
{
    struct adding *adding = context;
    return had_term(&adding->c->had, key, length)
               ? LB_OK
               : lb_postings_add(adding->c->terms, key, length, adding->row);
}

/* The terms of a row that it did not have before (`was` NULL: it is new). */
static lb_status note_terms(struct comparison *c, const struct lb_kind *kind, const struct lb_value *was,
                            const struct lb_value *now, int64_t row, struct lb_error *err)
{
    struct adding adding = {c, row};
    lb_buf_clear(&c->had);
    lb_status status = was ? lb_terms_of(c->t->terms, kind, was, remember_term, &c->had, err) : LB_OK;
    if (!status)
        status = lb_terms_of(c->t->terms, kind, now, add_term, &adding, err);
    return status || !lb_postings_full(c->terms) ? status : write_terms(c, err);
}

static const char *text_in(const struct lb_kind *kind, const struct lb_value *values, const char *column)
{
    int i = lb_kind_column(kind, column);
    return i >= 0 && values[i].type == LB_VALUE_TEXT ? values[i].text : NULL;
}

/* The part key of a row that is about a part, into c->text; NULL: it is not. */
static const char *part_of(struct comparison *c, const struct lb_kind *kind, const struct lb_value *values)
{
    const char *brand = text_in(kind, values, "brand"), *number = text_in(kind, values, "part_number");
    if (!brand || !number)
        return NULL;
    lb_part_key(&c->text, brand, number);
    return lb_buf_text(&c->text);
}

/* A row that the index did not have: it may have been listed once before. */
static lb_status add_row(struct comparison *c, const struct lb_batch *batch, const struct lb_batch_row *row,
                         struct lb_error *err)
{
    const struct lb_value *values = batch->values.at + row->values;
    int64_t id = c->t->next_row++;
    lb_status status = lb_take_insert(c->t, batch, row, id, err);
    for (int k = 0; !status && k < c->t->report.kind_count; k++) {
        const struct lb_kind *kind = c->t->report.kinds[k];
        const char *part = c->has_former ? part_of(c, kind, values) : NULL;
        status = note_terms(c, kind, NULL, values, id, err);
        if (!status && part) {
            lb_bind_text(c->former_drop, 1, part);
            lb_bind_integer(c->former_drop, 2, c->t->source);
            lb_bind_text(c->former_drop, 3, kind->name);
            status = lb_run(c->former_drop, err);
        }
        values += kind->column_count;
    }
    return status;
}

static bool same_value(const struct lb_value *a, const struct lb_value *b)
{
    if (a->type != b->type)
        return false;
    return a->type == LB_VALUE_INTEGER ? a->integer == b->integer
                                       : a->type == LB_VALUE_NULL || strcmp(a->text, b->text) == 0;
}

static bool same_values(const struct lb_kind *kind, const struct lb_value *a, const struct lb_value *b,
                        bool keys_only)
{
    for (int i = 0; i < kind->column_count; i++)
        if ((!keys_only || kind->columns[i].key) && !same_value(&a[i], &b[i]))
            return false;
    return true;
}

static lb_status note_price(struct comparison *c, const struct lb_kind *kind, const struct lb_value *was,
                            const struct lb_value *now, int64_t row, struct lb_error *err)
{
    int price = lb_kind_column(kind, "price"), currency = lb_kind_column(kind, "currency");
    if (price < 0 || currency < 0 ||
        (same_value(&was[price], &now[price]) && same_value(&was[currency], &now[currency])))
        return LB_OK;
    lb_bind_integer(c->price_add, 1, row);
    lb_bind_integer(c->price_add, 2, was[price].integer);
    lb_bind_text(c->price_add, 3, was[currency].text);
    lb_bind_text(c->price_add, 4, c->t->options->now);
    return lb_run(c->price_add, err);
}

static lb_status change_kind(struct comparison *c, const struct lb_kind *kind, const struct lb_value *now,
                             int64_t row, bool *changed, struct lb_error *err)
{
    struct lb_value was[LB_KIND_COLUMNS_MAX];
    bool found;
    lb_status status = lb_ingest_fetch(c->t->ingest, kind, row, was, &found, err);
    if (status || !found || same_values(kind, was, now, false))
        return status;
    *changed = true;
    status = note_price(c, kind, was, now, row, err);
    if (!status)
        status = note_terms(c, kind, was, now, row, err);
    return status ? status : lb_ingest_update(c->t->ingest, kind, row, now, err);
}

static lb_status change_row(struct comparison *c, const struct lb_batch *batch,
                            const struct lb_batch_row *row, int64_t id, struct lb_error *err)
{
    const struct lb_value *values = batch->values.at + row->values;
    bool changed = false;
    lb_status status = LB_OK;
    for (int k = 0; !status && k < c->t->report.kind_count; k++) {
        status = change_kind(c, c->t->report.kinds[k], values, id, &changed, err);
        values += c->t->report.kinds[k]->column_count;
    }
    lb_edition_meet_row(c->t->was, id, row->hash, row->line);
    c->t->stale += changed;
    *(changed ? &c->t->file->change.changed : &c->t->file->change.unchanged) += 1;
    return status;
}

/* The unmet row with the same key columns, if there is one. */
static lb_status find_old(struct comparison *c, const struct lb_value *values, int64_t *id,
                          struct lb_error *err)
{
    struct lb_value was[LB_KIND_COLUMNS_MAX];
    uint64_t key = lb_keyring_key(first_kind(c), values);
    struct lb_keyring_find find = {0};
    lb_status status = LB_OK;
    *id = 0;
    while (!status && lb_keyring_next(&c->keys, key, &find)) {
        bool found;
        status = lb_ingest_fetch(c->t->ingest, first_kind(c), find.row, was, &found, err);
        if (!status && found && same_values(first_kind(c), was, values, true)) {
            *id = find.row;
            lb_keyring_take(&c->keys, &find);
            return LB_OK;
        }
    }
    return status;
}

static lb_status replay(struct comparison *c, struct lb_error *err)
{
    struct lb_batch *batch;
    lb_status status;
    while (!(status = lb_spool_take(c->t->spool, &batch, err)) && batch) {
        if ((status = lb_take_progress(c->t, "comparing", err)))
            return status;
        for (size_t i = 0; !status && i < batch->rows.count; i++) {
            const struct lb_batch_row *row = &batch->rows.at[i];
            int64_t id = 0;
            if (c->same_kinds)
                status = find_old(c, batch->values.at + row->values, &id, err);
            if (!status)
                status = id ? change_row(c, batch, row, id, err) : add_row(c, batch, row, err);
        }
    }
    return status;
}

static lb_status learn_keys(struct comparison *c, struct lb_error *err)
{
    struct lb_value was[LB_KIND_COLUMNS_MAX];
    int64_t row;
    bool found;
    lb_status status = LB_OK;
    for (size_t at = 0; !status && lb_edition_unmet(c->t->was, &at, &row);) {
        status = lb_ingest_fetch(c->t->ingest, first_kind(c), row, was, &found, err);
        if (!status && found && !lb_keyring_add(&c->keys, lb_keyring_key(first_kind(c), was), row))
            status = lb_fail_nomem(err);
    }
    return status || lb_keyring_close(&c->keys) ? status : lb_fail_nomem(err);
}

/* `{"brand": "Halvane", "price": 1250, …}`, or NULL: out of memory. */
static char *cells_of(const struct lb_kind *kind, const struct lb_value *values)
{
    json_t *cells = json_object();
    bool sound = cells != NULL;
    for (int i = 0; sound && i < kind->column_count; i++) {
        if (values[i].type == LB_VALUE_NULL)
            continue;
        json_t *cell = values[i].type == LB_VALUE_INTEGER ? json_integer(values[i].integer)
                                                          : json_string(values[i].text);
        sound = json_object_set_new(cells, kind->columns[i].name, cell) == 0;
    }
    char *text = sound ? json_dumps(cells, JSON_COMPACT) : NULL;
    json_decref(cells);
    return text;
}

static lb_status keep_former(struct comparison *c, const struct lb_kind *kind, const struct lb_value *values,
                             int64_t row, struct lb_error *err)
{
    char *cells = cells_of(kind, values);
    if (!cells)
        return lb_fail_nomem(err);
    lb_bind_integer(c->former_add, 1, c->t->source);
    lb_bind_text(c->former_add, 2, kind->name);
    lb_bind_text(c->former_add, 3, part_of(c, kind, values));
    lb_bind_integer(c->former_add, 4, row);
    lb_bind_text(c->former_add, 5, c->t->options->now);
    lb_bind_text(c->former_add, 6, cells);
    lb_status status = c->text.failed ? lb_fail_nomem(err) : lb_run(c->former_add, err);
    free(cells);
    return status;
}

static lb_status retire_row(struct comparison *c, int64_t row, struct lb_error *err)
{
    struct lb_value was[LB_KIND_COLUMNS_MAX];
    lb_status status = LB_OK;
    for (int k = 0; !status && k < c->old_kind_count; k++) {
        const struct lb_kind *kind = c->old_kinds[k];
        bool found;
        status = lb_ingest_fetch(c->t->ingest, kind, row, was, &found, err);
        if (status || !found)
            continue;
        status = keep_former(c, kind, was, row, err);
        if (!status)
            status = lb_ingest_delete(c->t->ingest, kind, row, err);
    }
    lb_bind_integer(c->price_drop, 1, row);
    c->t->file->change.removed++;
    c->t->stale++;
    return status ? status : lb_run(c->price_drop, err);
}

static lb_status retire_unmet(struct comparison *c, struct lb_error *err)
{
    int64_t row;
    lb_status status = LB_OK;
    for (size_t at = 0; !status && lb_edition_unmet(c->t->was, &at, &row);) {
        status = retire_row(c, row, err);
        if (!status && at % 4096 == 0)
            status = lb_take_progress(c->t, "comparing", err);
    }
    return status;
}

/* The rows that stay, on their lines of now; the new ones were written as they came. */
static lb_status rewrite_places(struct comparison *c, int64_t first_new, struct lb_error *err)
{
    struct lb_edition_writer *writer;
    lb_status status = lb_edition_drop(c->t->store, c->t->source, first_new, err);
    if (!status)
        status = lb_edition_write_begin(&writer, c->t->store, c->t->source, err);
    if (status)
        return status;
    status = lb_edition_write_met(writer, c->t->was, err);
    if (!status)
        return lb_edition_write_end(writer, err);
    lb_edition_write_free(writer);
    return status;
}

lb_status lb_take_compare(struct lb_taking *t, struct lb_error *err)
{
    struct comparison c = {.t = t};
    int64_t first_new = t->next_row;
    lb_status status = name_old_kinds(&c, err);
    if (!status)
        status = prepare(&c, err);
    lb_edition_forget_texts(t->was); /* what is unmet now is found by its key */
    if (!status && c.same_kinds)
        status = learn_keys(&c, err);
    if (!status)
        status = replay(&c, err);
    if (!status)
        status = retire_unmet(&c, err);
    if (!status)
        status = write_terms(&c, err);
    if (!status)
        status = rewrite_places(&c, first_new, err);
    comparison_free(&c);
    return status;
}
