#include "importers/fetch_private.h"

#include <inttypes.h>

static lb_status ask_to_wait(const struct lb_fetch_transfer *transfer, long status)
{
    curl_off_t seconds = 0;
    curl_easy_getinfo(transfer->curl, CURLINFO_RETRY_AFTER, &seconds);
    if (seconds > 0)
        return lb_fail(transfer->err, LB_SYSTEM,
                       "%s: the server asks to wait (status %ld): try again in %" PRId64 " seconds.",
                       transfer->shown, status, (int64_t)seconds);
    return lb_fail(transfer->err, LB_SYSTEM, "%s: the server asks to wait (status %ld): try again later.",
                   transfer->shown, status);
}

lb_status lb_fetch_fail_status(const struct lb_fetch_transfer *transfer, long status)
{
    struct lb_error *err = transfer->err;
    const char *shown = transfer->shown;
    switch (status) {
    case 404:
    case 410:
        return lb_fail(err, LB_DATA,
                       "%s: the server has nothing there (status %ld). Has the list got another address?",
                       shown, status);
    case 401:
    case 403:
        return lb_fail(
            err, LB_DATA,
            "%s: the server does not allow it (status %ld). lastbolt has no names and passwords to "
            "show; download the file and import it.",
            shown, status);
    case 429:
    case 503:
        return ask_to_wait(transfer, status);
    default:
        if (status >= 500)
            return lb_fail(err, LB_SYSTEM, "%s: the server is in trouble (status %ld): try again later.",
                           shown, status);
        return lb_fail(
            err, LB_DATA,
            "%s: the server answers with status %ld, not with a list. Download the file and import "
            "it.",
            shown, status);
    }
}

/* What becomes of the bytes that came. */
static void append_kept(struct lb_buf *words, const struct lb_fetch_transfer *transfer)
{
    if (!transfer->begun || transfer->here == 0)
        lb_buf_puts(words, " Try again later.");
    else if (lb_fetch_about_strong(&transfer->now))
        lb_buf_printf(words, " The %" PRIu64 " bytes that came are kept: fetch it again to go on from there.",
                      transfer->here);
    else
        lb_buf_puts(words, " Fetch it again; this server can only begin from the start.");
}

static lb_status fail_broken(const struct lb_fetch_transfer *transfer, const char *what)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, what);
    append_kept(&words, transfer);
    lb_status status = lb_fail(transfer->err, LB_SYSTEM, "%s: %s", transfer->shown, lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}

static lb_status fail_time(const struct lb_fetch_transfer *transfer)
{
    curl_off_t connected = 0, total = 0;
    curl_easy_getinfo(transfer->curl, CURLINFO_PRETRANSFER_TIME_T, &connected);
    curl_easy_getinfo(transfer->curl, CURLINFO_TOTAL_TIME_T, &total);
    long limit = transfer->options->total_seconds;
    if (limit > 0 && total >= (curl_off_t)limit * 1000000)
        return fail_broken(transfer, "the time allowed for the download is up.");
    if (connected == 0)
        return fail_broken(transfer, "the server does not answer.");
    return fail_broken(transfer, "the download has stalled: the server sends nothing more.");
}

/* Two reasons have one code in libcurl: nobody trusted vouches for the server, or they vouch for another
 * (then the result of the verification is as it was before, 0 or 1). */
static lb_status fail_certificate(const struct lb_fetch_transfer *transfer)
{
    long verified = 0;
    curl_easy_getinfo(transfer->curl, CURLINFO_SSL_VERIFYRESULT, &verified);
    if (verified > 1)
        return lb_fail(
            transfer->err, LB_SYSTEM,
            "%s: the server's certificate is not to be trusted (%s). Is this machine's date right? "
            "If you know the authority that signed it, add its certificate.",
            transfer->shown, transfer->detail);
    return lb_fail(transfer->err, LB_SYSTEM,
                   "%s: the server shows the certificate of another one (%s). Is the address right?",
                   transfer->shown, transfer->detail);
}

static lb_status fail_redirect(const struct lb_fetch_transfer *transfer, CURLcode code)
{
    const char *why = code == CURLE_UNSUPPORTED_PROTOCOL ? "to an address that is not https"
                      : code == CURLE_LOGIN_DENIED       ? "to an address with a name or a password in it"
                      : code == CURLE_TOO_MANY_REDIRECTS ? "more than five times"
                                                         : "to what is no address";
    return lb_fail(
        transfer->err, LB_DATA,
        "%s: the server redirects %s, which lastbolt does not follow. Download the file and import it.",
        transfer->shown, why);
}

static lb_status fail_network(const struct lb_fetch_transfer *transfer, CURLcode code)
{
    const char *shown = transfer->shown;
    const char *detail = *transfer->detail ? transfer->detail : curl_easy_strerror(code);
    switch (code) {
    case CURLE_COULDNT_RESOLVE_HOST:
        return lb_fail(transfer->err, LB_SYSTEM,
                       "%s: no server of this name is found. Is this machine on line, and the name right?",
                       shown);
    case CURLE_COULDNT_RESOLVE_PROXY:
        return lb_fail(transfer->err, LB_SYSTEM, "%s: the proxy of this machine is not found (%s).", shown,
                       detail);
    case CURLE_COULDNT_CONNECT:
        return lb_fail(transfer->err, LB_SYSTEM,
                       "%s: the server cannot be reached (%s). Is this machine on line?", shown, detail);
    case CURLE_SSL_CONNECT_ERROR:
    case CURLE_SSL_CIPHER:
        return lb_fail(transfer->err, LB_SYSTEM, "%s: no safe connection comes about with the server (%s).",
                       shown, detail);
    case CURLE_SSL_CACERT_BADFILE:
        return lb_fail(transfer->err, LB_SYSTEM, "%s: the certificates of authorities cannot be used (%s).",
                       transfer->options->certificates ? transfer->options->certificates : shown, detail);
    default:
        return lb_fail(transfer->err, LB_SYSTEM, "%s: cannot be fetched: %s.", shown, detail);
    }
}

lb_status lb_fetch_fail_curl(const struct lb_fetch_transfer *transfer, CURLcode code)
{
    switch (code) {
    case CURLE_OUT_OF_MEMORY:
        return lb_fail_nomem(transfer->err);
    case CURLE_ABORTED_BY_CALLBACK:
        return fail_broken(transfer, "the download was stopped.");
    case CURLE_OPERATION_TIMEDOUT:
        return fail_time(transfer);
    case CURLE_PARTIAL_FILE:
    case CURLE_RECV_ERROR:
    case CURLE_SEND_ERROR:
    case CURLE_GOT_NOTHING:
    case CURLE_HTTP2:
    case CURLE_HTTP2_STREAM:
        return fail_broken(transfer, "the connection broke off before the end.");
    case CURLE_PEER_FAILED_VERIFICATION:
        return fail_certificate(transfer);
    case CURLE_UNSUPPORTED_PROTOCOL:
    case CURLE_LOGIN_DENIED:
    case CURLE_TOO_MANY_REDIRECTS:
    case CURLE_URL_MALFORMAT:
        return fail_redirect(transfer, code);
    default:
        return fail_network(transfer, code);
    }
}
