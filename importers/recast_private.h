/* What recast_parse.c and recast_readers.c share. */
#ifndef LB_IMPORTERS_RECAST_PRIVATE_H
#define LB_IMPORTERS_RECAST_PRIVATE_H

#include "importers/recast.h"

struct lb_conversion {
    const char *name;
    /* Returns NULL, or why not in words (static); the argument may be changed in place. */
    const char *(*read)(struct lb_recast *recast, char *argument);
    bool (*fits)(const struct lb_column *column); /* NULL: any column */
    const char *where;                            /* it makes sense in */
};

extern const struct lb_conversion lb_conversions[];
extern const size_t lb_conversion_count;
extern const char lb_recast_no_memory[]; /* a reason like others, told by its address */

/* Drops blanks at both ends, in place; one behind a backslash stays. */
char *lb_recast_trim(char *text);
/* Cuts `text` at the first `mark` that no backslash protects; what follows it, or NULL. */
char *lb_recast_cut(char *text, char mark);

#endif
