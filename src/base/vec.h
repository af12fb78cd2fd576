/* Growing arrays of any element type, as three fields and one macro.
 *
 *     struct { struct step *at; size_t count, room; } steps = {0};
 *     if (!LB_PUSH(&steps, ((struct step){.verb = "fit"}))) return lb_fail_nomem(err);
 *     free(steps.at);
 */
#ifndef LB_BASE_VEC_H
#define LB_BASE_VEC_H

#include <stdbool.h>
#include <stddef.h>

#define LB_VEC(type)                                                                                         \
    struct {                                                                                                 \
        type *at;                                                                                            \
        size_t count, room;                                                                                  \
    }

/* Makes room for one more; false: out of memory, the array as it was. Use it through LB_PUSH. */
bool lb_vec_grow(void **at, size_t count, size_t *room, size_t element_size);

#define LB_PUSH(vec, ...)                                                                                    \
    (lb_vec_grow((void **)&(vec)->at, (vec)->count, &(vec)->room, sizeof *(vec)->at) &&                      \
     ((vec)->at[(vec)->count++] = (__VA_ARGS__), true))

#endif
