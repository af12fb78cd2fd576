/* libarchive fed from struct lb_bytes, its failures as ours. Private to unpack_filter.c and
 * archive_members.c. */
#ifndef LB_IMPORTERS_LIBARCHIVE_H
#define LB_IMPORTERS_LIBARCHIVE_H

#include "importers/bytes.h"

#include "importers/lazy_archive.h"
#include <stdbool.h>

struct lb_libarchive {
    struct archive *archive;
    struct lb_bytes *from;   /* borrowed */
    struct lb_error failure; /* of `from`, on its way through libarchive */
    char block[1 << 16];
};

/* A reader of libarchive's; to be closed with the struct it goes into. LB_DATA: libarchive is not installed.
 */
LB_CHECK lb_status lb_libarchive_new(struct archive **out, const char *name, struct lb_error *err);
/* Each fails with the words of `from` where it failed, else with LB_DATA: `name` is damaged, cut off, … */
LB_CHECK lb_status lb_libarchive_open(struct lb_libarchive *reader, struct lb_bytes *from, const char *name,
                                      struct lb_error *err);
/* *ended: there is no further entry. The entry is borrowed until the next call. */
LB_CHECK lb_status lb_libarchive_next(struct lb_libarchive *reader, struct archive_entry **entry, bool *ended,
                                      const char *name, struct lb_error *err);
LB_CHECK lb_status lb_libarchive_data(struct lb_libarchive *reader, char *to, size_t room, size_t *got,
                                      const char *name, struct lb_error *err);
lb_status lb_libarchive_fail(struct lb_libarchive *reader, const char *name, struct lb_error *err);
void lb_libarchive_close(struct lb_libarchive *reader);

#endif
