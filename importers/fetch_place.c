#include "base/hash.h"
#include "importers/fetch_private.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { TAIL_MAX = 80, POLLS_A_SECOND = 20 };

static bool is_safe(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || strchr("._-", c);
}

/* The last part of the URL's path, of which the end says what kind of file it is; `list` when there is none.
 */
static void append_tail(struct lb_buf *name, const char *url)
{
    const char *path = strstr(url, "://");
    path = path ? path + 3 : url;
    const char *end = path + strcspn(path, "?#");
    const char *tail = end;
    while (tail > path && tail[-1] != '/')
        tail--;
    if (tail == path) /* only a host */
        tail = end;
    if (end - tail > TAIL_MAX)
        tail = end - TAIL_MAX;
    while (tail < end && *tail == '.')
        tail++;
    if (tail == end)
        lb_buf_puts(name, "list");
    for (; tail < end; tail++)
        lb_buf_putc(name, is_safe(*tail) ? *tail : '_');
}

static bool name_files(struct lb_fetch_place *place, const char *folder, const char *url)
{
    struct lb_buf name = {0};
    lb_buf_printf(&name, "%s/%016" PRIx64 "-", folder, lb_hash(LB_HASH_START, url, strlen(url)));
    append_tail(&name, url);
    const struct {
        char **path;
        const char *ending;
    } files[] = {{&place->file, ""},      {&place->about, ".about"},
                 {&place->part, ".part"}, {&place->about_new, ".about.new"},
                 {&place->lock, ".lock"}, {&place->part_about, ".part.about"}};
    bool good = !name.failed;
    for (size_t i = 0; good && i < sizeof files / sizeof *files; i++)
        if (asprintf(files[i].path, "%s%s", name.text, files[i].ending) < 0) {
            *files[i].path = NULL;
            good = false;
        }
    lb_buf_free(&name);
    return good;
}

static bool is_folder(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

/* Every folder above the file. */
static lb_status make_folders(const char *file, struct lb_error *err)
{
    char *path = strdup(file);
    if (!path)
        return lb_fail_nomem(err);
    lb_status status = LB_OK;
    for (char *p = path + 1; !status && *p; p++) {
        if (*p != '/')
            continue;
        *p = '\0';
        if (mkdir(path, 0777) != 0 && !is_folder(path))
            status = lb_fail(err, LB_SYSTEM, "%s: the folder cannot be made: %s.", path, strerror(errno));
        *p = '/';
    }
    free(path);
    return status;
}

long lb_fetch_connect_seconds(const struct lb_fetch_options *options)
{
    return options->connect_seconds > 0 ? options->connect_seconds : 30;
}

static lb_status wait_for_lock(struct lb_fetch_place *place, const struct lb_fetch_options *options,
                               struct lb_error *err)
{
    const struct timespec pause = {.tv_nsec = 1000000000 / POLLS_A_SECOND};
    long left = lb_fetch_connect_seconds(options) * POLLS_A_SECOND;
    while (flock(place->lock_descriptor, LOCK_EX | LOCK_NB) != 0) {
        if (errno == EINTR)
            continue;
        if (errno != EWOULDBLOCK)
            return lb_fail(err, LB_SYSTEM, "%s: cannot be locked: %s.", place->lock, strerror(errno));
        if (left-- <= 0)
            return lb_fail(err, LB_SYSTEM,
                           "%s: another lastbolt is fetching this list; try again when it is done.",
                           place->file);
        if (options->progress && options->progress(options->context, 0, 0))
            return lb_fail(err, LB_SYSTEM, "%s: the download was stopped.", place->file);
        nanosleep(&pause, NULL);
    }
    return LB_OK;
}

lb_status lb_fetch_place_open(struct lb_fetch_place *place, const char *url,
                              const struct lb_fetch_options *options, struct lb_error *err)
{
    *place = (struct lb_fetch_place){.lock_descriptor = -1};
    if (!name_files(place, options->folder, url))
        return lb_fail_nomem(err);
    lb_status status = make_folders(place->lock, err);
    if (status)
        return status;
    place->lock_descriptor = open(place->lock, O_RDWR | O_CREAT | O_CLOEXEC, 0666);
    if (place->lock_descriptor < 0)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be written: %s.", place->lock, strerror(errno));
    return wait_for_lock(place, options, err);
}

/* A rename is on the disk once its folder is. A file system that cannot do that does not matter. */
static void sync_folder(const char *file)
{
    char *folder = strdup(file);
    if (!folder)
        return;
    *strrchr(folder, '/') = '\0';
    int descriptor = open(*folder ? folder : "/", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor >= 0) {
        (void)fsync(descriptor);
        close(descriptor);
    }
    free(folder);
}

/* What can fail for lack of room comes first. Between the renames there is a file without its about, which is
 * fetched anew next time; never one with another's. */
lb_status lb_fetch_place_keep(const struct lb_fetch_place *place, const char *url,
                              const struct lb_fetch_about *about, struct lb_error *err)
{
    lb_status status = lb_fetch_about_write(place->about_new, url, about, err);
    if (status)
        return status;
    if ((unlink(place->about) != 0 && errno != ENOENT) || rename(place->part, place->file) != 0)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be written: %s.", place->file, strerror(errno));
    if (rename(place->about_new, place->about) != 0)
        return lb_fail(err, LB_SYSTEM, "%s: cannot be written: %s.", place->about, strerror(errno));
    lb_fetch_place_drop(place);
    sync_folder(place->file);
    return LB_OK;
}

void lb_fetch_place_drop(const struct lb_fetch_place *place)
{
    unlink(place->part);
    unlink(place->part_about);
}

void lb_fetch_place_close(struct lb_fetch_place *place)
{
    if (place->lock_descriptor >= 0)
        close(place->lock_descriptor); /* which unlocks; the file stays, another may be waiting for it */
    free(place->file);
    free(place->about);
    free(place->about_new);
    free(place->part);
    free(place->part_about);
    free(place->lock);
    *place = (struct lb_fetch_place){.lock_descriptor = -1};
}

bool lb_fetch_size(const char *path, uint64_t *size)
{
    struct stat info;
    *size = 0;
    if (stat(path, &info) != 0 || !S_ISREG(info.st_mode))
        return false;
    *size = (uint64_t)info.st_size;
    return true;
}
