/* uchardet, opened when it is first needed (base/lazy.h): include this instead of its own header, and call
 * lb_uchardet_load before the first of its functions. */
#ifndef LB_IMPORTERS_LAZY_UCHARDET_H
#define LB_IMPORTERS_LAZY_UCHARDET_H

#include <stdbool.h>
#include <uchardet/uchardet.h>

#define LB_UCHARDET_FUNCTIONS(X)                                                                             \
    X(uchardet_new)                                                                                          \
    X(uchardet_handle_data)                                                                                  \
    X(uchardet_data_end)                                                                                     \
    X(uchardet_get_charset)                                                                                  \
    X(uchardet_delete)

#define LB_UCHARDET_POINTER(function) __typeof__(function) *function;
struct lb_uchardet_functions {
    LB_UCHARDET_FUNCTIONS(LB_UCHARDET_POINTER)
};
extern struct lb_uchardet_functions lb_uchardet_functions;

/* False: it is not installed. */
bool lb_uchardet_load(void);

#define uchardet_new         lb_uchardet_functions.uchardet_new
#define uchardet_handle_data lb_uchardet_functions.uchardet_handle_data
#define uchardet_data_end    lb_uchardet_functions.uchardet_data_end
#define uchardet_get_charset lb_uchardet_functions.uchardet_get_charset
#define uchardet_delete      lb_uchardet_functions.uchardet_delete

#endif
