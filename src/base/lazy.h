/* A shared library that is opened when it is first needed: most runs need no server and no archive, and
 * starting with what libcurl and libarchive bring along takes longer than most runs. The functions are then
 * called through a table of pointers, which a header of the library's own (importers/lazy_*.h) hides behind
 * their names.
 *
 *     static const char *const names[] = {"uchardet_new", …};
 *     static struct lb_lazy library = {"libuchardet.so.0", names, count, (void **)&table};
 *     if (!lb_lazy_load(&library)) … it is not installed here
 */
#ifndef LB_BASE_LAZY_H
#define LB_BASE_LAZY_H

#include <stdbool.h>
#include <stddef.h>

struct lb_lazy {
    const char *file; /* as the dynamic linker looks for it */
    const char *const *names;
    size_t count;
    void **functions; /* `count` pointers, filled in the order of the names */
    bool loaded;
};

/* Opens it once, from any thread. False: it is not there, or lacks one of the functions. It stays open. */
bool lb_lazy_load(struct lb_lazy *library);

#endif
