/* FNV-1a, 64 bits: tells texts and editions apart, guards against nobody. The offset and prime are those of
 * Fowler, Noll and Vo. */
#ifndef LB_BASE_HASH_H
#define LB_BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

#define LB_HASH_START UINT64_C(14695981039346656037)

/* Goes on from `hash` (LB_HASH_START at first) over further bytes. */
static inline uint64_t lb_hash(uint64_t hash, const void *bytes, size_t length)
{
    const unsigned char *p = bytes;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ p[i]) * UINT64_C(1099511628211);
    return hash;
}

#endif
