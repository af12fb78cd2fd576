/* What tells one content from another: XXH3, 64 bits, with the number of bytes. Guards against nobody.
 *
 *     struct lb_fingerprint print;
 *     if (lb_fingerprint_begin(&print, &err)) …
 *     lb_fingerprint_add(&print, bytes, length); …
 *     lb_fingerprint_end(&print, out);                     // "xxh3:0123456789abcdef:4096"
 */
#ifndef LB_BASE_FINGERPRINT_H
#define LB_BASE_FINGERPRINT_H

#include "base/error.h"

#include <stddef.h>
#include <stdint.h>

enum { LB_FINGERPRINT_ROOM = 48 };

struct lb_fingerprint {
    void *state;
    uint64_t length;
};

LB_CHECK lb_status lb_fingerprint_begin(struct lb_fingerprint *print, struct lb_error *err);
void lb_fingerprint_add(struct lb_fingerprint *print, const void *bytes, size_t length);
/* Writes the text and frees it. */
void lb_fingerprint_end(struct lb_fingerprint *print, char out[LB_FINGERPRINT_ROOM]);
/* Of bytes that are all there. */
uint64_t lb_fingerprint_of(const void *bytes, size_t length);

#endif
