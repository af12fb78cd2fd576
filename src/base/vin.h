/* Vehicle identification numbers.
 * Source: ISO 3779 (17 characters without I, O, Q); 49 CFR 565.15: check character (position 9, Tables
 * III-V), model year (position 10, Table VII, with position 7: numeric 1980-2009, letter 2010-2039, light
 * vehicles). The check character is a rule of one market: elsewhere position 9 may be a filler, so a mismatch
 * is a warning and never a refusal. */
#ifndef LB_BASE_VIN_H
#define LB_BASE_VIN_H

#include <stdbool.h>

struct lb_vin {
    char text[18];     /* upper case, blanks and hyphens removed */
    char expected;     /* the check character computed: '0'-'9' or 'X' */
    int sum;           /* the weighted sum before modulo 11 */
    bool check_ok;     /* position 9 equals it */
    bool check_filler; /* position 9 is a letter other than X, so no check character at all */
    int model_year; /* 1980-2039, or 0 when position 10 says none; for light vehicles of that market only */
};

/* NULL, or why it is no VIN, in words (static text); *vin is then all zeros. */
const char *lb_vin_parse(const char *text, struct lb_vin *vin);

#endif
