/* A word of a command that people are to type or copy: "big job", "Bolt & Son". Every
 * command that the program suggests takes its names from here. */
#ifndef LB_BASE_SHELL_H
#define LB_BASE_SHELL_H

#include "base/buf.h"
#include "base/error.h"

/* Appends `word` so that a shell reads it back as the same bytes (POSIX.1-2017, XCU 2.2 Quoting): as it is
 * when it has letters, digits and - _ . / : , % + @ = only, else in single quotes. Any bytes but NUL; an
 * empty word is ''. Returns the whole text of `out`, borrowed, so that a room of its own gives the word. */
const char *lb_shell_word(struct lb_buf *out, const char *word);
/* Ends a failure whose words took a name from `word`, which it frees: the same status, or LB_NOMEM when the
 * name had no room. */
lb_status lb_shell_failed(struct lb_buf *word, lb_status status, struct lb_error *err);

#endif
