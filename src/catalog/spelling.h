/* The words that titles have, as they are spelt: how many titles have each, which ones begin so, and which
 * ones could have been meant by a word that no title has. Words of letters only, folded (base/words.h), 2 to
 * LB_WORD_MAX bytes; words with digits are none of its business.
 *
 * The table `word` has each word with its count; `spelling` has the same words packed by length in bytes, for
 * reading all that are about as long: per blob n signatures of four bytes (which letters are in the word,
 * one bit for each of a to z and the rest hashed over six) and then n words, without separators. Both only
 * grow, until the lookup is made anew.
 *
 *     lb_spelling_save(store, words, count, &err);                     // inside a transaction
 *     lb_spelling_open(&spelling, store, &err);
 *     lb_spelling_near(spelling, "uper", 4, finds, 5, &count, &err);   // upper, ...
 */
#ifndef LB_CATALOG_SPELLING_H
#define LB_CATALOG_SPELLING_H

#include "base/words.h"
#include "store/store.h"

struct lb_spelt {
    const char *word; /* not NUL-terminated */
    size_t length;
    int64_t titles; /* that have it, more than those counted before; at least 1 */
};

/* Counts words in; those that are new become part of what is looked through. Any order, each once; what is
 * shorter than 2 bytes or longer than LB_WORD_MAX is passed over. LB_SYSTEM: the blobs are damaged. */
LB_CHECK lb_status lb_spelling_save(struct lb_store *store, const struct lb_spelt *words, size_t count,
                                    struct lb_error *err);
/* Forgets them all. */
LB_CHECK lb_status lb_spelling_clear(struct lb_store *store, struct lb_error *err);

struct lb_spelling;

struct lb_spelling_word {
    char word[LB_WORD_MAX + 1]; /* NUL-terminated */
    size_t length;
    int64_t titles;
    double cost; /* of the edits: 0 for the word itself; see lb_typing_cost */
};

LB_CHECK lb_status lb_spelling_open(struct lb_spelling **out, struct lb_store *store, struct lb_error *err);
void lb_spelling_close(struct lb_spelling *spelling);
/* 0: no title has it. */
LB_CHECK lb_status lb_spelling_count(struct lb_spelling *spelling, const char *word, size_t length,
                                     int64_t *titles, struct lb_error *err);
/* Up to `most` words that begin so (the word itself is one), the most frequent first, ties by word. One
 * letter begins too many to read them all: of them only the word itself, which one ASCII letter cannot be. */
LB_CHECK lb_status lb_spelling_completions(struct lb_spelling *spelling, const char *prefix, size_t length,
                                           struct lb_spelling_word *out, size_t most, size_t *count,
                                           struct lb_error *err);
/* Up to `most` words that could have been meant, the likeliest first: by the cost of the edits and, among
 * like costs, how frequent the word is; ties by word. One edit for words of 3 to 5 letters, two from 6 on (a
 * transposition is one); none for shorter ones.
 *
 * The word itself, when titles have it, is the first. Otherwise a word twice as frequent may cost 0.08 more,
 * and a word two edits off counts as costing 1 more than it does. Letters are characters; but the words
 * looked through are those whose length in bytes is within 2 of this one's, or within 4 when it has letters
 * beyond ASCII. When more than 500 words could have been meant, the frequency of those that cost the most is
 * not looked up, and they are left out. LB_SYSTEM: the blobs are damaged. */
LB_CHECK lb_status lb_spelling_near(struct lb_spelling *spelling, const char *word, size_t length,
                                    struct lb_spelling_word *out, size_t most, size_t *count,
                                    struct lb_error *err);

/* What it costs to take `typed` for `meant`, by the least edits (insertion, deletion, substitution, swapped
 * neighbours), each about 1: less for a key's neighbour (QWERTY), a doubled or undoubled letter, swapped
 * letters, a vowel for a vowel, least for an accent, more for the first letter. Among ways of as many edits
 * the cheapest counts. Letters are characters; a byte that is no UTF-8 is one. Above `most_edits` edits, and
 * for words longer than LB_WORD_MAX bytes: HUGE_VAL. */
double lb_typing_cost(const char *typed, size_t typed_length, const char *meant, size_t meant_length,
                      int most_edits);

#endif
