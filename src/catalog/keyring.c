#include "catalog/keyring.h"

#include "base/hash.h"

#include <stdlib.h>
#include <string.h>

uint64_t lb_keyring_key(const struct lb_kind *kind, const struct lb_value *values)
{
    uint64_t hash = LB_HASH_START;
    for (int i = 0; i < kind->column_count; i++) {
        if (!kind->columns[i].key)
            continue;
        const unsigned char type = (unsigned char)values[i].type;
        hash = lb_hash(hash, &type, 1);
        if (values[i].type == LB_VALUE_TEXT)
            hash = lb_hash(hash, values[i].text, strlen(values[i].text) + 1);
        else if (values[i].type == LB_VALUE_INTEGER)
            hash = lb_hash(hash, &values[i].integer, sizeof values[i].integer);
    }
    return hash;
}

bool lb_keyring_add(struct lb_keyring *keys, uint64_t key, int64_t row)
{
    return keys->rows.count < UINT32_MAX - 1 && LB_PUSH(&keys->keys, key) && LB_PUSH(&keys->rows, row);
}

/* The low bits of FNV-1a are its good ones, but not its best: the upper ones are folded in. */
static size_t slot_of(const struct lb_keyring *keys, uint64_t key)
{
    return (size_t)(key ^ key >> 32) & (keys->head_count - 1);
}

bool lb_keyring_close(struct lb_keyring *keys)
{
    size_t count = 1024;
    while (count < keys->rows.count)
        count *= 2;
    keys->heads = calloc(count, sizeof *keys->heads);
    keys->next = malloc((keys->rows.count + 1) * sizeof *keys->next);
    if (!keys->heads || !keys->next)
        return false;
    keys->head_count = count;
    for (size_t i = keys->rows.count; i-- > 0;) {
        uint32_t *head = &keys->heads[slot_of(keys, keys->keys.at[i])];
        keys->next[i] = *head;
        *head = (uint32_t)i + 1;
    }
    return true;
}

bool lb_keyring_next(struct lb_keyring *keys, uint64_t key, struct lb_keyring_find *find)
{
    if (!keys->head_count)
        return false;
    find->link = find->link ? &keys->next[*find->link - 1] : &keys->heads[slot_of(keys, key)];
    while (*find->link && keys->keys.at[*find->link - 1] != key)
        find->link = &keys->next[*find->link - 1];
    find->row = *find->link ? keys->rows.at[*find->link - 1] : 0;
    return *find->link != 0;
}

void lb_keyring_take(struct lb_keyring *keys, struct lb_keyring_find *find)
{
    *find->link = keys->next[*find->link - 1];
}

void lb_keyring_free(struct lb_keyring *keys)
{
    free(keys->keys.at);
    free(keys->rows.at);
    free(keys->heads);
    free(keys->next);
    memset(keys, 0, sizeof *keys);
}
