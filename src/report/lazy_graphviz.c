#include "report/lazy_graphviz.h"

#include "base/lazy.h"

#define NAME(function) #function,
static const char *const names[] = {DRAW_GRAPHVIZ_FUNCTIONS(NAME)};

struct draw_graphviz_functions draw_graphviz;

/* What libgvc needs itself (libcgraph) is looked through as well. */
bool draw_graphviz_load(void)
{
    static struct lb_lazy library = {"libgvc.so.6", names, sizeof names / sizeof *names,
                                     (void **)&draw_graphviz, false};
    return lb_lazy_load(&library);
}
