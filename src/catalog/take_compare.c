/* A new edition of a source: the rows whose text no row of the old one has, against the rows of the old one
 * that nothing met. */
#include "catalog/former.h"
#include "catalog/keyring.h"
#include "catalog/take.h"

#include <stdlib.h>
#include <string.h>

struct comparison {
    struct lb_taking *t;
    const struct lb_kind *old_kinds[3];
    int old_kind_count;
    bool same_kinds;
    struct lb_keyring keys; /* the unmet rows by key */
    bool has_prices;        /* some offers have cost something else before */
    struct lb_statement *price_add, *price_move, *price_drop;
    struct lb_former *former;
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
    int64_t has_prices = 0;
    lb_status status = lb_former_open(&c->former, c->t->store, c->t->source, c->t->options->now, err);
    if (!status)
        status = lb_store_integer(c->t->store, "SELECT EXISTS (SELECT 1 FROM price_was)", &has_prices, err);
    c->has_prices = has_prices != 0;
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&c->price_add, "INSERT INTO price_was (row, price, currency, until) VALUES (?1, ?2, ?3, ?4)"},
        {&c->price_move, "UPDATE price_was SET row = ?2 WHERE row = ?1"},
        {&c->price_drop, "DELETE FROM price_was WHERE row = ?1"},
    };
    for (size_t i = 0; !status && i < sizeof statements / sizeof *statements; i++)
        status = lb_store_prepare(c->t->store, statements[i].statement, statements[i].sql, err);
    return status;
}

static void comparison_free(struct comparison *c)
{
    lb_former_close(c->former);
    lb_statement_free(c->price_add);
    lb_statement_free(c->price_move);
    lb_statement_free(c->price_drop);
    lb_keyring_free(&c->keys);
}

/* Every row of the file that no old one has the text of becomes a row of its own. */
static lb_status insert_row(struct comparison *c, const struct lb_batch *batch,
                            const struct lb_batch_row *row, int64_t id, struct lb_error *err)
{
    const struct lb_value *values = batch->values.at + row->values;
    lb_status status = lb_take_insert(c->t, batch, row, id, err);
    for (int k = 0; !status && k < c->t->report.kind_count; k++) {
        status = lb_growth_note(c->t->growth, c->t->report.kinds[k], values, id, err);
        values += c->t->report.kinds[k]->column_count;
    }
    return status || !lb_postings_full(c->t->growth->postings)
               ? status
               : lb_growth_write(c->t->growth, c->t->store, err);
}

/* What is listed now is no longer one of those that are not. */
static lb_status forget_former(struct comparison *c, const struct lb_value *values, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int k = 0; !status && k < c->t->report.kind_count; k++) {
        status = lb_former_forget(c->former, c->t->report.kinds[k], values, err);
        values += c->t->report.kinds[k]->column_count;
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

/* The history of an offer goes over to its new row, with what it cost until now. */
static lb_status note_price(struct comparison *c, const struct lb_kind *kind, const struct lb_value *was,
                            const struct lb_value *now, int64_t old, int64_t row, struct lb_error *err)
{
    int price = lb_kind_column(kind, "price"), currency = lb_kind_column(kind, "currency");
    if (price < 0 || currency < 0)
        return LB_OK;
    lb_status status = LB_OK;
    if (c->has_prices) {
        lb_bind_integer(c->price_move, 1, old);
        lb_bind_integer(c->price_move, 2, row);
        status = lb_run(c->price_move, err);
    }
    if (status || (same_value(&was[price], &now[price]) && same_value(&was[currency], &now[currency])))
        return status;
    lb_bind_integer(c->price_add, 1, row);
    lb_bind_integer(c->price_add, 2, was[price].integer);
    lb_bind_text(c->price_add, 3, was[currency].text);
    lb_bind_text(c->price_add, 4, c->t->options->now);
    return lb_run(c->price_add, err);
}

/* Does the new row say something else than the old one? `first`: what the old one said to the first kind,
 * read already. */
static lb_status compare_rows(struct comparison *c, const struct lb_value *now, const struct lb_value *first,
                              int64_t old, int64_t row, bool *changed, struct lb_error *err)
{
    struct lb_value other[LB_KIND_COLUMNS_MAX];
    lb_status status = LB_OK;
    *changed = false;
    for (int k = 0; !status && k < c->t->report.kind_count; k++) {
        const struct lb_kind *kind = c->t->report.kinds[k];
        const struct lb_value *was = k ? other : first;
        bool found = true;
        if (k)
            status = lb_ingest_fetch(c->t->ingest, kind, old, other, &found, err);
        bool differs = !status && found && !same_values(kind, was, now, false);
        *changed |= differs;
        if (!status && found && (differs || c->has_prices))
            status = note_price(c, kind, was, now, old, row, err);
        now += kind->column_count;
    }
    return status;
}

static lb_status replace_row(struct comparison *c, const struct lb_batch *batch,
                             const struct lb_batch_row *row, const struct lb_value *was, int64_t old,
                             struct lb_error *err)
{
    bool changed;
    int64_t id = c->t->growth->next_row++;
    lb_status status = compare_rows(c, batch->values.at + row->values, was, old, id, &changed, err);
    lb_edition_replace(c->t->was, old);
    c->t->growth->stale++;
    *(changed ? &c->t->file->change.changed : &c->t->file->change.unchanged) += 1;
    return status ? status : insert_row(c, batch, row, id, err);
}

static lb_status add_row(struct comparison *c, const struct lb_batch *batch, const struct lb_batch_row *row,
                         struct lb_error *err)
{
    c->t->file->change.added++;
    lb_status status = forget_former(c, batch->values.at + row->values, err);
    return status ? status : insert_row(c, batch, row, c->t->growth->next_row++, err);
}

/* The unmet row with the same key columns, if there is one, and what it said. */
static lb_status find_old(struct comparison *c, const struct lb_value *values, int64_t *id,
                          struct lb_value *was, struct lb_error *err)
{
    uint64_t key = lb_keyring_key(first_kind(c), values);
    struct lb_keyring_find find = {0};
    lb_status status = LB_OK;
    *id = 0;
    while (!status && c->same_kinds && lb_keyring_next(&c->keys, key, &find)) {
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

static lb_status replay_row(struct comparison *c, const struct lb_batch *batch,
                            const struct lb_batch_row *row, struct lb_error *err)
{
    struct lb_value was[LB_KIND_COLUMNS_MAX];
    int64_t old;
    lb_status status = find_old(c, batch->values.at + row->values, &old, was, err);
    if (status)
        return status;
    return old ? replace_row(c, batch, row, was, old, err) : add_row(c, batch, row, err);
}

static lb_status replay(struct comparison *c, struct lb_error *err)
{
    struct lb_batch *batch;
    lb_status status;
    while (!(status = lb_spool_take(c->t->spool, &batch, err)) && batch) {
        if ((status = lb_take_progress(c->t, "comparing", err)))
            return status;
        for (size_t i = 0; !status && i < batch->rows.count; i++)
            status = replay_row(c, batch, &batch->rows.at[i], err);
        if (status)
            break;
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

static lb_status retire_row(struct comparison *c, int64_t row, struct lb_error *err)
{
    struct lb_value was[LB_KIND_COLUMNS_MAX];
    lb_status status = LB_OK;
    for (int k = 0; !status && k < c->old_kind_count; k++) {
        bool found;
        status = lb_ingest_fetch(c->t->ingest, c->old_kinds[k], row, was, &found, err);
        if (!status && found)
            status = lb_former_keep(c->former, c->old_kinds[k], was, row, err);
    }
    c->t->file->change.removed++;
    c->t->growth->stale++;
    if (status || !c->has_prices)
        return status;
    lb_bind_integer(c->price_drop, 1, row);
    return lb_run(c->price_drop, err);
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

lb_status lb_take_compare(struct lb_taking *t, struct lb_error *err)
{
    struct comparison c = {.t = t};
    int64_t first_new = t->growth->next_row;
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
        status = lb_edition_write_met(t->was, t->store, t->source, first_new, err);
    comparison_free(&c);
    return status;
}
