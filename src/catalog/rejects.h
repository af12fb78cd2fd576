/* The rejects file: every refused row with file, line, column and a reason in words. Made when the first row
 * is refused; written beside its place and moved there once it is whole. */
#ifndef LB_CATALOG_REJECTS_H
#define LB_CATALOG_REJECTS_H

#include "base/buf.h"

#include <stdio.h>

struct lb_rejects {
    const char *path; /* borrowed */
    FILE *file;       /* NULL: nothing refused so far */
    struct lb_buf line, partial;
};

LB_CHECK lb_status lb_rejects_add(struct lb_rejects *rejects, const char *source, long line, int column,
                                  const char *heading, const char *reason, const char *raw,
                                  struct lb_error *err);
/* Puts it in place. Without refused rows it does nothing. */
LB_CHECK lb_status lb_rejects_finish(struct lb_rejects *rejects, struct lb_error *err);
/* Also drops a file that was not finished. */
void lb_rejects_free(struct lb_rejects *rejects);

#endif
