/* libarchive, opened when it is first needed (base/lazy.h): include this instead of its own header, and call
 * lb_archive_load before the first of its functions. */
#ifndef LB_IMPORTERS_LAZY_ARCHIVE_H
#define LB_IMPORTERS_LAZY_ARCHIVE_H

#include <archive.h>
#include <archive_entry.h>
#include <stdbool.h>

#define LB_ARCHIVE_FUNCTIONS(X)                                                                              \
    X(archive_entry_filetype)                                                                                \
    X(archive_entry_hardlink)                                                                                \
    X(archive_entry_is_data_encrypted)                                                                       \
    X(archive_entry_pathname)                                                                                \
    X(archive_entry_pathname_utf8)                                                                           \
    X(archive_entry_size)                                                                                    \
    X(archive_entry_size_is_set)                                                                             \
    X(archive_errno)                                                                                         \
    X(archive_error_string)                                                                                  \
    X(archive_filter_bytes)                                                                                  \
    X(archive_read_data)                                                                                     \
    X(archive_read_free)                                                                                     \
    X(archive_read_new)                                                                                      \
    X(archive_read_next_header)                                                                              \
    X(archive_read_open)                                                                                     \
    X(archive_read_open_filename)                                                                            \
    X(archive_read_support_filter_bzip2)                                                                     \
    X(archive_read_support_filter_xz)                                                                        \
    X(archive_read_support_filter_zstd)                                                                      \
    X(archive_read_support_format_empty)                                                                     \
    X(archive_read_support_format_raw)                                                                       \
    X(archive_read_support_format_tar)                                                                       \
    X(archive_read_support_format_zip_seekable)                                                              \
    X(archive_set_error)

#define LB_ARCHIVE_POINTER(function) __typeof__(function) *function;
struct lb_archive_functions {
    LB_ARCHIVE_FUNCTIONS(LB_ARCHIVE_POINTER)
};
extern struct lb_archive_functions lb_archive_functions;

/* False: it is not installed. */
bool lb_archive_load(void);

#define archive_entry_filetype                   lb_archive_functions.archive_entry_filetype
#define archive_entry_hardlink                   lb_archive_functions.archive_entry_hardlink
#define archive_entry_is_data_encrypted          lb_archive_functions.archive_entry_is_data_encrypted
#define archive_entry_pathname                   lb_archive_functions.archive_entry_pathname
#define archive_entry_pathname_utf8              lb_archive_functions.archive_entry_pathname_utf8
#define archive_entry_size                       lb_archive_functions.archive_entry_size
#define archive_entry_size_is_set                lb_archive_functions.archive_entry_size_is_set
#define archive_errno                            lb_archive_functions.archive_errno
#define archive_error_string                     lb_archive_functions.archive_error_string
#define archive_filter_bytes                     lb_archive_functions.archive_filter_bytes
#define archive_read_data                        lb_archive_functions.archive_read_data
#define archive_read_free                        lb_archive_functions.archive_read_free
#define archive_read_new                         lb_archive_functions.archive_read_new
#define archive_read_next_header                 lb_archive_functions.archive_read_next_header
#define archive_read_open                        lb_archive_functions.archive_read_open
#define archive_read_open_filename               lb_archive_functions.archive_read_open_filename
#define archive_read_support_filter_bzip2        lb_archive_functions.archive_read_support_filter_bzip2
#define archive_read_support_filter_xz           lb_archive_functions.archive_read_support_filter_xz
#define archive_read_support_filter_zstd         lb_archive_functions.archive_read_support_filter_zstd
#define archive_read_support_format_empty        lb_archive_functions.archive_read_support_format_empty
#define archive_read_support_format_raw          lb_archive_functions.archive_read_support_format_raw
#define archive_read_support_format_tar          lb_archive_functions.archive_read_support_format_tar
#define archive_read_support_format_zip_seekable lb_archive_functions.archive_read_support_format_zip_seekable
#define archive_set_error                        lb_archive_functions.archive_set_error

#endif
