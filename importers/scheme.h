/* Which heading of a file is to stand for which column, before its kind is known: by a profile, else by the
 * lexicon and the columns' own names. Empty when every heading is known by its own name or by nothing.
 * Private to importers/. */
#ifndef LB_IMPORTERS_SCHEME_H
#define LB_IMPORTERS_SCHEME_H

#include "base/vec.h"
#include "importers/mapping.h"
#include "importers/profile.h"
#include "importers/sample.h"

struct lb_scheme_entry {
    const struct lb_column *type;
    struct lb_mapping_column map; /* its field is the type's name */
    struct lb_recast *recast;     /* owned; NULL: as it is, or not settled yet */
    bool derived;                 /* its text comes from another entry: the pack of a price per 100 */
};

struct lb_scheme {
    struct lb_arena texts;
    LB_VEC(struct lb_scheme_entry) entries;
    LB_VEC(struct lb_mapping_unknown) doubts; /* headings that are not used, and why */
    LB_VEC(const char *) absent; /* headings of the profile that the file has not, and may do without */
    bool by_lexicon;             /* so cells may be looked at, too */
};

/* The names of the heading row; both are borrowed and must outlive the scheme. */
LB_CHECK lb_status lb_scheme_by_profile(struct lb_scheme *scheme, const char *const *names, int count,
                                        const struct lb_profile *profile, struct lb_error *err);
LB_CHECK lb_status lb_scheme_by_lexicon(struct lb_scheme *scheme, const char *const *names, int count,
                                        struct lb_error *err);
/* Adds what the first rows show beyond doubt: decimal commas, dates, currencies, packs. A column whose cells
 * can be read in two ways is left out, with the reason. */
LB_CHECK lb_status lb_scheme_infer(struct lb_scheme *scheme, const struct lb_sample *sample,
                                   struct lb_error *err);
/* Reads all that convert says; before this no entry has a recast. */
LB_CHECK lb_status lb_scheme_settle(struct lb_scheme *scheme, struct lb_error *err);

struct lb_scheme_entry *lb_scheme_find(const struct lb_scheme *scheme, const char *field); /* or NULL */
bool lb_scheme_is_fixed(const struct lb_scheme_entry *entry);
/* Adds `more` to an entry's convert. */
LB_CHECK lb_status lb_scheme_add_convert(struct lb_scheme *scheme, struct lb_scheme_entry *entry,
                                         const char *more, struct lb_error *err);
LB_CHECK lb_status lb_scheme_add(struct lb_scheme *scheme, const struct lb_column *type,
                                 struct lb_mapping_column map, struct lb_error *err);
/* `why` is copied. */
LB_CHECK lb_status lb_scheme_doubt(struct lb_scheme *scheme, const char *heading, int column, const char *why,
                                   struct lb_error *err);
void lb_scheme_remove(struct lb_scheme *scheme, struct lb_scheme_entry *entry);
/* The column of any kind that goes by this name, without case; or NULL. */
const struct lb_column *lb_scheme_type(const char *name);
void lb_scheme_free(struct lb_scheme *scheme);

#endif
