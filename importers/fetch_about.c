#include "importers/fetch_private.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

enum { VALUE_MAX = 500, FILE_MAX = 16384 };

/* "…" or W/"…", nothing else: one that was cut short is not sent to a server. */
static bool is_etag(const char *value)
{
    const char *quote = strncmp(value, "W/", 2) == 0 ? value + 2 : value;
    size_t length = strlen(quote);
    return length >= 2 && quote[0] == '"' && strchr(quote + 1, '"') == quote + length - 1;
}

static bool is_one_line(const char *value)
{
    size_t length = strlen(value);
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)value[i] < 0x20 || value[i] == 0x7f)
            return false;
    return length > 0 && length <= VALUE_MAX;
}

static bool replace(char **at, const char *value)
{
    free(*at);
    *at = strdup(value);
    return *at;
}

bool lb_fetch_about_header(struct lb_fetch_about *about, const char *name, const char *value)
{
    if (strcasecmp(name, "etag") == 0 && is_one_line(value) && is_etag(value))
        return replace(&about->etag, value);
    if (strcasecmp(name, "last-modified") == 0 && is_one_line(value))
        return replace(&about->last_modified, value);
    return true;
}

const char *lb_fetch_about_strong(const struct lb_fetch_about *about)
{
    return about->etag && about->etag[0] == '"' ? about->etag : about->last_modified;
}

void lb_fetch_about_free(struct lb_fetch_about *about)
{
    free(about->etag);
    free(about->last_modified);
    memset(about, 0, sizeof *about);
}

static bool read_size(struct lb_fetch_about *about, const char *value)
{
    int end = -1;
    about->size_known = value[0] >= '0' && value[0] <= '9' &&
                        sscanf(value, "%19" SCNu64 "%n", &about->size, &end) == 1 && value[end] == '\0';
    return about->size_known;
}

/* Takes the whole text, or says that it is damaged (memory that ran out looks the same). */
static bool read_lines(char *text, const char *url, struct lb_fetch_about *about)
{
    bool same_url = false, good = true;
    for (char *line = text, *end; good && *line; line = end + 1) {
        char *value = strstr(line, ": ");
        end = strchr(line, '\n');
        if (!end || !value || value > end)
            return false;
        *end = *value = '\0';
        value += 2;
        if (strcmp(line, "url") == 0)
            same_url = strcmp(value, url) == 0;
        else if (strcmp(line, "size") == 0)
            good = read_size(about, value);
        else
            good = lb_fetch_about_header(about, line, value);
    }
    return good && same_url;
}

lb_status lb_fetch_about_read(const char *path, const char *url, struct lb_fetch_about *out,
                              struct lb_error *err)
{
    memset(out, 0, sizeof *out);
    FILE *file = fopen(path, "re");
    if (!file)
        return errno == ENOMEM ? lb_fail_nomem(err) : LB_OK;
    char *text = malloc(FILE_MAX);
    size_t length = text ? fread(text, 1, FILE_MAX, file) : 0;
    fclose(file);
    if (!text)
        return lb_fail_nomem(err);
    bool whole = length < FILE_MAX && !memchr(text, '\0', length);
    if (whole)
        text[length] = '\0';
    if (!whole || !read_lines(text, url, out))
        lb_fetch_about_free(out);
    free(text);
    return LB_OK;
}

static void append(struct lb_buf *text, const char *name, const char *value)
{
    if (value)
        lb_buf_printf(text, "%s: %s\n", name, value);
}

static bool write_all(const char *path, const char *text, size_t length)
{
    int descriptor = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    if (descriptor < 0)
        return false;
    ssize_t count = write(descriptor, text, length);
    if (count >= 0 && (size_t)count < length)
        errno = ENOSPC;
    bool good = count == (ssize_t)length && fsync(descriptor) == 0;
    int trouble = errno;
    close(descriptor);
    errno = trouble;
    return good;
}

lb_status lb_fetch_about_write(const char *path, const char *url, const struct lb_fetch_about *about,
                               struct lb_error *err)
{
    struct lb_buf text = {0};
    append(&text, "url", url);
    append(&text, "etag", about->etag);
    append(&text, "last-modified", about->last_modified);
    if (about->size_known)
        lb_buf_printf(&text, "size: %" PRIu64 "\n", about->size);
    lb_status status = LB_OK;
    if (text.failed)
        status = lb_fail_nomem(err);
    else if (!write_all(path, text.text, text.length))
        status = lb_fail(err, LB_SYSTEM, "%s: cannot be written: %s.", path, strerror(errno));
    lb_buf_free(&text);
    return status;
}
