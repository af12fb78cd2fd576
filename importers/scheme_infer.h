/* What scheme_infer.c and scheme_infer_money.c share. */
#ifndef LB_IMPORTERS_SCHEME_INFER_H
#define LB_IMPORTERS_SCHEME_INFER_H

#include "base/date.h"
#include "importers/scheme.h"

bool lb_infer_is_number(const struct lb_scheme_entry *entry);
/* What people write in place of a price, in the lexicon's languages. */
bool lb_infer_is_on_request(const char *text);
/* Appends the cell without what stands around a price: a currency, `/ 100 pcs`. */
void lb_infer_amount(const struct lb_scheme_entry *entry, const char *text, struct lb_buf *out);
/* Adds what prices show: currencies, `per text`, `on-request`. A sign that several currencies share leaves
 * the price out. */
LB_CHECK lb_status lb_infer_money(struct lb_scheme *scheme, const struct lb_sample *sample,
                                  struct lb_error *err);

#endif
