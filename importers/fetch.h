/* A catalogue by https -> a file on this disk. Keeps it in a folder between runs, asks the server whether it
 * has changed, goes on with a download that was broken off. Not a web client: no other protocol, no names and
 * passwords, no cookies; server and certificate are always checked. Knows nothing of what is in the file.
 *
 *     struct lb_fetch_options options = {.folder = "downloads", .size_limit = UINT64_C(1) << 30};
 *     status = lb_fetch("https://parts.example.com/offers.csv", &options, &got, &err);
 *     … read got.path …
 *     lb_fetched_free(&got);
 *
 * Built without libcurl (LB_HAVE_CURL), every call is LB_DATA. Proxies are those that libcurl takes from the
 * environment.
 */
#ifndef LB_IMPORTERS_FETCH_H
#define LB_IMPORTERS_FETCH_H

#include "base/error.h"

#include <stdbool.h>
#include <stdint.h>

/* Everything is borrowed for the call. */
struct lb_fetch_options {
    const char *folder;       /* where downloads are kept; made, with what is above it, when absent */
    const char *certificates; /* PEM file of authorities trusted besides the system's; NULL: none */
    uint64_t size_limit;      /* bytes; 0: no limit */
    /* To connect (at most so long is another lastbolt that fetches the same waited for, too); below 100 bytes
     * a second; from the first byte asked to the last. 0: 30, 60, no limit. */
    long connect_seconds, stall_seconds, total_seconds;
    void *context;
    /* NULL: nobody looks. Several times a second, also while waiting; bytes that are here and bytes of the
     * whole (0: not known). Anything but 0 stops. */
    int (*progress)(void *context, uint64_t done, uint64_t size);
};

struct lb_fetched {
    char *path;          /* the whole file, in the folder; the same for the same URL */
    char *final_url;     /* where the redirects led to */
    char *etag;          /* as the server stated them, or NULL */
    char *last_modified; /* an HTTP date */
    bool unchanged;      /* the server says that it is what was fetched before */
};

/* *out is the caller's to free, and empty unless LB_OK. On any failure the file that was fetched before is as
 * it was; what came of a new one is kept as `.part` where the server can go on with it.
 * LB_USAGE: the URL is none, is not https, or holds a name or password. LB_DATA: the server has no such file
 * or does not give it, sends too much or without a recognizable end, redirects to what is not https; the
 * certificates are none. LB_SYSTEM: the network, the server's certificate, the disk, a time that is up;
 * another lastbolt fetches the same; the progress stopped it. A URL is shown in the words without its query,
 * which may be a key. One call at a time in a process; other processes may fetch into the same folder. */
LB_CHECK lb_status lb_fetch(const char *url, const struct lb_fetch_options *options, struct lb_fetched *out,
                            struct lb_error *err);
/* Empties it. */
void lb_fetched_free(struct lb_fetched *fetched);

#endif
