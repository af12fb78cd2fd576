/* The edition of a source that the index has, row by row as hashes of their text, and the next one being
 * compared with it: a row whose text is the same is the same row, wherever it stands now, and need not even
 * be taken apart.
 *
 *     struct lb_edition *was;
 *     status = lb_edition_load(&was, store, source, &err);
 *     if (lb_edition_meet(was, lb_edition_hash(raw, length), line)) … as before
 *     for (size_t i = 0; lb_edition_unmet(was, &i, &row);) …           // changed or gone
 */
#ifndef LB_CATALOG_EDITION_H
#define LB_CATALOG_EDITION_H

#include "store/store.h"

struct lb_edition;

/* Never 0. Not a guard against forgers: two texts made to collide would be taken for one. */
uint64_t lb_edition_hash(const char *raw, size_t length);

LB_CHECK lb_status lb_edition_load(struct lb_edition **out, struct lb_store *store, int64_t source,
                                   struct lb_error *err);
void lb_edition_free(struct lb_edition *edition);
/* A row of that text now stands on `line`. False: there is none left. Each is met once. */
bool lb_edition_meet(struct lb_edition *edition, uint64_t hash, long line);
/* Another row takes the place of this one: it is not met, and not gone either. */
void lb_edition_replace(struct lb_edition *edition, int64_t row);
/* The next row, from *at on, that was not met; false: no more. */
bool lb_edition_unmet(const struct lb_edition *edition, size_t *at, int64_t *row);
/* Forgets every text: each row must be met by id. (The file is read in another way than last time.) */
void lb_edition_forget_texts(struct lb_edition *edition);

/* Writing: where new rows stand and what their texts hash to, by ascending id. */
struct lb_edition_writer;
LB_CHECK lb_status lb_edition_write_begin(struct lb_edition_writer **out, struct lb_store *store,
                                          int64_t source, struct lb_error *err);
LB_CHECK lb_status lb_edition_write(struct lb_edition_writer *writer, int64_t row, uint64_t hash, long line,
                                    struct lb_error *err);
/* Writes what is left and frees it; free alone drops it. */
LB_CHECK lb_status lb_edition_write_end(struct lb_edition_writer *writer, struct lb_error *err);
void lb_edition_write_free(struct lb_edition_writer *writer);
/* The rows that were met, where they stand now, in place of all that the index had of the source's rows with
 * ids below `before`. The others are then in no span any more. */
LB_CHECK lb_status lb_edition_write_met(const struct lb_edition *edition, struct lb_store *store,
                                        int64_t source, int64_t before, struct lb_error *err);

#endif
