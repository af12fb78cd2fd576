#include "importers/fetch_private.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

static size_t take_header(char *line, size_t size, size_t count, void *context)
{
    struct lb_fetch_transfer *transfer = context;
    if (!lb_fetch_answer_header(transfer, line, size * count))
        transfer->status = lb_fail_nomem(transfer->err);
    return transfer->status ? 0 : size * count;
}

static lb_status write_part(struct lb_fetch_transfer *transfer, const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t count = write(transfer->descriptor, bytes, length);
        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return lb_fail(transfer->err, LB_SYSTEM, "%s: cannot be written: %s.", transfer->place->part,
                           strerror(errno));
        bytes += count;
        length -= (size_t)count;
        transfer->here += (uint64_t)count;
    }
    return LB_OK;
}

/* Any other number than that of the bytes makes libcurl stop. */
static size_t take_body(char *bytes, size_t size, size_t count, void *context)
{
    struct lb_fetch_transfer *transfer = context;
    size_t length = size * count;
    uint64_t limit = transfer->options->size_limit;
    if (!transfer->begun && !lb_fetch_answer_begin(transfer))
        return length + 1;
    if (limit && (transfer->here > limit || length > limit - transfer->here))
        transfer->status = lb_fetch_answer_too_large(transfer);
    else
        transfer->status = write_part(transfer, bytes, length);
    return transfer->status ? length + 1 : length;
}

static int tell_progress(void *context, curl_off_t download_size, curl_off_t downloaded,
                         curl_off_t upload_size, curl_off_t uploaded)
{
    struct lb_fetch_transfer *transfer = context;
    (void)download_size, (void)downloaded, (void)upload_size, (void)uploaded;
    bool known = transfer->begun && transfer->now.size_known;
    return transfer->options->progress(transfer->options->context, transfer->here,
                                       known ? transfer->now.size : 0);
}

static bool set_callbacks(struct lb_fetch_transfer *transfer)
{
    CURL *curl = transfer->curl;
    bool good = curl_easy_setopt(curl, CURLOPT_HEADERFUNCTION, take_header) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_HEADERDATA, transfer) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_WRITEFUNCTION, take_body) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_WRITEDATA, transfer) == CURLE_OK;
    if (!good || !transfer->options->progress)
        return good;
    return curl_easy_setopt(curl, CURLOPT_XFERINFOFUNCTION, tell_progress) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_XFERINFODATA, transfer) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_NOPROGRESS, 0L) == CURLE_OK;
}

/* Before its words are made: they say how much of it is kept. */
static lb_status close_part(struct lb_fetch_transfer *transfer, bool whole)
{
    if (transfer->descriptor < 0)
        return LB_OK;
    bool good = !whole || fsync(transfer->descriptor) == 0;
    good = close(transfer->descriptor) == 0 && good;
    transfer->descriptor = -1;
    return good ? LB_OK
                : lb_fail(transfer->err, LB_SYSTEM, "%s: cannot be written: %s.", transfer->place->part,
                          strerror(errno));
}

/* libcurl's words may quote a certificate, which may hold anything. */
static void clean_detail(struct lb_fetch_transfer *transfer)
{
    for (char *p = transfer->detail; *p; p++)
        if (*p < ' ' || *p > '~')
            *p = '?';
}

static lb_status judge(struct lb_fetch_transfer *transfer, CURLcode code)
{
    if (code == CURLE_OK && !transfer->begun) /* no body */
        (void)lb_fetch_answer_begin(transfer);
    lb_status status = close_part(transfer, code == CURLE_OK && !transfer->status);
    if (transfer->status)
        return transfer->status;
    if (status || transfer->anew || transfer->unchanged)
        return status;
    if (code == CURLE_OK && transfer->now.size_known && transfer->here != transfer->now.size)
        code = CURLE_PARTIAL_FILE;
    if (code) {
        clean_detail(transfer);
        return lb_fetch_fail_curl(transfer, code);
    }
    transfer->now.size = transfer->here;
    transfer->now.size_known = true;
    return LB_OK;
}

lb_status lb_fetch_transfer_run(struct lb_fetch_transfer *transfer, struct lb_error *err)
{
    struct curl_slist *headers = NULL;
    transfer->err = err;
    transfer->here = transfer->offset;
    transfer->descriptor = -1;
    lb_status status = lb_fetch_request(transfer, &headers, err);
    if (!status && !set_callbacks(transfer))
        status = lb_fail_nomem(err);
    if (!status)
        status = judge(transfer, curl_easy_perform(transfer->curl));
    curl_slist_free_all(headers);
    return status;
}
