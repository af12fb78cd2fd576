/* The command line against the tables of verbs and options: argv in, one verb and its words out. The tables
 * are also what usage and help are made from. As getopt_long reads it: `--option value` and `--option=value`,
 * before, between or after the plain words; `--` ends the options. Not abbreviated, and without one-letter
 * options.
 *
 *     struct cli_line line = {0};
 *     status = cli_parse(&verbs, argc, argv, &line, &err);   // LB_USAGE: words say what was meant, perhaps
 *     cli_line_free(&line);
 */
#ifndef LB_CLI_OPTIONS_H
#define LB_CLI_OPTIONS_H

#include "base/buf.h"

#include <stdbool.h>
#include <stddef.h>

/* An option; `value` NULL: a flag. A name takes a value in every table that has it, or in none. */
struct cli_option {
    const char *name, *value, *help;
};

/* One option or word as it stood on the command line. */
struct cli_word {
    const struct cli_option *option; /* NULL: a plain word */
    const char *text;                /* the word, or the option's value; NULL for a flag */
};

struct cli_verb;

struct cli_verbs {
    const struct cli_verb *at;
    size_t count;
};

struct cli_line {
    const struct cli_verb *verb; /* NULL: --help or --version without one */
    const char *group;           /* --help for all verbs that begin with this word; NULL: not that */
    bool help, version;
    struct cli_word *words; /* without those that name the verb */
    int word_count;
};

LB_CHECK lb_status cli_parse(const struct cli_verbs *verbs, int argc, char **argv, struct cli_line *line,
                             struct lb_error *err);
void cli_line_free(struct cli_line *line);

/* Appends usage, what it does, and the options of one verb. */
void cli_usage(const struct cli_verb *verb, struct lb_buf *out);
/* Appends the list of all verbs, or of one group. */
void cli_help(const struct cli_verbs *verbs, const char *group, struct lb_buf *out);

/* options_words.c: the words of a refusal. */
lb_status cli_refuse_verb(const struct cli_verbs *verbs, const char *first, const char *second,
                          struct lb_error *err);
/* `verb` NULL: none was named. */
lb_status cli_refuse_option(const struct cli_verb *verb, const char *word, struct lb_error *err);
extern const struct cli_option cli_common_options[]; /* what every verb takes; ends with a NULL name */

#endif
