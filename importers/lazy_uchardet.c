#include "importers/lazy_uchardet.h"

#include "base/lazy.h"

#define NAME(function) #function,
static const char *const names[] = {LB_UCHARDET_FUNCTIONS(NAME)};

struct lb_uchardet_functions lb_uchardet_functions;

bool lb_uchardet_load(void)
{
    static struct lb_lazy library = {"libuchardet.so.0", names, sizeof names / sizeof *names,
                                     (void **)&lb_uchardet_functions, false};
    return lb_lazy_load(&library);
}
