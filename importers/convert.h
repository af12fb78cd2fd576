/* Cell text -> values, as a kind's columns say, with the reason in words where a cell makes no sense.
 * One converter a kind; it keeps its memory from row to row. Not about files: it sees one row's cells.
 *
 *     if (lb_converter_new(&converter, lb_kind_find("offers"), &err)) …
 *     status = lb_convert_row(converter, cells, unit, values, &fault, &err);
 *     if (status == LB_OK && fault.reason) … refused, because of column fault.column
 *     lb_converter_free(converter);
 */
#ifndef LB_IMPORTERS_CONVERT_H
#define LB_IMPORTERS_CONVERT_H

#include "base/error.h"
#include "importers/kinds.h"

struct lb_converter;

/* Words are borrowed until the next row. */
struct lb_fault {
    const char *reason; /* NULL: the row is good */
    int column;         /* 0-based column of the kind */
    const char *remark; /* odd, but no reason to refuse; NULL: none */
    int remark_column;
};

LB_CHECK lb_status lb_converter_new(struct lb_converter **out, const struct lb_kind *kind,
                                    struct lb_error *err);
/* `cells` has one text per column of the kind, NULL where the file has no such column; blanks at both ends
 * are gone. `unit` is the unit that the row states for quantities of a kind that has no `unit` column itself,
 * or NULL (a price list may carry the part's unit). Fills kind->column_count values; their text is borrowed
 * from the cells and the converter until the next row. A fault is no error: LB_OK. */
LB_CHECK lb_status lb_convert_row(struct lb_converter *converter, const char *const *cells, const char *unit,
                                  struct lb_value *values, struct lb_fault *fault, struct lb_error *err);
void lb_converter_free(struct lb_converter *converter);

#endif
