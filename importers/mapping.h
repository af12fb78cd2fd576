/* How a file was read: which heading stands for which column, how its text is read, what is fixed for every
 * row, what was not used. Deterministic and complete: two files with the same mapping text are read the same
 * way.
 *
 *     lb_mapping_write_profile(&out, mapping);          // a profile that reads such a file so again
 */
#ifndef LB_IMPORTERS_MAPPING_H
#define LB_IMPORTERS_MAPPING_H

#include "base/arena.h"
#include "base/buf.h"
#include "importers/kinds.h"

#include <stddef.h>

enum lb_mapped_by { LB_MAPPED_BY_NAME, LB_MAPPED_BY_LEXICON, LB_MAPPED_BY_PROFILE, LB_MAPPED_BY_OPTION };

struct lb_mapping_column {
    const char *field;   /* lastbolt's column */
    const char *heading; /* the file's; "": none, the value is fixed */
    int column;          /* 0-based in the file; -1: none */
    const char *convert; /* as a profile writes it; "": as it is */
    enum lb_mapped_by by;
    bool inferred; /* a part of convert was told from the first rows */
};

struct lb_mapping_unknown {
    const char *heading;
    int column;
    const char *why; /* in words; NULL: it is simply not known */
};

struct lb_mapping {
    struct lb_arena texts; /* of a copy */
    const struct lb_kind *kinds[3];
    int kind_count;
    const char *encoding; /* what the bytes were decoded from, as it was told to the reader */
    char separator;
    const struct lb_mapping_column
        *columns; /* those that the kinds use, each once, in the order of the kinds */
    size_t column_count;
    const struct lb_mapping_unknown *unknown;
    size_t unknown_count;
    const char *const *ignored; /* as the profile said */
    size_t ignored_count;
    const char *packs; /* one of them: under which an order says how many packs; NULL: not said */
};

/* Headings that are not known are written as `ignore`: in the next file only new ones stand out. Fails as
 * struct lb_buf does. */
void lb_mapping_write_profile(struct lb_buf *out, const struct lb_mapping *mapping);
/* Every heading is the column's own name, and every cell is read as it is. */
bool lb_mapping_is_plain(const struct lb_mapping *mapping);
/* A copy of one's own, to be freed; NULL: out of memory. */
struct lb_mapping *lb_mapping_copy(const struct lb_mapping *mapping);
void lb_mapping_free(struct lb_mapping *mapping);

#endif
