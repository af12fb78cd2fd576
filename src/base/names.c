#include "base/names.h"
#include "base/hash.h"
#include "base/vec.h"

#include <stdlib.h>
#include <string.h>

static size_t slot_of(const struct lb_names *names, const char *name)
{
    size_t mask = names->slot_count - 1;
    size_t slot = (size_t)lb_hash(LB_HASH_START, name, strlen(name)) & mask;
    while (names->slots[slot] && strcmp(names->at[names->slots[slot] - 1], name) != 0)
        slot = (slot + 1) & mask;
    return slot;
}

static bool grow(struct lb_names *names)
{
    if (names->slot_count && names->count * 2 < names->slot_count)
        return true;
    size_t count = names->slot_count ? names->slot_count * 2 : 64;
    uint32_t *slots = calloc(count, sizeof *slots);
    if (!slots)
        return false;
    free(names->slots);
    names->slots = slots;
    names->slot_count = count;
    for (size_t id = 0; id < names->count; id++)
        names->slots[slot_of(names, names->at[id])] = (uint32_t)id + 1;
    return true;
}

bool lb_names_add(struct lb_names *names, const char *name, uint32_t *id)
{
    if (!grow(names))
        return false;
    size_t slot = slot_of(names, name);
    if (!names->slots[slot]) {
        const char *text = lb_arena_text(&names->texts, name, strlen(name));
        if (!text || !LB_PUSH(names, text))
            return false;
        names->slots[slot] = (uint32_t)names->count;
    }
    *id = names->slots[slot] - 1;
    return true;
}

uint32_t lb_names_find(const struct lb_names *names, const char *name)
{
    if (!names->slot_count)
        return LB_NO_NAME;
    size_t slot = slot_of(names, name);
    return names->slots[slot] ? names->slots[slot] - 1 : LB_NO_NAME;
}

void lb_names_free(struct lb_names *names)
{
    free(names->at);
    free(names->slots);
    lb_arena_free(&names->texts);
    memset(names, 0, sizeof *names);
}
