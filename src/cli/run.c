/* One run: a command line, one verb, its output, an exit status. */
#include "catalog/lookup.h"
#include "cli/cli.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int report(const struct lb_error *err)
{
    struct lb_buf words = {0};
    if (err->file && !strstr(lb_error_text(err), err->file))
        lb_buf_printf(&words, "%s:%ld: ", err->file, err->row);
    lb_buf_puts(&words, lb_error_text(err));
    cli_say(words.failed ? "out of memory." : lb_buf_text(&words));
    lb_buf_free(&words);
    if (err->status == LB_STOPPED)
        return 130; /* as shells say it of Ctrl-C */
    return err->status == LB_NOMEM ? LB_SYSTEM : (int)err->status;
}

static bool write_out(const struct lb_buf *out)
{
    errno = 0;
    return fwrite(lb_buf_text(out), 1, out->length, stdout) == out->length && !fflush(stdout) &&
           !ferror(stdout);
}

/* A result that did not reach its reader is no result. One who left (`| head -1`) has what he wanted and
 * needs no words. */
static int print_out(const struct cli *cli, bool *left)
{
    *left = false;
    if (cli->out.failed)
        cli_say("out of memory.");
    else if (write_out(&cli->out))
        return 0;
    else if (errno == EPIPE)
        *left = true;
    else
        fprintf(stderr, "lastbolt: the output cannot be written: %s.\n", strerror(errno));
    return LB_SYSTEM;
}

bool cli_hand_out(struct cli *cli)
{
    if (cli->out.failed || !write_out(&cli->out))
        return false;
    lb_buf_clear(&cli->out);
    return true;
}

static bool is_to_write(const struct cli *cli, const struct cli_verb *verb)
{
    if (verb->opens != OPENS_EITHER)
        return verb->opens == OPENS_WRITE;
    for (const struct cli_option *option = verb->options; option && option->name; option++)
        if (cli_value(cli, option->name))
            return true;
    return cli_plain(cli, verb->least) != NULL;
}

static lb_status open_index(struct cli *cli, const struct cli_verb *verb, char **index)
{
    lb_status status = cli_find_index(cli_value(cli, "db"), index, &cli->err);
    cli->index = *index;
    bool write = is_to_write(cli, verb);
    if (!status && write)
        status = cli_make_folders(*index, "the index", &cli->err);
    if (!status && verb->opens != OPENS_NOTHING)
        status = lb_store_open(&cli->store, cli->index, write ? LB_STORE_WRITE : LB_STORE_READ, &cli->err);
    if (!status && verb->opens != OPENS_NOTHING)
        status = lb_lookup_ready(cli->store, &cli->err);
    return status;
}

static int run_verb(struct cli *cli, const struct cli_verb *verb)
{
    char *index = NULL;
    int exit_status = 0;
    cli->json = cli_value(cli, "json") != NULL;
    cli->quiet = cli_value(cli, "quiet") != NULL;
    lb_status status = cli_find_time(&cli->now, &cli->err);
    cli->today = (int32_t)(cli->now / 86400);
    cli->style = cli_find_style();
    if (!status && verb->judge)
        status = verb->judge(cli);
    if (!status)
        status = open_index(cli, verb, &index);
    if (!status)
        exit_status = verb->run(cli);
    lb_store_close(cli->store);
    free(index);
    return exit_status;
}

/* 0 also when cli->err was filled: its status then counts. */
static int run_line(struct cli *cli, const struct cli_verbs *verbs, const struct cli_line *line)
{
    cli->words = line->words;
    cli->word_count = line->word_count;
    if (line->version)
        lb_buf_puts(&cli->out, "lastbolt " LB_VERSION "\n");
    else if (!line->help)
        return run_verb(cli, line->verb);
    else if (line->verb)
        cli_usage(line->verb, &cli->out);
    else
        cli_help(verbs, line->group, &cli->out);
    return 0;
}

int cli_main(const struct cli_verbs *verbs, int argc, char **argv)
{
    struct cli_line line = {0};
    struct cli cli = {0};
    int exit_status = 0;
    signal(SIGPIPE, SIG_IGN); /* a reader that left is a write error to us: what is begun is ended */
    signal(SIGXFSZ, SIG_IGN); /* a file that may not grow is a full disk to us */
    if (!cli_parse(verbs, argc, argv, &line, &cli.err))
        exit_status = run_line(&cli, verbs, &line);
    bool left;
    int printed = print_out(&cli, &left);
    if (cli.err.status)
        exit_status = report(&cli.err);
    cli_line_free(&line);
    lb_buf_free(&cli.out);
    lb_error_free(&cli.err);
    if (left) { /* end as filters do that nobody reads any more: by the signal itself */
        signal(SIGPIPE, SIG_DFL);
        raise(SIGPIPE);
    }
    return printed ? printed : exit_status;
}
