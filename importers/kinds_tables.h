/* The tables behind kinds.h, split by who keeps them: what suppliers sell, what maps describe, what the owner
 * calls things.
 * Private to importers/kinds*.c. */
#ifndef LB_IMPORTERS_KINDS_TABLES_H
#define LB_IMPORTERS_KINDS_TABLES_H

#include "importers/kinds.h"

#define LB_COLUMNS(table) .column_count = (int)(sizeof(table) / sizeof *(table)), .columns = (table)

extern const struct lb_column lb_suppliers_columns[6];
extern const struct lb_column lb_shipping_columns[3];
extern const struct lb_column lb_parts_columns[9];
extern const struct lb_column lb_offers_columns[12];
extern const struct lb_column lb_applications_columns[9];
extern const struct lb_column lb_crossrefs_columns[6];
extern const struct lb_column lb_supersessions_columns[7];
extern const struct lb_column lb_contents_columns[7];
extern const struct lb_column lb_rates_columns[4];

extern const struct lb_column lb_platforms_columns[6];
extern const struct lb_column lb_components_columns[13];
extern const struct lb_column lb_fastenings_columns[16];
extern const struct lb_column lb_access_columns[6];
extern const struct lb_column lb_sequence_columns[5];
extern const struct lb_column lb_circuits_columns[10];
extern const struct lb_column lb_opens_columns[6];
extern const struct lb_column lb_consumables_columns[9];
extern const struct lb_column lb_cautions_columns[4];
extern const struct lb_column lb_jobs_columns[6];
extern const struct lb_column lb_facts_columns[4];
extern const struct lb_column lb_pulleys_columns[10];

extern const struct lb_column lb_rules_columns[10];

extern const struct lb_column lb_synonyms_columns[3];

const char *lb_applications_check(const struct lb_value *values, int *column);
const char *lb_platforms_check(const struct lb_value *values, int *column);
const char *lb_circuits_check(const struct lb_value *values, int *column);
const char *lb_jobs_check(const struct lb_value *values, int *column);
const char *lb_synonyms_check(const struct lb_value *values, int *column);

/* built_from after built_to, whichever columns of a kind hold them. */
const char *lb_built_check(const struct lb_value *values, int from, int to, int *column);

#endif
