/* Where the bytes of a catalogue come from: a file, memory, and (wrapped around one another) an archive's
 * member, a download, another encoding. Read once, from front to end; knows nothing of CSV.
 *
 *     struct lb_bytes *bytes;
 *     status = lb_bytes_open_file(&bytes, "offers.csv", &err);
 *     while (!(status = bytes->read(bytes, block, sizeof block, &got, &err)) && got > 0) …
 *     lb_bytes_close(bytes);
 */
#ifndef LB_IMPORTERS_BYTES_H
#define LB_IMPORTERS_BYTES_H

#include "base/error.h"

#include <stddef.h>
#include <stdint.h>

struct lb_bytes {
    /* How far the file on disk (or the download) has been read, and its size: what progress is told by. One
     * that wraps another passes them on. size 0: not known. */
    uint64_t done, size;
    /* What the bytes were before they became UTF-8, for messages ("Windows-1252"); "UTF-8" where they were
     * that all along; NULL: not known (yet), nothing but ASCII so far. Borrowed, as long as the bytes. */
    const char *encoding;
    /* Up to `room` bytes; fewer are no sign of the end, *got 0 is. A failure is final: LB_SYSTEM for what
     * cannot be read, LB_DATA for what should not be (a damaged archive), in words that name the file. */
    lb_status (*read)(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err);
    /* Frees it, with everything that it wraps. */
    void (*close)(struct lb_bytes *bytes);
};

/* LB_SYSTEM: cannot be opened. */
LB_CHECK lb_status lb_bytes_open_file(struct lb_bytes **out, const char *path, struct lb_error *err);
/* Standard input, which stays open when they are closed. */
LB_CHECK lb_status lb_bytes_open_stdin(struct lb_bytes **out, struct lb_error *err);
/* The memory is borrowed. */
LB_CHECK lb_status lb_bytes_open_memory(struct lb_bytes **out, const char *memory, size_t length,
                                        struct lb_error *err);

enum { LB_BYTES_HEAD = 512 };

/* Looks at the first LB_BYTES_HEAD bytes (fewer: there are no more) without using them up: *bytes is replaced
 * by one that gives them out first, and stays the caller's to close, also after a failure. *head is borrowed
 * until the first read. */
LB_CHECK lb_status lb_bytes_peek(struct lb_bytes **bytes, const char **head, size_t *length,
                                 struct lb_error *err);
/* NULL is legal. */
void lb_bytes_close(struct lb_bytes *bytes);

#endif
