#include "base/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { BLOCK_SIZE = 64 * 1024 };

struct lb_arena_block {
    struct lb_arena_block *next;
    size_t used, size;
    alignas(max_align_t) unsigned char bytes[];
};

static struct lb_arena_block *block_add(struct lb_arena *arena, size_t size)
{
    struct lb_arena_block *block = calloc(1, sizeof *block + size);
    if (!block)
        return NULL;
    block->size = size;
    block->next = arena->blocks;
    arena->blocks = block;
    return block;
}

void *lb_arena_alloc(struct lb_arena *arena, size_t size)
{
    const size_t align = alignof(max_align_t);
    if (size > SIZE_MAX / 2)
        return NULL;
    size = (size + align - 1) / align * align;
    struct lb_arena_block *block = arena->blocks;
    if (!block || block->size - block->used < size)
        block = block_add(arena, size > BLOCK_SIZE ? size : BLOCK_SIZE);
    if (!block)
        return NULL;
    void *memory = block->bytes + block->used;
    block->used += size;
    return memory;
}

char *lb_arena_text(struct lb_arena *arena, const char *bytes, size_t length)
{
    char *text = lb_arena_alloc(arena, length + 1);
    if (text && length)
        memcpy(text, bytes, length);
    return text;
}

void lb_arena_free(struct lb_arena *arena)
{
    while (arena->blocks) {
        struct lb_arena_block *next = arena->blocks->next;
        free(arena->blocks);
        arena->blocks = next;
    }
}
