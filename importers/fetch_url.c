#include "importers/fetch_private.h"

#include <string.h>

/* Scheme, host, port and path: never user, password or query. */
static bool append_shown(struct lb_buf *shown, CURLU *parsed)
{
    char *whole = NULL;
    CURLU *bare = curl_url_dup(parsed);
    char *query = NULL;
    bool has_query = curl_url_get(parsed, CURLUPART_QUERY, &query, 0) == CURLUE_OK;
    curl_free(query);
    bool good = bare && curl_url_set(bare, CURLUPART_QUERY, NULL, 0) == CURLUE_OK &&
                curl_url_set(bare, CURLUPART_FRAGMENT, NULL, 0) == CURLUE_OK &&
                curl_url_get(bare, CURLUPART_URL, &whole, 0) == CURLUE_OK;
    if (good)
        lb_buf_printf(shown, "%s%s", whole, has_query ? "?…" : "");
    curl_free(whole);
    curl_url_cleanup(bare);
    return good && !shown->failed;
}

static bool has(CURLU *parsed, CURLUPart part)
{
    char *text = NULL;
    bool found = curl_url_get(parsed, part, &text, 0) == CURLUE_OK;
    curl_free(text);
    return found;
}

static lb_status check_scheme(CURLU *parsed, struct lb_error *err)
{
    char *scheme = NULL;
    if (curl_url_get(parsed, CURLUPART_SCHEME, &scheme, 0) != CURLUE_OK)
        return lb_fail_nomem(err);
    lb_status status = LB_OK;
    if (strcmp(scheme, "https") != 0)
        status = lb_fail(err, LB_USAGE,
                         "%.20s: lists are fetched by https only, so that nobody changes them on the way. "
                         "Write https://… if the server has it, or download the file and import it.",
                         scheme);
    curl_free(scheme);
    return status;
}

static lb_status check(CURLU *parsed, const char *url, struct lb_buf *shown, struct lb_error *err)
{
    /* The words do not repeat the URL: where it cannot be read, a password cannot be told from the rest. */
    CURLUcode trouble = curl_url_set(parsed, CURLUPART_URL, url, CURLU_NON_SUPPORT_SCHEME);
    if (trouble == CURLUE_OUT_OF_MEMORY)
        return lb_fail_nomem(err);
    if (trouble)
        return lb_fail(err, LB_USAGE,
                       "what is to be fetched is no URL (%s). It looks so: https://example.com/offers.csv, "
                       "with %%20 for a blank.",
                       curl_url_strerror(trouble));
    if (has(parsed, CURLUPART_USER) || has(parsed, CURLUPART_PASSWORD))
        return lb_fail(
            err, LB_USAGE,
            "the URL holds a name or a password (before the @). lastbolt does not send these; leave "
            "them out, or download the file and import it.");
    lb_status status = check_scheme(parsed, err);
    if (status)
        return status;
    return append_shown(shown, parsed) ? LB_OK : lb_fail_nomem(err);
}

lb_status lb_fetch_url_check(const char *url, struct lb_buf *shown, struct lb_error *err)
{
    CURLU *parsed = curl_url();
    lb_status status = parsed ? check(parsed, url, shown, err) : lb_fail_nomem(err);
    curl_url_cleanup(parsed);
    return status;
}
