/* What a row of a catalogue is found by, as keys of the lookup: its part number, the words of its title, its
 * type with its spec. One place that says so, for building the lookup, for keeping it, and for asking it.
 *
 *     n NUMBER <US> brand    every row with a part of its own (parts, offers, applications); the brand as a
 * small number, so that the keys of all brands' like numbers stand side by side t TYPE <US> spec key   parts
 *     w WORD                 parts: words of type, description and brand
 *
 * (<US> is the unit separator, U+001F, which neither number keys nor types hold.) */
#ifndef LB_CATALOG_TERMS_H
#define LB_CATALOG_TERMS_H

#include "base/buf.h"
#include "base/names.h"
#include "base/spec.h"
#include "base/vec.h"
#include "importers/kinds.h"
#include "store/store.h"

struct lb_terms {
    struct lb_names brands;  /* folded: id - 1 is the brand's number */
    struct lb_names written; /* as written -> brand_of; begun anew when there are many */
    LB_VEC(uint32_t) brand_of;
    size_t stored; /* how many brands the index has */
    struct lb_buf key, number;
    struct lb_term_places *places; /* where each kind has what it is found by, by its place in lb_kinds */
};

typedef lb_status lb_term_visit(void *context, const char *key, size_t length);

/* Reads the brands that the index knows. */
LB_CHECK lb_status lb_terms_load(struct lb_terms *terms, struct lb_store *store, struct lb_error *err);
/* Writes the brands that were met since. */
LB_CHECK lb_status lb_terms_save(struct lb_terms *terms, struct lb_store *store, struct lb_error *err);
void lb_terms_free(struct lb_terms *terms);

/* Calls `visit` with each key of one row of one kind; the same key may come twice. */
LB_CHECK lb_status lb_terms_of(struct lb_terms *terms, const struct lb_kind *kind,
                               const struct lb_value *values, lb_term_visit *visit, void *context,
                               struct lb_error *err);
/* Whether rows of that kind have any. */
bool lb_terms_has(const struct lb_kind *kind);

/* The keys to ask with; each replaces what is in `out`. `brand` counts from 1. */
void lb_term_number(struct lb_buf *out, const char *number_key, uint32_t brand);
void lb_term_type(struct lb_buf *out, const char *part_type);
void lb_term_spec(struct lb_buf *out, const char *part_type, const struct lb_spec *spec);

#endif
