/* How well a title answers a query, from the places of the query's terms in it: BM25 (find/bm25.h) over
 * slots, each by its best way, more for words of the part type, for slots that follow each other in the title
 * as they were typed, and for a part type that is named whole; less for what is missing and for an opposite
 * position.
 *
 *     lb_ranker_make(&ranker, query);
 *     struct lb_sighting sighting = {.length = 4, .type_words = 2, .places = …};
 *     double score = lb_rank(&ranker, &sighting, NULL);
 */
#ifndef LB_FIND_RANK_H
#define LB_FIND_RANK_H

#include "find/query.h"

enum { LB_NO_PLACE = 255 };

/* A title as far as the query sees it. */
struct lb_sighting {
    int length, type_words;
    int seen_count;
    int seen[LB_QUERY_TERMS];             /* terms that it has */
    unsigned char places[LB_QUERY_TERMS]; /* of every term; LB_NO_PLACE */
    bool opposed;                         /* it says the opposite position */
};

/* Which way of a slot counted, and what it gave. */
struct lb_slot_score {
    int way; /* -1: none */
    double points;
    int first_place, last_place; /* -1: no place of their own */
};

struct lb_ranker {
    const struct lb_query *query;
    double plain[LB_TITLE_LENGTH_MAX + 1],
        typed[LB_TITLE_LENGTH_MAX + 1]; /* weight of a word, by title length */
    /* What a slot counts for at the most before the title's length weighs it, what it stands for of what was
     * typed, and how many words of a title it can be. */
    struct {
        double idf, typed_idf, had; /* typed_idf: of words that part types have */
        int words;
    } most[LB_QUERY_WORDS];
    double whole_idf;
    int use_from[LB_QUERY_TERMS + 1]; /* the ways that have a term */
    int uses[LB_QUERY_WAYS * LB_PHRASE_MAX];
};

void lb_ranker_make(struct lb_ranker *ranker, const struct lb_query *query);
/* `slots` (of as many as the query has) may be NULL. */
double lb_rank(const struct lb_ranker *ranker, const struct lb_sighting *sighting,
               struct lb_slot_score *slots);
/* No title of that length, with so many words in its part type, that has something of the given slots alone
 * (indices, ascending or not) gets a higher score. */
double lb_rank_most(const struct lb_ranker *ranker, const int *slots, int count, int length, int type_words);
/* The title of a row, read anew, as the query sees it. */
void lb_sight_title(const struct lb_query *query, const struct lb_title *title, struct lb_sighting *out);

#endif
