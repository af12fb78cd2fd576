/* A catalogue file -> rows. Tells the kind from the header, checks and converts every cell, and hands each
 * row to a sink: accepted with its line, or refused with line, column and a reason in words. Knows no SQL.
 * Always: read = accepted + rejected (blank lines are no rows).
 *
 *     struct lb_read_options options = {.supplier = "nordpart"};
 *     struct lb_row_sink sink = {.context = me, .row = keep, .reject = complain, .warn = mention};
 *     status = lb_read_file("catalog/offers.csv", &options, &sink, &report, &err);
 */
#ifndef LB_IMPORTERS_READ_H
#define LB_IMPORTERS_READ_H

#include "base/error.h"
#include "importers/bytes.h"
#include "importers/kinds.h"
#include "importers/mapping.h"
#include "importers/profile.h"

struct lb_read_options {
    const char *supplier; /* fills an absent `supplier` column or an empty cell; NULL: nothing fixed */
    const struct lb_profile *profile; /* how this supplier writes; NULL: own names and the lexicon alone */
    const char *encoding;             /* what the bytes were decoded from, for the mapping; NULL: UTF-8 */
};

/* An accepted row of the file: what it says to each kind that it feeds. Everything is borrowed until the sink
 * returns. */
struct lb_row {
    long line; /* where it starts, from 1 */
    const char *raw;
    size_t raw_length; /* the bytes as read, in UTF-8, without the line end */
    int kind_count;
    const struct lb_kind *const *kinds;
    const struct lb_value *values[3]; /* per kind, kind->column_count entries */
};

/* A sink's own failure (not LB_OK) stops the reading and is passed on. */
struct lb_row_sink {
    void *context;
    /* Once, before the first row: the kinds that each row will feed, best first. */
    lb_status (*begin)(void *context, const struct lb_kind *const *kinds, int count, struct lb_error *err);
    /* Whether a row of that text was read before and needs no reading again: it counts as accepted. NULL:
     * none. */
    bool (*known)(void *context, long line, const char *raw, size_t length);
    /* One call per row, only once every kind that it feeds accepted it. */
    lb_status (*row)(void *context, const struct lb_row *row, struct lb_error *err);
    /* column 1-based (0: the whole row), its heading or "", the reason in words, the row as it was read (may
     * be cut). */
    lb_status (*reject)(void *context, long line, int column, const char *heading, const char *reason,
                        const char *raw, struct lb_error *err);
    /* Something odd that refuses nothing: an unknown column, a GTIN whose check digit is wrong. line 0: the
     * file. */
    void (*warn)(void *context, long line, const char *words);
    /* Once, after begin and before the first row: how the file is read. Borrowed; NULL: nobody asks. */
    lb_status (*mapping)(void *context, const struct lb_mapping *mapping, struct lb_error *err);
};

struct lb_read_report {
    const struct lb_kind
        *kinds[3]; /* what the rows fed; kind_count of them, the one with most required columns first */
    int kind_count;
    long read, accepted, rejected;
};

/* LB_DATA: the file as a whole cannot be used (empty, no kind's required columns are there — the words name
 * the nearest kind and what is missing —, two kinds tie — both named, no text at all). LB_SYSTEM: cannot be
 * opened or read. */
LB_CHECK lb_status lb_read_file(const char *path, const struct lb_read_options *options,
                                const struct lb_row_sink *sink, struct lb_read_report *report,
                                struct lb_error *err);
/* The same from any bytes, which are borrowed; `name` stands in messages and settles ties of kinds. A failure
 * of the bytes is passed on. */
LB_CHECK lb_status lb_read_bytes(struct lb_bytes *bytes, const char *name,
                                 const struct lb_read_options *options, const struct lb_row_sink *sink,
                                 struct lb_read_report *report, struct lb_error *err);

#endif
