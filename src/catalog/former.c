#include "catalog/former.h"

#include "catalog/keyring.h"
#include "catalog/partkey.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

struct lb_former {
    struct lb_store *store;
    int64_t source;
    const char *now;
    struct lb_statement *add, *drop_part, *drop;
    struct lb_keyring keys; /* of the rows that are about no part, by their ids in `former` */
    bool any;               /* there are rows that may have to be forgotten */
    struct lb_buf text;
};

static uint64_t key_of(const struct lb_kind *kind, const struct lb_value *values)
{
    return lb_keyring_key(kind, values) ^ (uint64_t)(kind - lb_kinds + 1) << 56;
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

/* The way back; texts are borrowed from the object. */
static void values_of(const struct lb_kind *kind, const json_t *cells, struct lb_value *values)
{
    for (int i = 0; i < kind->column_count; i++) {
        const json_t *cell = json_object_get(cells, kind->columns[i].name);
        values[i] = (struct lb_value){0};
        if (json_is_integer(cell))
            values[i] = (struct lb_value){.type = LB_VALUE_INTEGER, .integer = json_integer_value(cell)};
        else if (json_is_string(cell))
            values[i] = (struct lb_value){.type = LB_VALUE_TEXT, .text = json_string_value(cell)};
    }
}

static lb_status learn_key(struct lb_former *former, int64_t id, const char *name, const char *text,
                           struct lb_error *err)
{
    const struct lb_kind *kind = lb_kind_find(name);
    struct lb_value values[LB_KIND_COLUMNS_MAX];
    json_t *cells = json_loads(text, 0, NULL);
    bool sound = true;
    if (kind && cells) {
        values_of(kind, cells, values);
        sound = lb_keyring_add(&former->keys, key_of(kind, values), id);
    }
    json_decref(cells);
    return sound ? LB_OK : lb_fail_nomem(err);
}

static lb_status learn_keys(struct lb_former *former, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        former->store, &st, "SELECT id, kind, cells FROM former WHERE source = ?1 AND part IS NULL", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, former->source);
    while (!status && !(status = lb_step(st, &row, err)) && row)
        status = learn_key(former, lb_integer(st, 0), lb_text(st, 1), lb_text(st, 2), err);
    lb_statement_free(st);
    return status || lb_keyring_close(&former->keys) ? status : lb_fail_nomem(err);
}

static lb_status prepare(struct lb_former *former, struct lb_error *err)
{
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&former->add,
         "INSERT INTO former (source, kind, part, line, gone, cells) VALUES (?1, ?2, ?3, "
         "(SELECT line + ?4 - first FROM span WHERE first <= ?4 ORDER BY first DESC LIMIT 1), ?5, ?6)"},
        {&former->drop_part, "DELETE FROM former WHERE part = ?1 AND source = ?2 AND kind = ?3"},
        {&former->drop, "DELETE FROM former WHERE id = ?1"},
    };
    int64_t any = 0;
    lb_status status = lb_store_integer(former->store, "SELECT EXISTS (SELECT 1 FROM former)", &any, err);
    former->any = any != 0;
    for (size_t i = 0; !status && i < sizeof statements / sizeof *statements; i++)
        status = lb_store_prepare(former->store, statements[i].statement, statements[i].sql, err);
    return status || !former->any ? status : learn_keys(former, err);
}

lb_status lb_former_open(struct lb_former **out, struct lb_store *store, int64_t source, const char *now,
                         struct lb_error *err)
{
    struct lb_former *former = *out = calloc(1, sizeof *former);
    if (!former)
        return lb_fail_nomem(err);
    former->store = store;
    former->source = source;
    former->now = now;
    lb_status status = prepare(former, err);
    if (status) {
        lb_former_close(former);
        *out = NULL;
    }
    return status;
}

void lb_former_close(struct lb_former *former)
{
    if (!former)
        return;
    lb_statement_free(former->add);
    lb_statement_free(former->drop_part);
    lb_statement_free(former->drop);
    lb_keyring_free(&former->keys);
    lb_buf_free(&former->text);
    free(former);
}

static const char *text_in(const struct lb_kind *kind, const struct lb_value *values, const char *column)
{
    int i = lb_kind_column(kind, column);
    return i >= 0 && values[i].type == LB_VALUE_TEXT ? values[i].text : NULL;
}

/* The part key of a row that is about a part, into former->text; NULL: it is not. */
static const char *part_of(struct lb_former *former, const struct lb_kind *kind,
                           const struct lb_value *values)
{
    const char *brand = text_in(kind, values, "brand"), *number = text_in(kind, values, "part_number");
    if (!brand || !number)
        return NULL;
    lb_part_key(&former->text, brand, number);
    return lb_buf_text(&former->text);
}

/* By a hash of 64 bits alone: what may be lost to an accident is a remark. */
static lb_status forget_by_key(struct lb_former *former, uint64_t key, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (struct lb_keyring_find find = {0}; !status && lb_keyring_next(&former->keys, key, &find);
         find = (struct lb_keyring_find){0}) {
        lb_bind_integer(former->drop, 1, find.row);
        status = lb_run(former->drop, err);
        lb_keyring_take(&former->keys, &find);
    }
    return status;
}

lb_status lb_former_forget(struct lb_former *former, const struct lb_kind *kind,
                           const struct lb_value *values, struct lb_error *err)
{
    if (!former->any)
        return LB_OK;
    const char *part = part_of(former, kind, values);
    if (!part)
        return forget_by_key(former, key_of(kind, values), err);
    lb_bind_text(former->drop_part, 1, part);
    lb_bind_integer(former->drop_part, 2, former->source);
    lb_bind_text(former->drop_part, 3, kind->name);
    return former->text.failed ? lb_fail_nomem(err) : lb_run(former->drop_part, err);
}

lb_status lb_former_keep(struct lb_former *former, const struct lb_kind *kind, const struct lb_value *values,
                         int64_t row, struct lb_error *err)
{
    char *cells = cells_of(kind, values);
    if (!cells)
        return lb_fail_nomem(err);
    lb_bind_integer(former->add, 1, former->source);
    lb_bind_text(former->add, 2, kind->name);
    lb_bind_text(former->add, 3, part_of(former, kind, values));
    lb_bind_integer(former->add, 4, row);
    lb_bind_text(former->add, 5, former->now);
    lb_bind_text(former->add, 6, cells);
    lb_status status = former->text.failed ? lb_fail_nomem(err) : lb_run(former->add, err);
    free(cells);
    return status;
}
