/* Compressed bytes -> the bytes of the one file in them: gzip, zstd, xz, bzip2, told by how they begin.
 * Checked to the end: what is damaged or cut off is LB_DATA, never a shorter file. Knows no archives of
 * several files beyond telling that it has one before it (archive.h reads those). */
#ifndef LB_IMPORTERS_UNPACK_H
#define LB_IMPORTERS_UNPACK_H

#include "importers/bytes.h"

enum lb_packing { LB_UNPACKED, LB_GZIP, LB_ZSTD, LB_XZ, LB_BZIP2, LB_ZIP, LB_EMPTY_ZIP, LB_TAR };

/* What the first LB_BYTES_HEAD bytes (or all there are) say it is. */
enum lb_packing lb_packing_of(const char *head, size_t length);
/* Replaces *bytes, which are packed so (LB_GZIP to LB_BZIP2), by what is in them; they stay
 * the caller's to close, also after a failure. `name` stands in messages and is copied. LB_DATA: this program
 * was built without; reading: damaged, cut off, or swelling beyond lb_unpack_check. `done` and `size` are
 * those of the compressed bytes. */
LB_CHECK lb_status lb_unpack(struct lb_bytes **bytes, enum lb_packing packing, const char *name,
                             struct lb_error *err);
/* LB_DATA when `out` unpacked bytes from `in` packed ones are more than any catalogue comes to. */
LB_CHECK lb_status lb_unpack_check(uint64_t out, uint64_t in, const char *name, struct lb_error *err);
/* LB_DATA: this lastbolt cannot unpack. */
lb_status lb_unpack_unable(const char *name, struct lb_error *err);
lb_status lb_unpack_cut_off(const char *name, struct lb_error *err);

/* Private to unpack*.c: by zlib, which checks the sum at the end of gzip as libarchive does not, and by
 * libarchive. */
LB_CHECK lb_status lb_unpack_gzip(struct lb_bytes **bytes, const char *name, struct lb_error *err);
LB_CHECK lb_status lb_unpack_filter(struct lb_bytes **bytes, enum lb_packing packing, const char *name,
                                    struct lb_error *err);

#endif
