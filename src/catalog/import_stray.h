/* Rows of an import that lead nowhere. Private to src/catalog/. */
#ifndef LB_CATALOG_IMPORT_STRAY_H
#define LB_CATALOG_IMPORT_STRAY_H

#include "catalog/import.h"

/* Remarks, in each file of rules, on the platforms that no service map has, once a platform: where it comes
 * first. To be asked when all files are in the index, since the map may stand behind its rules. */
LB_CHECK lb_status lb_import_mention_stray_rules(struct lb_store *store, struct lb_import_result *result,
                                                 struct lb_error *err);

#endif
