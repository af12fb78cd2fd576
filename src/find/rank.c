#include "find/rank.h"

#include "find/bm25.h"

#include <math.h>
#include <string.h>

/* A title is a handful of words, most of them once: how often says nothing, and length less than in prose. A
 * word of the part type counts as if it came one and a half times. */
static const double k1 = 1.2, b = 0.5, type_frequency = 1.5;
static const double adjacent = 0.10;   /* of the lesser one of two slots that follow each other as typed */
static const double whole_type = 0.15; /* of all, when the part type is named whole */
static const double missing = 0.5;  /* at the least, of a title that has next to nothing of what was typed */
static const double opposite = 0.5; /* of a title that says `lower` where `upper` was asked for */

static void fill_uses(struct lb_ranker *ranker)
{
    const struct lb_query *q = ranker->query;
    int count = 0;
    for (int term = 0; term < q->term_count; term++) {
        ranker->use_from[term] = count;
        for (int w = 0; w < q->way_count; w++)
            for (int t = 0; t < q->ways[w].count; t++)
                if (q->ways[w].terms[t] == term) {
                    ranker->uses[count++] = w;
                    break;
                }
    }
    ranker->use_from[q->term_count] = count;
}

static void find_most(struct lb_ranker *ranker, int slot)
{
    const struct lb_query *q = ranker->query;
    ranker->most[slot].idf = ranker->most[slot].typed_idf = ranker->most[slot].had = 0;
    ranker->most[slot].words = 0;
    for (int w = q->slots[slot].way_from; w < q->slots[slot].way_from + q->slots[slot].way_count; w++) {
        const struct lb_query_way *way = &q->ways[w];
        double sum = 0, typed = 0, had = 0;
        for (int t = 0; t < way->count; t++) {
            sum += way->idf[t];
            typed += q->terms[way->terms[t]].in_type ? way->idf[t] : 0;
        }
        for (int s = slot; s < slot + way->slots && s < q->slot_count; s++)
            had += q->slots[s].idf;
        double times = way->weight * (way->count > 1 ? 1 + adjacent : 1);
        sum *= times;
        ranker->most[slot].typed_idf = fmax(ranker->most[slot].typed_idf, typed * times);
        ranker->most[slot].idf = fmax(ranker->most[slot].idf, sum);
        ranker->most[slot].had = fmax(ranker->most[slot].had, had);
        if (way->count > ranker->most[slot].words)
            ranker->most[slot].words = way->count;
    }
}

double lb_rank_most(const struct lb_ranker *ranker, const int *slots, int count, int length, int type_words)
{
    double sum = 0, sum_typed = 0, largest = 0, had = 0, in_type[LB_TITLE_TYPE_MAX + 1] = {0};
    int words = 0;
    for (int i = 0; i < count; i++) {
        double idf = ranker->most[slots[i]].idf;
        sum += idf;
        sum_typed += ranker->most[slots[i]].typed_idf;
        largest = fmax(largest, idf);
        had += ranker->most[slots[i]].had;
        words += ranker->most[slots[i]].words;
        idf = ranker->most[slots[i]].typed_idf;
        for (int t = 0; t < type_words; t++) /* the largest of them may be in the type */
            if (idf > in_type[t]) {
                double less = in_type[t];
                in_type[t] = idf;
                idf = less;
            }
    }
    double typed = 0;
    for (int t = 0; t < type_words; t++)
        typed += in_type[t];
    if (words > count) /* one slot can be several words of it */
        typed = sum_typed;
    double most = sum * ranker->plain[length] + typed * (ranker->typed[length] - ranker->plain[length]);
    most += adjacent * (sum - largest) * ranker->typed[length];
    if (type_words > 0 && words >= type_words)
        most *= 1 + whole_type;
    had = fmin(had, ranker->whole_idf);
    return ranker->whole_idf > 0 ? most * (missing + (1 - missing) * had / ranker->whole_idf) : most;
}

void lb_ranker_make(struct lb_ranker *ranker, const struct lb_query *query)
{
    ranker->query = query;
    ranker->whole_idf = 0;
    for (int length = 0; length <= LB_TITLE_LENGTH_MAX; length++) {
        ranker->plain[length] = lb_bm25_weight(1, length, query->average, k1, b);
        ranker->typed[length] = lb_bm25_weight(type_frequency, length, query->average, k1, b);
    }
    for (int s = 0; s < query->slot_count; s++)
        ranker->whole_idf += query->slots[s].idf;
    for (int s = 0; s < query->slot_count; s++)
        find_most(ranker, s);
    fill_uses(ranker);
}

static bool stands_behind(int place, int before)
{
    return before >= 0 && place == before + 1 && place < LB_PLACE_LATE;
}

/* A way that the title has, or a part of it when it may be had in part. */
static struct lb_slot_score score_way(const struct lb_ranker *ranker, const struct lb_sighting *sighting,
                                      int index)
{
    const struct lb_query_way *way = &ranker->query->ways[index];
    const double *plain = &ranker->plain[sighting->length], *typed = &ranker->typed[sighting->length];
    struct lb_slot_score score = {.way = index, .first_place = -1, .last_place = -1};
    double last = 0;
    for (int t = 0; t < way->count; t++) {
        int place = sighting->places[way->terms[t]];
        if (place == LB_NO_PLACE) {
            if (way->whole)
                return (struct lb_slot_score){.way = -1};
            last = 0;
            continue;
        }
        double here = way->weight * way->idf[t] * (place < sighting->type_words ? *typed : *plain);
        bool behind = stands_behind(place, score.last_place);
        if (way->adjacent && t > 0 && !behind)
            return (struct lb_slot_score){.way = -1};
        score.points += here + (behind && last > 0 ? adjacent * fmin(here, last) : 0);
        if (score.first_place < 0)
            score.first_place = place;
        score.last_place = place;
        last = here;
    }
    return score;
}

/* A way that stands for several slots, when it gives more than what they have each for itself. */
static void take_slots(const struct lb_ranker *ranker, struct lb_slot_score score,
                       struct lb_slot_score *slots)
{
    const struct lb_query_way *way = &ranker->query->ways[score.way];
    int end = way->slot + way->slots < ranker->query->slot_count ? way->slot + way->slots
                                                                 : ranker->query->slot_count;
    double sum = 0;
    for (int s = way->slot; s < end; s++)
        sum += slots[s].points;
    if (score.points <= sum)
        return;
    slots[way->slot] = score;
    score.points = 0;
    for (int s = way->slot + 1; s < end; s++)
        slots[s] = score;
}

/* The best way of each slot; a slot without one keeps way -1. */
static void score_slots(const struct lb_ranker *ranker, const struct lb_sighting *sighting,
                        struct lb_slot_score *slots)
{
    const struct lb_query *q = ranker->query;
    struct lb_slot_score wide[LB_QUERY_WORDS];
    int wide_count = 0;
    for (int s = 0; s < q->slot_count; s++)
        slots[s] = (struct lb_slot_score){.way = -1, .first_place = -1, .last_place = -1};
    for (int i = 0; i < sighting->seen_count; i++)
        for (int u = ranker->use_from[sighting->seen[i]]; u < ranker->use_from[sighting->seen[i] + 1]; u++) {
            struct lb_slot_score score = score_way(ranker, sighting, ranker->uses[u]);
            struct lb_slot_score *slot = &slots[q->ways[ranker->uses[u]].slot];
            if (score.way < 0)
                continue;
            if (q->ways[score.way].slots > 1) {
                if (wide_count < LB_QUERY_WORDS)
                    wide[wide_count++] = score;
            } else if (slot->way < 0 || score.points > slot->points ||
                       (score.points == slot->points && score.way < slot->way))
                *slot = score;
        }
    for (int i = 0; i < wide_count; i++)
        take_slots(ranker, wide[i], slots);
}

/* Is every word of the part type one that was asked for? */
static bool names_whole_type(const struct lb_sighting *sighting)
{
    unsigned named = 0;
    for (int i = 0; i < sighting->seen_count; i++) {
        int place = sighting->places[sighting->seen[i]];
        if (place < sighting->type_words)
            named |= 1u << place;
    }
    return sighting->type_words > 0 && named == (1u << sighting->type_words) - 1;
}

/* `lower` where `upper` was typed; not when the title has both. */
static bool is_opposed(const struct lb_query *query, const struct lb_sighting *sighting)
{
    for (int i = 0; sighting->opposed && i < sighting->seen_count; i++)
        if (query->terms[sighting->seen[i]].position)
            return false;
    return sighting->opposed;
}

double lb_rank(const struct lb_ranker *ranker, const struct lb_sighting *sighting,
               struct lb_slot_score *slots)
{
    struct lb_slot_score own[LB_QUERY_WORDS];
    double sum = 0, had = 0;
    int before = -1;
    double points_before = 0;
    if (!slots)
        slots = own;
    score_slots(ranker, sighting, slots);
    for (int s = 0; s < ranker->query->slot_count; s++) {
        struct lb_slot_score *slot = &slots[s];
        if (slot->way < 0)
            continue;
        had += ranker->query->slots[s].idf;
        if (slot->points == 0) /* with the one before */
            continue;
        if (stands_behind(slot->first_place, before))
            sum += adjacent * fmin(slot->points, points_before);
        sum += slot->points;
        before = slot->last_place;
        points_before = slot->points;
    }
    if (names_whole_type(sighting))
        sum *= 1 + whole_type;
    if (ranker->whole_idf > 0)
        sum *= missing + (1 - missing) * had / ranker->whole_idf;
    return is_opposed(ranker->query, sighting) ? sum * opposite : sum;
}

void lb_sight_title(const struct lb_query *query, const struct lb_title *title, struct lb_sighting *out)
{
    out->length = title->length;
    out->type_words = title->type_words;
    out->seen_count = 0;
    out->opposed = false;
    memset(out->places, LB_NO_PLACE, sizeof out->places);
    for (int i = 0; i < title->count; i++) {
        int term = lb_query_term_of(query, title->words[i].stem, title->words[i].length);
        if (term < 0)
            continue;
        if (term >= query->opposite_from)
            out->opposed = true;
        else
            out->seen[out->seen_count++] = term;
        out->places[term] = title->words[i].place;
    }
}
