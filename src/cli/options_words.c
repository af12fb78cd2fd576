/* What the tables of verbs and options say to people: help, usage, and what was perhaps meant. */
#include "base/text.h"
#include "cli/cli.h"

#include <stdio.h>
#include <string.h>

const struct cli_option cli_common_options[] = {
    {"db", "FILE", "the index to use, instead of $LASTBOLT_DB or the one in your data folder"},
    {"json", NULL, "one JSON object instead of text"},
    {"quiet", NULL, "no remarks on standard error"},
    {"help", NULL, "what a verb does and takes"},
    {"version", NULL, "which lastbolt this is"},
    {0},
};

enum { NAMES = 64, SHOWN = 100 }; /* SHOWN: how much of a word is repeated in a refusal */

/* What options are called, dashes included. */
struct option_names {
    char texts[NAMES][32];
    const char *at[NAMES];
    size_t count;
};

static void list_options(const struct cli_option *table, struct option_names *names)
{
    for (; table && table->name && names->count < NAMES; table++) {
        names->at[names->count] = names->texts[names->count];
        snprintf(names->texts[names->count++], sizeof *names->texts, "--%s", table->name);
    }
}

lb_status cli_refuse_option(const struct cli_verb *verb, const char *word, struct lb_error *err)
{
    struct option_names names = {0};
    struct lb_buf near = {0}, wanted = {0};
    size_t length = strcspn(word, "=");
    lb_buf_append(&wanted, word, length < SHOWN ? length : SHOWN);
    list_options(verb ? verb->options : NULL, &names);
    list_options(cli_common_options, &names);
    bool found = lb_text_nearest(&near, lb_buf_text(&wanted), names.at, names.count);
    lb_fail(err, LB_USAGE, "%s%s %s.%s%s%s See: lastbolt %s%s--help",
            verb ? verb->name : "there is no option", verb ? " does not take" : "", lb_buf_text(&wanted),
            found ? " Did you mean " : "", lb_buf_text(&near), found ? "?" : "", verb ? verb->name : "",
            verb ? " " : "");
    lb_buf_free(&near);
    lb_buf_free(&wanted);
    return LB_USAGE;
}

/* The second word of a verb that begins with `group`, or NULL. */
static const char *member(const struct cli_verb *verb, const char *group)
{
    size_t length = strlen(group);
    return strncmp(verb->name, group, length) == 0 && verb->name[length] == ' ' ? verb->name + length + 1
                                                                                : NULL;
}

static size_t list_members(const struct cli_verbs *verbs, const char *group, const char **names)
{
    size_t count = 0;
    for (size_t i = 0; i < verbs->count && count < NAMES; i++)
        if (member(&verbs->at[i], group))
            names[count++] = member(&verbs->at[i], group);
    return count;
}

/* "vehicle" alone, or with a second word that is none of its own. */
static lb_status refuse_member(const char *group, const char *second, const char **names, size_t count,
                               struct lb_error *err)
{
    struct lb_buf near = {0}, all = {0};
    for (size_t i = 0; i < count; i++)
        lb_buf_printf(&all, "%s%s", i == 0 ? "" : i + 1 < count ? ", " : " or ", names[i]);
    if (!second)
        lb_fail(err, LB_USAGE, "%s: say what to do: %s.", group, lb_buf_text(&all));
    else if (lb_text_nearest(&near, second, names, count))
        lb_fail(err, LB_USAGE, "%s: there is no \"%.100s\". Did you mean %s?", group, second,
                lb_buf_text(&near));
    else
        lb_fail(err, LB_USAGE, "%s: there is no \"%.100s\"; there is %s.", group, second, lb_buf_text(&all));
    lb_buf_free(&near);
    lb_buf_free(&all);
    return LB_USAGE;
}

lb_status cli_refuse_verb(const struct cli_verbs *verbs, const char *first, const char *second,
                          struct lb_error *err)
{
    const char *names[NAMES];
    char heads[NAMES][16]; /* first words */
    struct lb_buf near = {0}, wanted = {0};
    size_t count = list_members(verbs, first, names);
    if (count)
        return refuse_member(first, second, names, count, err);
    for (; count < verbs->count && count < NAMES; count++) {
        snprintf(heads[count], sizeof *heads, "%.*s", (int)strcspn(verbs->at[count].name, " "),
                 verbs->at[count].name);
        names[count] = heads[count];
    }
    lb_buf_append(&wanted, first, strnlen(first, SHOWN));
    bool found = lb_text_nearest(&near, lb_buf_text(&wanted), names, count);
    lb_fail(err, LB_USAGE, "there is no verb \"%s\".%s%s%s See: lastbolt --help", lb_buf_text(&wanted),
            found ? " Did you mean " : "", lb_buf_text(&near), found ? "?" : "");
    lb_buf_free(&near);
    lb_buf_free(&wanted);
    return LB_USAGE;
}

static void write_options(const struct cli_option *table, struct lb_buf *out)
{
    for (; table && table->name; table++) {
        char head[64];
        snprintf(head, sizeof head, "--%s%s%s", table->name, table->value ? " " : "",
                 table->value ? table->value : "");
        lb_buf_printf(out, "  %-22s %s\n", head, table->help);
    }
}

void cli_usage(const struct cli_verb *verb, struct lb_buf *out)
{
    lb_buf_printf(out, "lastbolt %s%s%s\n%s\n\n", verb->name, *verb->words ? " " : "", verb->words,
                  verb->help);
    write_options(verb->options, out);
    write_options(cli_common_options, out);
}

void cli_help(const struct cli_verbs *verbs, const char *group, struct lb_buf *out)
{
    if (!group)
        lb_buf_puts(out, "lastbolt: everything on the bench before the first bolt is undone.\n\n"
                         "  lastbolt [--db FILE] [--json] [--quiet] VERB ...\n\n");
    for (size_t i = 0; i < verbs->count; i++)
        if (!group || member(&verbs->at[i], group) || strcmp(verbs->at[i].name, group) == 0)
            lb_buf_printf(out, "  %-14s %s\n", verbs->at[i].name, verbs->at[i].help);
    lb_buf_puts(out, "\nlastbolt VERB --help says what a verb takes.\n");
    if (!group)
        lb_buf_puts(
            out,
            "Exit status: 0 done, 1 the kit has gaps, 2 the command line is wrong, 3 the data is wrong,\n"
            "4 the system failed.\n");
}
