/* A file that takes its place all at once: written beside it, then renamed, so that nothing half is left.
 *
 *     struct lb_new_file file;
 *     status = lb_new_file_write(&file, "saturday.lock", text, length, &err);
 *     if (!status) status = lb_new_file_name(&file, &err);
 *     lb_new_file_free(&file);
 */
#ifndef LB_BASE_NEW_FILE_H
#define LB_BASE_NEW_FILE_H

#include "base/error.h"

#include <stddef.h>

struct lb_new_file {
    char *path, *waiting; /* waiting NULL: it has its name, or was never written */
};

/* Writes it under a name that waits, in the same folder. Where `path` is a link, the file that it leads to
 * will be replaced. LB_SYSTEM with words: the folder is not there, no permission, disk full. */
LB_CHECK lb_status lb_new_file_write(struct lb_new_file *file, const char *path, const char *bytes,
                                     size_t length, struct lb_error *err);
/* Gives it its name; a file of that name is replaced. LB_SYSTEM. */
LB_CHECK lb_status lb_new_file_name(struct lb_new_file *file, struct lb_error *err);
/* Removes what has not got its name. */
void lb_new_file_free(struct lb_new_file *file);

#endif
