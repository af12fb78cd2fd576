/* The verb table and what every verb shares: which index, what day, how to print, how to end. */
#include "base/date.h"
#include "base/text.h"
#include "cli/cli.h"

#include <errno.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static const struct cli_verb verbs[] = {
    {"import", "PATH... [options]", "Takes in catalogues and service maps: files, or folders with all .csv below them.",
     OPENS_WRITE, 1, -1, import_options, run_import},
    {"sources", "", "Lists what is in the index: from where, since when, how many rows.", OPENS_READ, 0, 0, NULL,
     run_sources},
    {"sources drop", "NAME", "Takes one source out of the index.", OPENS_WRITE, 1, 1, NULL, run_sources_drop},
    {"part", "BRAND NUMBER", "What the catalogues say of one part number.", OPENS_READ, 2, 2, NULL, run_part},
    {"vehicle add", "NAME --make M --model M [options]", "Adds a vehicle.", OPENS_WRITE, 1, 1, vehicle_options,
     run_vehicle_add},
    {"vehicle list", "", "Lists the vehicles.", OPENS_READ, 0, 0, NULL, run_vehicle_list},
    {"vehicle show", "NAME", "Shows what is known of a vehicle.", OPENS_READ, 1, 1, NULL, run_vehicle_show},
    {"vehicle set", "NAME KEY=VALUE...", "Corrects or adds facts; an empty value forgets one.", OPENS_WRITE, 2, -1, NULL,
     run_vehicle_set},
    {"kit build", "NAME --vehicle V (--job J | --replace COMPONENT)...", "Works out what a job needs, and keeps it by name.",
     OPENS_WRITE, 1, 1, build_options, run_kit_build},
    {"kit list", "", "Lists the kits.", OPENS_READ, 0, 0, NULL, run_kit_list},
    {"kit show", "NAME", "Shows a kit as the index has it now.", OPENS_READ, 1, 1, NULL, run_kit_show},
    {"kit why", "NAME LINE", "Why a line is in the kit, row by row, and how its part was chosen.", OPENS_READ, 2, 2, NULL,
     run_kit_why},
    {"kit check", "NAME", "Says whether a kit is complete; exit status 1 when it has gaps.", OPENS_READ, 1, 1, NULL,
     run_kit_check},
    {"kit set", "NAME LINE buy|have|reuse|drop [BRAND NUMBER]", "Decides on a line, and on its part.", OPENS_WRITE, 3, 5,
     NULL, run_kit_set},
    {"verify", "", "Checks that the index is sound.", OPENS_READ, 0, 0, NULL, run_verify},
};

enum { VERB_COUNT = sizeof verbs / sizeof *verbs, VERB_ROOM = 256 };

const char *cli_plain(const struct cli *cli, int n)
{
    for (int i = 0; i < cli->word_count; i++)
        if (!cli->words[i].option && n-- == 0)
            return cli->words[i].text;
    return NULL;
}

const char *cli_value(const struct cli *cli, const char *option)
{
    for (int i = cli->word_count; i-- > 0;)
        if (cli->words[i].option && strcmp(cli->words[i].option->name, option) == 0)
            return cli->words[i].text ? cli->words[i].text : "";
    return NULL;
}

bool cli_number(struct cli *cli, const char *text, const char *what, long *number)
{
    char *end;
    errno = 0;
    *number = strtol(text, &end, 10);
    if (*text >= '0' && *text <= '9' && !*end && !errno)
        return true;
    lb_fail(&cli->err, LB_USAGE, "%s must be a whole number, not \"%.100s\".", what, text);
    return false;
}

void cli_print_json(struct cli *cli, json_t *object)
{
    char *text = object ? json_dumps(object, JSON_INDENT(2) | JSON_REAL_PRECISION(15)) : NULL;
    if (text) {
        lb_buf_puts(&cli->out, text);
        lb_buf_putc(&cli->out, '\n');
    } else {
        lb_fail_nomem(&cli->err);
    }
    free(text);
    json_decref(object);
}

/* To standard error. What a catalogue or the command line wrote must not steer a terminal. */
static void print_error(const char *text)
{
    struct lb_buf inert = {0};
    lb_style_put(&inert, &(struct lb_style){0}, LB_PLAIN, text);
    fputs(inert.failed ? "lastbolt: out of memory\n" : lb_buf_text(&inert), stderr);
    lb_buf_free(&inert);
}

void cli_remark(const struct cli *cli, const char *format, ...)
{
    va_list args;
    if (cli->quiet)
        return;
    char *words = NULL;
    va_start(args, format);
    if (vasprintf(&words, format, args) < 0)
        words = NULL;
    va_end(args);
    print_error(words ? words : "lastbolt: out of memory\n");
    free(words);
}

/* How many words of argv name a verb (1 or 2); 0: none does. */
static int match_verb(int argc, char **argv, const struct cli_verb **verb)
{
    for (int words = 2; words >= 1; words--) {
        char name[64];
        if (argc < words)
            continue;
        int length = words == 2 ? snprintf(name, sizeof name, "%s %s", argv[0], argv[1])
                                : snprintf(name, sizeof name, "%s", argv[0]);
        for (int i = 0; i < VERB_COUNT && length < (int)sizeof name; i++) {
            if (strcmp(verbs[i].name, name) == 0) {
                *verb = &verbs[i];
                return words;
            }
        }
    }
    return 0;
}

static int refuse_verb(int argc, char **argv)
{
    const char *names[VERB_COUNT];
    struct lb_buf near = {0}, wanted = {0};
    lb_buf_printf(&wanted, "%.100s", argv[0]);
    for (int i = 0; i < VERB_COUNT; i++) {
        names[i] = verbs[i].name;
        /* "vehicle" alone, or with a second word that is none of its own */
        size_t length = strlen(argv[0]);
        if (argc > 1 && strncmp(verbs[i].name, argv[0], length) == 0 && verbs[i].name[length] == ' ' && wanted.length == length)
            lb_buf_printf(&wanted, " %.100s", argv[1]);
    }
    bool found = lb_text_nearest(&near, lb_buf_text(&wanted), names, VERB_COUNT);
    struct lb_buf words = {0};
    lb_buf_printf(&words, "lastbolt: there is no verb \"%s\".%s%s%s See: lastbolt --help\n", lb_buf_text(&wanted),
                  found ? " Did you mean " : "", lb_buf_text(&near), found ? "?" : "");
    print_error(lb_buf_text(&words));
    lb_buf_free(&words);
    lb_buf_free(&near);
    lb_buf_free(&wanted);
    return LB_USAGE;
}

static int print_help(void)
{
    struct lb_buf out = {0};
    lb_buf_puts(&out, "lastbolt: everything on the bench before the first bolt is undone.\n\n"
                      "  lastbolt [--db FILE] [--json] [--quiet] VERB ...\n\n");
    for (int i = 0; i < VERB_COUNT; i++)
        lb_buf_printf(&out, "  %-14s %s\n", verbs[i].name, verbs[i].help);
    lb_buf_puts(&out, "\nlastbolt VERB --help says what a verb takes.\n"
                      "Exit status: 0 done, 1 the kit has gaps, 2 the command line is wrong, 3 the data is wrong,\n"
                      "4 the system failed.\n");
    fputs(lb_buf_text(&out), stdout);
    lb_buf_free(&out);
    return 0;
}

/* SOURCE_DATE_EPOCH fixes the day, so that the same input gives the same output; otherwise the clock, in UTC. */
static int32_t today(void)
{
    const char *fixed = getenv("SOURCE_DATE_EPOCH");
    long long seconds = fixed && *fixed ? atoll(fixed) : (long long)time(NULL);
    return (int32_t)(seconds / 86400);
}

static struct lb_style style(void)
{
    struct winsize size = {0};
    struct lb_style style = {.width = 100};
    const char *columns = getenv("COLUMNS"), *no_colour = getenv("NO_COLOR");
    bool terminal = isatty(STDOUT_FILENO);
    if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        style.width = size.ws_col;
    else if (columns && atoi(columns) > 0)
        style.width = atoi(columns);
    if (style.width < 40)
        style.width = 40;
    style.colour = terminal && !(no_colour && *no_colour);
    return style;
}

/* Makes the folders of a path that we chose ourselves; a failure shows when the index is opened. */
static void make_folders(char *path)
{
    for (char *p = path + 1; *p; p++) {
        if (*p != '/')
            continue;
        *p = '\0';
        mkdir(path, 0777);
        *p = '/';
    }
}

/* --db, else $LASTBOLT_DB, else the data folder of the XDG Base Directory Specification. */
static char *default_index(void)
{
    const char *named = getenv("LASTBOLT_DB"), *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
    char *path = NULL;
    if (named && *named)
        return strdup(named);
    int length = data && *data == '/' ? asprintf(&path, "%s/lastbolt/lastbolt.db", data)
                                      : asprintf(&path, "%s/.local/share/lastbolt/lastbolt.db", home ? home : "");
    if (length < 0)
        return NULL;
    make_folders(path);
    return path;
}

static int report(const struct lb_error *err)
{
    struct lb_buf words = {0};
    if (err->file && !strstr(lb_error_text(err), err->file))
        lb_buf_printf(&words, "lastbolt: %s:%ld: %s\n", err->file, err->row, lb_error_text(err));
    else
        lb_buf_printf(&words, "lastbolt: %s\n", lb_error_text(err));
    print_error(words.failed ? "lastbolt: out of memory\n" : lb_buf_text(&words));
    lb_buf_free(&words);
    return err->status == LB_NOMEM ? LB_SYSTEM : (int)err->status;
}

static int print_out(const struct cli *cli)
{
    if (cli->out.failed) {
        fprintf(stderr, "lastbolt: out of memory\n");
        return LB_SYSTEM;
    }
    fwrite(lb_buf_text(&cli->out), 1, cli->out.length, stdout);
    if (fflush(stdout) == 0 && !ferror(stdout))
        return 0;
    fprintf(stderr, "lastbolt: the output cannot be written: %s.\n", strerror(errno));
    return LB_SYSTEM;
}

static int run(const struct cli_verb *verb, struct cli *cli)
{
    char *index = NULL;
    int exit_status = 0;
    if (cli_value(cli, "help")) {
        cli_usage(verb, &cli->out);
        return print_out(cli);
    }
    cli->json = cli_value(cli, "json") != NULL;
    cli->quiet = cli_value(cli, "quiet") != NULL;
    cli->index = cli_value(cli, "db");
    if (!cli->index)
        cli->index = index = default_index();
    if (!cli->index)
        lb_fail_nomem(&cli->err);
    else if (!*cli->index)
        lb_fail(&cli->err, LB_USAGE, "--db needs the name of a file.");
    lb_status status = cli->err.status;
    if (!status && verb->opens != OPENS_NOTHING)
        status = lb_store_open(&cli->store, cli->index, verb->opens == OPENS_WRITE ? LB_STORE_WRITE : LB_STORE_READ,
                               &cli->err);
    if (!status)
        exit_status = verb->run(cli);
    lb_store_close(cli->store);
    int printed = print_out(cli);
    if (cli->err.status)
        exit_status = report(&cli->err);
    free(index);
    return printed ? printed : exit_status;
}

int main(int argc, char **argv)
{
    const struct cli_verb *verb = NULL;
    char *front[VERB_ROOM]; /* options that stood before the verb, then all the rest */
    struct cli cli = {.today = today(), .style = style()};
    int at = 1, ahead = 0;
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN); /* a file that may not grow is a full disk to us */
    for (; at < argc && strncmp(argv[at], "--", 2) == 0 && ahead + 2 < VERB_ROOM; at++) {
        front[ahead++] = argv[at];
        if (strcmp(argv[at], "--db") == 0 && at + 1 < argc)
            front[ahead++] = argv[++at];
        else if (strcmp(argv[at], "--version") == 0)
            return puts("lastbolt " LB_VERSION) < 0;
        else if (strcmp(argv[at], "--help") == 0)
            return print_help();
    }
    if (at >= argc) {
        fprintf(stderr, "lastbolt: say what to do. See: lastbolt --help\n");
        return LB_USAGE;
    }
    int named = match_verb(argc - at, argv + at, &verb);
    if (!named)
        return strcmp(argv[at], "help") == 0 ? print_help() : refuse_verb(argc - at, argv + at);
    char **rest = calloc((size_t)argc + 1, sizeof *rest);
    struct cli_word *words = calloc((size_t)argc + 1, sizeof *words);
    int count = 0, exit_status;
    if (rest && words) {
        memcpy(rest, front, (size_t)ahead * sizeof *rest);
        memcpy(rest + ahead, argv + at + named, (size_t)(argc - at - named) * sizeof *rest);
        count = ahead + argc - at - named;
    }
    cli.words = words;
    lb_status status = rest && words ? cli_split(verb, count, rest, words, &cli.word_count, &cli.err) : lb_fail_nomem(&cli.err);
    exit_status = status ? report(&cli.err) : run(verb, &cli);
    free(rest);
    free(words);
    lb_buf_free(&cli.out);
    lb_error_free(&cli.err);
    return exit_status;
}
