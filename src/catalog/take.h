/* One file into the index: read and converted in a thread of its own, written here, compared with the edition
 * that the index has. Private to src/catalog/.
 *
 * A source keeps its rows' ids from edition to edition. A row whose text is as before is passed by. The
 * others wait in a spool until the file is read; then each is looked for among the rows that nothing met, by
 * the key columns of the first kind that it feeds: found, it changed (or is only written differently); not
 * found, it is new. What nothing met in the end is gone. */
#ifndef LB_CATALOG_TAKE_H
#define LB_CATALOG_TAKE_H

#include "catalog/edition.h"
#include "catalog/growth.h"
#include "catalog/import.h"
#include "catalog/ingest.h"
#include "catalog/pipe.h"
#include "catalog/rejects.h"

#include <stdatomic.h>

struct lb_taking {
    struct lb_store *store;
    struct lb_ingest *ingest;
    struct lb_growth *growth;
    struct lb_rejects *rejects;
    struct lb_imported_file *file;
    const struct lb_import_options *options;
    const struct lb_import_path *path;
    int64_t source;
    /* Something to do beside the reading, by the thread that is to write; NULL: nothing. */
    lb_status (*meanwhile)(void *context, struct lb_error *err);
    void *meanwhile_context;
    const char *known_kinds, *known_reading; /* of the edition in the index; NULL: there is none */

    /* What the reading thread fills. */
    struct lb_edition *was; /* NULL: the source is new */
    struct lb_read_report report;
    char *reading; /* how the file is read, as text */
    struct lb_batch *batch;
    struct lb_pipe *pipe;
    struct lb_bytes *bytes;
    _Atomic uint64_t done, size;
    _Atomic long rows;

    /* What the writing thread fills. */
    struct lb_edition_writer *writer;
    struct lb_spool *spool;
    bool wrote_lookup; /* with it also what earlier files are found by */
};

/* LB_DATA: the file as a whole is of no use, and nothing of it is in the index. Frees nothing of what it was
 * given; lb_taking_free frees the rest. */
LB_CHECK lb_status lb_take(struct lb_taking *taking, struct lb_error *err);
void lb_taking_free(struct lb_taking *taking);

/* take_compare.c: the second half, for a source that the index has. */
LB_CHECK lb_status lb_take_compare(struct lb_taking *taking, struct lb_error *err);
/* A row of the file as a row of the index. */
LB_CHECK lb_status lb_take_insert(struct lb_taking *taking, const struct lb_batch *batch,
                                  const struct lb_batch_row *row, int64_t id, struct lb_error *err);
/* Tells how far it is; LB_SYSTEM: the user has stopped it. */
LB_CHECK lb_status lb_take_progress(struct lb_taking *taking, const char *doing, struct lb_error *err);

#endif
