/* Which files an import means: a file as it is, whatever its name; `-`, standard input; a pipe; an archive
 * with every CSV file in it; a folder with every CSV file below it, packed ones and archives of them as well,
 * in the order of their names. Looks into files only to tell archives. */
#ifndef LB_IMPORTERS_PATHS_H
#define LB_IMPORTERS_PATHS_H

#include "base/error.h"
#include "base/vec.h"

struct lb_import_path {
    char *path;    /* absolute, links resolved; "-": standard input; a pipe as it was named */
    char *address; /* that the file at `path` was fetched from; NULL: none */
    char *member;  /* of the archive that `path` is; NULL: the file itself */
    char *name;    /* below the folder that was named, ARCHIVE/MEMBER for a member; for a file its own name */
};

struct lb_import_paths {
    LB_VEC(struct lb_import_path) files;
};

/* LB_DATA: does not exist, is neither file nor folder, or is a folder or an archive without CSV files.
 * LB_USAGE: standard input a second time. What cannot be opened, and an archive that cannot be listed, is
 * taken as a file: its own reading says what is wrong, and the others go on. */
LB_CHECK lb_status lb_import_paths_add(struct lb_import_paths *paths, const char *path, struct lb_error *err);
void lb_import_paths_free(struct lb_import_paths *paths);

#endif
