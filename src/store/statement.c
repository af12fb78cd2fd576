/* Statements: prepared, bound, stepped through. */
#include "store/store_private.h"

#include <stdlib.h>
#include <string.h>

lb_status lb_store_prepare(struct lb_store *store, struct lb_statement **out, const char *sql,
                           struct lb_error *err)
{
    struct lb_statement *statement = calloc(1, sizeof *statement);
    *out = NULL;
    if (!statement)
        return lb_fail_nomem(err);
    statement->store = store;
    if (sqlite3_prepare_v3(store->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement->stmt, NULL) !=
        SQLITE_OK) {
        free(statement);
        return store_fail(store, err);
    }
    *out = statement;
    return LB_OK;
}

void lb_statement_free(struct lb_statement *statement)
{
    if (!statement)
        return;
    sqlite3_finalize(statement->stmt);
    free(statement);
}

static void note_bind(struct lb_statement *statement, int code)
{
    if (code != SQLITE_OK && !statement->bind_failure)
        statement->bind_failure = code;
}

void lb_bind_text(struct lb_statement *statement, int parameter, const char *text)
{
    note_bind(statement, text ? sqlite3_bind_text(statement->stmt, parameter, text, -1, SQLITE_STATIC)
                              : sqlite3_bind_null(statement->stmt, parameter));
}

void lb_bind_text_of(struct lb_statement *statement, int parameter, const char *text, size_t length)
{
    note_bind(statement,
              sqlite3_bind_text64(statement->stmt, parameter, text, length, SQLITE_STATIC, SQLITE_UTF8));
}

void lb_bind_blob(struct lb_statement *statement, int parameter, const void *bytes, size_t length)
{
    note_bind(statement,
              sqlite3_bind_blob64(statement->stmt, parameter, bytes ? bytes : "", length, SQLITE_STATIC));
}

void lb_bind_integer(struct lb_statement *statement, int parameter, int64_t value)
{
    note_bind(statement, sqlite3_bind_int64(statement->stmt, parameter, value));
}

void lb_bind_null(struct lb_statement *statement, int parameter)
{
    note_bind(statement, sqlite3_bind_null(statement->stmt, parameter));
}

lb_status lb_step(struct lb_statement *statement, bool *row, struct lb_error *err)
{
    *row = false;
    int code = statement->bind_failure ? statement->bind_failure : sqlite3_step(statement->stmt);
    *row = code == SQLITE_ROW;
    if (*row)
        return LB_OK;
    lb_status status = code == SQLITE_DONE ? LB_OK : store_fail(statement->store, err);
    lb_statement_reset(statement);
    return status;
}

lb_status lb_run(struct lb_statement *statement, struct lb_error *err)
{
    bool row;
    lb_status status = LB_OK;
    do
        status = lb_step(statement, &row, err);
    while (!status && row);
    return status;
}

void lb_statement_reset(struct lb_statement *statement)
{
    sqlite3_reset(statement->stmt);
    statement->bind_failure = 0;
}

const char *lb_text(struct lb_statement *statement, int column)
{
    return (const char *)sqlite3_column_text(statement->stmt, column);
}

lb_status lb_need_texts(struct lb_statement *statement, int first, int count, struct lb_error *err)
{
    for (int i = first; i < first + count; i++)
        if (!lb_text(statement, i))
            return lb_store_refuse_damaged(statement->store, err);
    return LB_OK;
}

lb_status lb_keep_text(struct lb_statement *statement, int column, struct lb_arena *arena, const char **out,
                       struct lb_error *err)
{
    const char *text = lb_text(statement, column);
    *out = text ? lb_arena_text(arena, text, strlen(text)) : NULL;
    return text && !*out ? lb_fail_nomem(err) : LB_OK;
}

int64_t lb_integer(struct lb_statement *statement, int column)
{
    return sqlite3_column_int64(statement->stmt, column);
}

const void *lb_blob(struct lb_statement *statement, int column, size_t *length)
{
    const void *bytes = sqlite3_column_blob(statement->stmt, column);
    *length = (size_t)sqlite3_column_bytes(statement->stmt, column);
    return bytes;
}

bool lb_is_null(struct lb_statement *statement, int column)
{
    return sqlite3_column_type(statement->stmt, column) == SQLITE_NULL;
}
