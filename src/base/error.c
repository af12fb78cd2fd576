#include "base/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static lb_status fill(struct lb_error *err, lb_status status, const char *format, va_list args)
{
    if (!err)
        return status;
    lb_error_free(err);
    err->status = status;
    if (vasprintf(&err->words, format, args) < 0)
        err->words = NULL;
    return status;
}

lb_status lb_fail(struct lb_error *err, lb_status status, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    fill(err, status, format, args);
    va_end(args);
    return status;
}

lb_status lb_fail_at(struct lb_error *err, const char *file, long row, long column, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    fill(err, LB_DATA, format, args);
    va_end(args);
    if (err) {
        err->file = file ? strdup(file) : NULL;
        err->row = row;
        err->column = column;
    }
    return LB_DATA;
}

lb_status lb_fail_nomem(struct lb_error *err)
{
    if (err) {
        lb_error_free(err);
        err->status = LB_NOMEM;
    }
    return LB_NOMEM;
}

const char *lb_error_text(const struct lb_error *err)
{
    if (err->words)
        return err->words;
    return err->status == LB_NOMEM || err->status != LB_OK ? "out of memory" : "no error";
}

void lb_error_free(struct lb_error *err)
{
    if (!err)
        return;
    free(err->words);
    free(err->file);
    memset(err, 0, sizeof *err);
}
