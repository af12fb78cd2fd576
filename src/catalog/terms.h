/* What a row of a catalogue is found by, as keys of the lookup: its part number, the words of its title, its
 * type with its spec. One place that says so, for building the lookup, for keeping it, and for asking it.
 *
 *     n NUMBER <US> brand letters   every row that names parts (parts, offers, applications; both numbers of
 *                                   crossrefs and supersessions)
 *     g PIECE                       the same but applications
 *     d SIZES                       parts: belts, threads and O-rings (dimension_key.h)
 *     k TYPE                        parts
 *     m STEM                        fastenings and consumables: words of what is fastened and with what; with
 *                                   lb_term_map_place instead of the row
 *     s HASH                        parts: of type and family of spec
 *     w STEM                        parts: words of the title (title.h); with a mark instead of the row
 *     x STEM                        that some part type has the word; with 1 instead of a row
 *
 * In a number a letter O is a 0 and an I is a 1, so that numbers that look alike stand side by side;
 * `letters` has the places where it was a letter, counted from 1, a byte each: a key is that of one number
 * alone. The brand is a small number (LEB128), so that like numbers of all brands stand side by side. Of
 * numbers that are longer than LB_TERM_NUMBER_MAX, or have too many letters, 0xff and a hash of the whole
 * number key follow the brand. A piece is four bytes of such a number (four characters, where they are ASCII)
 * that do not begin at its first one: those at its beginning are found by the number itself.
 *
 * (<US> is the unit separator, U+001F, which neither number keys nor types hold.) */
#ifndef LB_CATALOG_TERMS_H
#define LB_CATALOG_TERMS_H

#include "base/buf.h"
#include "base/names.h"
#include "base/spec.h"
#include "base/vec.h"
#include "catalog/title.h"
#include "importers/kinds.h"
#include "store/store.h"

enum { LB_TERM_NUMBER_MAX = 200, LB_TERM_PIECE = 4 }; /* bytes */

/* Where in a row of a service map a word stands. */
enum lb_map_column { LB_MAP_COMPONENT = 1, LB_MAP_ITEM = 2 /* or kind */, LB_MAP_TYPE = 4 };

/* What is kept under a word of a service map: the row, and below it the columns that have the word. */
static inline int64_t lb_term_map_place(int64_t row, int columns)
{
    return row << 3 | columns;
}
static inline int64_t lb_map_place_row(int64_t place)
{
    return place >> 3;
}
static inline int lb_map_place_columns(int64_t place)
{
    return (int)place & 7;
}

struct lb_terms {
    struct lb_names brands;  /* folded: id - 1 is the brand's number */
    struct lb_names written; /* as written -> brand_of; begun anew when there are many */
    LB_VEC(uint32_t) brand_of;
    size_t stored; /* how many brands the index has */
    struct lb_buf key, number;
    struct lb_titles *titles;
    struct lb_title title;
    struct lb_term_places *places; /* where each kind has what it is found by, by its place in lb_kinds */
};

/* `value`: what is kept under the key, the row or, for words, what stands for it. */
typedef lb_status lb_term_visit(void *context, const char *key, size_t length, int64_t value);

/* Reads the brands that the index knows. Lives no longer than the store. */
LB_CHECK lb_status lb_terms_load(struct lb_terms *terms, struct lb_store *store, struct lb_error *err);
/* Writes the brands and counts the words that were met since. */
LB_CHECK lb_status lb_terms_save(struct lb_terms *terms, struct lb_store *store, struct lb_error *err);
void lb_terms_free(struct lb_terms *terms);

/* Calls `visit` with each key of one row of one kind; the same key may come twice, but no word. */
LB_CHECK lb_status lb_terms_of(struct lb_terms *terms, const struct lb_kind *kind, int64_t row,
                               const struct lb_value *values, lb_term_visit *visit, void *context,
                               struct lb_error *err);
/* Whether rows of that kind have any. */
bool lb_terms_has(const struct lb_kind *kind);

/* The keys to ask with; each replaces what is in `out`. `brand` counts from 1. */
void lb_term_number(struct lb_buf *out, const char *number_key, uint32_t brand);
void lb_term_type(struct lb_buf *out, const char *part_type);
void lb_term_spec(struct lb_buf *out, const char *part_type, const struct lb_spec *spec);
/* Makes a number key what it is in the lookup: O is 0 and I is 1. */
void lb_term_fold(char *number_key);

/* A key of a number, read; borrowed from the key. */
struct lb_number_term {
    const char *folded, *letters;
    size_t length, letter_count;
    uint32_t brand;
    bool whole; /* false: `folded` is only the beginning */
};

/* False: it is no such key. */
bool lb_term_read_number(struct lb_number_term *term, const void *key, size_t length);
/* Appends the number key that it was made of, or its beginning. */
void lb_term_write(struct lb_buf *out, const struct lb_number_term *term);

#endif
