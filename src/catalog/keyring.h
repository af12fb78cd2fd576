/* Rows by what makes them the same row in the next edition: a hash of the kind's key columns. Private to
 * src/catalog/. Rows with one key are kept in the order they came, since a file may say the same thing twice.
 *
 *     lb_keyring_add(&keys, lb_keyring_key(kind, values), row); … lb_keyring_close(&keys);
 *     for (struct lb_keyring_find find = {0}; lb_keyring_next(&keys, key, &find);)
 *         if (row find.row is really the one) lb_keyring_take(&keys, &find);
 */
#ifndef LB_CATALOG_KEYRING_H
#define LB_CATALOG_KEYRING_H

#include "base/vec.h"
#include "importers/kinds.h"

struct lb_keyring {
    LB_VEC(uint64_t) keys;
    LB_VEC(int64_t) rows;
    uint32_t *heads, *next;
    size_t head_count;
};

struct lb_keyring_find {
    int64_t row;
    uint32_t *link; /* what points to it */
};

uint64_t lb_keyring_key(const struct lb_kind *kind, const struct lb_value *values);
/* False: out of memory, here and below. */
bool lb_keyring_add(struct lb_keyring *keys, uint64_t key, int64_t row);
/* After the last add, before the first find. */
bool lb_keyring_close(struct lb_keyring *keys);
bool lb_keyring_next(struct lb_keyring *keys, uint64_t key, struct lb_keyring_find *find);
void lb_keyring_take(struct lb_keyring *keys, struct lb_keyring_find *find);
void lb_keyring_free(struct lb_keyring *keys);

#endif
