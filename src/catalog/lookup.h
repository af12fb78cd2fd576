/* The rows of the index by part number and by type, through the lookup. Rows are handed out as a JSON array
 * of ids (`[17,4711]`), which SQL takes in with json_each(?1).
 *
 *     lb_lookup_open(&lookup, store, &err);
 *     lb_lookup_part(lookup, part_key, &ids, &err);
 *     … SELECT …" LB_PLACED_AMONG("offers") "…
 */
#ifndef LB_CATALOG_LOOKUP_H
#define LB_CATALOG_LOOKUP_H

#include "base/spec.h"
#include "store/store.h"

struct lb_lookup;

LB_CHECK lb_status lb_lookup_open(struct lb_lookup **out, struct lb_store *store, struct lb_error *err);
void lb_lookup_close(struct lb_lookup *lookup);
/* The lookup is only added to: rows may be among them that are gone. Ask the tables.
 *
 * The rows of parts, offers and applications with that part key (catalog/partkey.h), and those of crossrefs
 * and supersessions that name it on either side; replaces what is in `ids`. */
LB_CHECK lb_status lb_lookup_part(struct lb_lookup *lookup, const char *part_key, struct lb_buf *ids,
                                  struct lb_error *err);
/* The parts of a type; with a spec, those whose spec may meet it or be met by it (some may have to be passed
 * over, of other types even: what is looked up is a hash). */
LB_CHECK lb_status lb_lookup_type(struct lb_lookup *lookup, const char *part_type, const struct lb_spec *spec,
                                  struct lb_buf *ids, struct lb_error *err);
/* Has any catalogue a part of that type? (It may be gone by now.) */
LB_CHECK lb_status lb_lookup_knows_type(struct lb_store *store, const char *part_type, bool *known,
                                        struct lb_error *err);
/* The rows whose number keys begin like the given one (O and 0, I and 1 being the same), of one brand
 * (folded), a few hundred at the most. */
LB_CHECK lb_status lb_lookup_near(struct lb_lookup *lookup, const char *brand, const char *number_key,
                                  struct lb_buf *ids, struct lb_error *err);

/* LB_DATA, with what to do: the lookup came from a program that kept another. */
LB_CHECK lb_status lb_lookup_current(struct lb_store *store, struct lb_error *err);
/* Makes the lookup anew when the index came from a program that kept none, or another; in one transaction. */
LB_CHECK lb_status lb_lookup_ready(struct lb_store *store, struct lb_error *err);
/* When more than a fifth of the rows are stale: deletes them for good and makes the lookup anew. Else gathers
 * its runs when they have become many. Inside a transaction, like the next. */
LB_CHECK lb_status lb_lookup_tidy(struct lb_store *store, struct lb_error *err);
/* Makes it anew from the rows, whatever it was. */
LB_CHECK lb_status lb_lookup_rebuild(struct lb_store *store, struct lb_error *err);

#endif
