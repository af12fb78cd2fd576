/* What the index knows of a catalogue already: by where it comes from, by its name, by its bytes. Private to
 * src/catalog/.
 *
 *     lb_finder_open(&finder, store, supplier, &err);
 *     status = lb_known_find(finder, LB_KNOWN_BY_ORIGIN, "/lists/offers.csv", &known, &err);
 *     if (known.source) …
 *     lb_known_free(&known);
 */
#ifndef LB_CATALOG_KNOWN_H
#define LB_CATALOG_KNOWN_H

#include "base/fingerprint.h"
#include "importers/paths.h"
#include "store/store.h"

struct lb_known {
    int64_t source; /* 0: nothing */
    char *name, *origin, *fingerprint, *kinds, *reading;
    bool same_supplier;
    int64_t rows_read, rows_rejected;
};

enum lb_known_by { LB_KNOWN_BY_ORIGIN, LB_KNOWN_BY_NAME, LB_KNOWN_BY_BYTES, LB_KNOWN_WAYS };

struct lb_finder;

/* `supplier` is the one fixed for the import, or NULL; borrowed, like the store. */
LB_CHECK lb_status lb_finder_open(struct lb_finder **out, struct lb_store *store, const char *supplier,
                                  struct lb_error *err);
void lb_finder_close(struct lb_finder *finder);
LB_CHECK lb_status lb_known_find(struct lb_finder *finder, enum lb_known_by by, const char *what,
                                 struct lb_known *known, struct lb_error *err);
void lb_known_free(struct lb_known *known);

/* The name that people see: as short as it can be, with parent folders in front while another catalogue has
 * it. *out is the caller's to free. */
LB_CHECK lb_status lb_finder_name(struct lb_finder *finder, const char *origin, const char *name, char **out,
                                  struct lb_error *err);

/* Where it comes from, as the index keeps it: the absolute path, ARCHIVE/MEMBER, the address; "-": standard
 * input,
 * "- (NAME)" when the catalogue was given a name. The caller's to free; NULL: out of memory. */
char *lb_known_origin(const struct lb_import_path *path, const char *name);
/* Is there still something at an origin? (An address counts as there.) */
bool lb_known_is_there(const char *origin);
/* Could it be byte for byte what some source was? Told by the size alone. */
LB_CHECK lb_status lb_known_may_be(struct lb_finder *finder, const struct lb_import_path *path, bool *may,
                                   struct lb_error *err);
/* Of the bytes as they lie there and, for a member, its name; "" for what can be read only once. */
LB_CHECK lb_status lb_known_fingerprint(const struct lb_import_path *path, char out[LB_FINGERPRINT_ROOM],
                                        struct lb_error *err);

#endif
