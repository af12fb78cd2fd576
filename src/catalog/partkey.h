/* The key that makes two ways to write one part number the same: `Nordpart 44-71 208` is `NORDPART 4471208`.
 */
#ifndef LB_CATALOG_PARTKEY_H
#define LB_CATALOG_PARTKEY_H

#include "base/buf.h"

/* Replaces what is in `out` by the key: folded brand, unit separator (U+001F), letters and digits of the
 * number. */
void lb_part_key(struct lb_buf *out, const char *brand, const char *number);
/* Appends the second half of it. */
void lb_part_number_key(struct lb_buf *out, const char *number);
/* Where the second half begins; the key's end when it has none. */
const char *lb_part_key_number(const char *key);

#endif
