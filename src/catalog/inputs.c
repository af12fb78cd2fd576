#include "catalog/inputs.h"

#include "importers/fetch.h"

#include <stdio.h>

#include <stdlib.h>
#include <string.h>

#define SIZE_LIMIT (UINT64_C(64) << 30)

struct fetching {
    const struct lb_import_options *options;
    const char *name;
    bool stopped;
};

static int tell(void *context, uint64_t done, uint64_t size)
{
    struct fetching *fetching = context;
    const struct lb_import_progress progress = {
        .file = fetching->name, .doing = "fetching", .done = done, .size = size};
    const struct lb_import_options *o = fetching->options;
    fetching->stopped = o->progress && !o->progress(o->progress_context, &progress);
    return fetching->stopped;
}

/* The last part of an address, without what is asked of the server; the caller's to free. */
static char *tail_of(const char *address)
{
    const char *begin = strstr(address, "://") + 3;
    size_t length = strcspn(begin, "?#");
    while (length > 0 && begin[length - 1] == '/')
        length--;
    size_t at = length;
    while (at > 0 && begin[at - 1] != '/')
        at--;
    return strndup(begin + at, length - at);
}

/* `LOCAL` and `LOCAL/MEMBER` become the address and its tail. */
static lb_status rename_local(struct lb_import_path *file, const char *address, const char *tail,
                              struct lb_error *err)
{
    char *name = NULL;
    int length = file->member ? asprintf(&name, "%s/%s", tail, file->member) : asprintf(&name, "%s", tail);
    if (length < 0 || !(file->address = strdup(address))) {
        free(length < 0 ? NULL : name);
        return lb_fail_nomem(err);
    }
    free(file->name);
    file->name = name;
    return LB_OK;
}

static lb_status fetch(struct lb_import_paths *paths, const char *address,
                       const struct lb_import_options *options, struct lb_error *err)
{
    char *tail = tail_of(address);
    struct fetching fetching = {options, tail ? tail : "", false};
    const struct lb_fetch_options how = {.folder = options->fetch_folder,
                                         .certificates = options->certificates,
                                         .size_limit = SIZE_LIMIT,
                                         .context = &fetching,
                                         .progress = tell};
    struct lb_fetched got = {0};
    size_t before = paths->files.count;
    lb_status status = tail ? lb_fetch(address, &how, &got, err) : lb_fail_nomem(err);
    if (fetching.stopped)
        status = lb_fail(err, LB_STOPPED, "stopped; the index is as it was.");
    if (!status)
        status = lb_import_paths_add(paths, got.path, err);
    for (size_t i = before; !status && i < paths->files.count; i++)
        status = rename_local(&paths->files.at[i], address, *tail ? tail : address, err);
    lb_fetched_free(&got);
    free(tail);
    return status;
}

lb_status lb_inputs_find(struct lb_import_paths *paths, const struct lb_import_options *options,
                         struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < options->path_count; i++)
        status = strstr(options->paths[i], "://") ? fetch(paths, options->paths[i], options, err)
                                                  : lb_import_paths_add(paths, options->paths[i], err);
    if (!status && options->name && paths->files.count != 1)
        status =
            lb_fail(err, LB_USAGE, "--as names one catalogue, but these are %zu files.", paths->files.count);
    return status;
}
