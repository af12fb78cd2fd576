#include "base/new_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { NAMES_TRIED = 100 };

/* A file of nobody's, beside the other; -1: none could be made, errno says why. */
static int open_waiting(struct lb_new_file *file)
{
    int descriptor = -1;
    for (int n = 0; descriptor < 0 && n < NAMES_TRIED; n++) {
        free(file->waiting);
        if (asprintf(&file->waiting, "%s.new%d", file->path, n) < 0) {
            file->waiting = NULL;
            errno = ENOMEM;
            return -1;
        }
        descriptor = open(file->waiting, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (descriptor < 0 && errno != EEXIST)
            break;
    }
    if (descriptor < 0) {
        int trouble = errno;
        free(file->waiting);
        file->waiting = NULL;
        errno = trouble;
    }
    return descriptor;
}

/* The errno of a failure, or 0. */
static int write_whole(int descriptor, const char *bytes, size_t length)
{
    int trouble = 0;
    while (length && !trouble) {
        ssize_t count = write(descriptor, bytes, length);
        if (count < 0 && errno != EINTR)
            trouble = errno;
        bytes += count > 0 ? count : 0;
        length -= count > 0 ? (size_t)count : 0;
    }
    if (!trouble && fsync(descriptor) != 0 && errno != EINVAL) /* some files know no disk */
        trouble = errno;
    if (close(descriptor) != 0 && !trouble)
        trouble = errno;
    return trouble;
}

static lb_status refuse(const struct lb_new_file *file, int trouble, struct lb_error *err)
{
    return lb_fail(err, LB_SYSTEM, "%s: cannot be written: %s.", file->path, strerror(trouble));
}

lb_status lb_new_file_write(struct lb_new_file *file, const char *path, const char *bytes, size_t length,
                            struct lb_error *err)
{
    char *real = realpath(path, NULL);
    *file = (struct lb_new_file){.path = real ? real : strdup(path)};
    if (!file->path)
        return lb_fail_nomem(err);
    int descriptor = open_waiting(file);
    if (descriptor < 0)
        return refuse(file, errno, err);
    int trouble = write_whole(descriptor, bytes, length);
    return trouble ? refuse(file, trouble, err) : LB_OK;
}

lb_status lb_new_file_name(struct lb_new_file *file, struct lb_error *err)
{
    if (rename(file->waiting, file->path) != 0)
        return refuse(file, errno, err);
    free(file->waiting);
    file->waiting = NULL;
    return LB_OK;
}

void lb_new_file_free(struct lb_new_file *file)
{
    if (file->waiting)
        unlink(file->waiting);
    free(file->waiting);
    free(file->path);
    *file = (struct lb_new_file){0};
}
