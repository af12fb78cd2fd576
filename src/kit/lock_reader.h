/* What the files share that read the text of a lock. Private to kit/lock_read.c and lock_value.c. */
#ifndef LB_KIT_LOCK_READER_H
#define LB_KIT_LOCK_READER_H

#include "base/names.h"
#include "kit/lock_text.h"

struct lock_reader {
    struct lb_kit_lock *lock;
    const char *name; /* of the text, for messages */
    long row;
    struct lb_error *err;
    enum lock_record top, now; /* of the outermost record at hand, of the innermost one */
    char *record;              /* the innermost one; NULL: none yet */
    size_t next;               /* of its fields: the first that may still come */
    struct lb_names keys;      /* of the lines so far */
    bool ended;
};

/* Fills the error with the line at hand: `why`, and as much of `what` as is worth reading. */
lb_status lock_refuse(struct lock_reader *r, const char *why, const char *what);
/* lock_value.c: what a field of the record at hand says; changes `value`. */
LB_CHECK lb_status lock_read_value(struct lock_reader *r, const struct lock_field *field, char *value);

#endif
