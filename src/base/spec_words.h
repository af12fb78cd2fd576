/* Dimensions among other words: in what somebody types, and in the description of a part whose catalogue has
 * no column for them. What counts as a designation is told in base/spec.h.
 *
 *     struct lb_spec spec;
 *     if (lb_spec_in_text("v-belt", "BELT 6PK2120 EPDM", &spec)) …        // 6PK2120
 */
#ifndef LB_BASE_SPEC_WORDS_H
#define LB_BASE_SPEC_WORDS_H

#include "base/spec.h"

struct lb_spec_word {
    const char *text; /* not NUL-terminated */
    size_t length;
};

enum { LB_SPEC_WORDS = 12 }; /* words that are looked at from the first on */

/* Cuts at blanks, without the brackets, commas and full stops around a word; moves *text behind it. False:
 * there is no further word. */
bool lb_spec_word_next(const char **text, struct lb_spec_word *out);
/* A belt, thread or O-ring that begins with the first word, as far as it goes: `M8 x 30 8.8 bolt` is four
 * words. 0: none. out->text is NULL. */
int lb_spec_begins(const struct lb_spec_word *words, int count, struct lb_spec *out);
/* How many words name an O-ring (`o-ring`, `oring`, `O rings`); 0: none. */
int lb_o_ring_named(const struct lb_spec_word *words, int count);

/* A part's dimension: the one of its spec column, else the first one in the words of it, else of the
 * description. There, a thread has more than its diameter (M3 is a model, too), and two numbers are an O-ring
 * only where the text or the part type names one. Texts may be NULL; `stated` is the spec column parsed. */
bool lb_spec_of_part(const struct lb_spec *stated, const char *part_type, const char *description,
                     struct lb_spec *out);
/* The first one in the words of a text; quick when there is none. */
bool lb_spec_in_text(const char *part_type, const char *text, struct lb_spec *out);

static inline bool lb_spec_is_dimension(const struct lb_spec *spec)
{
    return spec->kind == LB_SPEC_BELT || spec->kind == LB_SPEC_THREAD || spec->kind == LB_SPEC_O_RING;
}

#endif
