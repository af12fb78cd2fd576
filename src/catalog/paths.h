/* Which files an import means: a file as it is, a folder with every CSV below it, in the order of their
 * names. */
#ifndef LB_CATALOG_PATHS_H
#define LB_CATALOG_PATHS_H

#include "base/error.h"
#include "base/vec.h"

struct lb_import_path {
    char *path; /* absolute, links resolved */
    char *name; /* below the folder that was named; for a file its own name */
};

struct lb_import_paths {
    LB_VEC(struct lb_import_path) files;
};

/* LB_DATA: does not exist, is neither file nor folder, or is a folder without CSV files. */
LB_CHECK lb_status lb_import_paths_add(struct lb_import_paths *paths, const char *path, struct lb_error *err);
void lb_import_paths_free(struct lb_import_paths *paths);

#endif
