#include "importers/fetch_private.h"

#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum {
    REDIRECTS_MAX = 5,
    STALLED_BELOW = 100, /* bytes a second */
    PEM_MAX = 16 << 20,
};

static bool add_header(struct curl_slist **headers, const char *name, const char *value)
{
    if (!value)
        return true;
    struct lb_buf line = {0};
    lb_buf_printf(&line, "%s: %s", name, value);
    struct curl_slist *longer = line.failed ? NULL : curl_slist_append(*headers, line.text);
    lb_buf_free(&line);
    if (longer)
        *headers = longer;
    return longer;
}

/* A server judges If-None-Match before Range, so one request may hold both: is it still what is here, and if
 * not, is the part the beginning of what it is now? */
static bool add_conditions(const struct lb_fetch_transfer *transfer, struct curl_slist **headers)
{
    return add_header(headers, "If-None-Match", transfer->had.etag) &&
           add_header(headers, "If-Modified-Since", transfer->had.last_modified) &&
           (transfer->offset == 0 || add_header(headers, "If-Range", lb_fetch_about_strong(&transfer->part)));
}

static CURLcode set_range(const struct lb_fetch_transfer *transfer)
{
    char range[32];
    if (transfer->offset == 0)
        return CURLE_OK;
    snprintf(range, sizeof range, "%" PRIu64 "-", transfer->offset);
    return curl_easy_setopt(transfer->curl, CURLOPT_RANGE, range);
}

/* What is never negotiable. */
static bool set_safety(CURL *curl)
{
    return curl_easy_setopt(curl, CURLOPT_PROTOCOLS_STR, "https") == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_REDIR_PROTOCOLS_STR, "https") == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_SSL_VERIFYPEER, 1L) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_SSL_VERIFYHOST, 2L) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_SSLVERSION, (long)CURL_SSLVERSION_TLSv1_2) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_DISALLOW_USERNAME_IN_URL, 1L) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_NETRC, (long)CURL_NETRC_IGNORED) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_FOLLOWLOCATION, 1L) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_MAXREDIRS, (long)REDIRECTS_MAX) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_NOSIGNAL, 1L) == CURLE_OK;
}

static bool set_times(CURL *curl, const struct lb_fetch_options *options)
{
    long stall = options->stall_seconds > 0 ? options->stall_seconds : 60;
    long total = options->total_seconds > 0 ? options->total_seconds : 0;
    return curl_easy_setopt(curl, CURLOPT_CONNECTTIMEOUT, lb_fetch_connect_seconds(options)) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_LOW_SPEED_LIMIT, (long)STALLED_BELOW) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_LOW_SPEED_TIME, stall) == CURLE_OK &&
           curl_easy_setopt(curl, CURLOPT_TIMEOUT, total) == CURLE_OK;
}

/* Appends the file; false (errno) when it cannot be read. */
static bool append_file(struct lb_buf *out, const char *path)
{
    char block[8192];
    size_t got;
    FILE *file = fopen(path, "re");
    if (!file)
        return false;
    while (out->length < PEM_MAX && (got = fread(block, 1, sizeof block, file)) > 0)
        lb_buf_append(out, block, got);
    bool good = !ferror(file);
    int trouble = errno;
    fclose(file);
    errno = trouble;
    return good;
}

/* libcurl takes one bundle: the system's goes behind the further authorities. A system that keeps its own as
 * a folder needs nothing. */
static lb_status set_bundle(CURL *curl, struct lb_buf *pem, struct lb_error *err)
{
    const char *system = curl_version_info(CURLVERSION_NOW)->cainfo;
    lb_buf_putc(pem, '\n');
    if (system)
        (void)append_file(pem, system);
    if (pem->failed)
        return lb_fail_nomem(err);
    struct curl_blob blob = {pem->text, pem->length, CURL_BLOB_COPY};
    CURLcode code = curl_easy_setopt(curl, CURLOPT_CAINFO_BLOB, &blob);
    if (code == CURLE_OUT_OF_MEMORY)
        return lb_fail_nomem(err);
    return code ? lb_fail(err, LB_SYSTEM, "this libcurl takes no further certificates (%s).",
                          curl_easy_strerror(code))
                : LB_OK;
}

static lb_status set_authorities(CURL *curl, const char *certificates, struct lb_error *err)
{
    if (!certificates)
        return LB_OK;
    struct lb_buf pem = {0};
    lb_status status;
    if (!append_file(&pem, certificates))
        status = lb_fail(err, LB_SYSTEM, "%s: the certificates cannot be read: %s.", certificates,
                         strerror(errno));
    else if (!memmem(lb_buf_text(&pem), pem.length, "CERTIFICATE-----", 16))
        status = lb_fail(err, LB_DATA,
                         "%s: there is no certificate in it. It must be a PEM file: text, with lines "
                         "-----BEGIN CERTIFICATE-----.",
                         certificates);
    else
        status = set_bundle(curl, &pem, err);
    lb_buf_free(&pem);
    return status;
}

lb_status lb_fetch_request(struct lb_fetch_transfer *transfer, struct curl_slist **headers,
                           struct lb_error *err)
{
    CURL *curl = transfer->curl;
    lb_status status = set_authorities(curl, transfer->options->certificates, err);
    if (status)
        return status;
    if (!add_conditions(transfer, headers))
        return lb_fail_nomem(err);
    bool good = set_safety(curl) && set_times(curl, transfer->options) && set_range(transfer) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_ERRORBUFFER, transfer->detail) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_SUPPRESS_CONNECT_HEADERS, 1L) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_USERAGENT, "lastbolt") == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_HTTPHEADER, *headers) == CURLE_OK &&
                curl_easy_setopt(curl, CURLOPT_URL, transfer->url) == CURLE_OK;
    return good ? LB_OK
                : lb_fail(err, LB_SYSTEM, "%s: this libcurl lacks https or a part of it.", transfer->shown);
}
