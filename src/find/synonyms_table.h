/* synonyms.csv as synonyms.cmake writes it at build time: offsets and numbers only, so that nothing is read,
 * sorted or relocated when the program starts. Private to synonyms.c and its test. */
#ifndef LB_FIND_SYNONYMS_TABLE_H
#define LB_FIND_SYNONYMS_TABLE_H

#include <stddef.h>
#include <stdint.h>

struct lb_synonym_entry {
    uint32_t at; /* its words in lb_synonym_words, each with its NUL, one behind the other */
    uint32_t
        first; /* what it means: lb_synonym_meanings from here to the next entry's, in the list's order */
    uint32_t count; /* words */
};

extern const char lb_synonym_words[];
/* By their words, a blank between two of them; one more at the end, for where its forerunner's meanings end.
 */
extern const struct lb_synonym_entry lb_synonym_entries[];
extern const size_t lb_synonym_entry_count;
extern const uint32_t lb_synonym_meanings[]; /* entries */

#endif
