#include "importers/libarchive.h"
#include "importers/unpack.h"

#include <stdlib.h>
#include <string.h>

struct filter_bytes {
    struct lb_bytes bytes, *from;
    struct lb_libarchive reader;
    uint64_t out;
    bool begun, ended;
    char name[];
};

static lb_status begin(struct filter_bytes *filter, struct lb_error *err)
{
    struct archive_entry *entry;
    filter->begun = true;
    lb_status status = lb_libarchive_open(&filter->reader, filter->from, filter->name, err);
    return status ? status : lb_libarchive_next(&filter->reader, &entry, &filter->ended, filter->name, err);
}

static lb_status read_filter(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct filter_bytes *filter = (struct filter_bytes *)bytes;
    lb_status status = filter->begun ? LB_OK : begin(filter, err);
    *got = 0;
    if (!status && !filter->ended)
        status = lb_libarchive_data(&filter->reader, to, room, got, filter->name, err);
    bytes->done = filter->from->done;
    filter->out += *got;
    return status ? status : lb_unpack_check(filter->out, bytes->done, filter->name, err);
}

static void close_filter(struct lb_bytes *bytes)
{
    struct filter_bytes *filter = (struct filter_bytes *)bytes;
    lb_libarchive_close(&filter->reader);
    lb_bytes_close(filter->from);
    free(filter);
}

lb_status lb_unpack_filter(struct lb_bytes **bytes, enum lb_packing packing, const char *name,
                           struct lb_error *err)
{
    struct filter_bytes *filter = calloc(1, sizeof *filter + strlen(name) + 1);
    struct archive *reader;
    lb_status status = filter ? lb_libarchive_new(&reader, name, err) : lb_fail_nomem(err);
    if (status) {
        free(filter);
        return status;
    }
    /* Only this one: with all of them libarchive would unwrap one within another. */
    if (packing == LB_ZSTD)
        archive_read_support_filter_zstd(reader);
    else if (packing == LB_XZ)
        archive_read_support_filter_xz(reader);
    else
        archive_read_support_filter_bzip2(reader);
    archive_read_support_format_raw(reader);
    archive_read_support_format_empty(reader);
    strcpy(filter->name, name);
    filter->reader.archive = reader;
    filter->from = *bytes;
    filter->bytes =
        (struct lb_bytes){filter->from->done, filter->from->size, NULL, read_filter, close_filter};
    *bytes = &filter->bytes;
    return LB_OK;
}
