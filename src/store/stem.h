/* English stems by Porter's algorithm, as SQLite's FTS5 has it. (M. F. Porter, "An algorithm for suffix
 * stripping", Program 14 (3), 1980.)
 *
 *     lb_stemmer_open(&stemmer, store, &err);
 *     lb_stem(stemmer, "bearings", 8, &stem, &length, &err);      // "bear", 4
 */
#ifndef LB_STORE_STEM_H
#define LB_STORE_STEM_H

#include "store/store.h"

struct lb_stemmer;

/* Lives no longer than the store. By one thread at a time, not necessarily the store's. */
LB_CHECK lb_status lb_stemmer_open(struct lb_stemmer **out, struct lb_store *store, struct lb_error *err);
void lb_stemmer_close(struct lb_stemmer *stemmer);
/* The stem of one word of lower-case letters; accents are taken off. A word that is none to FTS5 (it takes it
 * for two, or for none) is its own stem. Borrowed until the next call. */
LB_CHECK lb_status lb_stem(struct lb_stemmer *stemmer, const char *word, size_t length, const char **stem,
                           size_t *stem_length, struct lb_error *err);

#endif
