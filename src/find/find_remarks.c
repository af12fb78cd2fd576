/* What find did with the words: which were left out, which were taken for others. */
#include "find/finder.h"

#include <string.h>

/* The way that the best hits took for a slot; -1: none has it. */
static lb_status way_taken(struct search *search, int slot, int *way)
{
    struct lb_sighting sighting;
    struct lb_slot_score slots[LB_QUERY_WORDS];
    lb_status status = LB_OK;
    *way = -1;
    for (size_t i = 0; !status && *way < 0 && i < search->list.count; i++) {
        status = find_sight(search, &search->list.at[i], &sighting);
        if (status)
            break;
        lb_rank(&search->ranker, &sighting, slots);
        *way = slots[slot].way;
    }
    return status;
}

static bool was_typed_before(const struct lb_query *q, int slot)
{
    for (int s = 0; s < slot; s++)
        if (strcmp(q->words[q->slots[s].word].text, q->words[q->slots[slot].word].text) == 0)
            return true;
    return false;
}

/* Maps have the word, and one led to a part. */
static lb_status is_of_map(struct search *search, const struct lb_query_word *word, bool *is)
{
    *is = false;
    for (size_t i = 0; i < search->list.count; i++)
        if (search->list.at[i].as & FOUND_BY_MAP)
            return lb_map_has(search->finder->map_lists, word, is, search->err);
    return LB_OK;
}

static lb_status remark_slot(struct search *search, int slot)
{
    const struct lb_query *q = search->query;
    const struct lb_query_word *word = &q->words[q->slots[slot].word];
    int way;
    bool of_map;
    lb_status status = is_of_map(search, word, &of_map);
    if (status || of_map || was_typed_before(q, slot) || (word->digits && search->number_found))
        return status;
    status = way_taken(search, slot, &way);
    if (status)
        return status;
    if (way >= 0 && q->ways[way].kind == LB_WAY_REPAIRED)
        return find_say(search, &search->remarks, "no title has \"%s\": taken for \"%s\"", word->text,
                        q->ways[way].words);
    if (way < 0 && !q->slots[slot].known && !search->number_found)
        return find_say(search, &search->remarks, "no title has \"%s\": left out", word->text);
    return LB_OK;
}

lb_status find_remark(struct search *search)
{
    lb_status status = LB_OK;
    if (search->query->cut)
        status = find_say(search, &search->remarks, "only the first %d words count", LB_QUERY_WORDS);
    for (int s = 0; !status && search->list.count && s < search->query->slot_count; s++)
        status = remark_slot(search, s);
    return status;
}
