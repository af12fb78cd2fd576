/* What encoding some bytes are in, as far as they tell. Private to encoding.c and encoding_guess.c; reads
 * nothing, keeps nothing. */
#ifndef LB_IMPORTERS_ENCODING_GUESS_H
#define LB_IMPORTERS_ENCODING_GUESS_H

#include <stdbool.h>
#include <stddef.h>

struct lb_encoding {
    char iconv[32]; /* as iconv knows it; "UTF-8": nothing to convert */
    char shown[32]; /* as people know it */
};

/* From the first bytes of a file: a byte-order mark, whose length is returned, or the NUL bytes of UTF-16.
 * False: neither; *out as it was. */
bool lb_encoding_of_start(const char *head, size_t length, struct lb_encoding *out, size_t *mark);
/* From a window with bytes that are not ASCII; `ends`: the file ends with it, so that a sequence it cuts is a
 * broken one. Always has an answer: UTF-8 where it fits, Windows-1252 when nothing else is sure. */
void lb_encoding_guess(const char *bytes, size_t length, bool ends, struct lb_encoding *out);

#endif
