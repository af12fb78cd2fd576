#include "importers/paths.h"

#include "importers/archive.h"

#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

enum { DEPTH_MAX = 32 };

static void path_free(struct lb_import_path *path)
{
    free(path->path);
    free(path->member);
    free(path->name);
    free(path->address);
}

/* Owns what is in `file`, in which a NULL `path` or `name` means that memory ran out. */
static lb_status push(struct lb_import_paths *paths, struct lb_import_path file, struct lb_error *err)
{
    if (file.path && file.name && LB_PUSH(&paths->files, file))
        return LB_OK;
    path_free(&file);
    return lb_fail_nomem(err);
}

static lb_status add_file(struct lb_import_paths *paths, const char *path, const char *name,
                          struct lb_error *err)
{
    struct lb_import_path file = {.path = realpath(path, NULL), .name = strdup(name)};
    if (file.path || errno == ENOMEM)
        return push(paths, file, err);
    free(file.name);
    return lb_fail(err, LB_SYSTEM, "%s: cannot be opened: %s.", path, strerror(errno));
}

static lb_status add_member(struct lb_import_paths *paths, const char *path, const char *name,
                            const char *member, struct lb_error *err)
{
    struct lb_import_path file = {.path = realpath(path, NULL), .member = strdup(member)};
    if (asprintf(&file.name, "%s/%s", name, member) < 0)
        file.name = NULL;
    if (!file.member) {
        path_free(&file);
        return lb_fail_nomem(err);
    }
    return push(paths, file, err);
}

/* A file, or the members of the archive that it is. */
static lb_status add_content(struct lb_import_paths *paths, const char *path, const char *name,
                             struct lb_error *err)
{
    struct lb_archive_members members = {0};
    struct lb_error why = {0};
    bool is_archive;
    lb_status status = lb_archive_list(path, &is_archive, &members, &why);
    lb_error_free(&why);
    if (status == LB_NOMEM)
        return lb_fail_nomem(err);
    if (status || !is_archive)
        return add_file(paths, path, name, err);
    for (size_t i = 0; !status && i < members.names.count; i++)
        status = add_member(paths, path, name, members.names.at[i], err);
    lb_archive_members_free(&members);
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
    else if (S_ISREG(info.st_mode) && (is_csv(entry) || lb_archive_is_named_so(entry)))
        status = add_content(paths, path, name, err);
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

static lb_status add_stdin(struct lb_import_paths *paths, struct lb_error *err)
{
    for (size_t i = 0; i < paths->files.count; i++)
        if (strcmp(paths->files.at[i].path, "-") == 0)
            return lb_fail(err, LB_USAGE, "- (standard input) can be read only once; name it once.");
    return push(paths, (struct lb_import_path){.path = strdup("-"), .name = strdup("standard input")}, err);
}

/* As it was named: what <(…) of a shell makes has no path to resolve. */
static lb_status add_pipe(struct lb_import_paths *paths, const char *path, struct lb_error *err)
{
    return push(paths, (struct lb_import_path){.path = strdup(path), .name = strdup(path)}, err);
}

static lb_status add_named(struct lb_import_paths *paths, const char *path, mode_t mode, struct lb_error *err)
{
    if (S_ISDIR(mode))
        return add_folder(paths, path, "", 0, err);
    const char *slash = strrchr(path, '/');
    return add_content(paths, path, slash ? slash + 1 : path, err);
}

lb_status lb_import_paths_add(struct lb_import_paths *paths, const char *path, struct lb_error *err)
{
    struct stat info;
    size_t before = paths->files.count;
    if (strcmp(path, "-") == 0)
        return add_stdin(paths, err);
    if (stat(path, &info) != 0)
        return lb_fail(err, errno == ENOENT ? LB_DATA : LB_SYSTEM, "%s: cannot be opened: %s.", path,
                       strerror(errno));
    if (S_ISFIFO(info.st_mode))
        return add_pipe(paths, path, err);
    if (!S_ISDIR(info.st_mode) && !S_ISREG(info.st_mode))
        return lb_fail(err, LB_DATA, "%s: is neither a file nor a folder.", path);
    lb_status status = add_named(paths, path, info.st_mode, err);
    if (status || paths->files.count > before)
        return status;
    return lb_fail(err, LB_DATA,
                   S_ISDIR(info.st_mode) ? "%s: there are no .csv files in this folder."
                                         : "%s: there are no .csv, .txt or .tsv files in this archive.",
                   path);
}

void lb_import_paths_free(struct lb_import_paths *paths)
{
    for (size_t i = 0; i < paths->files.count; i++)
        path_free(&paths->files.at[i]);
    free(paths->files.at);
    memset(paths, 0, sizeof *paths);
}
