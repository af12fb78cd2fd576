/* What was typed, as search takes it: a slot for each word that says something, and the ways in which a title
 * may have it (or may have several slots at once: `t belt` as `timing belt`). Their stems are the terms that
 * titles are looked up by.
 *
 *     lb_query_make(&query, &tools, "rad hose uper", 0, 0, &err);
 *         // slot "rad": rad (typed), radiat (synonym); "hose": hose; "uper": upper (repaired)
 *     lb_query_free(query);
 */
#ifndef LB_FIND_QUERY_H
#define LB_FIND_QUERY_H

#include "base/names.h"
#include "base/position.h"
#include "base/vec.h"
#include "base/words.h"
#include "catalog/spelling.h"
#include "catalog/title.h"
#include "find/synonyms.h"
#include "store/pairs.h"

enum {
    LB_QUERY_WORDS = 32, /* typed words that count */
    LB_QUERY_TERMS = 192,
    LB_QUERY_WAYS = 512,
};

/* A stem that titles may have. */
struct lb_query_term {
    const char *key; /* of the lookup: `w` and the stem */
    size_t length;
    uint32_t hash; /* of the stem, as in find/shortlist.h */
    int64_t titles;
    double idf;
    bool in_type;  /* some part type has it */
    bool position; /* says where on the vehicle, as was typed */
};

enum lb_way_kind {
    LB_WAY_TYPED,     /* as typed, stems apart */
    LB_WAY_SYNONYM,   /* another word or an abbreviation for it */
    LB_WAY_SPLIT,     /* typed as one word, two in the title */
    LB_WAY_JOINED,    /* typed as two words, one in the title */
    LB_WAY_COMPLETED, /* the last word, as far as it was typed */
    LB_WAY_REPAIRED,  /* no title has what was typed; this is what may have been meant */
};

struct lb_query_way {
    enum lb_way_kind kind;
    double weight;   /* of what its terms say: 1 as typed */
    int slot, slots; /* the first it stands for, and how many it takes */
    int count;
    int terms[LB_PHRASE_MAX];
    double idf[LB_PHRASE_MAX]; /* no more than the typed word's: no rare synonym outdoes what was typed */
    bool whole;                /* counts when all of its terms are there; else each for itself */
    bool adjacent;             /* and when they stand one behind the other */
    const char *words;         /* for people */
};

struct lb_query_slot {
    int word; /* which of the typed words */
    int way_from, way_count;
    bool known; /* some way is there: titles can have it */
    double idf; /* of the best way's terms: what is missing when a title has none */
};

struct lb_query_word {
    const char *text; /* folded */
    size_t length;
    bool digits;  /* has some */
    bool empty;   /* says nothing about a part: "the", "for" */
    bool skipped; /* says nothing: "the", "for" */
};

struct lb_query {
    struct lb_query_word words[LB_QUERY_WORDS];
    struct lb_query_slot slots[LB_QUERY_WORDS];
    struct lb_query_term terms[LB_QUERY_TERMS];
    struct lb_query_way ways[LB_QUERY_WAYS];
    int word_count, slot_count, term_count, way_count;
    bool cut;           /* there were more words than count */
    lb_position wanted; /* upper, front left … */
    int opposite_from;  /* terms from here on say the opposite of it */
    double average;     /* length of titles */
    struct lb_arena texts;
};

/* The stems that part types have, as hashes (like a term's), sorted. */
struct lb_type_stems {
    LB_VEC(uint32_t) list;
    bool all; /* there are too many to list: any may be one */
};

/* How many titles have a stem, kept from query to query. */
struct lb_term_counts {
    struct lb_names stems;
    LB_VEC(int64_t) titles;
};

/* What queries are made with; all borrowed. */
struct lb_query_tools {
    struct lb_pairs *pairs;
    struct lb_titles *titles;
    struct lb_spelling *spelling;
    struct lb_synonyms *synonyms;
    struct lb_cursor
        *cursors; /* of each term, one a run of the lookup, side by side: left open at their first */
    const struct lb_type_stems *type_stems;
    struct lb_term_counts *counts;
    int64_t title_count;
    double average;
};

/* The words from `spent_from` on, so many, are known to be something else and get no slot. */
LB_CHECK lb_status lb_query_make(struct lb_query **out, const struct lb_query_tools *tools, const char *text,
                                 int spent_from, int spent_count, struct lb_error *err);
void lb_query_free(struct lb_query *query);
/* The term of a stem, or -1. */
int lb_query_term_of(const struct lb_query *query, const char *stem, size_t length);

#endif
