/* A row's cells on their way from the record to convert.c, where a scheme maps headings: recast one by one,
 * then what needs several of them (the price per 100, stock in pieces). Private to importers/.
 *
 *     status = lb_recaster_new(&recaster, &header, &err);
 *     if (lb_recaster_row(recaster, &record, &fault, &err) == LB_OK && !fault.reason)
 *         cells[i] = lb_recaster_cell(recaster, k, i);
 *     lb_recaster_free(recaster);
 */
#ifndef LB_IMPORTERS_RECASTER_H
#define LB_IMPORTERS_RECASTER_H

#include "importers/header.h"

struct lb_recaster;

/* Borrowed until the next row. */
struct lb_recast_fault {
    const char *reason; /* NULL: the row is good */
    int column;         /* 0-based in the file; -1: none */
};

/* The header is borrowed. */
LB_CHECK lb_status lb_recaster_new(struct lb_recaster **out, const struct lb_header *header,
                                   struct lb_error *err);
LB_CHECK lb_status lb_recaster_row(struct lb_recaster *recaster, const struct lb_csv_record *record,
                                   struct lb_recast_fault *fault, struct lb_error *err);
/* What column `i` of the kind `k` says in the row at hand; NULL: the file has no such column. */
const char *lb_recaster_cell(const struct lb_recaster *recaster, int k, int i);
/* The row's unit, for kinds that have no such column themselves; NULL: none. */
const char *lb_recaster_unit(const struct lb_recaster *recaster);
void lb_recaster_free(struct lb_recaster *recaster);

#endif
