#include "catalog/known.h"

#include "importers/input.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct lb_finder {
    struct lb_statement *find[LB_KNOWN_WAYS], *taken, *size;
    const char *supplier;
};

lb_status lb_finder_open(struct lb_finder **out, struct lb_store *store, const char *supplier,
                         struct lb_error *err)
{
#define KNOWN                                                                                                \
    "SELECT id, name, path, fingerprint, coalesce(supplier, '') = coalesce(?2, ''), rows_read, "             \
    "rows_rejected, kinds, reading FROM source WHERE "
    static const char *const sql[LB_KNOWN_WAYS] = {
        [LB_KNOWN_BY_ORIGIN] = KNOWN "path = ?1",
        [LB_KNOWN_BY_NAME] = KNOWN "name = ?1",
        [LB_KNOWN_BY_BYTES] = KNOWN "fingerprint = ?1 AND ?1 <> '' ORDER BY id",
    };
#undef KNOWN
    struct lb_finder *finder = *out = calloc(1, sizeof *finder);
    if (!finder)
        return lb_fail_nomem(err);
    finder->supplier = supplier;
    lb_status status =
        lb_store_prepare(store, &finder->taken, "SELECT 1 FROM source WHERE name = ?1 AND path <> ?2", err);
    if (!status)
        status = lb_store_prepare(
            store, &finder->size,
            "SELECT 1 FROM source WHERE fingerprint || ':' LIKE '%:' || ?1 || ':%' LIMIT 1", err);
    for (int i = 0; !status && i < LB_KNOWN_WAYS; i++)
        status = lb_store_prepare(store, &finder->find[i], sql[i], err);
    if (status) {
        lb_finder_close(finder);
        *out = NULL;
    }
    return status;
}

void lb_finder_close(struct lb_finder *finder)
{
    if (!finder)
        return;
    for (int i = 0; i < LB_KNOWN_WAYS; i++)
        lb_statement_free(finder->find[i]);
    lb_statement_free(finder->taken);
    lb_statement_free(finder->size);
    free(finder);
}

void lb_known_free(struct lb_known *known)
{
    char *texts[] = {known->name, known->origin, known->fingerprint, known->kinds, known->reading};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        free(texts[i]);
    memset(known, 0, sizeof *known);
}

lb_status lb_known_find(struct lb_finder *finder, enum lb_known_by by, const char *what,
                        struct lb_known *known, struct lb_error *err)
{
    struct lb_statement *st = finder->find[by];
    bool row;
    lb_bind_text(st, 1, what);
    lb_bind_text(st, 2, finder->supplier);
    lb_status status = lb_step(st, &row, err);
    if (status || !row)
        return status;
    known->source = lb_integer(st, 0);
    known->same_supplier = lb_integer(st, 4) != 0;
    known->rows_read = lb_integer(st, 5);
    known->rows_rejected = lb_integer(st, 6);
    const struct {
        char **text;
        int column;
    } texts[] = {{&known->name, 1},
                 {&known->origin, 2},
                 {&known->fingerprint, 3},
                 {&known->kinds, 7},
                 {&known->reading, 8}};
    for (size_t i = 0; !status && i < sizeof texts / sizeof *texts; i++)
        if (!(*texts[i].text = strdup(lb_text(st, texts[i].column))))
            status = lb_fail_nomem(err);
    lb_statement_reset(st);
    return status;
}

static lb_status is_taken(struct lb_finder *finder, const char *name, const char *origin, bool *taken,
                          struct lb_error *err)
{
    lb_bind_text(finder->taken, 1, name);
    lb_bind_text(finder->taken, 2, origin);
    lb_status status = lb_step(finder->taken, taken, err);
    lb_statement_reset(finder->taken);
    return status;
}

lb_status lb_finder_name(struct lb_finder *finder, const char *origin, const char *own, char **out,
                         struct lb_error *err)
{
    const char *name = origin + strlen(origin) - strlen(own);
    if (strlen(own) > strlen(origin) || strcmp(name, own) != 0)
        name = own; /* reached through a link: its own name stands */
    bool taken = true;
    for (;;) {
        lb_status status = is_taken(finder, name, origin, &taken, err);
        if (status)
            return status;
        if (!taken || name == own || name <= origin + 1)
            break;
        for (name -= 2; name > origin && *name != '/'; name--)
            ;
        name += *name == '/';
    }
    *out = strdup(taken ? origin : name);
    return *out ? LB_OK : lb_fail_nomem(err);
}

char *lb_known_origin(const struct lb_import_path *path, const char *name)
{
    char *origin = NULL;
    const char *place = path->address ? path->address : path->path;
    int length = path->member                      ? asprintf(&origin, "%s/%s", place, path->member)
                 : name && strcmp(place, "-") == 0 ? asprintf(&origin, "- (%s)", name)
                                                   : asprintf(&origin, "%s", place);
    return length < 0 ? NULL : origin;
}

bool lb_known_is_there(const char *origin)
{
    return strstr(origin, "://") || access(origin, F_OK) == 0 ||
           errno == ENOTDIR; /* a member of an archive */
}

lb_status lb_known_may_be(struct lb_finder *finder, const struct lb_import_path *path, bool *may,
                          struct lb_error *err)
{
    struct stat info;
    *may = true;
    if (path->member || stat(path->path, &info) != 0)
        return LB_OK;
    lb_bind_integer(finder->size, 1, info.st_size);
    lb_status status = lb_step(finder->size, may, err);
    lb_statement_reset(finder->size);
    return status;
}

static lb_status add_bytes(struct lb_fingerprint *print, const char *path, struct lb_error *err)
{
    static _Thread_local char block[1 << 18];
    size_t got = 0;
    struct lb_bytes *bytes;
    lb_status status = lb_bytes_open_file(&bytes, path, err);
    while (!status && !(status = bytes->read(bytes, block, sizeof block, &got, err)) && got > 0)
        lb_fingerprint_add(print, block, got);
    lb_bytes_close(bytes);
    return status;
}

lb_status lb_known_fingerprint(const struct lb_import_path *path, char out[LB_FINGERPRINT_ROOM],
                               struct lb_error *err)
{
    struct lb_fingerprint print;
    out[0] = '\0';
    if (lb_input_is_stream(path))
        return LB_OK;
    lb_status status = lb_fingerprint_begin(&print, err);
    if (status)
        return status;
    status = add_bytes(&print, path->path, err);
    if (path->member)
        lb_fingerprint_add(&print, path->member, strlen(path->member) + 1);
    lb_fingerprint_end(&print, out);
    return status;
}
