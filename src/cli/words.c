/* What a verb asks of its command line, and how it says things beside its result. */
#include "cli/cli.h"
#include "report/json.h"
#include "report/page.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool cli_is(const struct cli_word *word, const char *option)
{
    return word->option && strcmp(word->option->name, option) == 0;
}

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
        if (cli_is(&cli->words[i], option))
            return cli->words[i].text ? cli->words[i].text : "";
    return NULL;
}

static bool read_whole(const char *text, long *number)
{
    char *end;
    errno = 0;
    *number = strtol(text, &end, 10);
    return *text >= '0' && *text <= '9' && !*end && !errno;
}

bool cli_number(struct cli *cli, const char *text, const char *what, long *number)
{
    if (read_whole(text, number))
        return true;
    lb_fail(&cli->err, LB_USAGE, "%s must be a whole number, not \"%.100s\".", what, text);
    return false;
}

bool cli_number_between(struct cli *cli, const char *option, long least, long most, long *number)
{
    const char *text = cli_value(cli, option);
    if (!text || (read_whole(text, number) && *number >= least && *number <= most))
        return true;
    lb_fail(&cli->err, LB_USAGE, "--%s must be a whole number from %ld to %ld, not \"%.100s\".", option,
            least, most, text);
    return false;
}

lb_status cli_blame_option(struct cli *cli, const char *option)
{
    lb_status status = cli->err.status;
    size_t length = strlen(option);
    char *words = status == LB_DATA ? strdup(lb_error_text(&cli->err)) : NULL;
    bool named = words && strncmp(words, option, length) == 0 && strchr(": ", words[length]);
    if (words && named) /* "quantity must be above 0" */
        status = lb_fail(&cli->err, LB_USAGE, "--%s", words);
    else if (words)
        status = lb_fail(&cli->err, LB_USAGE, "--%s: %s", option, words);
    else if (status == LB_DATA)
        status = lb_fail_nomem(&cli->err);
    free(words);
    return status;
}

const char *cli_unit(const char *unit)
{
    return strcmp(unit, "each") == 0 ? "pieces" : unit;
}

void cli_put_part(struct lb_buf *out, int64_t quantity, const char *unit, const char *brand,
                  const char *number)
{
    lb_page_amount(out, quantity, unit);
    lb_buf_printf(out, " %s %s %s", strcmp(unit, "each") == 0 ? "×" : "of", brand, number);
}

void cli_print_json(struct cli *cli, json_t *object)
{
    if (object)
        lb_report_json_dump(&cli->out, object);
    else
        lb_fail_nomem(&cli->err);
    json_decref(object);
}

void cli_say(const char *words)
{
    const struct lb_style plain = {0};
    struct lb_buf line = {0};
    while (*words) {
        size_t length = strcspn(words, "\n");
        char *one = strndup(words, length);
        lb_buf_clear(&line);
        if (one)
            lb_style_put(&line, &plain, LB_PLAIN, one); /* what a catalogue wrote must not steer a terminal */
        fprintf(stderr, "lastbolt: %s\n", lb_buf_text(&line));
        free(one);
        words += length + (words[length] == '\n');
    }
    lb_buf_free(&line);
}

void cli_remark(const struct cli *cli, const char *format, ...)
{
    va_list args;
    char *words = NULL;
    if (cli->quiet)
        return;
    va_start(args, format);
    if (vasprintf(&words, format, args) >= 0)
        cli_say(words);
    va_end(args);
    free(words);
}
