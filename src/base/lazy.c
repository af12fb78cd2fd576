#include "base/lazy.h"

#include <dlfcn.h>
#include <pthread.h>

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;

static bool find_all(struct lb_lazy *library)
{
    void *handle = dlopen(library->file, RTLD_NOW | RTLD_LOCAL);
    for (size_t i = 0; handle && i < library->count; i++)
        if (!(library->functions[i] = dlsym(handle, library->names[i])))
            return false;
    return handle != NULL;
}

bool lb_lazy_load(struct lb_lazy *library)
{
    pthread_mutex_lock(&lock);
    if (!library->loaded)
        library->loaded = find_all(library);
    bool loaded = library->loaded;
    pthread_mutex_unlock(&lock);
    return loaded;
}
