/* Parts by what somebody reads off them: the number whole, its beginning, a piece of it, or with one mistake.
 * Case, separators, and whether a letter O or a nought, an I or a one stands there make no difference.
 *
 *     lb_numbers_open(&numbers, store, &err);
 *     lb_numbers_find(numbers, "4471208", LB_NUMBER_EDIT, 20, &finds, &err);
 *     for (size_t i = 0; i < finds.list.count; i++) puts(finds.list.at[i].number);
 */
#ifndef LB_FIND_NUMBERS_H
#define LB_FIND_NUMBERS_H

#include "base/arena.h"
#include "base/vec.h"
#include "store/store.h"

/* In the order in which they are shown. */
enum lb_number_match {
    LB_NUMBER_EXACT,  /* letter for letter, separators and case apart */
    LB_NUMBER_ALIKE,  /* but for O and 0, I and 1 */
    LB_NUMBER_BEGINS, /* the number goes on */
    LB_NUMBER_INSIDE, /* it goes on, and begins earlier */
    LB_NUMBER_EDIT,   /* one character is wrong, missing or too much, or two are swapped */
};

struct lb_number_find {
    const char *key, *brand,
        *number; /* the part key (catalog/partkey.h); the others as a catalogue writes them */
    enum lb_number_match match;
    int more;    /* BEGINS, INSIDE: characters that were not typed */
    double cost; /* EDIT: of the mistake; digits that look alike (8 B, 5 S, 2 Z, 6 G) or are neighbours on the
                    keyboard cost less */
};

struct lb_number_finds {
    /* Each part once, best first: by match, more, cost, number, brand (the last two as in the key). */
    LB_VEC(struct lb_number_find) list;
    struct lb_arena texts;
    bool cut; /* there are more; or not all was looked at: of a short beginning, or a piece that very many
                 numbers have, only a few hundred are */
};

struct lb_numbers;

LB_CHECK lb_status lb_numbers_open(struct lb_numbers **out, struct lb_store *store, struct lb_error *err);
void lb_numbers_close(struct lb_numbers *numbers);
/* `typed`: any writing of a number, or a part of it. Looks from exact on, one way after the other, no further
 * than `widest`, and stops when `most` parts are found after a way is done. Pieces (INSIDE) from 4 characters
 * on, beginnings from 2, mistakes from 4. Parts that are only offered, only listed for a vehicle, or only
 * known from a cross-reference or supersession count as well; but those that are only listed for a vehicle
 * are not found by a piece, nor by eight or more characters with a mistake before the last seven. Pieces are
 * found in the first 200 bytes of a number. A part is written as parts rows write it, or else offers, or else
 * the others. Replaces what is in `finds`, which begins zeroed. */
LB_CHECK lb_status lb_numbers_find(struct lb_numbers *numbers, const char *typed, enum lb_number_match widest,
                                   size_t most, struct lb_number_finds *finds, struct lb_error *err);
void lb_number_finds_free(struct lb_number_finds *finds);

#endif
