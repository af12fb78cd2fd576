/* Words of the trade that mean the same: abbreviations and other names, from the list that the program brings
 * (synonyms.csv) and the rows of the owner's own (files of the kind `synonyms`). Both directions; not from
 * one to the next (a=b and b=c does not make a=c). Phrases of one to four words; folded as search folds
 * (base/words.h), so `P/S` is the two words p and s.
 *
 *     lb_synonyms_open(&synonyms, store, &err);
 *     lb_synonyms_at(synonyms, words, count, 0, each, context);
 *     // words "t", "belt": each is called with 2 words taken and the phrase "timing", "belt"
 */
#ifndef LB_FIND_SYNONYMS_H
#define LB_FIND_SYNONYMS_H

#include "store/store.h"

enum { LB_PHRASE_MAX = 4 };

struct lb_phrase {
    const char *words[LB_PHRASE_MAX]; /* NUL-terminated, folded */
    int count;
};

struct lb_synonyms;

LB_CHECK lb_status lb_synonyms_open(struct lb_synonyms **out, struct lb_store *store, struct lb_error *err);
void lb_synonyms_close(struct lb_synonyms *synonyms);
/* Calls `each` for every phrase that means the same as the words from `at` on, longer runs of words first,
 * then in the order of the lists (the owner's first): `taken` words of the query mean `phrase`. The phrase is
 * borrowed from the synonyms. A phrase comes once for the same words. Words that are not listed are looked up
 * without the ending of their plural (`gaskets`, `switches`). By one thread at a time. */
typedef bool lb_synonym_each(void *context, int taken, const struct lb_phrase *phrase);
void lb_synonyms_at(const struct lb_synonyms *synonyms, const char *const *words, int count, int at,
                    lb_synonym_each *each, void *context);

/* Every single word that something else is said for, the list's (sorted) before the owner's. */
typedef void lb_synonym_word(void *context, const char *word);
void lb_synonyms_words(const struct lb_synonyms *synonyms, lb_synonym_word *each, void *context);

#endif
