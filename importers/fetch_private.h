/* The parts of a fetch, between the fetch*.c: what is known of a file, where it lies, the URL, the transfer
 * and the words for what libcurl and the server say. */
#ifndef LB_IMPORTERS_FETCH_PRIVATE_H
#define LB_IMPORTERS_FETCH_PRIVATE_H

#include "base/buf.h"
#include "importers/fetch.h"

#include "importers/lazy_curl.h"

/* What stands in NAME.about (of the whole file) and NAME.part.about: lines of `key: value`. */
struct lb_fetch_about {
    char *etag;          /* with its quotes, and W/ when weak; NULL: none */
    char *last_modified; /* NULL: none */
    uint64_t size;       /* of the whole file, in bytes */
    bool size_known;
};

/* An absent or damaged file, or one of another URL, reads as empty. LB_NOMEM is the only failure. */
LB_CHECK lb_status lb_fetch_about_read(const char *path, const char *url, struct lb_fetch_about *out,
                                       struct lb_error *err);
/* Readable by the owner only (a URL may hold a key) and on the disk when it returns. */
LB_CHECK lb_status lb_fetch_about_write(const char *path, const char *url, const struct lb_fetch_about *about,
                                        struct lb_error *err);
/* Takes a header's value when it is this header and usable; false when memory ran out. */
bool lb_fetch_about_header(struct lb_fetch_about *about, const char *name, const char *value);
/* What If-Range may hold: the strong ETag, else Last-Modified, else NULL. */
const char *lb_fetch_about_strong(const struct lb_fetch_about *about);
void lb_fetch_about_free(struct lb_fetch_about *about);

/* Where the files of one URL lie. */
struct lb_fetch_place {
    char *file, *about, *about_new, *part, *part_about, *lock;
    int lock_descriptor;
};

/* Makes the folder and takes the lock; LB_SYSTEM when another process holds it for too long. The place is to
 * be closed in any case. */
LB_CHECK lb_status lb_fetch_place_open(struct lb_fetch_place *place, const char *url,
                                       const struct lb_fetch_options *options, struct lb_error *err);
/* The part becomes the file, and `about` what is known of it: all or nothing. */
LB_CHECK lb_status lb_fetch_place_keep(const struct lb_fetch_place *place, const char *url,
                                       const struct lb_fetch_about *about, struct lb_error *err);
/* Forgets a part that is no longer of use. */
void lb_fetch_place_drop(const struct lb_fetch_place *place);
void lb_fetch_place_close(struct lb_fetch_place *place);
/* The size of a plain file; false when there is none. */
bool lb_fetch_size(const char *path, uint64_t *size);

/* LB_USAGE unless it is an https URL without name and password. Appends to `shown` what messages call it. */
LB_CHECK lb_status lb_fetch_url_check(const char *url, struct lb_buf *shown, struct lb_error *err);

/* One request and its answer. */
struct lb_fetch_transfer {
    const char *url, *shown;
    const struct lb_fetch_options *options;
    const struct lb_fetch_place *place;
    struct lb_error *err;
    CURL *curl;
    struct lb_fetch_about had;  /* the whole file here; no ETag and no date: not asked about */
    struct lb_fetch_about part; /* the part here, of which `offset` bytes are asked no more */
    uint64_t offset;
    struct lb_fetch_about now; /* what this answer says; now.size is of the whole file */
    bool chunked;
    bool ranged; /* it is a range of the whole: */
    uint64_t range_start, range_end;
    int descriptor;   /* of the part being written, or -1 */
    uint64_t here;    /* bytes in it */
    bool begun;       /* the answer has been judged */
    bool anew;        /* the part does not fit the answer: ask again from the start */
    bool unchanged;   /* 304 */
    lb_status status; /* what went wrong at our end; the words are in err */
    char detail[CURL_ERROR_SIZE];
};

/* LB_OK: `unchanged`, `anew`, or the part is whole and on the disk. */
LB_CHECK lb_status lb_fetch_transfer_run(struct lb_fetch_transfer *transfer, struct lb_error *err);
/* Sets everything but the callbacks; *headers is to be freed after the transfer. */
LB_CHECK lb_status lb_fetch_request(struct lb_fetch_transfer *transfer, struct curl_slist **headers,
                                    struct lb_error *err);
/* The answer's headers, line by line; false when memory ran out. */
bool lb_fetch_answer_header(struct lb_fetch_transfer *transfer, const char *line, size_t length);
/* Looks at status and headers once, before the first byte: sets unchanged or anew, opens the part, or fails.
 * True: write the body to it. */
bool lb_fetch_answer_begin(struct lb_fetch_transfer *transfer);
/* LB_DATA, and the part is forgotten. */
lb_status lb_fetch_answer_too_large(const struct lb_fetch_transfer *transfer);

/* Words for a status that is not a list, and for what libcurl says. Never LB_OK. */
lb_status lb_fetch_fail_status(const struct lb_fetch_transfer *transfer, long status);
lb_status lb_fetch_fail_curl(const struct lb_fetch_transfer *transfer, CURLcode code);

/* Zero: as told in fetch.h. */
long lb_fetch_connect_seconds(const struct lb_fetch_options *options);

#endif
