/* Parts by dimension: belts, metric threads and O-rings (base/spec.h), those that meet it and those that come
 * near, with the difference in words.
 *
 *     lb_dimension_read(words, count, &wanted);            // "6pk", "2120": wanted.taken 2
 *     lb_dimensions_open(&dimensions, store, &err);
 *     lb_dimensions_find(dimensions, &wanted, 20, &finds, &err);
 */
#ifndef LB_FIND_DIMENSIONS_H
#define LB_FIND_DIMENSIONS_H

#include "base/arena.h"
#include "base/spec.h"
#include "base/vec.h"
#include "store/store.h"

struct lb_dimension {
    struct lb_spec spec; /* section 0: an O-ring of any section ("o-ring 18.77"); spec.text is not set */
    int at, taken;       /* the words it was read from */
    char text[64];       /* how it is shown: "6PK2120", "M8x1.25x30", "O-ring 18.77" */
};

/* The first dimension in words as typed (cut at blanks). False: there is none. Takes `6pk2120`, `6PK 2120`,
 * `6 pk 2120`, `M8x30`, `m8 x 30`, `M6x1.0x20 8.8`, `20.22x3.53`, `AS568-210`, `o-ring 18.77`, `18.77 oring`,
 * `o ring 18,77 mm`; a number of two or more words is not part of it when it stands alone. */
bool lb_dimension_read(const char *const *words, int count, struct lb_dimension *out);

struct lb_dimension_find {
    int64_t row; /* of parts */
    const char *brand, *number, *part_type, *spec;
    double distance; /* 0: it meets what was asked for */
    const char
        *difference; /* "5 mm shorter", "0.20 mm narrower, section 0.4 mm thicker", NULL when it meets it */
};

struct lb_dimension_finds {
    LB_VEC(struct lb_dimension_find) list; /* nearest first, then by spec, brand, number; each part once */
    struct lb_arena texts;
};

struct lb_dimensions;
LB_CHECK lb_status lb_dimensions_open(struct lb_dimensions **out, struct lb_store *store,
                                      struct lb_error *err);
void lb_dimensions_close(struct lb_dimensions *dimensions);
/* Belts: the same ribs, lengths within 2 % or 25 mm, whichever is more. Threads: the same diameter and pitch,
 * lengths within a fifth or 5 mm. O-rings: inside diameter within 2 % or 0.5 mm, section within 0.5 mm.
 * Replaces what is in `finds`, which begins zeroed. */
LB_CHECK lb_status lb_dimensions_find(struct lb_dimensions *dimensions, const struct lb_dimension *wanted,
                                      size_t most, struct lb_dimension_finds *finds, struct lb_error *err);
void lb_dimension_finds_free(struct lb_dimension_finds *finds);

#endif
