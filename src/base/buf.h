/* A growing text buffer. Appending never fails loudly: running out of memory sets `failed`, further appends
 * do nothing, and the one who takes the text looks once, at the end.
 *
 *     struct lb_buf out = {0};
 *     lb_buf_printf(&out, "%d lines\n", n);
 *     if (out.failed) … else fwrite(out.text, 1, out.length, stdout);
 *     lb_buf_free(&out);
 */
#ifndef LB_BASE_BUF_H
#define LB_BASE_BUF_H

#include "base/error.h"

#include <stdbool.h>
#include <stddef.h>

struct lb_buf {
    char *text; /* NUL-terminated when length > 0; NULL before the first append */
    size_t length;
    size_t capacity;
    bool failed;
};

void lb_buf_append(struct lb_buf *buf, const char *bytes, size_t length);
void lb_buf_puts(struct lb_buf *buf, const char *text);
void lb_buf_putc(struct lb_buf *buf, char c);
void lb_buf_printf(struct lb_buf *buf, const char *format, ...) LB_PRINTF(2, 3);
/* Empties it and keeps its memory. */
void lb_buf_clear(struct lb_buf *buf);
/* Never NULL: "" when empty. Borrowed. */
const char *lb_buf_text(const struct lb_buf *buf);
void lb_buf_free(struct lb_buf *buf);

#endif
