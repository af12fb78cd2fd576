/* GTIN-8, -12, -13, -14: digits and check digit. Source: GS1 General Specifications, 7.9 (check digit
 * calculation). */
#ifndef LB_BASE_GTIN_H
#define LB_BASE_GTIN_H

/* The check digit ('0'-'9') for the digits before it (7, 11, 12 or 13 of them), or 0 when they are not that.
 */
char lb_gtin_check_digit(const char *digits);
/* NULL when `text` (blanks and hyphens aside) is a valid GTIN, else why not, in words (static text).
 * All zeros passes the arithmetic but is refused. */
const char *lb_gtin_validate(const char *text);

#endif
