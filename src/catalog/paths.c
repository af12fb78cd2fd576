#include "catalog/paths.h"

#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

enum { DEPTH_MAX = 32 };

static lb_status add_file(struct lb_import_paths *paths, const char *path, const char *name,
                          struct lb_error *err)
{
    struct lb_import_path file = {realpath(path, NULL), strdup(name)};
    if (file.path && file.name && LB_PUSH(&paths->files, file))
        return LB_OK;
    lb_status status = !file.path && errno != ENOMEM
                           ? lb_fail(err, LB_SYSTEM, "%s: cannot be opened: %s.", path, strerror(errno))
                           : lb_fail_nomem(err);
    free(file.path);
    free(file.name);
    return status;
}

static int wanted(const struct dirent *entry)
{
    return entry->d_name[0] != '.';
}

static int by_bytes(const struct dirent **a, const struct dirent **b)
{
    return strcmp((*a)->d_name, (*b)->d_name);
}

static bool is_csv(const char *name)
{
    size_t length = strlen(name);
    return length > 4 && strcasecmp(name + length - 4, ".csv") == 0;
}

static lb_status add_folder(struct lb_import_paths *paths, const char *path, const char *below, int depth,
                            struct lb_error *err);

static lb_status add_entry(struct lb_import_paths *paths, const char *folder, const char *below,
                           const char *entry, int depth, struct lb_error *err)
{
    char *path = NULL, *name = NULL;
    struct stat info;
    lb_status status = LB_OK;
    if (asprintf(&path, "%s/%s", folder, entry) < 0 ||
        asprintf(&name, "%s%s%s", below, *below ? "/" : "", entry) < 0)
        status = lb_fail_nomem(err);
    else if (stat(path, &info) != 0)
        status = LB_OK; /* a link to nowhere, or gone meanwhile */
    else if (S_ISDIR(info.st_mode) && depth < DEPTH_MAX)
        status = add_folder(paths, path, name, depth + 1, err);
    else if (S_ISREG(info.st_mode) && is_csv(entry))
        status = add_file(paths, path, name, err);
    free(path);
    free(name);
    return status;
}

static lb_status add_folder(struct lb_import_paths *paths, const char *path, const char *below, int depth,
                            struct lb_error *err)
{
    struct dirent **entries;
    int count = scandir(path, &entries, wanted, by_bytes);
    if (count < 0)
        return lb_fail(err, LB_SYSTEM, "%s: the folder cannot be read: %s.", path, strerror(errno));
    lb_status status = LB_OK;
    for (int i = 0; i < count; i++) {
        if (!status)
            status = add_entry(paths, path, below, entries[i]->d_name, depth, err);
        free(entries[i]);
    }
    free(entries);
    return status;
}

lb_status lb_import_paths_add(struct lb_import_paths *paths, const char *path, struct lb_error *err)
{
    struct stat info;
    size_t before = paths->files.count;
    if (stat(path, &info) != 0)
        return lb_fail(err, errno == ENOENT ? LB_DATA : LB_SYSTEM, "%s: cannot be opened: %s.", path,
                       strerror(errno));
    if (S_ISDIR(info.st_mode)) {
        lb_status status = add_folder(paths, path, "", 0, err);
        if (!status && paths->files.count == before)
            return lb_fail(err, LB_DATA, "%s: there are no .csv files in this folder.", path);
        return status;
    }
    if (!S_ISREG(info.st_mode))
        return lb_fail(err, LB_DATA, "%s: is neither a file nor a folder.", path);
    const char *slash = strrchr(path, '/');
    return add_file(paths, path, slash ? slash + 1 : path, err);
}

void lb_import_paths_free(struct lb_import_paths *paths)
{
    for (size_t i = 0; i < paths->files.count; i++) {
        free(paths->files.at[i].path);
        free(paths->files.at[i].name);
    }
    free(paths->files.at);
    memset(paths, 0, sizeof *paths);
}
