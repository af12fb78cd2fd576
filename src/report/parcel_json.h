/* What every verb that shows parcels says of them alike (formats.md §5, "buy"). The caller adds what is its
 * own. */
#ifndef LB_REPORT_PARCEL_JSON_H
#define LB_REPORT_PARCEL_JSON_H

#include "kit/kit.h"
#include "report/json.h"

/* brand, part_number, supplier_code, packs, pack_quantity, price, amount. */
json_t *lb_report_parcel_line_json(struct lb_maker *maker, const struct lb_parcel *parcel,
                                   const struct lb_parcel_line *line, const struct lb_part *part,
                                   const struct lb_part_offer *offer);
/* supplier, goods, shipping, tax, total, deposits, shipping_not_stated. */
json_t *lb_report_parcel_json(struct lb_maker *maker, const struct lb_parcel *parcel,
                              const struct lb_supplier *supplier);
/* goods, shipping, tax, total, deposits. */
void lb_report_set_total(struct lb_maker *maker, json_t *object, const struct lb_basket_total *total);
/* {brand, part_number}. */
json_t *lb_report_part_name_json(struct lb_maker *maker, const struct lb_part *part);

#endif
