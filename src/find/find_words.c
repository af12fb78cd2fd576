/* By the words of titles: all titles of the index, or those of the parts that are listed for a vehicle. */
#include "find/finder.h"
#include "find/position_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MORE = 8 /* candidates beyond what is shown: some are gone, or the same part */ };

static lb_status take_swept(struct search *search, size_t *there)
{
    const struct lb_sweep *sweep = &search->finder->sweep;
    lb_status status = LB_OK;
    *there = 0;
    for (size_t i = 0; !status && i < sweep->best.count; i++) {
        struct candidate *candidate;
        status = find_row(search, lb_mark_row(sweep->best.at[i].title), &candidate);
        if (status || !candidate)
            continue;
        (*there) += !(candidate->as & FOUND_BY_WORDS);
        candidate->as |= FOUND_BY_WORDS;
        candidate->words = fmax(candidate->words, sweep->best.at[i].score);
    }
    return status;
}

/* Rows that are gone and parts that several lists have make the first look too short now and then. */
lb_status find_by_words(struct search *search)
{
    struct lb_sweep *sweep = &search->finder->sweep;
    size_t wanted = (size_t)search->request->limit + MORE, there = 0;
    lb_status status = LB_OK;
    for (size_t most = wanted; !status; most *= 4) {
        status = lb_sweep_run(sweep, &search->ranker, most, search->request->exhaustive, search->err);
        if (!status)
            status = take_swept(search, &there);
        if (status || sweep->best.count < most || there >= (size_t)search->request->limit ||
            search->request->exhaustive)
            break;
    }
    bool all = !sweep->cut && sweep->best.count == (size_t)sweep->seen;
    search->total = all ? (int64_t)there : sweep->seen;
    search->total_least = sweep->cut;
    return status;
}

/* The query's terms by the low bits of their hashes: most words of a title are none of them. */
struct term_table {
    short first[256], next[LB_QUERY_TERMS]; /* -1: no more */
};

static void fill_table(struct term_table *table, const struct lb_query *query)
{
    memset(table->first, -1, sizeof table->first);
    for (short t = (short)(query->term_count - 1); t >= 0; t--) {
        short *first = &table->first[query->terms[t].hash & 255];
        table->next[t] = *first;
        *first = t;
    }
}

static void sight_listed(const struct lb_query *query, const struct term_table *table,
                         const struct lb_listed_part *part, struct lb_sighting *out)
{
    out->length = part->length;
    out->type_words = part->type_words;
    for (int i = 0; i < out->seen_count; i++) /* of the part before */
        out->places[out->seen[i]] = LB_NO_PLACE;
    out->seen_count = 0;
    out->opposed = false;
    for (size_t w = 0; w < part->word_count; w++)
        for (int t = table->first[part->words[w].stem & 255]; t >= 0; t = table->next[t]) {
            if (query->terms[t].hash != part->words[w].stem || out->places[t] != LB_NO_PLACE)
                continue;
            if (t >= query->opposite_from) {
                out->opposed = true;
                continue;
            }
            out->seen[out->seen_count++] = t;
            out->places[t] = (unsigned char)part->words[w].place;
        }
}

/* Where the vehicle's list says that the part goes counts as if its title said so. */
static void sight_place(const struct lb_query *query, const struct lb_listed_part *part,
                        struct lb_sighting *out)
{
    for (int t = 0; (part->position & query->wanted) && t < query->opposite_from; t++) {
        const struct lb_query_term *term = &query->terms[t];
        if (!term->position || out->places[t] != LB_NO_PLACE ||
            !(lb_position_word(term->key + 1, term->length - 1) & part->position))
            continue;
        out->seen[out->seen_count++] = t;
        out->places[t] = LB_PLACE_BRAND;
    }
}

/* Does the title have all that was typed, as typed or by what it means? Not what a typing error may have been
 * or what a word may go on as, when titles have the word itself. */
static bool is_whole(const struct lb_query *query, const struct lb_slot_score *slots)
{
    for (int s = 0; s < query->slot_count; s++) {
        const struct lb_query_slot *slot = &query->slots[s];
        if (!slot->known)
            continue;
        if (slots[s].way < 0)
            return false;
        enum lb_way_kind kind = query->ways[slots[s].way].kind;
        if (slot->way_count && query->ways[slot->way_from].kind == LB_WAY_TYPED &&
            (kind == LB_WAY_REPAIRED || kind == LB_WAY_COMPLETED))
            return false;
    }
    return true;
}

static int best_listed(const void *left, const void *right)
{
    const struct listed *a = left, *b = right;
    if (a->points != b->points)
        return a->points < b->points ? 1 : -1;
    return (a->part > b->part) - (a->part < b->part);
}

/* All that answer at all, best first. */
static lb_status rank_all(struct search *search)
{
    const struct lb_shortlist *list = search->request->shortlist;
    struct term_table table;
    struct lb_sighting sighting = {0};
    struct lb_slot_score slots[LB_QUERY_WORDS];
    fill_table(&table, search->query);
    memset(sighting.places, LB_NO_PLACE, sizeof sighting.places);
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_listed_part *part = &list->parts[i];
        sight_listed(search->query, &table, part, &sighting);
        if (!part->row || !sighting.seen_count)
            continue;
        sight_place(search->query, part, &sighting);
        double points = lb_rank(&search->ranker, &sighting, slots), place = find_place(search, part);
        search->whole += place == 1 && !sighting.opposed && is_whole(search->query, slots);
        if (points > 0 && !LB_PUSH(&search->rest, ((struct listed){points * place, part})))
            return lb_fail_nomem(search->err);
    }
    if (search->rest.count > 1)
        qsort(search->rest.at, search->rest.count, sizeof *search->rest.at, best_listed);
    return LB_OK;
}

static lb_status take_listed(struct search *search, const struct listed *listed)
{
    struct candidate *candidate;
    lb_status status = find_row(search, listed->part->row, &candidate);
    if (status || !candidate)
        return status;
    candidate->as |= FOUND_IN_LIST;
    candidate->words = fmax(candidate->words, listed->points / find_place(search, listed->part));
    return LB_OK;
}

/* How many answer well and fit for sure: with so many others need not be looked at. */
static size_t count_good(const struct search *search, size_t most)
{
    size_t count = 0;
    for (size_t i = 0; i < search->rest.count && count < most; i++) {
        if (search->rest.at[i].points < FIND_GOOD * search->rest.at[0].points)
            break;
        count += search->rest.at[i].part->fit == LB_FIND_FITS;
    }
    return count;
}

/* The best of those that fit, and of those that ask as far as there is room, become candidates. */
lb_status find_in_shortlist(struct search *search)
{
    size_t room = (size_t)search->request->limit + MORE, taken[LB_FIND_NO] = {0}, kept = 0;
    lb_status status = rank_all(search);
    double best = !status && search->rest.count ? search->rest.at[0].points : 0;
    const size_t most[LB_FIND_NO] = {[LB_FIND_FITS] = room, [LB_FIND_ASK] = room - count_good(search, room)};
    for (size_t i = 0; !status && i < search->rest.count; i++) {
        const struct listed *listed = &search->rest.at[i];
        enum lb_find_fit fit = listed->part->fit;
        bool full = listed->points < FIND_GOOD * best && taken[LB_FIND_FITS] + taken[LB_FIND_ASK] >= room;
        if (listed->points < FIND_WEAK * best)
            break;
        if (full || taken[fit] >= most[fit]) {
            search->rest.at[kept++] = *listed;
            continue;
        }
        taken[fit]++;
        status = take_listed(search, listed);
    }
    search->rest.count = kept;
    return status;
}
