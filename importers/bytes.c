#include "importers/bytes.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct file_bytes {
    struct lb_bytes bytes;
    int descriptor;
    char path[];
};

static lb_status read_file(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct file_bytes *file = (struct file_bytes *)bytes;
    ssize_t count;
    do
        count = read(file->descriptor, to, room);
    while (count < 0 && errno == EINTR);
    *got = count > 0 ? (size_t)count : 0;
    bytes->done += *got;
    return count >= 0 ? LB_OK
                      : lb_fail(err, LB_SYSTEM, "%s: cannot be read: %s.", file->path, strerror(errno));
}

static void close_file(struct lb_bytes *bytes)
{
    close(((struct file_bytes *)bytes)->descriptor);
    free(bytes);
}

/* Takes the descriptor, which may be the failure to get one. */
static lb_status open_descriptor(struct lb_bytes **out, int descriptor, const char *path,
                                 struct lb_error *err)
{
    if (descriptor < 0)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be opened: %s.", path, strerror(errno));
    struct file_bytes *file = malloc(sizeof *file + strlen(path) + 1);
    if (!file) {
        close(descriptor);
        return lb_fail_nomem(err);
    }
    file->bytes = (struct lb_bytes){.read = read_file, .close = close_file};
    file->descriptor = descriptor;
    strcpy(file->path, path);
    struct stat info;
    if (fstat(descriptor, &info) == 0 && S_ISREG(info.st_mode))
        file->bytes.size = (uint64_t)info.st_size;
    posix_fadvise(descriptor, 0, 0, POSIX_FADV_SEQUENTIAL);
    *out = &file->bytes;
    return LB_OK;
}

lb_status lb_bytes_open_file(struct lb_bytes **out, const char *path, struct lb_error *err)
{
    *out = NULL;
    return open_descriptor(out, open(path, O_RDONLY | O_CLOEXEC), path, err);
}

lb_status lb_bytes_open_stdin(struct lb_bytes **out, struct lb_error *err)
{
    *out = NULL;
    return open_descriptor(out, fcntl(STDIN_FILENO, F_DUPFD_CLOEXEC, 0), "standard input", err);
}

struct memory_bytes {
    struct lb_bytes bytes;
    const char *at, *end;
};

static lb_status read_memory(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct memory_bytes *memory = (struct memory_bytes *)bytes;
    (void)err;
    size_t left = (size_t)(memory->end - memory->at);
    *got = left < room ? left : room;
    if (*got)
        memcpy(to, memory->at, *got);
    memory->at += *got;
    bytes->done += *got;
    return LB_OK;
}

static void close_memory(struct lb_bytes *bytes)
{
    free(bytes);
}

lb_status lb_bytes_open_memory(struct lb_bytes **out, const char *memory, size_t length, struct lb_error *err)
{
    *out = NULL;
    struct memory_bytes *bytes = malloc(sizeof *bytes);
    if (!bytes)
        return lb_fail_nomem(err);
    *bytes = (struct memory_bytes){
        {.size = length, .read = read_memory, .close = close_memory}, memory, memory + length};
    *out = &bytes->bytes;
    return LB_OK;
}

struct peeked_bytes {
    struct lb_bytes bytes, *from;
    size_t at, end;
    char head[LB_BYTES_HEAD];
};

static void follow(struct peeked_bytes *peeked)
{
    peeked->bytes.done = peeked->from->done;
    peeked->bytes.size = peeked->from->size;
    peeked->bytes.encoding = peeked->from->encoding;
}

static lb_status read_peeked(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct peeked_bytes *peeked = (struct peeked_bytes *)bytes;
    if (peeked->at == peeked->end) {
        lb_status status = peeked->from->read(peeked->from, to, room, got, err);
        follow(peeked);
        return status;
    }
    size_t left = peeked->end - peeked->at;
    *got = left < room ? left : room;
    memcpy(to, peeked->head + peeked->at, *got);
    peeked->at += *got;
    return LB_OK;
}

static void close_peeked(struct lb_bytes *bytes)
{
    lb_bytes_close(((struct peeked_bytes *)bytes)->from);
    free(bytes);
}

lb_status lb_bytes_peek(struct lb_bytes **bytes, const char **head, size_t *length, struct lb_error *err)
{
    struct peeked_bytes *peeked = calloc(1, sizeof *peeked);
    if (!peeked)
        return lb_fail_nomem(err);
    peeked->bytes.read = read_peeked;
    peeked->bytes.close = close_peeked;
    peeked->from = *bytes;
    *bytes = &peeked->bytes;
    lb_status status = LB_OK;
    for (size_t got = 1; !status && got > 0 && peeked->end < LB_BYTES_HEAD; peeked->end += got)
        status = peeked->from->read(peeked->from, peeked->head + peeked->end, LB_BYTES_HEAD - peeked->end,
                                    &got, err);
    follow(peeked);
    *head = peeked->head;
    *length = peeked->end;
    return status;
}

void lb_bytes_close(struct lb_bytes *bytes)
{
    if (bytes)
        bytes->close(bytes);
}
