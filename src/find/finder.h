/* One search on its way: what is open, what was asked, and the parts that come into question. Private to the
 * find_*.c files. */
#ifndef LB_FIND_FINDER_H
#define LB_FIND_FINDER_H

#include "base/names.h"
#include "catalog/lookup.h"
#include "find/dimensions.h"
#include "find/find.h"
#include "find/map_rows.h"
#include "find/numbers.h"
#include "find/sweep.h"

struct lb_finder {
    struct lb_store *store;
    struct lb_query_tools tools;
    struct lb_sweep sweep;
    struct lb_type_stems type_stems;
    struct lb_term_counts counts;
    struct lb_lookup *lookup;
    struct lb_numbers *numbers;
    struct lb_dimensions *dimensions;
    struct lb_map_lists *map_lists;    /* NULL: no map says what goes with what */
    struct lb_statement *part, *parts; /* one row by its id; those of a JSON array of ids */
    struct lb_statement *offer, *successors, *same, *instead, *applications, *map_rows, *platform,
        *stands_for;
    struct lb_buf ids, key, scratch;
    bool has_offers, has_successors, has_references, has_maps;
};

enum found_as {
    FOUND_BY_WORDS = 1,
    FOUND_BY_NUMBER = 2,
    FOUND_BY_DIMENSION = 4,
    FOUND_FOR_ANOTHER = 8, /* stands for a part that was found */
    FOUND_BY_MAP = 16,
    FOUND_IN_LIST = 32, /* by words, among the parts that are listed for the vehicle */
};

/* A part that comes into question. Texts lie in the search's arena. */
struct candidate {
    const char *key; /* part key */
    const char *brand, *number, *part_type, *description, *spec;
    int64_t row;  /* of parts; 0: none describes it */
    unsigned as;  /* found_as */
    double extra; /* points for its number or dimension */
    double words; /* points for its title */
    double score;
    bool discontinued, superseded, living_known, offered;
    bool whole; /* its title has all that was typed; known once placed (find_place_mapped) */
    bool meant; /* the vehicle's map takes it by its spec, under no condition */
    enum lb_find_fit fit;
    int tier; /* find_order.c: lower ones come first */
    const char *asks, *now, *note;
    const char *extra_reason;
    const char *behind; /* the part key of what it stands for, which comes first; NULL: none */
    double behind_by;   /* its share of that one's score, at the most */
    bool priced;
    int64_t price, pack_quantity;
    char currency[4];
    const char *supplier;
};

struct sentences {
    LB_VEC(const char *) list;
};

/* Of the best answer that a vehicle may have: what is less comes behind all good answers, however well it
 * fits; and what is no answer any more. */
#define FIND_GOOD 0.6
#define FIND_WEAK 0.4

/* A part of the vehicle's list that answers, with the points for its title and place. */
struct listed {
    double points;
    const struct lb_listed_part *part;
};

struct search {
    struct lb_finder *finder;
    const struct lb_find_request *request;
    struct lb_error *err;
    struct lb_query *query;
    struct lb_ranker ranker;
    struct lb_arena *arena; /* of the result */
    LB_VEC(struct candidate) list;
    struct lb_names keys; /* of the candidates, in their order until they are sorted */
    struct sentences remarks, advice;
    int64_t total;
    bool total_least;
    int spent_from, spent_count; /* words of the query that are a dimension */
    bool others;                 /* something was found, for other vehicles */
    bool number_found;           /* a number or a dimension led to parts, shown or not */
    bool number_whole;           /* all that was typed is one number, and it was found */
    size_t mapped;               /* candidates that a map alone led to */
    double unique;               /* what a word counts for that a single title has */
    LB_VEC(struct listed) rest;  /* of the vehicle's list: answers that became no candidates */
    size_t whole;                /* of the vehicle's list: parts that have all that was typed */
};

/* find_words.c */
LB_CHECK lb_status find_by_words(struct search *search);
LB_CHECK lb_status find_in_shortlist(struct search *search);
/* find_numbers.c */
LB_CHECK lb_status find_by_number(struct search *search);
/* find_dimensions.c */
LB_CHECK lb_status find_by_dimension(struct search *search);
/* find_map.c: what service maps say of a component and what goes with it. */
LB_CHECK lb_status find_by_map(struct search *search);
/* find_map_place.c. Once all are gathered: what a map says comes before titles that lack a word, after those
 * that lack none. */
LB_CHECK lb_status find_place_mapped(struct search *search);
/* find_parts.c. Text into the arena; NULL stays NULL. */
LB_CHECK lb_status find_keep(struct search *search, const char *text, const char **out);
/* The candidate of a part, new ones with brand and number only. */
LB_CHECK lb_status find_candidate(struct search *search, const char *key, const char *brand,
                                  const char *number, struct candidate **out);
/* The candidate of a row of parts; *out NULL: the row is not there any more. */
LB_CHECK lb_status find_row(struct search *search, int64_t row, struct candidate **out);
/* Finds what describes a part that is known by its key alone. */
LB_CHECK lb_status find_describe(struct search *search, size_t index);
/* Its title as the query sees it. */
LB_CHECK lb_status find_sight(struct search *search, const struct candidate *candidate,
                              struct lb_sighting *out);
/* find_market.c: live offers. */
LB_CHECK lb_status find_offers(struct search *search, struct candidate *candidate);
/* find_living.c: what took its place, what is the same. */
LB_CHECK lb_status find_living(struct search *search, size_t index);
/* The parts that the best numbers lead to become candidates themselves. */
LB_CHECK lb_status find_follow(struct search *search);
/* find_fit.c: what the vehicle's list has of a part; NULL: nothing. */
const struct lb_listed_part *find_listed(const struct search *search, const char *key);
/* What a part does that goes somewhere else on the vehicle than was typed is worth less: times so much. */
double find_place(const struct search *search, const struct lb_listed_part *part);
/* Whether it fits the vehicle, if there is one. */
LB_CHECK lb_status find_fit(struct search *search, struct candidate *candidate);
/* Do the words name a type that the vehicle's map takes as a fluid, in part or whole? */
LB_CHECK lb_status find_fluid_words(struct search *search, bool *named);
/* find_order.c: the candidates best first, as many as are shown; the others go. */
LB_CHECK lb_status find_order(struct search *search);
/* find_result.c */
LB_CHECK lb_status find_finish(struct search *search, struct lb_find_result *result);
/* find_remarks.c: what was left out or taken for something else. */
LB_CHECK lb_status find_remark(struct search *search);
/* One more sentence, copied. */
LB_CHECK lb_status find_say(struct search *search, struct sentences *sentences, const char *format, ...)
    LB_PRINTF(3, 4);
/* find_advice.c */
LB_CHECK lb_status find_advise(struct search *search);

#endif
