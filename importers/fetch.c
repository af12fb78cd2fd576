#include "importers/fetch.h"

#include <stdlib.h>
#include <string.h>

#ifdef LB_HAVE_CURL
#include "importers/fetch_private.h"

/* The file is asked about only as long as it is the one that was fetched. */
static lb_status look_at_file(struct lb_fetch_transfer *transfer, struct lb_error *err)
{
    const struct lb_fetch_place *place = transfer->place;
    uint64_t size;
    lb_status status = lb_fetch_about_read(place->about, transfer->url, &transfer->had, err);
    if (!lb_fetch_size(place->file, &size) || !transfer->had.size_known || transfer->had.size != size)
        lb_fetch_about_free(&transfer->had);
    return status;
}

static lb_status look_at_part(struct lb_fetch_transfer *transfer, struct lb_error *err)
{
    const struct lb_fetch_place *place = transfer->place;
    uint64_t size;
    lb_status status = lb_fetch_about_read(place->part_about, transfer->url, &transfer->part, err);
    const struct lb_fetch_about *part = &transfer->part;
    if (lb_fetch_size(place->part, &size) && lb_fetch_about_strong(part) &&
        (!part->size_known || size < part->size))
        transfer->offset = size;
    else
        lb_fetch_about_free(&transfer->part);
    return status;
}

static bool give(struct lb_fetched *out, struct lb_fetch_transfer *transfer)
{
    struct lb_fetch_about *about = transfer->unchanged ? &transfer->had : &transfer->now;
    char *final_url = NULL;
    curl_easy_getinfo(transfer->curl, CURLINFO_EFFECTIVE_URL, &final_url);
    *out = (struct lb_fetched){.path = strdup(transfer->place->file),
                               .final_url = strdup(final_url ? final_url : transfer->url),
                               .etag = about->etag,
                               .last_modified = about->last_modified,
                               .unchanged = transfer->unchanged};
    about->etag = about->last_modified = NULL;
    return out->path && out->final_url;
}

static lb_status finish(struct lb_fetch_transfer *transfer, struct lb_fetched *out, struct lb_error *err)
{
    lb_status status = LB_OK;
    if (transfer->unchanged)
        lb_fetch_place_drop(transfer->place); /* a part of an edition that was taken back */
    else
        status = lb_fetch_place_keep(transfer->place, transfer->url, &transfer->now, err);
    if (!status && !give(out, transfer))
        status = lb_fail_nomem(err);
    if (status)
        lb_fetched_free(out);
    return status;
}

/* One request; *anew when the part was of no use and is gone. */
static lb_status try_once(struct lb_fetch_transfer *transfer, struct lb_fetched *out, struct lb_error *err)
{
    lb_status status = look_at_file(transfer, err);
    if (!status)
        status = look_at_part(transfer, err);
    transfer->curl = status ? NULL : curl_easy_init();
    if (!status)
        status = transfer->curl ? lb_fetch_transfer_run(transfer, err) : lb_fail_nomem(err);
    if (!status && transfer->anew)
        lb_fetch_place_drop(transfer->place);
    else if (!status)
        status = finish(transfer, out, err);
    curl_easy_cleanup(transfer->curl);
    lb_fetch_about_free(&transfer->had);
    lb_fetch_about_free(&transfer->part);
    lb_fetch_about_free(&transfer->now);
    return status;
}

static lb_status fetch(const char *url, const struct lb_fetch_options *options, struct lb_fetched *out,
                       struct lb_error *err)
{
    struct lb_buf shown = {0};
    struct lb_fetch_place place = {.lock_descriptor = -1};
    bool anew = false;
    lb_status status = lb_fetch_url_check(url, &shown, err);
    if (!status)
        status = lb_fetch_place_open(&place, url, options, err);
    do { /* at most twice: without a part there is no anew */
        struct lb_fetch_transfer transfer = {
            .url = url, .shown = shown.text, .options = options, .place = &place};
        if (!status)
            status = try_once(&transfer, out, err);
        anew = !status && transfer.anew;
    } while (anew);
    lb_fetch_place_close(&place);
    lb_buf_free(&shown);
    return status;
}
#endif

lb_status lb_fetch(const char *url, const struct lb_fetch_options *options, struct lb_fetched *out,
                   struct lb_error *err)
{
    memset(out, 0, sizeof *out);
#ifdef LB_HAVE_CURL
    if (!lb_curl_load())
        return lb_fail(err, LB_DATA,
                       "libcurl is not installed here; install it, or download the file and import it.");
    if (curl_global_init(CURL_GLOBAL_DEFAULT) != CURLE_OK)
        return lb_fail(err, LB_SYSTEM, "libcurl cannot be started; download the file and import it.");
    lb_status status = fetch(url, options, out, err);
    curl_global_cleanup();
    return status;
#else
    (void)url, (void)options;
    return lb_fail(err, LB_DATA, "this lastbolt was built without https; download the file and import it.");
#endif
}

void lb_fetched_free(struct lb_fetched *fetched)
{
    free(fetched->path);
    free(fetched->final_url);
    free(fetched->etag);
    free(fetched->last_modified);
    memset(fetched, 0, sizeof *fetched);
}
