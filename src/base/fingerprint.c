#include "base/fingerprint.h"

#include <stdio.h>
#define XXH_INLINE_ALL
#include <xxhash.h>

lb_status lb_fingerprint_begin(struct lb_fingerprint *print, struct lb_error *err)
{
    *print = (struct lb_fingerprint){.state = XXH3_createState()};
    return print->state && XXH3_64bits_reset(print->state) == XXH_OK ? LB_OK : lb_fail_nomem(err);
}

void lb_fingerprint_add(struct lb_fingerprint *print, const void *bytes, size_t length)
{
    XXH3_64bits_update(print->state, bytes, length);
    print->length += length;
}

void lb_fingerprint_end(struct lb_fingerprint *print, char out[LB_FINGERPRINT_ROOM])
{
    snprintf(out, LB_FINGERPRINT_ROOM, "xxh3:%016llx:%llu",
             (unsigned long long)XXH3_64bits_digest(print->state), (unsigned long long)print->length);
    XXH3_freeState(print->state);
    print->state = NULL;
}

uint64_t lb_fingerprint_of(const void *bytes, size_t length)
{
    return XXH3_64bits(bytes, length);
}
