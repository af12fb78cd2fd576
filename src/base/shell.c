#include "base/shell.h"

#include <string.h>

/* What no shell takes for anything but itself, wherever it stands behind a command. */
static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./:,%+@=";

const char *lb_shell_word(struct lb_buf *out, const char *word)
{
    if (*word && !word[strspn(word, plain)]) {
        lb_buf_puts(out, word);
        return lb_buf_text(out);
    }
    lb_buf_putc(out, '\'');
    while (*word) {
        size_t length = strcspn(word, "'");
        lb_buf_append(out, word, length);
        word += length;
        if (*word) {
            lb_buf_puts(out, "'\\''"); /* nothing can be escaped within single quotes: out, one, in again */
            word++;
        }
    }
    lb_buf_putc(out, '\'');
    return lb_buf_text(out);
}

lb_status lb_shell_failed(struct lb_buf *word, lb_status status, struct lb_error *err)
{
    bool failed = word->failed;
    lb_buf_free(word);
    return failed ? lb_fail_nomem(err) : status;
}
