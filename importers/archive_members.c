#include "importers/archive.h"

#include "base/text.h"
#include "importers/libarchive.h"
#include "importers/unpack.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

enum { ENTRIES_MAX = 10000 };

/* An archive on its way from entry to entry, and as the bytes of one. */
struct member_bytes {
    struct lb_bytes bytes, *from; /* NULL: a .zip, which libarchive reads itself */
    struct lb_libarchive reader;
    uint64_t size; /* of the file */
    uint64_t out;
    const char *path; /* borrowed, and gone once it is open as a member */
    char *name;       /* "MEMBER in ARCHIVE" */
};

static void member_close(struct member_bytes *member)
{
    lb_libarchive_close(&member->reader);
    lb_bytes_close(member->from);
    free(member->name);
    free(member);
}

static lb_status open_reader(struct member_bytes *member, struct lb_error *err)
{
    lb_status status = lb_libarchive_new(&member->reader.archive, member->path, err);
    struct archive *archive = member->reader.archive;
    if (status)
        return status;
    if (member->from) {
        archive_read_support_format_tar(archive);
        return lb_libarchive_open(&member->reader, member->from, member->path, err);
    }
    archive_read_support_format_zip_seekable(archive);
    if (archive_read_open_filename(archive, member->path, 1 << 16) == ARCHIVE_OK)
        return LB_OK;
    return lb_libarchive_fail(&member->reader, member->path, err);
}

/* Owns `from`, also after a failure. The path is borrowed. */
static lb_status member_new(struct member_bytes **out, const char *path, struct lb_bytes *from,
                            struct lb_error *err)
{
    struct stat info;
    struct member_bytes *member = calloc(1, sizeof *member);
    *out = NULL;
    if (!member) {
        lb_bytes_close(from);
        return lb_fail_nomem(err);
    }
    member->path = path;
    member->from = from;
    member->size = stat(path, &info) == 0 ? (uint64_t)info.st_size : 0;
    lb_status status = open_reader(member, err);
    if (status)
        member_close(member);
    else
        *out = member;
    return status;
}

/* As it is shown and asked for. A name that no one can tell is "?". */
static char *name_of(struct archive_entry *entry)
{
    const char *raw = archive_entry_pathname_utf8(entry);
    raw = raw ? raw : archive_entry_pathname(entry);
    char *name = strdup(raw ? raw : "?");
    size_t bad;
    while (name && !lb_text_is_utf8(name, strlen(name), &bad))
        name[bad] = '?';
    return name;
}

/* `.name` or `__MACOSX` anywhere in the path; `.` and `..` are no names. */
static bool is_hidden(const char *name)
{
    for (size_t length; *name; name += length + (name[length] == '/')) {
        length = strcspn(name, "/");
        bool dots_only = strspn(name, ".") == length;
        if ((name[0] == '.' && !dots_only) || (length == 8 && memcmp(name, "__MACOSX", 8) == 0))
            return true;
    }
    return false;
}

static bool is_file(struct archive_entry *entry)
{
    return archive_entry_filetype(entry) == AE_IFREG && !archive_entry_hardlink(entry);
}

static bool is_csv_like(const char *name)
{
    const char *end = strrchr(name, '.');
    return end &&
           (strcasecmp(end, ".csv") == 0 || strcasecmp(end, ".txt") == 0 || strcasecmp(end, ".tsv") == 0);
}

/* What is known of the entries so far. */
struct listing {
    size_t entries, files;
    uint64_t size; /* of all files, as the archive states it */
    char *first;   /* the first file, CSV or not */
};

static lb_status check_limits(const struct member_bytes *archive, const struct listing *listing,
                              struct lb_error *err)
{
    if (listing->entries > ENTRIES_MAX)
        return lb_fail(err, LB_DATA, "%s has more than %d entries; unpack it and import what is meant",
                       archive->path, ENTRIES_MAX);
    if (archive->from) /* what a .tar is packed in is looked after while it is unpacked */
        return LB_OK;
    return lb_unpack_check(listing->size, archive->size, archive->path, err);
}

/* Owns the name. */
static lb_status list_file(char *name, struct listing *listing, struct lb_archive_members *members,
                           struct lb_error *err)
{
    if (listing->files++ == 0 && !(listing->first = strdup(name))) {
        free(name);
        return lb_fail_nomem(err);
    }
    if (is_csv_like(name) && LB_PUSH(&members->names, name))
        return LB_OK;
    lb_status status = is_csv_like(name) ? lb_fail_nomem(err) : LB_OK;
    free(name);
    return status;
}

static lb_status list_entry(struct member_bytes *archive, struct archive_entry *entry,
                            struct listing *listing, struct lb_archive_members *members, struct lb_error *err)
{
    bool sized = is_file(entry) && archive_entry_size_is_set(entry) && archive_entry_size(entry) > 0;
    listing->entries++;
    listing->size += sized ? (uint64_t)archive_entry_size(entry) : 0;
    lb_status status = check_limits(archive, listing, err);
    if (status || !is_file(entry))
        return status;
    char *name = name_of(entry);
    if (!name)
        return lb_fail_nomem(err);
    if (!is_hidden(name))
        return list_file(name, listing, members, err);
    free(name);
    return LB_OK;
}

static int by_bytes(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* The only file is the catalogue, whatever it is called. Names are what members are asked for by. */
static lb_status finish_list(const char *path, struct listing *listing, struct lb_archive_members *members,
                             struct lb_error *err)
{
    if (listing->files == 1 && members->names.count == 0) {
        if (!LB_PUSH(&members->names, listing->first))
            return lb_fail_nomem(err);
        listing->first = NULL;
    }
    if (members->names.count > 0)
        qsort(members->names.at, members->names.count, sizeof *members->names.at, by_bytes);
    for (size_t i = 1; i < members->names.count; i++)
        if (strcmp(members->names.at[i - 1], members->names.at[i]) == 0)
            return lb_fail(err, LB_DATA, "%s has two members called %s; unpack it and import the right one",
                           path, members->names.at[i]);
    return LB_OK;
}

lb_status lb_archive_list_members(const char *path, struct lb_bytes *from, struct lb_archive_members *members,
                                  struct lb_error *err)
{
    struct member_bytes *archive;
    struct listing listing = {0};
    bool ended = false;
    lb_status status = member_new(&archive, path, from, err);
    if (status)
        return status;
    while (!status && !ended) {
        struct archive_entry *entry;
        status = lb_libarchive_next(&archive->reader, &entry, &ended, path, err);
        if (!status && !ended)
            status = list_entry(archive, entry, &listing, members, err);
    }
    if (!status)
        status = finish_list(path, &listing, members, err);
    free(listing.first);
    member_close(archive);
    if (status)
        lb_archive_members_free(members);
    return status;
}

static lb_status read_member(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct member_bytes *member = (struct member_bytes *)bytes;
    lb_status status = lb_libarchive_data(&member->reader, to, room, got, member->name, err);
    member->out += *got;
    if (member->from) {
        bytes->done = member->from->done;
        return status;
    }
    int64_t done = archive_filter_bytes(member->reader.archive, -1);
    bytes->done = done > 0 && (uint64_t)done < member->size ? (uint64_t)done : member->size;
    return status ? status : lb_unpack_check(member->out, member->size, member->name, err);
}

static void close_member(struct lb_bytes *bytes)
{
    member_close((struct member_bytes *)bytes);
}

/* To the entry of that name, or *ended. */
static lb_status find(struct member_bytes *archive, const char *wanted, struct archive_entry **entry,
                      bool *ended, struct lb_error *err)
{
    for (bool found = false; !found;) {
        lb_status status = lb_libarchive_next(&archive->reader, entry, ended, archive->path, err);
        if (status || *ended)
            return status;
        char *name = name_of(*entry);
        if (!name)
            return lb_fail_nomem(err);
        found = is_file(*entry) && strcmp(name, wanted) == 0;
        free(name);
    }
    return LB_OK;
}

static lb_status begin_member(struct member_bytes *member, const char *wanted, struct lb_error *err)
{
    struct archive_entry *entry;
    bool ended = false;
    lb_status status = find(member, wanted, &entry, &ended, err);
    if (status)
        return status;
    if (ended)
        return lb_fail(err, LB_DATA, "%s has no member called %s (any more)", member->path, wanted);
    if (archive_entry_is_data_encrypted(entry))
        return lb_fail(err, LB_DATA, "%s in %s is encrypted; unpack it with its password first", wanted,
                       member->path);
    return LB_OK;
}

lb_status lb_archive_open_member(struct lb_bytes **out, const char *path, struct lb_bytes *from,
                                 const char *wanted, struct lb_error *err)
{
    struct member_bytes *member;
    lb_status status = member_new(&member, path, from, err);
    if (status)
        return status;
    status = begin_member(member, wanted, err);
    if (!status && asprintf(&member->name, "%s in %s", wanted, path) < 0) {
        member->name = NULL;
        status = lb_fail_nomem(err);
    }
    if (status) {
        member_close(member);
        return status;
    }
    member->bytes = (struct lb_bytes){from ? from->done : 0, member->size, NULL, read_member, close_member};
    *out = &member->bytes;
    return LB_OK;
}
