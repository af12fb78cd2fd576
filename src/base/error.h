/* Status and error: how every function below the command line says that it could not do its work.
 *
 * A function returns an lb_status that must be looked at; the words go into the caller's struct lb_error.
 * Not a log, not an exception: the library never prints and never exits.
 *
 *     struct lb_error err = {0};
 *     if (lb_store_open(&store, path, &err)) { fputs(lb_error_text(&err), stderr); lb_error_free(&err); }
 */
#ifndef LB_BASE_ERROR_H
#define LB_BASE_ERROR_H

#define LB_CHECK                      __attribute__((warn_unused_result))
#define LB_PRINTF(format_at, args_at) __attribute__((format(printf, format_at, args_at)))

typedef enum lb_status {
    LB_OK = 0,
    LB_USAGE = 2,  /* the caller's words are wrong (exit status 2) */
    LB_DATA = 3,   /* the data is wrong: a bad row, a loop, an unknown name (exit status 3) */
    LB_SYSTEM = 4, /* disk, permission, damaged index (exit status 4) */
    LB_NOMEM = 5,  /* out of memory; the program reports it as exit status 4 */
    LB_STOPPED = 6, /* the user stopped it; the program reports it as exit status 130, as shells do for Ctrl-C */
} lb_status;

struct lb_error {
    lb_status status;
    char *words; /* owned; what is wrong, where, what to do; NULL when memory ran out */
    char *file;  /* owned; the source it was found in, or NULL */
    long row;    /* 1-based line in file; 0: not about a line */
    long column; /* 1-based column (cell) in that line; 0: the whole line */
};

/* Each fills *err (which may be NULL) and returns status, so that `return lb_fail(…)` reads well.
 * A second failure replaces the first. */
lb_status lb_fail(struct lb_error *err, lb_status status, const char *format, ...) LB_PRINTF(3, 4);
lb_status lb_fail_at(struct lb_error *err, const char *file, long row, long column, const char *format, ...)
    LB_PRINTF(5, 6); /* status LB_DATA */
lb_status lb_fail_nomem(struct lb_error *err);

/* Never NULL; borrowed until the error is filled again or freed. */
const char *lb_error_text(const struct lb_error *err);
void lb_error_free(struct lb_error *err);

#endif
