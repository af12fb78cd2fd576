/* libcurl, opened when it is first needed (base/lazy.h): include this instead of its own header, and call
 * lb_curl_load before the first of its functions. */
#ifndef LB_IMPORTERS_LAZY_CURL_H
#define LB_IMPORTERS_LAZY_CURL_H

#include <curl/curl.h>
#include <stdbool.h>

#define LB_CURL_FUNCTIONS(X)                                                                                 \
    X(curl_easy_cleanup)                                                                                     \
    X(curl_easy_getinfo)                                                                                     \
    X(curl_easy_init)                                                                                        \
    X(curl_easy_perform)                                                                                     \
    X(curl_easy_setopt)                                                                                      \
    X(curl_easy_strerror)                                                                                    \
    X(curl_free)                                                                                             \
    X(curl_global_cleanup)                                                                                   \
    X(curl_global_init)                                                                                      \
    X(curl_slist_append)                                                                                     \
    X(curl_slist_free_all)                                                                                   \
    X(curl_url)                                                                                              \
    X(curl_url_cleanup)                                                                                      \
    X(curl_url_dup)                                                                                          \
    X(curl_url_get)                                                                                          \
    X(curl_url_set)                                                                                          \
    X(curl_url_strerror)                                                                                     \
    X(curl_version_info)

/* Macros of its header that check the types of arguments. */
#undef curl_easy_setopt
#undef curl_easy_getinfo

#define LB_CURL_POINTER(function) __typeof__(function) *function;
struct lb_curl_functions {
    LB_CURL_FUNCTIONS(LB_CURL_POINTER)
};
extern struct lb_curl_functions lb_curl_functions;

/* False: it is not installed. */
bool lb_curl_load(void);

#define curl_easy_cleanup   lb_curl_functions.curl_easy_cleanup
#define curl_easy_getinfo   lb_curl_functions.curl_easy_getinfo
#define curl_easy_init      lb_curl_functions.curl_easy_init
#define curl_easy_perform   lb_curl_functions.curl_easy_perform
#define curl_easy_setopt    lb_curl_functions.curl_easy_setopt
#define curl_easy_strerror  lb_curl_functions.curl_easy_strerror
#define curl_free           lb_curl_functions.curl_free
#define curl_global_cleanup lb_curl_functions.curl_global_cleanup
#define curl_global_init    lb_curl_functions.curl_global_init
#define curl_slist_append   lb_curl_functions.curl_slist_append
#define curl_slist_free_all lb_curl_functions.curl_slist_free_all
#define curl_url            lb_curl_functions.curl_url
#define curl_url_cleanup    lb_curl_functions.curl_url_cleanup
#define curl_url_dup        lb_curl_functions.curl_url_dup
#define curl_url_get        lb_curl_functions.curl_url_get
#define curl_url_set        lb_curl_functions.curl_url_set
#define curl_url_strerror   lb_curl_functions.curl_url_strerror
#define curl_version_info   lb_curl_functions.curl_version_info

#endif
