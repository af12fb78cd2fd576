#include "importers/unpack.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

enum { BLOCK = 1 << 16, AUTO_GZIP = 16 + MAX_WBITS /* gzip only, checked */ };

struct gzip_bytes {
    struct lb_bytes bytes, *from;
    z_stream stream;
    uint64_t out;
    bool ended;   /* `from` has no more */
    bool between; /* a whole gzip member has gone by: another may follow, or the end */
    char block[BLOCK];
    char name[];
};

static lb_status refill(struct gzip_bytes *gzip, struct lb_error *err)
{
    size_t got;
    lb_status status = gzip->from->read(gzip->from, gzip->block, BLOCK, &got, err);
    if (status)
        return status;
    gzip->bytes.done = gzip->from->done;
    gzip->stream.next_in = (unsigned char *)gzip->block;
    gzip->stream.avail_in = (unsigned)got;
    gzip->ended = got == 0;
    return LB_OK;
}

/* Several gzip members in a row are one file; NUL bytes behind the last are padding (of tapes). */
static lb_status next_part(struct gzip_bytes *gzip, struct lb_error *err)
{
    z_stream *stream = &gzip->stream;
    while (stream->avail_in > 0 && *stream->next_in == 0) {
        stream->next_in++;
        stream->avail_in--;
    }
    if (stream->avail_in == 0)
        return LB_OK;
    if (*stream->next_in != 0x1F)
        return lb_fail(
            err, LB_DATA,
            "%s is damaged: what follows its compressed content is something else. Get the file again",
            gzip->name);
    gzip->between = false;
    return inflateReset(stream) == Z_OK ? LB_OK : lb_fail_nomem(err);
}

static lb_status inflate_some(struct gzip_bytes *gzip, struct lb_error *err)
{
    int result = inflate(&gzip->stream, Z_NO_FLUSH);
    if (result == Z_MEM_ERROR)
        return lb_fail_nomem(err);
    if (result != Z_OK && result != Z_BUF_ERROR && result != Z_STREAM_END)
        return lb_fail(err, LB_DATA, "%s is damaged: %s. Get the file again", gzip->name,
                       gzip->stream.msg ? gzip->stream.msg : "its compression makes no sense");
    gzip->between = result == Z_STREAM_END;
    return LB_OK;
}

static lb_status read_gzip(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct gzip_bytes *gzip = (struct gzip_bytes *)bytes;
    z_stream *stream = &gzip->stream;
    unsigned space = room < UINT32_MAX ? (unsigned)room : UINT32_MAX;
    stream->next_out = (unsigned char *)to;
    stream->avail_out = space;
    lb_status status = LB_OK;
    *got = 0;
    while (!status && stream->avail_out == space && space > 0) {
        if (stream->avail_in == 0 && !gzip->ended)
            status = refill(gzip, err);
        if (!status && gzip->between)
            status = next_part(gzip, err);
        if (!status && gzip->ended && gzip->between)
            return LB_OK;
        if (!status && !gzip->between)
            status = inflate_some(gzip, err);
        if (!status && gzip->ended && !gzip->between && stream->avail_out == space)
            status = lb_unpack_cut_off(gzip->name, err);
    }
    if (status)
        return status;
    *got = space - stream->avail_out;
    gzip->out += *got;
    return lb_unpack_check(gzip->out, gzip->from->done, gzip->name, err);
}

static void close_gzip(struct lb_bytes *bytes)
{
    struct gzip_bytes *gzip = (struct gzip_bytes *)bytes;
    inflateEnd(&gzip->stream);
    lb_bytes_close(gzip->from);
    free(gzip);
}

lb_status lb_unpack_gzip(struct lb_bytes **bytes, const char *name, struct lb_error *err)
{
    struct gzip_bytes *gzip = calloc(1, sizeof *gzip + strlen(name) + 1);
    if (!gzip)
        return lb_fail_nomem(err);
    if (inflateInit2(&gzip->stream, AUTO_GZIP) != Z_OK) {
        free(gzip);
        return lb_fail_nomem(err);
    }
    strcpy(gzip->name, name);
    gzip->from = *bytes;
    gzip->bytes = (struct lb_bytes){gzip->from->done, gzip->from->size, NULL, read_gzip, close_gzip};
    *bytes = &gzip->bytes;
    return LB_OK;
}
