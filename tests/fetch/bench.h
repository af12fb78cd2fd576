/* A server of its own and a folder for downloads, for each test of lb_fetch. */
#ifndef LB_TESTS_FETCH_BENCH_H
#define LB_TESTS_FETCH_BENCH_H

#include "importers/fetch.h"

#include <stdbool.h>
#include <sys/types.h>

struct bench {
    char folder[64];    /* what the server writes: v1, v2, server.pem, log */
    char downloads[96]; /* not there yet */
    char certificate[96];
    int port;
    pid_t server;
    int hold; /* the server's standard input: closed, it ends */
    struct lb_fetch_options options;
    struct lb_fetched got; /* of the last fetch */
    struct lb_error err;
};

extern struct bench bench;

/* `names` as in a certificate. */
void bench_begin(const char *names);
void bench_end(void);
/* The path of a URL, on this server, as lb_fetch is asked; see server.py. */
const char *bench_url(const char *path);
/* Fetches /PATH from the server. */
lb_status bench_fetch(const char *path);
/* Fails the test unless it does so, and the words hold `words`. */
void bench_refused(const char *path, lb_status status, const char *words);
void bench_fetched(const char *path, const char *list, bool unchanged);

/* Whether two files are equal, byte for byte. */
bool bench_same(const char *path, const char *other);
/* The path of a file that the server wrote, or of a download with another ending; valid for a few calls. */
const char *bench_list(const char *name);
const char *bench_beside(const char *ending);
/* The file in the downloads that ends so, or NULL; valid until the next call. */
const char *bench_download(const char *ending);
/* -1: none. */
long bench_size(const char *path);
/* Line `at` of the server's log (from 0), "" when there were fewer requests. */
const char *bench_log(int at);
int bench_requests(void);
/* The request was answered so: "206 sent=5", "Range=bytes=7-"… all must be there. */
void bench_logged(int at, const char *first, const char *second);

#endif
