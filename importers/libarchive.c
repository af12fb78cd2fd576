#include "importers/libarchive.h"
#include "importers/unpack.h"

#include <errno.h>
#include <string.h>

lb_status lb_libarchive_new(struct archive **out, const char *name, struct lb_error *err)
{
    *out = NULL;
    if (!lb_archive_load())
        return lb_fail(err, LB_DATA,
                       "%s is packed, and libarchive is not installed here; install it, or unpack it first",
                       name);
    *out = archive_read_new();
    return *out ? LB_OK : lb_fail_nomem(err);
}

static la_ssize_t pull(struct archive *archive, void *context, const void **block)
{
    struct lb_libarchive *reader = context;
    size_t got;
    if (reader->from->read(reader->from, reader->block, sizeof reader->block, &got, &reader->failure)) {
        archive_set_error(archive, EIO, "the bytes cannot be read");
        return ARCHIVE_FATAL;
    }
    *block = reader->block;
    return (la_ssize_t)got;
}

lb_status lb_libarchive_fail(struct lb_libarchive *reader, const char *name, struct lb_error *err)
{
    if (reader->failure.status)
        return lb_fail(err, reader->failure.status, "%s", lb_error_text(&reader->failure));
    const char *words = archive_error_string(reader->archive);
    if (archive_errno(reader->archive) == ENOMEM)
        return lb_fail_nomem(err);
    if (!words || strcasestr(words, "truncated") || strstr(words, "No progress is possible"))
        return lb_unpack_cut_off(name, err);
    return lb_fail(
        err, LB_DATA,
        "%s is damaged, or packed in a way that is not known here (%s). Get it again, or unpack it first",
        name, words);
}

lb_status lb_libarchive_open(struct lb_libarchive *reader, struct lb_bytes *from, const char *name,
                             struct lb_error *err)
{
    reader->from = from;
    if (archive_read_open(reader->archive, reader, NULL, pull, NULL) == ARCHIVE_OK)
        return LB_OK;
    return lb_libarchive_fail(reader, name, err);
}

lb_status lb_libarchive_next(struct lb_libarchive *reader, struct archive_entry **entry, bool *ended,
                             const char *name, struct lb_error *err)
{
    int result = archive_read_next_header(reader->archive, entry);
    *ended = result == ARCHIVE_EOF;
    if (result == ARCHIVE_OK || result == ARCHIVE_WARN || result == ARCHIVE_EOF)
        return LB_OK; /* what it warns of are names and times that it cannot tell */
    return lb_libarchive_fail(reader, name, err);
}

lb_status lb_libarchive_data(struct lb_libarchive *reader, char *to, size_t room, size_t *got,
                             const char *name, struct lb_error *err)
{
    la_ssize_t count = archive_read_data(reader->archive, to, room);
    *got = count > 0 ? (size_t)count : 0;
    return count < 0 ? lb_libarchive_fail(reader, name, err) : LB_OK;
}

void lb_libarchive_close(struct lb_libarchive *reader)
{
    if (reader->archive)
        archive_read_free(reader->archive);
    lb_error_free(&reader->failure);
}
