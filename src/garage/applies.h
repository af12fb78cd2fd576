/* Does a row apply to a vehicle: its `when`, `built_from` and `built_to` together. Contract: formats.md §2.
 */
#ifndef LB_GARAGE_APPLIES_H
#define LB_GARAGE_APPLIES_H

#include "garage/condition.h"

/* The texts are cells as an import checked them; NULL: not stated. When the result is unknown, `unknown` (may
 * be NULL) is called with each deciding fact and what it turns on; a fact may come twice. LB_DATA: a
 * condition that cannot be parsed. */
LB_CHECK lb_status lb_applies(const struct lb_facts *facts, const char *when, const char *built_from,
                              const char *built_to, lb_unknown_fact *unknown, void *context,
                              enum lb_truth *out, struct lb_error *err);

#endif
