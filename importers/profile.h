/* What a person says of a supplier's files: CSV with the columns field, heading, convert. A row maps a
 * heading to one of lastbolt's columns; without a heading, `fixed VALUE` says it for every row. Headings
 * compare without case, blanks folded. Beside columns, `field` may be
 *
 *     separator   fixed ;  |  fixed tab      how the file is cut (else it is detected)
 *     encoding    fixed NAME                 kept for whoever opens the file; the reader itself takes UTF-8
 *     kind        fixed parts+offers         what the file is taken for (else told from its columns)
 *     ignore      (a heading)                not used, on purpose: no remark
 *     packs       (a heading)                under which an order says how many packs; not read, no remark
 *
 * What `convert` may say is told in recast.h. With a profile the lexicon is not asked; a heading that is a
 * column's own name needs no row, unless the profile gives that column to another heading.
 *
 *     if (lb_profile_load(&profile, "nordlager.csv", &err) == LB_OK) options.profile = profile;
 *     lb_profile_free(profile);
 */
#ifndef LB_IMPORTERS_PROFILE_H
#define LB_IMPORTERS_PROFILE_H

#include "base/vec.h"
#include "importers/bytes.h"
#include "importers/recast.h"

struct lb_profile_row {
    const struct lb_column *column;
    const char *heading;      /* "": none, the value is fixed */
    struct lb_recast *recast; /* owned */
    long line;
};

struct lb_profile {
    struct lb_arena texts;
    const char *name; /* the file's, for messages */
    LB_VEC(struct lb_profile_row) rows;
    LB_VEC(const char *) ignored; /* packs among them */
    const char *packs;            /* NULL: not said */
    const char *encoding;         /* NULL: not said */
    char separator;               /* 0: not said */
    const struct lb_kind
        *kinds[3]; /* kind_count of them, the one with most required columns first; 0: not said */
    int kind_count;
};

/* LB_DATA with file, line and column: no profile, an unknown field or conversion, a field or heading twice.
 * LB_SYSTEM: cannot be opened or read. */
LB_CHECK lb_status lb_profile_load(struct lb_profile **out, const char *path, struct lb_error *err);
LB_CHECK lb_status lb_profile_read(struct lb_profile **out, struct lb_bytes *bytes, const char *name,
                                   struct lb_error *err);
/* Appends it as such a file. */
void lb_profile_write(struct lb_buf *out, const struct lb_profile *profile);
/* The row of a column, or NULL. */
const struct lb_profile_row *lb_profile_find(const struct lb_profile *profile, const char *field);
void lb_profile_free(struct lb_profile *profile); /* NULL is legal */

/* Appends one row; shared with mapping.c. */
void lb_profile_write_row(struct lb_buf *out, const char *field, const char *heading, const char *convert);
#define LB_PROFILE_HEADINGS "field,heading,convert\n"

#endif
