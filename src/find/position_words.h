/* Words that say where on the vehicle a part goes, as titles and queries have them: the words of
 * base/position.h and what the trade writes for them. Not nearside and offside, which change sides with the
 * country, and not inside and outside, which are said of diameters.
 *
 *     lb_position side = lb_position_word("upr", 3);                       // the bit of upper
 *     size_t count = lb_position_opposites(side, words, 16);               // lower, lwr, bottom ...
 */
#ifndef LB_FIND_POSITION_WORDS_H
#define LB_FIND_POSITION_WORDS_H

#include "base/position.h"

#include <stddef.h>

/* The bit of a folded word (base/words.h), also of `l/h` as it is typed; 0: no such word. */
lb_position lb_position_word(const char *word, size_t length);
/* The same for the words from `at` on, which may be two: `l` `h` is what folding makes of `L/H`. *taken: how
 * many they are; 0 with no such word. */
lb_position lb_position_words(const char *const *words, int count, int at, int *taken);
/* The words that say the opposite of what is wanted, folded, not stemmed; up to `room` are written, how many
 * there are is returned. Of a pair both words of which are wanted, none. The words live for ever. */
size_t lb_position_opposites(lb_position wanted, const char **words, size_t room);

#endif
