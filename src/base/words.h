/* The words of a text, as search knows them: folded, letters and digits only. Not stems, not synonyms.
 *
 *     struct lb_words words = {.at = "GSKT RAD, upr 243mm"};
 *     while (lb_words_next(&words)) fwrite(words.text, 1, words.length, stdout);   // gskt rad upr 243mm
 */
#ifndef LB_BASE_WORDS_H
#define LB_BASE_WORDS_H

#include "base/fold.h"

#include <stdbool.h>
#include <stddef.h>

enum { LB_WORD_MAX = 64 }; /* bytes; longer words are cut */

struct lb_words {
    const char *at; /* what is still unread */
    char text[LB_WORD_MAX];
    size_t length;
    struct lb_fold fold; /* of a word that is not ASCII */
};

/* The next word into `text` (not NUL-terminated); false: there is none. */
bool lb_words_next(struct lb_words *words);

#endif
