/* The index file: opened, migrated, asked. The only room that knows sqlite3.
 *
 *     struct lb_store *store;
 *     struct lb_statement *st;
 *     status = lb_store_open(&store, "lastbolt.db", LB_STORE_WRITE, &err);
 *     status = lb_store_prepare(store, &st, "SELECT name FROM vehicle WHERE make = ?", &err);
 *     lb_bind_text(st, 1, "velmora");
 *     while (!(status = lb_step(st, &row, &err)) && row) puts(lb_text(st, 0));
 *     lb_statement_free(st);
 *     lb_store_close(store);
 */
#ifndef LB_STORE_STORE_H
#define LB_STORE_STORE_H

#include "base/arena.h"
#include "base/buf.h"
#include "base/error.h"

#include <stdbool.h>
#include <stdint.h>

enum { LB_APPLICATION_ID = 0x4C424C54 }; /* "LBLT" */

struct lb_store;
struct lb_statement;

enum lb_store_mode {
    LB_STORE_READ,  /* must exist; works on read-only media too */
    LB_STORE_WRITE, /* made when absent, migrated when older */
};

/* LB_SYSTEM with words: not an index, another program's database, made by a newer lastbolt (left untouched,
 * byte for byte), no permission, damaged. A missing file in mode READ is LB_DATA: "nothing imported yet". */
LB_CHECK lb_status lb_store_open(struct lb_store **out, const char *path, enum lb_store_mode mode,
                                 struct lb_error *err);
void lb_store_close(struct lb_store *store);

/* Its file or its folder may not be written by us. */
bool lb_store_read_only(const struct lb_store *store);
/* One writer at a time: waits up to 10 s for another to finish. */
LB_CHECK lb_status lb_store_begin(struct lb_store *store, struct lb_error *err);
LB_CHECK lb_status lb_store_commit(struct lb_store *store, struct lb_error *err);
/* One view of the index for many reads, and no lock taken for each; *held says whether it is ours to release.
 * Inside a transaction that is a view already, so nothing is held. */
LB_CHECK lb_status lb_store_hold(struct lb_store *store, bool *held, struct lb_error *err);
void lb_store_release(struct lb_store *store, bool held);
/* Harmless when no transaction is open. */
void lb_store_rollback(struct lb_store *store);
/* Statements without parameters. */
LB_CHECK lb_status lb_store_execute(struct lb_store *store, const char *sql, struct lb_error *err);
/* One statement with one parameter, an id. */
LB_CHECK lb_status lb_store_run_for(struct lb_store *store, const char *sql, int64_t id,
                                    struct lb_error *err);
/* The first column of the first row as an integer; 0 when there is none. */
LB_CHECK lb_status lb_store_integer(struct lb_store *store, const char *sql, int64_t *value,
                                    struct lb_error *err);
/* Gives back to the disk what is free when that is more than half of the file. Outside a transaction; when it
 * cannot be done (a neighbour reads, the disk is full) the index stays as large as it is. */
void lb_store_shrink(struct lb_store *store);
/* Appends what is wrong with the file, a line each: pages, indices, references. Nothing when it is sound. */
LB_CHECK lb_status lb_store_verify(struct lb_store *store, struct lb_buf *faults, struct lb_error *err);
/* Fills err with LB_SYSTEM: what is derived from the rows makes no sense. */
LB_CHECK lb_status lb_store_refuse_damaged(const struct lb_store *store, struct lb_error *err);
int64_t lb_store_last_id(const struct lb_store *store);

LB_CHECK lb_status lb_store_prepare(struct lb_store *store, struct lb_statement **out, const char *sql,
                                    struct lb_error *err);
void lb_statement_free(struct lb_statement *statement);
/* Parameters count from 1. Text NULL binds NULL; text is copied by the next lb_step only, so it must live
 * until then. A failed bind is reported by the next lb_step. */
void lb_bind_text(struct lb_statement *statement, int parameter, const char *text);
void lb_bind_text_of(struct lb_statement *statement, int parameter, const char *text, size_t length);
void lb_bind_blob(struct lb_statement *statement, int parameter, const void *bytes, size_t length);
void lb_bind_integer(struct lb_statement *statement, int parameter, int64_t value);
void lb_bind_null(struct lb_statement *statement, int parameter);
/* *row: there is one to read. After the last row or an error the statement is ready for new bindings. */
LB_CHECK lb_status lb_step(struct lb_statement *statement, bool *row, struct lb_error *err);
/* Runs to the end, for statements that give no rows. */
LB_CHECK lb_status lb_run(struct lb_statement *statement, struct lb_error *err);
/* Ready for new bindings before the last row was read. */
void lb_statement_reset(struct lb_statement *statement);
/* Columns count from 0; text is borrowed until the next step; NULL for SQL NULL. */
const char *lb_text(struct lb_statement *statement, int column);
/* Are none of the columns from `first` on NULL, that never are in an index that is whole? LB_SYSTEM: it is
 * damaged. */
LB_CHECK lb_status lb_need_texts(struct lb_statement *statement, int first, int count, struct lb_error *err);
/* A copy of a text that lives as long as the arena; NULL for SQL NULL. */
LB_CHECK lb_status lb_keep_text(struct lb_statement *statement, int column, struct lb_arena *arena,
                                const char **out, struct lb_error *err);
int64_t lb_integer(struct lb_statement *statement, int column);
/* Borrowed like text; *length 0: empty or NULL. */
const void *lb_blob(struct lb_statement *statement, int column, size_t *length);
bool lb_is_null(struct lb_statement *statement, int column);

#endif
