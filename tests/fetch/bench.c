#include "bench.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

struct bench bench;

/* The server as a child: `to` its standard input, `from` its standard output. */
static void start_server(const char *names, int *to, int *from)
{
    int in[2], out[2];
    cr_assert_eq(pipe2(in, 0), 0);
    cr_assert_eq(pipe2(out, 0), 0);
    bench.server = fork();
    cr_assert(bench.server >= 0);
    if (bench.server == 0) {
        dup2(in[0], STDIN_FILENO);
        dup2(out[1], STDOUT_FILENO);
        for (int i = 3; i < 64; i++)
            close(i);
        execl(LB_PYTHON, LB_PYTHON, LB_TESTS_DIR "/fetch/server.py", bench.folder, names, (char *)NULL);
        _exit(127);
    }
    close(in[0]);
    close(out[1]);
    *to = in[1];
    *from = out[0];
}

void bench_begin(const char *names)
{
    int from;
    setenv("no_proxy", "*", 1);
    strcpy(bench.folder, "/tmp/lastbolt-fetch-XXXXXX");
    cr_assert(mkdtemp(bench.folder));
    snprintf(bench.downloads, sizeof bench.downloads, "%s/deep/downloads", bench.folder);
    snprintf(bench.certificate, sizeof bench.certificate, "%s/server.pem", bench.folder);
    start_server(names, &bench.hold, &from);
    FILE *port = fdopen(from, "r");
    cr_assert(port && fscanf(port, "%d", &bench.port) == 1, "the server does not start");
    fclose(port);
    bench.options = (struct lb_fetch_options){.folder = bench.downloads,
                                              .certificates = bench.certificate,
                                              .connect_seconds = 30,
                                              .stall_seconds = 30,
                                              .total_seconds = 60};
}

void bench_end(void)
{
    char command[128];
    close(bench.hold);
    waitpid(bench.server, NULL, 0);
    lb_fetched_free(&bench.got);
    lb_error_free(&bench.err);
    snprintf(command, sizeof command, "rm -rf '%s'", bench.folder);
    cr_assert_eq(system(command), 0);
}

const char *bench_url(const char *path)
{
    static char url[1024];
    snprintf(url, sizeof url, "https://127.0.0.1:%d/%s", bench.port, path);
    return url;
}

lb_status bench_fetch(const char *path)
{
    lb_fetched_free(&bench.got);
    lb_error_free(&bench.err);
    return lb_fetch(bench_url(path), &bench.options, &bench.got, &bench.err);
}

void bench_refused(const char *path, lb_status status, const char *words)
{
    lb_status found = bench_fetch(path);
    const char *said = lb_error_text(&bench.err);
    cr_assert_eq(found, status, "%s: status %d expected, found %d: %s", path, status, found, said);
    cr_assert_eq(bench.err.status, status);
    cr_assert(strstr(said, words), "%s: \"%s\" expected in: %s", path, words, said);
    cr_assert_null(bench.got.path);
}

void bench_fetched(const char *path, const char *list, bool unchanged)
{
    lb_status found = bench_fetch(path);
    cr_assert_eq(found, LB_OK, "%s: %s", path, lb_error_text(&bench.err));
    cr_assert(bench_same(bench.got.path, bench_list(list)), "%s: other bytes than %s", path, list);
    cr_assert_eq(bench.got.unchanged, unchanged, "%s: unchanged %d", path, bench.got.unchanged);
    cr_assert_null(bench_download(".part"));
    cr_assert_null(bench_download(".part.about"));
    cr_assert_null(bench_download(".new"));
}

static char *read_all(const char *path, size_t *length)
{
    *length = 0;
    FILE *file = fopen(path, "rb");
    if (!file)
        return NULL;
    char *text = malloc(1 << 20);
    *length = fread(text, 1, (1 << 20) - 1, file);
    text[*length] = '\0';
    fclose(file);
    return text;
}

bool bench_same(const char *path, const char *other)
{
    size_t length, other_length;
    char *a = read_all(path, &length), *b = read_all(other, &other_length);
    bool same = a && b && length == other_length && memcmp(a, b, length) == 0;
    free(a);
    free(b);
    return same;
}

const char *bench_list(const char *name)
{
    static char path[128];
    snprintf(path, sizeof path, "%s/%s", bench.folder, name);
    return path;
}

const char *bench_beside(const char *ending)
{
    static char path[512];
    snprintf(path, sizeof path, "%s%s", bench.got.path, ending);
    return path;
}

const char *bench_download(const char *ending)
{
    static char path[512];
    bool found = false;
    DIR *folder = opendir(bench.downloads);
    struct dirent *entry;
    while (folder && !found && (entry = readdir(folder))) {
        size_t length = strlen(entry->d_name), tail = strlen(ending);
        found =
            entry->d_name[0] != '.' && length >= tail && strcmp(entry->d_name + length - tail, ending) == 0;
        snprintf(path, sizeof path, "%s/%s", bench.downloads, entry->d_name);
    }
    if (folder)
        closedir(folder);
    return found ? path : NULL;
}

long bench_size(const char *path)
{
    struct stat info;
    return path && stat(path, &info) == 0 ? (long)info.st_size : -1;
}

const char *bench_log(int at)
{
    static char line[2048];
    FILE *log = fopen(bench_list("log"), "r");
    bool found = log;
    for (int i = 0; found && i <= at; i++)
        found = fgets(line, sizeof line, log);
    if (log)
        fclose(log);
    return found ? line : "";
}

int bench_requests(void)
{
    int count = 0;
    while (*bench_log(count))
        count++;
    return count;
}

void bench_logged(int at, const char *first, const char *second)
{
    const char *line = bench_log(at);
    cr_assert(strstr(line, first), "request %d: \"%s\" expected in: %s", at, first, line);
    cr_assert(strstr(line, second), "request %d: \"%s\" expected in: %s", at, second, line);
}
