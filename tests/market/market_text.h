/* A market as plain text, for tests, referees and benches. Not a format of the program: nobody else reads it.
 *
 * One line a thing, words apart by blanks, all numbers whole and in the units of basket/market.h (millionths
 * of a unit, minor units of money, millionths of a percent point, days; -1: not stated). Indices count from 0
 * in the order of the lines. `#` begins a comment line. What belongs to something follows it:
 *
 *     market CURRENCY
 *     supplier NAME CURRENCY MINIMUM SHIP_DAYS TAX
 *     ship GOODS_FROM CHARGE              of the last supplier
 *     rate CURRENCY IN RATE
 *     part ON_HAND
 *     offer SUPPLIER CURRENCY PRICE DEPOSIT PACK MINIMUM_PACKS STOCK LEAD_DAYS      of the last part
 *     need QUANTITY
 *     option PART QUANTITY PREMIUM        of the last need
 *     with PART QUANTITY                  companion of the last option
 *     content PART QUANTITY
 *     cover NEED [OPENER...]              of the last content
 *     limit parcels N | limit days N | limit without SUPPLIER
 *     end
 *
 *     struct market_text *text;
 *     long line = 0;
 *     while (!(status = market_text_read(&text, stdin, &line, &err)) && text) …
 */
#ifndef TESTS_MARKET_TEXT_H
#define TESTS_MARKET_TEXT_H

#include "base/arena.h"
#include "base/error.h"
#include "basket/basket.h"

#include <stdio.h>

struct market_text {
    struct lb_market market;
    struct lb_basket_limits limits; /* seconds: 10, unless somebody changes it */
    struct lb_arena arena;          /* all of it lives in there */
};

/* The next market of the file; *out NULL: there is none. *line counts the lines read, over all calls.
 * LB_DATA: a line that cannot be read, with its number; after that the file is of no use. */
LB_CHECK lb_status market_text_read(struct market_text **out, FILE *in, long *line, struct lb_error *err);
/* One market from a text that is not a file. */
LB_CHECK lb_status market_text_parse(struct market_text **out, const char *text, struct lb_error *err);
void market_text_free(struct market_text *text);

#endif
