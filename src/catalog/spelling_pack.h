/* Inside the spelling: how the table `spelling` is packed, which its writer and its reader have to agree on,
 * and what its two readers share. */
#ifndef LB_CATALOG_SPELLING_PACK_H
#define LB_CATALOG_SPELLING_PACK_H

#include "base/vec.h"
#include "catalog/spelling.h"

#include <utf8proc.h>

enum {
    SPELLING_SIGNATURE = 4,   /* bytes, little-endian */
    SPELLING_BLOB_MAX = 65536 /* bytes */
};

/* The next character of a word and how many bytes it takes; a byte that is no UTF-8 is a character of its
 * own, beyond those of Unicode. `left` is at least 1. */
static inline size_t spelling_point(const char *at, size_t left, int32_t *point)
{
    const unsigned char *bytes = (const unsigned char *)at;
    if (*bytes < 0x80) {
        *point = *bytes;
        return 1;
    }
    utf8proc_ssize_t size = utf8proc_iterate(bytes, (utf8proc_ssize_t)left, point);
    if (size > 0)
        return (size_t)size;
    *point = 0x110000 + *bytes;
    return 1;
}

/* By characters, not bytes: to replace one character changes at most one bit each way. */
static inline uint32_t spelling_signature(const char *word, size_t length)
{
    uint32_t signature = 0;
    int32_t point;
    for (size_t i = 0; i < length;) {
        i += spelling_point(word + i, length - i, &point);
        unsigned bit = point >= 'a' && point <= 'z' ? (unsigned)(point - 'a') : 26 + (unsigned)point % 6;
        signature |= UINT32_C(1) << bit;
    }
    return signature;
}

struct spelling_near {
    double score; /* the less, the likelier */
    struct lb_spelling_word word;
};

struct lb_spelling {
    struct lb_store *store;
    struct lb_statement *count, *begin, *blobs;
    LB_VEC(struct spelling_near) near; /* kept for its memory */
};

#endif
