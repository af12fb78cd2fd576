#include "catalog/ingest.h"
#include "base/buf.h"
#include "base/spec.h"
#include "base/text.h"
#include "catalog/partkey.h"

#include <stdlib.h>
#include <string.h>

enum { KINDS_MAX = 32, DERIVED_MAX = 4 };

/* Columns that the index keeps beside what the row said. */
struct derived {
    const char *kind, *column;
    enum { DERIVE_PART, DERIVE_FOLD, DERIVE_SPEC } how;
    const char *from, *number;   /* the brand's (or the only) column; the number's column */
    const char *brand_otherwise; /* the brand when its own cell is empty */
};

static const struct derived derivations[] = {
    {"parts", "part", DERIVE_PART, "brand", "part_number", NULL},
    {"parts", "spec_key", DERIVE_SPEC, "spec", NULL, NULL},
    {"offers", "part", DERIVE_PART, "brand", "part_number", NULL},
    {"applications", "part", DERIVE_PART, "brand", "part_number", NULL},
    {"applications", "make_key", DERIVE_FOLD, "make", NULL, NULL},
    {"applications", "model_key", DERIVE_FOLD, "model", NULL, NULL},
    {"platforms", "make_key", DERIVE_FOLD, "make", NULL, NULL},
    {"platforms", "model_key", DERIVE_FOLD, "model", NULL, NULL},
    {"crossrefs", "part", DERIVE_PART, "brand", "part_number", NULL},
    {"crossrefs", "other", DERIVE_PART, "other_brand", "other_number", NULL},
    {"supersessions", "part", DERIVE_PART, "brand", "part_number", NULL},
    {"supersessions", "new", DERIVE_PART, "new_brand", "new_number", NULL},
    {"contents", "part", DERIVE_PART, "brand", "part_number", NULL},
    {"contents", "item", DERIVE_PART, "item_brand", "item_number", "brand"},
};

struct lb_ingest {
    struct lb_store *store;
    struct lb_statement *insert[KINDS_MAX]; /* by kind, made when first needed */
    struct lb_buf derived[DERIVED_MAX];     /* texts that must live until the row is written */
};

lb_status lb_ingest_open(struct lb_ingest **out, struct lb_store *store, struct lb_error *err)
{
    *out = calloc(1, sizeof **out);
    if (!*out)
        return lb_fail_nomem(err);
    (*out)->store = store;
    return LB_OK;
}

void lb_ingest_close(struct lb_ingest *ingest)
{
    if (!ingest)
        return;
    for (int i = 0; i < KINDS_MAX; i++)
        lb_statement_free(ingest->insert[i]);
    for (int i = 0; i < DERIVED_MAX; i++)
        lb_buf_free(&ingest->derived[i]);
    free(ingest);
}

static const struct derived *derived_of(const struct lb_kind *kind, int n)
{
    for (size_t i = 0; i < sizeof derivations / sizeof *derivations; i++)
        if (strcmp(derivations[i].kind, kind->name) == 0 && n-- == 0)
            return &derivations[i];
    return NULL;
}

static lb_status prepare_insert(struct lb_ingest *ingest, const struct lb_kind *kind,
                                struct lb_statement **out, struct lb_error *err)
{
    struct lb_buf sql = {0};
    int columns = 2;
    lb_buf_printf(&sql, "INSERT INTO %s (source, line", kind->name);
    for (int i = 0; i < kind->column_count; i++, columns++)
        lb_buf_printf(&sql, ", \"%s\"", kind->columns[i].name);
    for (int i = 0; derived_of(kind, i); i++, columns++)
        lb_buf_printf(&sql, ", \"%s\"", derived_of(kind, i)->column);
    lb_buf_puts(&sql, ") VALUES (?");
    while (--columns)
        lb_buf_puts(&sql, ", ?");
    lb_buf_puts(&sql, ")");
    lb_status status = sql.failed ? lb_fail_nomem(err) : lb_store_prepare(ingest->store, out, sql.text, err);
    lb_buf_free(&sql);
    return status;
}

static const char *text_of(const struct lb_kind *kind, const struct lb_value *values, const char *column)
{
    int i = lb_kind_column(kind, column);
    return i >= 0 && values[i].type == LB_VALUE_TEXT ? values[i].text : NULL;
}

/* The derived text, or NULL when the row states nothing to derive it from. */
static const char *derive(struct lb_buf *out, const struct derived *rule, const struct lb_kind *kind,
                          const struct lb_value *values)
{
    const char *from = text_of(kind, values, rule->from);
    lb_buf_clear(out);
    if (rule->how == DERIVE_PART) {
        const char *number = text_of(kind, values, rule->number);
        if (!from && rule->brand_otherwise)
            from = text_of(kind, values, rule->brand_otherwise);
        if (!from || !number)
            return NULL;
        lb_part_key(out, from, number);
    } else if (!from) {
        return NULL;
    } else if (rule->how == DERIVE_FOLD) {
        lb_text_fold(out, from);
    } else {
        struct lb_spec spec = lb_spec_parse(from);
        lb_spec_key(out, &spec);
    }
    return lb_buf_text(out);
}

static void bind_value(struct lb_statement *statement, int parameter, const struct lb_value *value)
{
    if (value->type == LB_VALUE_TEXT)
        lb_bind_text(statement, parameter, value->text);
    else if (value->type == LB_VALUE_INTEGER)
        lb_bind_integer(statement, parameter, value->integer);
    else
        lb_bind_null(statement, parameter);
}

lb_status lb_ingest_row(struct lb_ingest *ingest, int64_t source, const struct lb_kind *kind,
                        const struct lb_value *values, long line, struct lb_error *err)
{
    struct lb_statement **insert = &ingest->insert[kind - lb_kinds];
    lb_status status = *insert ? LB_OK : prepare_insert(ingest, kind, insert, err);
    if (status)
        return status;
    int parameter = 1;
    lb_bind_integer(*insert, parameter++, source);
    lb_bind_integer(*insert, parameter++, line);
    for (int i = 0; i < kind->column_count; i++)
        bind_value(*insert, parameter++, &values[i]);
    for (int i = 0; i < DERIVED_MAX && derived_of(kind, i); i++) {
        lb_bind_text(*insert, parameter++, derive(&ingest->derived[i], derived_of(kind, i), kind, values));
        if (ingest->derived[i].failed)
            return lb_fail_nomem(err);
    }
    return lb_run(*insert, err);
}

/* `quote(a)||','||quote(b)…` over the kind's columns (or only its key columns): one text that tells rows
 * apart. */
static void write_digest(struct lb_buf *sql, const struct lb_kind *kind, bool key_only)
{
    const char *between = "";
    for (int i = 0; i < kind->column_count; i++) {
        if (key_only && !kind->columns[i].key)
            continue;
        lb_buf_printf(sql, "%squote(\"%s\")", between, kind->columns[i].name);
        between = "||','||";
    }
}

/* Rows of the two editions (?1 the older, ?2 the newer) with one key are paired in the order of their lines,
 * so that a file may say the same thing twice. Grouped, not joined: a join of two unindexed lists takes the
 * square of their length. */
static void write_comparison(struct lb_buf *sql, const struct lb_kind *kind)
{
    lb_buf_puts(
        sql,
        "SELECT coalesce(sum(was), 0), coalesce(sum(is_now), 0), coalesce(sum(was AND is_now), 0),"
        " coalesce(sum(was AND is_now AND low = high), 0)"
        " FROM (SELECT sum(source = ?1) AS was, sum(source = ?2) AS is_now, min(d) AS low, max(d) AS high"
        " FROM (SELECT source, k, d, row_number() OVER (PARTITION BY source, k ORDER BY line) AS n"
        " FROM (SELECT source, line, ");
    write_digest(sql, kind, true);
    lb_buf_puts(sql, " AS k, ");
    write_digest(sql, kind, false);
    lb_buf_printf(sql, " AS d FROM %s WHERE source IN (?1, ?2))) GROUP BY k, n)", kind->name);
}

lb_status lb_ingest_compare(struct lb_ingest *ingest, const struct lb_kind *kind, int64_t older,
                            int64_t newer, struct lb_edition_change *change, struct lb_error *err)
{
    struct lb_buf sql = {0};
    struct lb_statement *statement = NULL;
    bool row = false;
    write_comparison(&sql, kind);
    lb_status status =
        sql.failed ? lb_fail_nomem(err) : lb_store_prepare(ingest->store, &statement, sql.text, err);
    if (!status) {
        lb_bind_integer(statement, 1, older);
        lb_bind_integer(statement, 2, newer);
        status = lb_step(statement, &row, err);
    }
    if (!status && row) {
        int64_t before = lb_integer(statement, 0), now = lb_integer(statement, 1),
                paired = lb_integer(statement, 2);
        int64_t same = lb_integer(statement, 3);
        *change = (struct lb_edition_change){now - paired, paired - same, same, before - paired};
    }
    lb_statement_free(statement);
    lb_buf_free(&sql);
    return status;
}

static lb_status delete_where(struct lb_ingest *ingest, const char *table, const char *column, int64_t source,
                              struct lb_error *err)
{
    struct lb_buf sql = {0};
    struct lb_statement *statement = NULL;
    lb_buf_printf(&sql, "DELETE FROM %s WHERE %s = ?", table, column);
    lb_status status =
        sql.failed ? lb_fail_nomem(err) : lb_store_prepare(ingest->store, &statement, sql.text, err);
    if (!status) {
        lb_bind_integer(statement, 1, source);
        status = lb_run(statement, err);
    }
    lb_statement_free(statement);
    lb_buf_free(&sql);
    return status;
}

lb_status lb_ingest_drop(struct lb_ingest *ingest, int64_t source, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < lb_kind_count; i++)
        status = delete_where(ingest, lb_kinds[i].name, "source", source, err);
    return status ? status : delete_where(ingest, "source", "id", source, err);
}
