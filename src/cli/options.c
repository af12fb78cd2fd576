#include "cli/options.h"
#include "base/ascii.h"
#include "base/text.h"
#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

static const struct cli_option *find(const struct cli_option *table, const char *name, size_t length)
{
    for (; table && table->name; table++)
        if (strlen(table->name) == length && strncmp(table->name, name, length) == 0)
            return table;
    return NULL;
}

static size_t name_length(const char *name)
{
    return strcspn(name, "=");
}

/* `-` alone is a word (standard input), and so is a negative number. */
static bool is_option(const char *word)
{
    return word[0] == '-' && word[1] && !lb_ascii_digit(word[1]);
}

/* Does this word take the next one as its value? Asked before the verb is known, hence of all tables. */
static bool takes_next(const struct cli_verbs *verbs, const char *word)
{
    const char *name = word + 2;
    size_t length = name_length(name);
    if (strncmp(word, "--", 2) != 0 || name[length] == '=')
        return false;
    const struct cli_option *option = find(cli_common_options, name, length);
    for (size_t i = 0; !option && i < verbs->count; i++)
        option = find(verbs->at[i].options, name, length);
    return option && option->value;
}

/* Where the first two plain words stand; 0: there is none. */
static void find_plain(const struct cli_verbs *verbs, int argc, char **argv, int plain[2])
{
    bool options = true;
    int count = 0;
    for (int i = 1; i < argc && count < 2; i++) {
        if (options && strcmp(argv[i], "--") == 0)
            options = false;
        else if (options && is_option(argv[i]))
            i += takes_next(verbs, argv[i]);
        else
            plain[count++] = i;
    }
}

static bool names(const struct cli_verb *verb, const char *first, const char *second)
{
    size_t length = strlen(first);
    if (strncmp(verb->name, first, length) != 0)
        return false;
    return second ? verb->name[length] == ' ' && strcmp(verb->name + length + 1, second) == 0
                  : !verb->name[length];
}

/* Two words before one, so that `sources drop` is not `sources` of something. Leaves in `plain` those that it
 * used. */
static const struct cli_verb *find_verb(const struct cli_verbs *verbs, char **argv, int plain[2])
{
    for (size_t i = 0; plain[1] && i < verbs->count; i++)
        if (names(&verbs->at[i], argv[plain[0]], argv[plain[1]]))
            return &verbs->at[i];
    plain[1] = 0;
    for (size_t i = 0; plain[0] && i < verbs->count; i++)
        if (names(&verbs->at[i], argv[plain[0]], NULL))
            return &verbs->at[i];
    return NULL;
}

/* One word that begins with a dash; takes the next word too when a value is wanted and not joined with =. */
static lb_status take_option(const struct cli_verb *verb, int argc, char **argv, int *at,
                             struct cli_word *out, struct lb_error *err)
{
    const char *word = argv[*at], *name = word + 2;
    size_t length = strncmp(word, "--", 2) == 0 ? name_length(name) : 0;
    out->option = length && verb ? find(verb->options, name, length) : NULL;
    if (!out->option && length)
        out->option = find(cli_common_options, name, length);
    if (!out->option)
        return cli_refuse_option(verb, word, err);
    out->text = name[length] == '=' ? name + length + 1 : NULL;
    if (!out->option->value && out->text)
        return lb_fail(err, LB_USAGE, "--%s takes no value.", out->option->name);
    if (out->option->value && !out->text) {
        if (*at + 1 >= argc)
            return lb_fail(err, LB_USAGE, "--%s needs a value: --%s %s", out->option->name, out->option->name,
                           out->option->value);
        out->text = argv[++*at];
    }
    return LB_OK;
}

/* Names and facts must be text; what the tables call FILE or PATH is whatever the file system has. */
static lb_status judge_text(const struct cli_verb *verb, const struct cli_word *word, struct lb_error *err)
{
    const char *what = word->option ? word->option->value : verb ? verb->words : "";
    if (!word->text || strncmp(what, "FILE", 4) == 0 || strncmp(what, "PATH", 4) == 0 ||
        lb_text_is_utf8(word->text, strlen(word->text), NULL))
        return LB_OK;
    return lb_fail(err, LB_USAGE, "word \"%.100s\" is not UTF-8 text.", word->text);
}

static lb_status split(int argc, char **argv, const int plain[2], struct cli_line *line, struct lb_error *err)
{
    bool options = true;
    for (int i = 1; i < argc; i++) {
        struct cli_word word = {NULL, argv[i]};
        lb_status status = LB_OK;
        if (i == plain[0] || i == plain[1])
            continue;
        if (options && strcmp(argv[i], "--") == 0) {
            options = false;
            continue;
        }
        if (options && is_option(argv[i]))
            status = take_option(line->verb, argc, argv, &i, &word, err);
        if (!status)
            status = judge_text(line->verb, &word, err);
        if (status)
            return status;
        line->words[line->word_count++] = word;
        line->help |= word.option && strcmp(word.option->name, "help") == 0;
        line->version |= word.option && strcmp(word.option->name, "version") == 0;
    }
    return LB_OK;
}

static lb_status judge_count(const struct cli_line *line, struct lb_error *err)
{
    const struct cli_verb *verb = line->verb;
    int plain = 0;
    for (int i = 0; i < line->word_count; i++)
        plain += !line->words[i].option;
    if (plain >= verb->least && (verb->most < 0 || plain <= verb->most))
        return LB_OK;
    return lb_fail(err, LB_USAGE, "%s. Use it so: lastbolt %s%s%s",
                   plain < verb->least ? "something is missing" : "there is a word too many", verb->name,
                   *verb->words ? " " : "", verb->words);
}

static bool begins_a_verb(const struct cli_verbs *verbs, const char *word)
{
    size_t length = strlen(word);
    for (size_t i = 0; i < verbs->count; i++)
        if (strncmp(verbs->at[i].name, word, length) == 0 && verbs->at[i].name[length] == ' ')
            return true;
    return false;
}

/* Words that name no verb may still ask for help: `help`, `help GROUP`, `GROUP --help`. */
static lb_status read_without_verb(const struct cli_verbs *verbs, int argc, char **argv, const int plain[2],
                                   struct cli_line *line, struct lb_error *err)
{
    const char *first = plain[0] ? argv[plain[0]] : NULL, *second = plain[1] ? argv[plain[1]] : NULL;
    bool asks = first && strcmp(first, "help") == 0;
    line->group = asks ? second : first;
    for (int i = 1; i < argc; i++)
        asks |= strcmp(argv[i], "--help") == 0;
    if (line->group && !(asks && begins_a_verb(verbs, line->group)))
        return cli_refuse_verb(verbs, line->group, line->group == first ? second : NULL, err);
    lb_status status = split(argc, argv, plain, line, err);
    line->help |= asks;
    if (status || line->help || line->version)
        return status;
    return lb_fail(err, LB_USAGE, "say what to do. See: lastbolt --help");
}

lb_status cli_parse(const struct cli_verbs *verbs, int argc, char **argv, struct cli_line *line,
                    struct lb_error *err)
{
    int plain[2] = {0}, used[2];
    find_plain(verbs, argc, argv, plain);
    memcpy(used, plain, sizeof used);
    line->verb = find_verb(verbs, argv, used);
    line->words = calloc((size_t)argc + 1, sizeof *line->words);
    if (!line->words)
        return lb_fail_nomem(err);
    if (!line->verb)
        return read_without_verb(verbs, argc, argv, plain, line, err);
    lb_status status = split(argc, argv, used, line, err);
    return status || line->help || line->version ? status : judge_count(line, err);
}

void cli_line_free(struct cli_line *line)
{
    free(line->words);
    memset(line, 0, sizeof *line);
}
