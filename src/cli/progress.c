#include "cli/progress.h"

#include "base/text.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static volatile sig_atomic_t stopped;

static void stop(int signal_number)
{
    (void)signal_number;
    stopped = 1;
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

void cli_progress_begin(struct cli_progress *progress, const struct cli *cli)
{
    struct sigaction action = {.sa_handler = stop, .sa_flags = (int)SA_RESETHAND};
    *progress = (struct cli_progress){.shown = !cli->quiet && isatty(STDERR_FILENO)};
    struct sigaction before;
    if (sigaction(SIGINT, NULL, &before) == 0 &&
        before.sa_handler != SIG_IGN) /* nohup and the like stay so */
        sigaction(SIGINT, &action, NULL);
}

static int megabytes(uint64_t bytes)
{
    return (int)((bytes + 500000) / 1000000);
}

static void append_time(struct lb_buf *out, double left)
{
    long s = (long)(left + 0.5);
    if (s >= 60)
        lb_buf_printf(out, ", %ld min %ld s left", s / 60, s % 60);
    else
        lb_buf_printf(out, ", %ld s left", s);
}

/* `prices.csv: reading 45 %, 225 of 500 MB, 2250000 rows, 450000 a second, 6 s left` */
static void draw(struct cli_progress *progress, const struct lb_import_progress *now, double at)
{
    struct lb_buf line = {0};
    double took = at - progress->began;
    lb_buf_printf(&line, "%s: %s", now->file, now->doing);
    if (now->size)
        lb_buf_printf(&line, " %d %%, %d of %d MB", (int)(100.0 * (double)now->done / (double)now->size),
                      megabytes(now->done), megabytes(now->size));
    else if (now->done)
        lb_buf_printf(&line, " %d MB", megabytes(now->done));
    if (now->rows)
        lb_buf_printf(&line, ", %ld rows", now->rows);
    if (now->rows && took > 0.5)
        lb_buf_printf(&line, ", %.0f a second", (double)now->rows / took);
    if (now->size && now->done && now->done < now->size && took > 1)
        append_time(&line, took * (double)(now->size - now->done) / (double)now->done);
    if (!line.failed)
        fprintf(stderr, "\r\033[K%.*s", (int)lb_text_fit(line.text, 79), line.text);
    progress->line = true;
    lb_buf_free(&line);
}

bool cli_progress_tell(void *context, const struct lb_import_progress *now)
{
    struct cli_progress *progress = context;
    double at = seconds();
    if (strncmp(progress->file, now->file, sizeof progress->file - 1) != 0) {
        snprintf(progress->file, sizeof progress->file, "%s", now->file);
        progress->began = progress->drawn = at; /* a small file is done before it is worth a line */
    }
    if (progress->shown && at - progress->drawn >= 0.2) {
        draw(progress, now, at);
        progress->drawn = at;
    }
    return !stopped;
}

void cli_progress_end(struct cli_progress *progress)
{
    if (progress->line)
        fputs("\r\033[K", stderr);
    progress->line = false;
}
