/* The form of a lock's text, the same table for writing and reading. Private to kit/lock_*.c. */
#ifndef LB_KIT_LOCK_TEXT_H
#define LB_KIT_LOCK_TEXT_H

#include "kit/lock.h"

enum { LOCK_VERSION = 1 };
#define LOCK_HEAD "lastbolt kit lock, version "
#define LOCK_END  "end"

enum lock_type {
    LOCK_WORDS,    /* const char * */
    LOCK_QUANTITY, /* int64_t, millionths */
    LOCK_COUNT,    /* int64_t */
    LOCK_MONEY,    /* int64_t, minor units of the offer's currency, which stands before it */
    LOCK_DAY,      /* int32_t */
    LOCK_NAMED,    /* an enum: what `named` says */
    LOCK_FLAG,     /* bool: the same */
};

/* One line of a record: `name: value`. */
struct lock_field {
    const char *name;
    size_t at; /* in the record */
    enum lock_type type;
    bool must;                 /* else it is left out when nothing is stated */
    const char *(*named)(int); /* the word for a value */
    int most;                  /* the greatest value */
};

/* What stands together. The first field begins a record. */
struct lock_kind {
    int first_depth, depth; /* of the first field, of the others */
    bool apart;             /* behind an empty line */
    const struct lock_field *fields;
    size_t field_count;
};

/* In the order in which they stand: one header, then any number of each. Places and offers belong to a line.
 */
enum lock_record {
    LOCK_HEADER,
    LOCK_FACT,
    LOCK_WANT,
    LOCK_SOURCE,
    LOCK_LINE,
    LOCK_PLACE,
    LOCK_OFFER,
    LOCK_FASTENING,
    LOCK_CIRCUIT,
    LOCK_CAUTION,
    LOCK_STEP,
    LOCK_QUESTION,
    LOCK_RECORDS
};
extern const struct lock_kind lock_kinds[LOCK_RECORDS];

/* lock_make.c. As large as a quantity may be in a text (base/decimal.h). */
int64_t lock_bounded(int64_t quantity);
/* lock_parts.c. A part of an open kit or card (`build` is its struct build), with its live offers; texts are
 * copied. */
struct build;
LB_CHECK lb_status lock_take_part(struct lb_lock_part *out, struct lb_arena *texts, const struct build *b,
                                  const struct lb_part *part);
/* The fingerprint that the index has of a source; NULL: it has no such source. */
LB_CHECK lb_status lock_fingerprint(const char **out, struct lb_arena *texts, struct lb_store *store,
                                    const char *name, struct lb_error *err);

#endif
