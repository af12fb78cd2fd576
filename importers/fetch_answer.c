#include "importers/fetch_private.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

/* "bytes 500-999/1000"; a size of * is as good as none. */
static void read_range(struct lb_fetch_transfer *transfer, const char *value)
{
    uint64_t start, end, size;
    if (sscanf(value, "bytes %19" SCNu64 "-%19" SCNu64 "/%19" SCNu64, &start, &end, &size) != 3)
        return;
    transfer->ranged = true;
    transfer->range_start = start;
    transfer->range_end = end;
    transfer->now.size = size;
    transfer->now.size_known = true;
}

/* Cuts "Name: value" in two, in place; NULL when it is no such line. */
static const char *split(char *text)
{
    char *value = strchr(text, ':');
    if (!value)
        return NULL;
    *value++ = '\0';
    value += strspn(value, " \t");
    for (char *end = value + strlen(value); end > value && strchr(" \t\r\n", end[-1]);)
        *--end = '\0';
    return value;
}

/* Forgets what a redirect, or the word to go on, said before. */
static void begin_headers(struct lb_fetch_transfer *transfer)
{
    lb_fetch_about_free(&transfer->now);
    transfer->ranged = transfer->chunked = false;
}

bool lb_fetch_answer_header(struct lb_fetch_transfer *transfer, const char *line, size_t length)
{
    char text[1024]; /* none of ours is longer */
    if (!transfer->begun && length >= 5 && memcmp(line, "HTTP/", 5) == 0)
        begin_headers(transfer);
    if (length >= sizeof text || memchr(line, '\0', length))
        return true;
    memcpy(text, line, length);
    text[length] = '\0';
    const char *value = split(text);
    if (!value || transfer->begun) /* a trailer may follow the body */
        return true;
    if (strcasecmp(text, "content-range") == 0)
        read_range(transfer, value);
    if (strcasecmp(text, "transfer-encoding") == 0)
        transfer->chunked = strcasestr(value, "chunked");
    return lb_fetch_about_header(&transfer->now, text, value);
}

lb_status lb_fetch_answer_too_large(const struct lb_fetch_transfer *transfer)
{
    lb_fetch_place_drop(transfer->place);
    return lb_fail(transfer->err, LB_DATA, "%s: the list is larger than the limit of %" PRIu64 " bytes.",
                   transfer->shown, transfer->options->size_limit);
}

static bool equal(const char *a, const char *b)
{
    return a && b && strcmp(a, b) == 0;
}

/* Whether the range goes on where the part ends, to the end, of the same edition. The server was asked to see
 * to the last itself (If-Range); not every one does. It may leave Last-Modified out, ETag not. */
static bool continues(const struct lb_fetch_transfer *transfer)
{
    const struct lb_fetch_about *part = &transfer->part, *now = &transfer->now;
    if (!transfer->ranged || transfer->range_start != transfer->offset ||
        transfer->range_end + 1 != now->size || (part->size_known && part->size != now->size))
        return false;
    if (part->etag && !equal(part->etag, now->etag))
        return false;
    return !part->last_modified || !now->last_modified || equal(part->last_modified, now->last_modified);
}

static void fill(char **to, char **from)
{
    if (*to)
        return;
    *to = *from;
    *from = NULL;
}

/* Opens the part with `offset` bytes in it, and writes down of what edition they are before more come. */
static lb_status open_part(struct lb_fetch_transfer *transfer)
{
    const struct lb_fetch_place *place = transfer->place;
    struct lb_error *err = transfer->err;
    fill(&transfer->now.etag, &transfer->part.etag);
    fill(&transfer->now.last_modified, &transfer->part.last_modified);
    transfer->here = transfer->offset;
    transfer->descriptor = open(place->part, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
    if (transfer->descriptor < 0 || ftruncate(transfer->descriptor, (off_t)transfer->offset) != 0)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be written: %s.", place->part, strerror(errno));
    return lb_fetch_about_write(place->part_about, transfer->url, &transfer->now, err);
}

static lb_status start(struct lb_fetch_transfer *transfer)
{
    uint64_t limit = transfer->options->size_limit;
    if (limit && transfer->now.size_known && transfer->now.size > limit)
        return lb_fetch_answer_too_large(transfer);
    return open_part(transfer);
}

/* A body that goes on until the connection ends may be cut by anyone on the way, TLS or not: not every
 * libcurl looks for its closing words. From HTTP/2 on there is no such body. */
static bool shows_its_end(const struct lb_fetch_transfer *transfer)
{
    long version = 0;
    curl_easy_getinfo(transfer->curl, CURLINFO_HTTP_VERSION, &version);
    return transfer->now.size_known || transfer->chunked || version >= CURL_HTTP_VERSION_2_0;
}

/* 200: from the first byte, whatever was asked. */
static lb_status start_whole(struct lb_fetch_transfer *transfer)
{
    curl_off_t length = -1;
    curl_easy_getinfo(transfer->curl, CURLINFO_CONTENT_LENGTH_DOWNLOAD_T, &length);
    transfer->now.size_known = length >= 0;
    transfer->now.size = length >= 0 ? (uint64_t)length : 0;
    transfer->offset = 0;
    if (!shows_its_end(transfer))
        return lb_fail(
            transfer->err, LB_DATA,
            "%s: the server does not say where the list ends (neither its size nor chunks): it could be "
            "cut short unnoticed. Download the file and import it.",
            transfer->shown);
    lb_fetch_about_free(&transfer->part);
    return start(transfer);
}

bool lb_fetch_answer_begin(struct lb_fetch_transfer *transfer)
{
    long code = 0;
    curl_easy_getinfo(transfer->curl, CURLINFO_RESPONSE_CODE, &code);
    bool asked_same = transfer->had.etag || transfer->had.last_modified;
    transfer->begun = true;
    if (code == 304 && asked_same)
        transfer->unchanged = true;
    else if (transfer->offset > 0 && (code == 416 || (code == 206 && !continues(transfer))))
        transfer->anew = true;
    else if (code == 200)
        transfer->status = start_whole(transfer);
    else if (code == 206 && transfer->offset > 0)
        transfer->status = start(transfer);
    else
        transfer->status = lb_fetch_fail_status(transfer, code);
    return !transfer->status && !transfer->anew && !transfer->unchanged;
}
