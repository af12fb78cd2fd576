/* The characters of a text, folded (without case, compatibility forms resolved), one at a time and without
 * memory: for comparing texts in places that cannot report that memory ran out. Not normalised text: the
 * order of several marks on one letter is left as written.
 *
 *     struct lb_fold fold = {.at = text};
 *     for (int32_t c; (c = lb_fold_next(&fold)) != 0;) …
 */
#ifndef LB_BASE_FOLD_H
#define LB_BASE_FOLD_H

#include <stdbool.h>
#include <stdint.h>

enum { LB_FOLD_BYTE = 0x110000 }; /* a byte that is no UTF-8 comes as LB_FOLD_BYTE + byte */

struct lb_fold {
    const char *at;      /* what is still unread; NULL: nothing */
    int32_t pending[32]; /* the rest of a character that folds to several: 18 is the longest of Unicode */
    int count, taken;
};

/* The next folded code point, or 0 at the end. Invisible characters (soft hyphen, zero-width blank) are left
 * out. */
int32_t lb_fold_next(struct lb_fold *fold);
/* White space, as it comes out of lb_fold_next. */
bool lb_fold_is_blank(int32_t c);

#endif
