/* Which rows are there, and where they stand: a span says that ids first, first + 1 … stand on lines line,
 * line + 1 … of a source. A row that no span holds is not there any more, whatever its table says.
 *
 *     lb_span_begin(&span, store, source, &err);
 *     lb_span_add(&span, row, line, &err);                          // by ascending id
 *     status = lb_span_end(&span, status, &err);
 */
#ifndef LB_CATALOG_SPANS_H
#define LB_CATALOG_SPANS_H

#include "store/store.h"

/* The span in the making. */
struct lb_span_writer {
    struct lb_statement *insert;
    int64_t source, first, count, line;
};

LB_CHECK lb_status lb_span_begin(struct lb_span_writer *span, struct lb_store *store, int64_t source,
                                 struct lb_error *err);
LB_CHECK lb_status lb_span_add(struct lb_span_writer *span, int64_t row, int64_t line, struct lb_error *err);
/* Writes the last one, unless `status` is a failure already; frees what it holds and passes the failure on.
 */
LB_CHECK lb_status lb_span_end(struct lb_span_writer *span, lb_status status, struct lb_error *err);

/* Ranges of ids that a source's rows lie in, ascending; also the way to drop them all. */
typedef lb_status lb_span_range(void *context, int64_t first, int64_t last, struct lb_error *err);
LB_CHECK lb_status lb_span_ranges(struct lb_store *store, int64_t source, lb_span_range *each, void *context,
                                  struct lb_error *err);
/* Takes out what is kept of where a source's rows with ids below `before` stand. */
LB_CHECK lb_status lb_span_drop(struct lb_store *store, int64_t source, int64_t before, struct lb_error *err);

/* SQL: the rows `r` of a table that are there, and their places, as columns s.name and LB_PLACE_LINE. A row
 * that no span holds is not there any more. */
#define LB_PLACED(table)                                                                                     \
    " FROM " table " r JOIN span p ON p.first = (SELECT max(first) FROM span WHERE first <= r.id) AND "      \
    "r.id < p.first + p.count JOIN source s ON s.id = p.source "
/* The same among the ids of a JSON array, ?1. (Asked for one by one: for an IN, SQLite makes a table of them
 * first.) */
#define LB_PLACED_AMONG(table)                                                                               \
    " FROM json_each(?1) j CROSS JOIN " table " r ON r.id = j.value JOIN span p ON p.first = "               \
    "(SELECT max(first) FROM span WHERE first <= r.id) AND r.id < p.first + p.count "                        \
    "JOIN source s ON s.id = p.source "
/* Whether a row is there, when nobody asks where. */
#define LB_IS_THERE(id)                                                                                      \
    id " < (SELECT p.first + p.count FROM span p WHERE p.first <= " id " ORDER BY p.first DESC LIMIT 1) "
#define LB_PLACE_LINE "p.line + r.id - p.first"
#define LB_IN_ORDER   " ORDER BY s.name, " LB_PLACE_LINE " "

#endif
