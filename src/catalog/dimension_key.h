/* A dimension as a key of the lookup, so that near ones are a range: `d`, a letter for the kind, and the
 * sizes in micrometres, big-endian.
 *
 *     dB RIBS(1) LENGTH(4)                            belt
 *     dT DIAMETER(4) PITCH(4) LENGTH(4) CLASS         thread; a length of 0: not stated; the class as letters
 *     dO INSIDE(4) SECTION(4)                         O-ring
 *
 *     unsigned char key[LB_DIMENSION_KEY_MAX];
 *     size_t length = lb_dimension_key(key, &spec);
 */
#ifndef LB_CATALOG_DIMENSION_KEY_H
#define LB_CATALOG_DIMENSION_KEY_H

#include "base/spec.h"

enum { LB_DIMENSION_KEY_MAX = 32 };

/* 0: a spec of another kind. */
size_t lb_dimension_key(unsigned char key[LB_DIMENSION_KEY_MAX], const struct lb_spec *spec);
/* False: no such key. */
bool lb_dimension_of_key(const unsigned char *key, size_t length, struct lb_spec *out);
/* A size as it stands in keys; returns the end. */
unsigned char *lb_dimension_put(unsigned char *to, int32_t micrometres);

#endif
