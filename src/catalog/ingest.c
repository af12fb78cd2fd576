#include "catalog/ingest.h"
#include "base/buf.h"
#include "base/text.h"
#include "catalog/partkey.h"

#include <stdlib.h>
#include <string.h>

enum { KINDS_MAX = 32, DERIVED_MAX = 4 };
enum statement { INSERT, FETCH, EACH, STATEMENTS };

/* Columns that the index keeps beside what the row said. */
struct derived {
    const char *kind, *column;
    enum { DERIVE_PART, DERIVE_FOLD } how;
    const char *from, *number;   /* the brand's (or the only) column; the number's column */
    const char *brand_otherwise; /* the brand when its own cell is empty */
};

static const struct derived derivations[] = {
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
    struct lb_statement *statements[KINDS_MAX][STATEMENTS]; /* by kind, made when first needed */
    struct rule {
        int from, number, brand_otherwise; /* columns, -1: none */
        bool folds;
    } rules[KINDS_MAX][DERIVED_MAX];
    int rule_count[KINDS_MAX];
    struct lb_buf derived[DERIVED_MAX]; /* texts that must live until the row is written */
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
    for (int i = 0; i < KINDS_MAX * STATEMENTS; i++)
        lb_statement_free(ingest->statements[i / STATEMENTS][i % STATEMENTS]);
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

/* `"column"` for every column that the rows of a kind have. */
static int write_columns(struct lb_buf *sql, const struct lb_kind *kind)
{
    int count = 0;
    for (int i = 0; i < kind->column_count; i++, count++)
        lb_buf_printf(sql, "%s\"%s\"", count ? ", " : "", kind->columns[i].name);
    for (int i = 0; derived_of(kind, i); i++, count++)
        lb_buf_printf(sql, "%s\"%s\"", count ? ", " : "", derived_of(kind, i)->column);
    return count;
}

static void write_statement(struct lb_buf *sql, const struct lb_kind *kind, enum statement which)
{
    if (which == INSERT) {
        lb_buf_printf(sql, "INSERT INTO %s (", kind->name);
        int columns = write_columns(sql, kind);
        lb_buf_puts(sql, ", id) VALUES (?");
        while (columns--)
            lb_buf_puts(sql, ", ?");
        lb_buf_puts(sql, ")");
        return;
    }
    lb_buf_puts(sql, "SELECT ");
    write_columns(sql, kind);
    lb_buf_printf(sql, ", r.id FROM %s r ", kind->name);
    if (which == FETCH)
        lb_buf_puts(sql, "WHERE id = ?");
    else
        lb_buf_puts(sql, "JOIN span p ON p.first = (SELECT max(first) FROM span WHERE first <= r.id) AND "
                         "r.id < p.first + p.count ORDER BY r.id");
}

static int column_of(const struct lb_kind *kind, const char *name)
{
    return name ? lb_kind_column(kind, name) : -1;
}

/* The rules of a kind by its columns, so that no row has to ask for names. */
static void learn_rules(struct lb_ingest *ingest, const struct lb_kind *kind)
{
    int *count = &ingest->rule_count[kind - lb_kinds];
    const struct derived *d;
    for (*count = 0; *count < DERIVED_MAX && (d = derived_of(kind, *count)); ++*count)
        ingest->rules[kind - lb_kinds][*count] =
            (struct rule){column_of(kind, d->from), column_of(kind, d->number),
                          column_of(kind, d->brand_otherwise), d->how == DERIVE_FOLD};
}

static struct lb_statement *statement_of(struct lb_ingest *ingest, const struct lb_kind *kind,
                                         enum statement which, struct lb_error *err)
{
    struct lb_statement **statement = &ingest->statements[kind - lb_kinds][which];
    struct lb_buf sql = {0};
    if (*statement)
        return *statement;
    write_statement(&sql, kind, which);
    learn_rules(ingest, kind);
    if ((sql.failed ? lb_fail_nomem(err) : lb_store_prepare(ingest->store, statement, sql.text, err)) !=
        LB_OK)
        *statement = NULL;
    lb_buf_free(&sql);
    return *statement;
}

static const char *text_at(const struct lb_value *values, int i)
{
    return i >= 0 && values[i].type == LB_VALUE_TEXT ? values[i].text : NULL;
}

/* The derived text, or NULL when the row states nothing to derive it from. */
static const char *derive(struct lb_buf *out, const struct rule *rule, const struct lb_value *values)
{
    const char *from = text_at(values, rule->from);
    lb_buf_clear(out);
    if (!rule->folds) {
        const char *number = text_at(values, rule->number);
        from = from ? from : text_at(values, rule->brand_otherwise);
        if (!from || !number)
            return NULL;
        lb_part_key(out, from, number);
    } else if (!from) {
        return NULL;
    } else {
        lb_text_fold(out, from);
    }
    return lb_buf_text(out);
}

/* `each` is no unit and `current` no status: what nearly every one of millions of parts would repeat is left
 * out, and put back by lb_ingest_fetch. */
static bool leaves_out(const struct lb_kind *kind, const struct lb_column *column)
{
    return kind->shares && column->fallback &&
           (column->type == LB_CELL_UNIT || column->type == LB_CELL_CHOICE);
}

static void bind_value(struct lb_statement *statement, int parameter, const struct lb_kind *kind,
                       const struct lb_column *column, const struct lb_value *value)
{
    if (value->type == LB_VALUE_INTEGER)
        lb_bind_integer(statement, parameter, value->integer);
    else if (value->type == LB_VALUE_TEXT &&
             !(leaves_out(kind, column) && strcmp(value->text, column->fallback) == 0))
        lb_bind_text(statement, parameter, value->text);
    else
        lb_bind_null(statement, parameter);
}

lb_status lb_ingest_insert(struct lb_ingest *ingest, const struct lb_kind *kind, int64_t row,
                           const struct lb_value *values, struct lb_error *err)
{
    struct lb_statement *statement = statement_of(ingest, kind, INSERT, err);
    int parameter = 1;
    if (!statement)
        return err->status;
    for (int i = 0; i < kind->column_count; i++)
        bind_value(statement, parameter++, kind, &kind->columns[i], &values[i]);
    for (int i = 0; i < ingest->rule_count[kind - lb_kinds]; i++) {
        const struct rule *rule = &ingest->rules[kind - lb_kinds][i];
        lb_bind_text(statement, parameter++, derive(&ingest->derived[i], rule, values));
        if (ingest->derived[i].failed)
            return lb_fail_nomem(err);
    }
    lb_bind_integer(statement, parameter, row);
    return lb_run(statement, err);
}

static struct lb_value value_at(struct lb_statement *statement, int i, const struct lb_kind *kind)
{
    const struct lb_column *column = &kind->columns[i];
    if (lb_is_null(statement, i) && !leaves_out(kind, column))
        return (struct lb_value){0};
    if (lb_is_null(statement, i))
        return (struct lb_value){.type = LB_VALUE_TEXT, .text = column->fallback};
    if (!lb_column_is_number(column))
        return (struct lb_value){.type = LB_VALUE_TEXT, .text = lb_text(statement, i)};
    return (struct lb_value){.type = LB_VALUE_INTEGER, .integer = lb_integer(statement, i)};
}

lb_status lb_ingest_fetch(struct lb_ingest *ingest, const struct lb_kind *kind, int64_t row,
                          struct lb_value *values, bool *found, struct lb_error *err)
{
    struct lb_statement *statement = statement_of(ingest, kind, FETCH, err);
    if (!statement)
        return err->status;
    lb_statement_reset(statement);
    lb_bind_integer(statement, 1, row);
    lb_status status = lb_step(statement, found, err);
    for (int i = 0; !status && *found && i < kind->column_count; i++)
        values[i] = value_at(statement, i, kind);
    return status;
}

lb_status lb_ingest_each(struct lb_ingest *ingest, const struct lb_kind *kind, lb_ingest_visit *each,
                         void *context, struct lb_error *err)
{
    struct lb_statement *statement = statement_of(ingest, kind, EACH, err);
    struct lb_value values[LB_KIND_COLUMNS_MAX];
    int id = kind->column_count;
    bool row;
    lb_status status = statement ? LB_OK : err->status;
    while (derived_of(kind, id - kind->column_count))
        id++;
    while (!status && !(status = lb_step(statement, &row, err)) && row) {
        for (int i = 0; i < kind->column_count; i++)
            values[i] = value_at(statement, i, kind);
        status = each(context, kind, lb_integer(statement, id), values, err);
    }
    if (statement)
        lb_statement_reset(statement);
    return status;
}

lb_status lb_ingest_delete_range(struct lb_ingest *ingest, int64_t first, int64_t last, struct lb_error *err)
{
    struct lb_buf sql = {0};
    lb_status status = LB_OK;
    for (int i = 0; !status && i < lb_kind_count; i++) {
        lb_buf_clear(&sql);
        lb_buf_printf(&sql, "DELETE FROM %s WHERE id BETWEEN %lld AND %lld", lb_kinds[i].name,
                      (long long)first, (long long)last);
        status = sql.failed ? lb_fail_nomem(err) : lb_store_execute(ingest->store, sql.text, err);
    }
    lb_buf_free(&sql);
    return status;
}
