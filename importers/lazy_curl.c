#include "importers/lazy_curl.h"

#include "base/lazy.h"

#define NAME(function) #function,
static const char *const names[] = {LB_CURL_FUNCTIONS(NAME)};

struct lb_curl_functions lb_curl_functions;

bool lb_curl_load(void)
{
    static struct lb_lazy library = {"libcurl.so.4", names, sizeof names / sizeof *names,
                                     (void **)&lb_curl_functions, false};
    return lb_lazy_load(&library);
}
