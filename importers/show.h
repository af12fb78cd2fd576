/* A converted value as people read it: money in its currency's digits, quantities in their shortest form,
 * measures with their base unit. */
#ifndef LB_IMPORTERS_SHOW_H
#define LB_IMPORTERS_SHOW_H

#include "base/buf.h"
#include "importers/kinds.h"

/* Appends it; nothing for what is not stated. `currency` is the row's, or NULL. */
void lb_value_show(struct lb_buf *out, const struct lb_column *column, const struct lb_value *value,
                   const char *currency);

#endif
