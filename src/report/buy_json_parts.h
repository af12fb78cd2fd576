/* Pieces of a purchase as JSON, shared between its files only; everyone else takes report/buy_json.h. */
#ifndef LB_REPORT_BUY_JSON_PARTS_H
#define LB_REPORT_BUY_JSON_PARTS_H

#include "purchase/uses.h"
#include "report/buy_facts.h"
#include "report/json.h"

/* In the currency that baskets are compared in. */
json_t *buy_money_json(const struct lb_purchase *purchase, int64_t minor);
/* {kit, line}, and those that a part is for. */
json_t *buy_line_json(struct lb_maker *maker, const struct lb_purchase *purchase, size_t need);
json_t *buy_lines_json(struct lb_maker *maker, const struct lb_purchase *purchase, const struct lb_uses *uses,
                       uint32_t part);

/* buy_json_rest.c: what need not be bought, and why the rest is bought so. */
json_t *buy_shelf_json(struct lb_maker *maker, const struct lb_purchase *purchase,
                       const struct lb_uses *uses);
json_t *buy_boxes_json(struct lb_maker *maker, const struct lb_purchase *purchase,
                       const struct lb_uses *uses);
json_t *buy_reasons_json(struct lb_maker *maker, const struct lb_purchase *purchase);

#endif
