/* Text as people mean it: UTF-8, compared without case, measured in terminal columns.
 * Not search (no stemming) and not a parser of anything. */
#ifndef LB_BASE_TEXT_H
#define LB_BASE_TEXT_H

#include "base/buf.h"

#include <stdbool.h>
#include <stddef.h>

/* Compares without case (Unicode case folding, NFKC through utf8proc; bytes that are no UTF-8 compare as they
 * are). ASCII takes a fast path.
 * Should memory run out on a long text, only its ASCII letters compare without case. */
int lb_text_compare_nocase(const char *a, const char *b);
bool lb_text_equal_nocase(const char *a, const char *b);
/* Appends `text` folded (case folded, NFKC, trimmed, runs of white space as one space).
 * Out of memory sets out->failed, here and below. */
void lb_text_fold(struct lb_buf *out, const char *text);
/* Compares as lb_text_fold folds: without case, however the blanks lie. False when memory ran out on texts
 * that differ as written. */
bool lb_text_same_words(const char *a, const char *b);
/* Appends the number key of a part number: letters (upper case) and digits only, everything else dropped. */
void lb_text_number_key(struct lb_buf *out, const char *number);

/* Columns that the text takes on a terminal: wide characters 2, combining ones 0, control characters 0, a
 * byte that is no UTF-8 1. */
int lb_text_width(const char *text);
/* The longest prefix, in bytes, that fits in `columns`, never cutting a grapheme cluster. */
size_t lb_text_fit(const char *text, int columns);
/* The two arguments of a `%.*s` that shows as much of a long text: no character is cut. */
#define LB_FIT(text, columns) (int)lb_text_fit(text, columns), (text)
/* True when the bytes are well-formed UTF-8 without NUL. *bad (may be NULL) is the offset of the first bad
 * byte. */
bool lb_text_is_utf8(const char *bytes, size_t length, size_t *bad);

enum { LB_NAME_MOST = 200 }; /* bytes of a name that people type again */
/* Why a text is no name for a kit or vehicle, to follow it in a message: it has a line break or another
 * control character, or is longer than LB_NAME_MOST. NULL: it can be one. */
const char *lb_text_name_refusal(const char *name);

/* The number of edits (insert, delete, replace, swap neighbours) from a to b, without case, capped at `limit`
 * + 1 (also the answer when memory ran out). */
int lb_text_distance(const char *a, const char *b, int limit);
/* Appends up to three of `names` nearest to `wanted`, as `"a", "b" or "c"`, each once; false when none is
 * near. Ties by name. How near is near grows with the length of `wanted`: 1 edit from 2 characters on, 2 from
 * 5, 3 from 9. */
bool lb_text_nearest(struct lb_buf *out, const char *wanted, const char *const *names, size_t count);

#endif
