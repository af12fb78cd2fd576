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

lb_status lb_bytes_open_file(struct lb_bytes **out, const char *path, struct lb_error *err)
{
    *out = NULL;
    struct file_bytes *file = malloc(sizeof *file + strlen(path) + 1);
    if (!file)
        return lb_fail_nomem(err);
    file->bytes = (struct lb_bytes){.read = read_file, .close = close_file};
    strcpy(file->path, path);
    file->descriptor = open(path, O_RDONLY | O_CLOEXEC);
    if (file->descriptor < 0) {
        lb_status status = lb_fail(err, LB_SYSTEM, "%s: cannot be opened: %s.", path, strerror(errno));
        free(file);
        return status;
    }
    struct stat info;
    if (fstat(file->descriptor, &info) == 0 && S_ISREG(info.st_mode))
        file->bytes.size = (uint64_t)info.st_size;
    posix_fadvise(file->descriptor, 0, 0, POSIX_FADV_SEQUENTIAL);
    *out = &file->bytes;
    return LB_OK;
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

void lb_bytes_close(struct lb_bytes *bytes)
{
    if (bytes)
        bytes->close(bytes);
}
