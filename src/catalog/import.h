/* The whole import: files and folders into the index in one transaction, readers seeing the old edition until
 * the new one is whole.
 *
 *     struct lb_import_result result = {0};
 *     status = lb_import(store, &options, &result, &err);
 *     lb_import_result_free(&result);
 */
#ifndef LB_CATALOG_IMPORT_H
#define LB_CATALOG_IMPORT_H

#include "base/vec.h"
#include "catalog/preview.h"
#include "importers/profile.h"
#include "store/store.h"

struct lb_import_progress {
    const char *file;    /* the source's name */
    const char *doing;   /* "reading", "comparing" */
    uint64_t done, size; /* bytes of the file as it lies on the disk; size 0: not known */
    long rows;
};

struct lb_edition_change {
    int64_t added, changed, unchanged, removed;
};

struct lb_import_options {
    const char *const *paths;
    int path_count;
    const char *name;     /* the catalogue's, wherever it comes from today; NULL: where it comes from tells */
    const char *encoding; /* as lb_encoding_open; NULL: found out */
    const char *fetch_folder;         /* where catalogues fetched by https are kept between imports */
    const char *certificates;         /* as struct lb_fetch_options */
    const char *supplier;             /* fixed for rows that name none; NULL: none */
    const char *rejects;              /* the file that refused rows go to; made only when there are some */
    const char *now;                  /* UTC, ISO 8601, noted with the source */
    bool dry_run;                     /* do everything, keep nothing */
    const struct lb_profile *profile; /* how the files are read; NULL: by their own names and the lexicon */
    bool read_again; /* also a file whose bytes are in the index: to look at it, or to read it otherwise */
    /* Called a few times a second; false stops the import (LB_STOPPED). NULL: nobody looks. */
    bool (*progress)(void *context, const struct lb_import_progress *progress);
    void *progress_context;
};

enum { LB_REFUSALS_SHOWN = 3 };

struct lb_imported_file {
    char *file;    /* the source's name */
    char *kind;    /* kinds joined with '+'; "" when the file could not be used */
    char *problem; /* why the file as a whole could not be used, or NULL */
    long read, accepted, rejected;
    struct lb_edition_change change;
    bool same_bytes;                   /* nothing was read again: byte for byte the edition in the index */
    char *refusals[LB_REFUSALS_SHOWN]; /* where and why of the first refused rows */
    int refusal_count;
    char **warnings;
    size_t warning_count, warning_room, warning_total; /* the first few are kept, all are counted */
    struct lb_mapping *mapping;                        /* how it was read; NULL: it was not */
    struct lb_preview preview;                         /* of a dry run */
};

struct lb_import_result {
    LB_VEC(struct lb_imported_file) files;
    long rejected; /* rows, over all files */
    int unusable;  /* files */
};

/* LB_OK also when rows or whole files were refused: the result says so. LB_DATA: a path that does not exist,
 * a folder without CSV files. Any other failure leaves the index as it was. */
LB_CHECK lb_status lb_import(struct lb_store *store, const struct lb_import_options *options,
                             struct lb_import_result *result, struct lb_error *err);
/* Keeps a remark for people; line 0: about the file. */
void lb_imported_file_mention(struct lb_imported_file *file, long line, const char *words);
void lb_import_result_free(struct lb_import_result *result);

#endif
