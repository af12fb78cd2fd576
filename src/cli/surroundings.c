/* What the program takes from around it: the time, the terminal, the place of the index. */
#include "cli/cli.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { NARROWEST = 40, USUAL = 100, WIDEST = 1000 };

static const char *stated(const char *name)
{
    const char *value = getenv(name);
    return value && *value ? value : NULL;
}

/* SOURCE_DATE_EPOCH fixes the time, so that the same input gives the same output (reproducible-builds.org,
 * SOURCE_DATE_EPOCH specification 1.1: a malformed value is an error). */
lb_status cli_find_time(int64_t *now, struct lb_error *err)
{
    const long long last = 253402300799; /* 9999-12-31T23:59:59Z */
    const char *fixed = stated("SOURCE_DATE_EPOCH");
    char *end = NULL;
    *now = (int64_t)time(NULL);
    if (!fixed)
        return LB_OK;
    errno = 0;
    *now = strtoll(fixed, &end, 10);
    if (*fixed < '0' || *fixed > '9' || *end || errno || *now > last)
        return lb_fail(err, LB_USAGE, "SOURCE_DATE_EPOCH must be seconds since 1970, not \"%.100s\".", fixed);
    return LB_OK;
}

struct lb_style cli_find_style(void)
{
    struct winsize size = {0};
    const char *columns = stated("COLUMNS");
    bool terminal = isatty(STDOUT_FILENO);
    long width = USUAL;
    if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        width = size.ws_col;
    else if (columns && strtol(columns, NULL, 10) > 0)
        width = strtol(columns, NULL, 10);
    width = width < NARROWEST ? NARROWEST : width > WIDEST ? WIDEST : width;
    return (struct lb_style){.width = (int)width, .colour = terminal && !stated("NO_COLOR")};
}

/* --db, else $LASTBOLT_DB, else the data folder of the XDG Base Directory Specification (relative paths there
 * do not count). *path is the caller's to free. */
lb_status cli_find_index(const char *named, char **path, struct lb_error *err)
{
    const char *data = stated("XDG_DATA_HOME"), *home = stated("HOME");
    int length = 0;
    *path = NULL;
    if (named && !*named)
        return lb_fail(err, LB_USAGE, "--db needs the name of a file.");
    if (!named)
        named = stated("LASTBOLT_DB");
    if (named)
        length = asprintf(path, "%s", named);
    else if (data && *data == '/')
        length = asprintf(path, "%s/lastbolt/lastbolt.db", data);
    else if (home)
        length = asprintf(path, "%s/.local/share/lastbolt/lastbolt.db", home);
    else
        return lb_fail(err, LB_USAGE,
                       "there is no home folder to keep the index in. Say where it is: --db FILE");
    if (length >= 0)
        return LB_OK;
    *path = NULL;
    return lb_fail_nomem(err);
}

lb_status cli_find_downloads(const char *index, char **path, struct lb_error *err)
{
    const char *cache = stated("XDG_CACHE_HOME"), *home = stated("HOME");
    int length;
    if (cache && *cache == '/')
        length = asprintf(path, "%s/lastbolt", cache);
    else if (home)
        length = asprintf(path, "%s/.cache/lastbolt", home);
    else
        length = asprintf(path, "%s.fetched", index);
    if (length >= 0)
        return LB_OK;
    *path = NULL;
    return lb_fail_nomem(err);
}

const char *cli_find_certificates(void)
{
    return stated("SSL_CERT_FILE");
}

static bool is_folder(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && S_ISDIR(found.st_mode);
}

lb_status cli_make_folders(char *path, const char *of, struct lb_error *err)
{
    for (char *p = path + 1; *path && *p; p++) {
        if (*p != '/')
            continue;
        *p = '\0';
        int trouble = mkdir(path, 0777) && !is_folder(path) ? errno : 0;
        if (trouble)
            lb_fail(err, LB_SYSTEM, "%s: the folder of %s cannot be made: %s.", path, of, strerror(trouble));
        *p = '/';
        if (trouble)
            return LB_SYSTEM;
    }
    return LB_OK;
}
