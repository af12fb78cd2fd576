/* A query in the making. Private to query.c and query_ways.c. */
#ifndef LB_FIND_QUERY_PRIVATE_H
#define LB_FIND_QUERY_PRIVATE_H

#include "find/query.h"

struct query_maker {
    struct lb_query *query;
    const struct lb_query_tools *tools;
    struct lb_error *err;
    const char *texts[LB_QUERY_WORDS]; /* of the words, for synonyms */
};

/* The term of a word, made when new; *term -1: there is no room for it. Counts the titles that have it. */
LB_CHECK lb_status query_term(struct query_maker *maker, const char *word, size_t length, int *term);
/* A phrase that stands for something else: terms of its words. *way NULL: no title has one of them, or there
 * is no room. `most` is what the terms may count for together (HUGE_VAL: what they do). */
LB_CHECK lb_status query_way(struct query_maker *maker, enum lb_way_kind kind, double weight, double most,
                             const char *const *words, int count, struct lb_query_way **way);

/* query_ways.c. Adds the ways of the slot of the word `at`, also those that take further words with it. */
LB_CHECK lb_status query_slot(struct query_maker *maker, int at);

/* query_measures.c. If the word is a number with a unit, or the next one is its unit: the other writings. */
LB_CHECK lb_status query_measure(struct query_maker *maker, int at, double most);

#endif
