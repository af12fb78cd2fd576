/* What is in a packed file: one file, compressed (.gz .zst .xz .bz2), or the members of an archive (.zip,
 * .tar and .tar compressed). Told by content, whatever the name. Unpacks while it is read, onto no disk; a
 * member's name is only a name and leads nowhere. Archives within archives stay shut.
 *
 * Limits, so that a small file cannot fill a disk: lb_unpack_check, and 10000 entries an archive.
 *
 *     struct lb_archive_members members = {0};
 *     status = lb_archive_list("prices.zip", &is_archive, &members, &err);
 *     for (size_t i = 0; !status && i < members.names.count; i++)
 *         status = lb_archive_open(&bytes, "prices.zip", members.names.at[i], &err); … lb_bytes_close(bytes);
 *     lb_archive_members_free(&members);
 */
#ifndef LB_IMPORTERS_ARCHIVE_H
#define LB_IMPORTERS_ARCHIVE_H

#include "base/vec.h"
#include "importers/bytes.h"

struct lb_archive_members {
    LB_VEC(char *) names; /* in UTF-8 (what is not, stands there as ?), sorted by bytes */
};

/* Whether a file in a folder is taken for one that may hold CSV, by its name: .zip .tar .tgz .csv.gz … */
bool lb_archive_is_named_so(const char *name);
/* The CSV files in an archive of members: .csv, .txt and .tsv, in any case; no folders, links, hidden files
 * or what macOS puts beside them. The only file in an archive is one whatever its name. *is_archive false:
 * the file is no archive of members (a CSV file, or one that is compressed), and nothing is listed.
 * LB_SYSTEM: cannot be opened or read. LB_DATA: damaged, two members of one name, beyond the limits, or this
 * program was built without archives. */
LB_CHECK lb_status lb_archive_list(const char *path, bool *is_archive, struct lb_archive_members *members,
                                   struct lb_error *err);
void lb_archive_members_free(struct lb_archive_members *members);
/* One member by its name in the list. `done` and `size` of the bytes are those of the archive. LB_DATA, here
 * or on reading: not in it (any more), encrypted, damaged, beyond the limits. */
LB_CHECK lb_status lb_archive_open(struct lb_bytes **out, const char *path, const char *member,
                                   struct lb_error *err);
/* Replaces *bytes, if they are compressed, by what is in them; they stay the caller's to close, also after a
 * failure. `name` stands in messages. LB_DATA: they are an archive of members, or hold another one; damaged,
 * here or on reading. */
LB_CHECK lb_status lb_archive_unpack(struct lb_bytes **bytes, const char *name, struct lb_error *err);

/* Private to archive*.c. `from` NULL: a .zip, opened by its path, as its table of contents is at the end;
 * else what a .tar unpacks from, owned from now on, also after a failure. */
LB_CHECK lb_status lb_archive_list_members(const char *path, struct lb_bytes *from,
                                           struct lb_archive_members *members, struct lb_error *err);
LB_CHECK lb_status lb_archive_open_member(struct lb_bytes **out, const char *path, struct lb_bytes *from,
                                          const char *member, struct lb_error *err);

#endif
