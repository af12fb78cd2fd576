#include "importers/lazy_archive.h"

#include "base/lazy.h"

#define NAME(function) #function,
static const char *const names[] = {LB_ARCHIVE_FUNCTIONS(NAME)};

struct lb_archive_functions lb_archive_functions;

bool lb_archive_load(void)
{
    static struct lb_lazy library = {"libarchive.so.13", names, sizeof names / sizeof *names,
                                     (void **)&lb_archive_functions, false};
    return lb_lazy_load(&library);
}
