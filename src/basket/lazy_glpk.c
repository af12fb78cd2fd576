#include "basket/lazy_glpk.h"

#include "base/lazy.h"

#define NAME(function) #function,
static const char *const names[] = {BASKET_GLPK_FUNCTIONS(NAME)};

struct basket_glpk_functions basket_glpk;

bool basket_glpk_load(void)
{
    static struct lb_lazy library = {"libglpk.so.40", names, sizeof names / sizeof *names,
                                     (void **)&basket_glpk, false};
    return lb_lazy_load(&library);
}
