/* What an import is given -> the files to read: paths as they are, addresses fetched first. Private to
 * src/catalog/. */
#ifndef LB_CATALOG_INPUTS_H
#define LB_CATALOG_INPUTS_H

#include "catalog/import.h"
#include "importers/paths.h"

/* Appends to *paths, which is the caller's to free also after a failure. As lb_import_paths_add and lb_fetch.
 */
LB_CHECK lb_status lb_inputs_find(struct lb_import_paths *paths, const struct lb_import_options *options,
                                  struct lb_error *err);

#endif
