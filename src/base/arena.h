/* Memory that is freed all at once: the texts and rows of one load, one plan, one kit.
 *
 *     struct lb_arena arena = {0};
 *     char *name = lb_arena_text(&arena, "water-pump", 10);   // NULL: out of memory
 *     lb_arena_free(&arena);
 */
#ifndef LB_BASE_ARENA_H
#define LB_BASE_ARENA_H

#include <stddef.h>

struct lb_arena {
    struct lb_arena_block *blocks;
};

/* Zeroed and aligned for any type; NULL when memory ran out. Lives until lb_arena_free. */
void *lb_arena_alloc(struct lb_arena *arena, size_t size);
/* A NUL-terminated copy of `length` bytes; NULL when memory ran out. */
char *lb_arena_text(struct lb_arena *arena, const char *bytes, size_t length);
void lb_arena_free(struct lb_arena *arena);

#endif
