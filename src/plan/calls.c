#include "plan/calls.h"

#include <string.h>

/* Is it the word, or its plural? */
static bool same_word(const char *at, size_t length, const char *word, size_t word_length)
{
    return length >= word_length && strncmp(at, word, word_length) == 0 &&
           (length == word_length || (length == word_length + 1 && at[word_length] == 's'));
}

static bool has_word(const char *name, const char *word, size_t word_length)
{
    while (*name) {
        size_t length = strcspn(name, "-");
        if (same_word(name, length, word, word_length))
            return true;
        name += length + (name[length] == '-');
    }
    return false;
}

bool call_matches(const char *name, const char *words)
{
    if (*words == '=')
        return same_word(name, strlen(name), words + 1, strlen(words + 1));
    while (*words) {
        bool unwanted = *words == '-';
        words += unwanted;
        size_t length = strcspn(words, " ");
        if (has_word(name, words, length) == unwanted)
            return false;
        words += length + (words[length] == ' ');
    }
    return true;
}

struct calling {
    const struct call *calls;
    size_t count;
    uint32_t found;
};

static void call_name(struct calling *c, enum call_by by, enum lb_level level, const char *name)
{
    for (size_t i = 0; name && i < c->count; i++) {
        const struct call *call = &c->calls[i];
        if (call->by == by && level >= call->from && call_matches(name, call->words))
            c->found |= 1U << call->what;
    }
}

static void call_parts(struct calling *c, const struct lb_plan *plan)
{
    const struct lb_map *map = plan->map;
    for (size_t i = 0; i < map->component_row_count; i++) {
        const struct lb_map_component *row = &map->component_rows[i];
        if (plan->levels[row->component])
            call_name(c, CALL_PART, plan->levels[row->component], row->article.part_type);
    }
    for (size_t i = 0; i < plan->unknown_part_count; i++)
        call_name(c, CALL_PART, plan->levels[plan->unknown_parts[i]],
                  map->components[plan->unknown_parts[i]]);
}

static bool is_opened(const struct lb_plan *plan, uint32_t circuit)
{
    for (size_t i = 0; i < plan->opened_count; i++)
        if (plan->opened[i] == circuit)
            return true;
    return false;
}

static void call_fluids(struct calling *c, const struct lb_plan *plan)
{
    const struct lb_map *map = plan->map;
    for (size_t i = 0; i < map->circuit_row_count; i++)
        if (is_opened(plan, map->circuit_rows[i].circuit))
            call_name(c, CALL_FLUID, LB_REMOVED, map->circuit_rows[i].fluid.part_type);
    for (size_t i = 0; i < plan->dry_circuit_count; i++)
        call_name(c, CALL_FLUID, LB_REMOVED, map->circuits[plan->dry_circuits[i]]);
}

static void call_renewed(struct calling *c, const struct lb_plan *plan)
{
    for (size_t i = 0; i < plan->need_count; i++)
        if (plan->needs[i].reason == LB_TARGET)
            call_name(c, CALL_RENEWED, LB_REMOVED, plan->needs[i].article.part_type);
}

uint32_t calls_of(const struct lb_plan *plan, const struct call *calls, size_t count)
{
    struct calling c = {calls, count, 0};
    call_parts(&c, plan);
    call_fluids(&c, plan);
    call_renewed(&c, plan);
    return c.found;
}
