#include "importers/archive.h"

#include "importers/unpack.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool lb_archive_is_named_so(const char *name)
{
    static const char *const ends[] = {".zip",    ".tar",     ".tgz",     ".tbz2",    ".txz",
                                       ".tar.gz", ".tar.bz2", ".tar.xz",  ".tar.zst", ".csv.gz",
                                       ".csv.xz", ".csv.bz2", ".csv.zst", ".tzst"};
    size_t length = strlen(name);
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        size_t end = strlen(ends[i]);
        if (length > end && strcasecmp(name + length - end, ends[i]) == 0)
            return true;
    }
    return false;
}

void lb_archive_members_free(struct lb_archive_members *members)
{
    for (size_t i = 0; i < members->names.count; i++)
        free(members->names.at[i]);
    free(members->names.at);
    memset(members, 0, sizeof *members);
}

/* Takes off one compression, if there is one; *packing is what is then before us. */
static lb_status take_off(struct lb_bytes **bytes, const char *name, enum lb_packing *packing, bool *taken,
                          struct lb_error *err)
{
    const char *head;
    size_t length;
    lb_status status = lb_bytes_peek(bytes, &head, &length, err);
    if (status)
        return status;
    *packing = lb_packing_of(head, length);
    *taken = *packing >= LB_GZIP && *packing <= LB_BZIP2;
    if (*taken)
        status = lb_unpack(bytes, *packing, name, err);
    if (*taken && !status)
        status = lb_bytes_peek(bytes, &head, &length, err);
    if (*taken && !status)
        *packing = lb_packing_of(head, length);
    return status;
}

static lb_status refuse_nested(const char *name, struct lb_error *err)
{
    return lb_fail(err, LB_DATA, "%s holds another archive; unpack that first", name);
}

lb_status lb_archive_unpack(struct lb_bytes **bytes, const char *name, struct lb_error *err)
{
    enum lb_packing packing;
    bool taken;
    lb_status status = take_off(bytes, name, &packing, &taken, err);
    if (status || packing == LB_UNPACKED)
        return status;
    if (taken && packing != LB_TAR)
        return refuse_nested(name, err);
    return lb_fail(err, LB_DATA, "%s is an archive of several files; unpack it, or import it from a file",
                   name);
}

/* *packing: LB_UNPACKED (no archive of members), or which kind of archive it is, whatever is around it.
 * *from: the bytes of an LB_TAR, to close; else NULL. */
static lb_status open_archive(struct lb_bytes **from, const char *path, enum lb_packing *packing,
                              struct lb_error *err)
{
    bool taken = false;
    *packing = LB_UNPACKED;
    lb_status status = lb_bytes_open_file(from, path, err);
    if (!status)
        status = take_off(from, path, packing, &taken, err);
    if (!status && taken && *packing != LB_UNPACKED && *packing != LB_TAR)
        status = refuse_nested(path, err);
    if (status || *packing != LB_TAR) {
        lb_bytes_close(*from);
        *from = NULL;
    }
    return status;
}

lb_status lb_archive_list(const char *path, bool *is_archive, struct lb_archive_members *members,
                          struct lb_error *err)
{
    struct lb_bytes *from;
    enum lb_packing packing;
    lb_status status = open_archive(&from, path, &packing, err);
    *is_archive = !status && packing != LB_UNPACKED;
    if (!*is_archive || packing == LB_EMPTY_ZIP) /* which libarchive takes for damaged */
        return status;
    return lb_archive_list_members(path, from, members, err);
}

lb_status lb_archive_open(struct lb_bytes **out, const char *path, const char *member, struct lb_error *err)
{
    struct lb_bytes *from;
    enum lb_packing packing;
    *out = NULL;
    lb_status status = open_archive(&from, path, &packing, err);
    if (!status && packing != LB_ZIP && packing != LB_TAR)
        status = lb_fail(err, LB_DATA, "%s holds nothing (any more)", path);
    return status ? status : lb_archive_open_member(out, path, from, member, err);
}

#if !LB_HAVE_ARCHIVE
lb_status lb_archive_list_members(const char *path, struct lb_bytes *from, struct lb_archive_members *members,
                                  struct lb_error *err)
{
    (void)members;
    lb_bytes_close(from);
    return lb_unpack_unable(path, err);
}

lb_status lb_archive_open_member(struct lb_bytes **out, const char *path, struct lb_bytes *from,
                                 const char *member, struct lb_error *err)
{
    (void)out;
    (void)member;
    lb_bytes_close(from);
    return lb_unpack_unable(path, err);
}
#endif
