#include "base/vec.h"

#include <stdint.h>
#include <stdlib.h>

bool lb_vec_grow(void **at, size_t count, size_t *room, size_t element_size)
{
    if (count < *room)
        return true;
    size_t more = *room ? *room * 2 : 8;
    if (more > SIZE_MAX / element_size)
        return false;
    void *grown = realloc(*at, more * element_size);
    if (!grown)
        return false;
    *at = grown;
    *room = more;
    return true;
}
