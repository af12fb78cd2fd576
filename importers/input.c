#include "importers/input.h"

#include "importers/archive.h"
#include "importers/encoding.h"

#include <string.h>
#include <sys/stat.h>

static bool is_stdin(const struct lb_import_path *path)
{
    return strcmp(path->path, "-") == 0;
}

bool lb_input_is_stream(const struct lb_import_path *path)
{
    struct stat info;
    return is_stdin(path) || (stat(path->path, &info) == 0 && S_ISFIFO(info.st_mode));
}

/* An archive comes here without a member when it could not be listed; trying again says why. Otherwise the
 * words in *err, which is filled, stand. */
static lb_status explain_archive(const struct lb_import_path *path, struct lb_error *err)
{
    struct lb_archive_members members = {0};
    bool is_archive;
    lb_status status = lb_archive_list(path->path, &is_archive, &members, err);
    lb_archive_members_free(&members);
    return status ? status : LB_DATA;
}

static lb_status open_unpacked(struct lb_bytes **out, const struct lb_import_path *path, struct lb_error *err)
{
    if (path->member)
        return lb_archive_open(out, path->path, path->member, err);
    lb_status status =
        is_stdin(path) ? lb_bytes_open_stdin(out, err) : lb_bytes_open_file(out, path->path, err);
    if (status)
        return status;
    status = lb_archive_unpack(out, is_stdin(path) ? path->name : path->path, err);
    return status == LB_DATA && !lb_input_is_stream(path) ? explain_archive(path, err) : status;
}

lb_status lb_input_open(struct lb_bytes **out, const struct lb_import_path *path, const char *encoding,
                        struct lb_error *err)
{
    struct lb_bytes *bytes = NULL;
    *out = NULL;
    lb_status status = open_unpacked(&bytes, path, err);
    if (!status)
        status = lb_encoding_open(out, bytes, encoding, err);
    if (status)
        lb_bytes_close(bytes);
    return status;
}
