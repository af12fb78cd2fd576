/* Letters and digits of ASCII, whatever the locale says; <ctype.h> asks it. */
#ifndef LB_BASE_ASCII_H
#define LB_BASE_ASCII_H

#include <stdbool.h>

static inline bool lb_ascii_digit(char c)
{
    return c >= '0' && c <= '9';
}

static inline char lb_ascii_lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static inline char lb_ascii_upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

#endif
