#include "plan/ways.h"
#include "plan/work.h"

#include <string.h>

static uint64_t *set_at(const struct work *w, const struct ways *ways, unsigned i)
{
    return ways->sets + i * w->condition_words;
}

static bool within(const struct work *w, const uint64_t *a, const uint64_t *b)
{
    for (size_t i = 0; i < w->condition_words; i++)
        if (a[i] & ~b[i])
            return false;
    return true;
}

static bool join(const struct work *w, uint64_t *into, const uint64_t *from)
{
    bool grew = !within(w, from, into);
    for (size_t i = 0; i < w->condition_words; i++)
        into[i] |= from[i];
    return grew;
}

/* Takes out the ways that need more than `set`. */
static void drop_wider(const struct work *w, struct ways *ways, const uint64_t *set)
{
    for (unsigned i = 0; i < ways->count;) {
        if (within(w, set, set_at(w, ways, i)))
            memcpy(set_at(w, ways, i), set_at(w, ways, --ways->count), w->condition_words * sizeof *set);
        else
            i++;
    }
}

/* True: the set is new and says something. */
static bool add_set(const struct work *w, struct ways *ways, const uint64_t *set)
{
    for (unsigned i = 0; i < ways->count; i++)
        if (within(w, set_at(w, ways, i), set))
            return false;
    drop_wider(w, ways, set);
    if (ways->count == WAYS_KEPT) {
        ways->has_rest = true;
        return join(w, set_at(w, ways, WAYS_KEPT), set);
    }
    memcpy(set_at(w, ways, ways->count++), set, w->condition_words * sizeof *set);
    return true;
}

static void with_condition(struct work *w, uint64_t *set, const struct lb_row *row)
{
    if (!row->doubt_count)
        return;
    w->row_of_condition[row->condition] = row;
    set[row->condition / 64] |= (uint64_t)1 << (row->condition % 64);
}

bool ways_add(struct work *w, struct ways *into, const struct ways *from, const struct lb_row *row,
              bool *grew)
{
    uint64_t *set = w->scratch_set;
    size_t size = w->condition_words * sizeof *set;
    bool any = false;
    if (!into->sets && !(into->sets = lb_plan_alloc(w, (WAYS_KEPT + 1) * w->condition_words, sizeof *set)))
        return false;
    for (unsigned i = 0; i < (from ? from->count : 1); i++) {
        memset(set, 0, size);
        if (from)
            memcpy(set, set_at(w, from, i), size);
        with_condition(w, set, row);
        any |= add_set(w, into, set);
    }
    if (from && from->has_rest) {
        memcpy(set, set_at(w, from, WAYS_KEPT), size);
        with_condition(w, set, row);
        into->has_rest = true;
        any |= join(w, set_at(w, into, WAYS_KEPT), set);
    }
    if (grew)
        *grew |= any;
    return true;
}

size_t ways_next(const struct work *w, const uint64_t *set, size_t from)
{
    for (size_t word = from / 64; word < w->condition_words; word++) {
        uint64_t bits = word == from / 64 ? set[word] >> (from % 64) << (from % 64) : set[word];
        if (bits)
            return word * 64 + (size_t)__builtin_ctzll(bits);
    }
    return NO_CONDITION;
}

static void add_facts(const struct work *w, const uint64_t *set, uint64_t *facts)
{
    for (size_t c = 0; (c = ways_next(w, set, c)) != NO_CONDITION; c++)
        lb_plan_add_doubts(facts, w->row_of_condition[c]);
}

void ways_facts(const struct work *w, const struct ways *ways, uint64_t *facts)
{
    for (unsigned i = 0; i < ways->count; i++)
        add_facts(w, set_at(w, ways, i), facts);
    if (ways->has_rest)
        add_facts(w, set_at(w, ways, WAYS_KEPT), facts);
}
