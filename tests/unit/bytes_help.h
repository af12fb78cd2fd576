/* Reading struct lb_bytes to the end, in a test. */
#ifndef LB_TESTS_BYTES_HELP_H
#define LB_TESTS_BYTES_HELP_H

#include "base/buf.h"
#include "importers/bytes.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

/* Everything, `room` bytes at a time; *text is the caller's to free. */
static inline lb_status read_everything(struct lb_bytes *bytes, size_t room, struct lb_buf *text,
                                        struct lb_error *err)
{
    char *block = malloc(room);
    size_t got = 1;
    lb_status status = LB_OK;
    cr_assert(block);
    while (!status && got > 0) {
        status = bytes->read(bytes, block, room, &got, err);
        cr_assert(got <= room);
        if (!status)
            lb_buf_append(text, block, got);
    }
    free(block);
    cr_assert(!text->failed);
    return status;
}

#endif
