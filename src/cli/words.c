#include "base/text.h"
#include "cli/cli.h"

#include <string.h>

/* The options that every verb takes; main.c acts on them. */
static const struct cli_option common[] = {
    {"db", "FILE", "the index to use, instead of $LASTBOLT_DB or the one in your data folder"},
    {"json", NULL, "one JSON object instead of text"},
    {"quiet", NULL, "no remarks on standard error"},
    {"help", NULL, "what a verb does and takes"},
    {0},
};

static const struct cli_option *find(const struct cli_option *table, const char *name, size_t length)
{
    for (; table && table->name; table++)
        if (strlen(table->name) == length && strncmp(table->name, name, length) == 0)
            return table;
    return NULL;
}

static size_t list_names(const struct cli_option *table, const char **names, size_t count, size_t room)
{
    for (; table && table->name && count < room; table++)
        names[count++] = table->name;
    return count;
}

static lb_status refuse(const struct cli_verb *verb, const char *word, struct lb_error *err)
{
    const char *names[32];
    struct lb_buf near = {0};
    size_t count = list_names(verb->options, names, 0, 32);
    count = list_names(common, names, count, 32);
    bool found = lb_text_nearest(&near, word + 2, names, count);
    lb_status status = found ? lb_fail(err, LB_USAGE, "%s does not take %.100s. Did you mean %s?", verb->name, word,
                                       lb_buf_text(&near))
                             : lb_fail(err, LB_USAGE, "%s does not take %.100s. See: lastbolt %s --help", verb->name, word,
                                       verb->name);
    lb_buf_free(&near);
    return status;
}

/* One word that begins with --; takes the next word too when a value is wanted and not joined with =. */
static lb_status take_option(const struct cli_verb *verb, int argc, char **argv, int *at, struct cli_word *out,
                             struct lb_error *err)
{
    const char *name = argv[*at] + 2, *equals = strchr(name, '=');
    size_t length = equals ? (size_t)(equals - name) : strlen(name);
    out->option = find(verb->options, name, length);
    if (!out->option)
        out->option = find(common, name, length);
    if (!out->option)
        return refuse(verb, argv[*at], err);
    out->text = equals ? equals + 1 : NULL;
    if (!out->option->value && equals)
        return lb_fail(err, LB_USAGE, "--%s takes no value.", out->option->name);
    if (out->option->value && !equals) {
        if (*at + 1 >= argc)
            return lb_fail(err, LB_USAGE, "--%s needs a value: --%s %s", out->option->name, out->option->name,
                           out->option->value);
        out->text = argv[++*at];
    }
    return LB_OK;
}

lb_status cli_split(const struct cli_verb *verb, int argc, char **argv, struct cli_word *words, int *count,
                    struct lb_error *err)
{
    bool options = true;
    int plain = 0;
    *count = 0;
    for (int i = 0; i < argc; i++)
        if (!lb_text_is_utf8(argv[i], strlen(argv[i]), NULL))
            return lb_fail(err, LB_USAGE, "word %d after the verb is not UTF-8, and names are kept as UTF-8.", i + 1);
    for (int i = 0; i < argc; i++) {
        struct cli_word *word = &words[(*count)++];
        *word = (struct cli_word){NULL, argv[i]};
        if (options && strcmp(argv[i], "--") == 0) {
            options = false;
            --*count;
        } else if (options && strncmp(argv[i], "--", 2) == 0) {
            lb_status status = take_option(verb, argc, argv, &i, word, err);
            if (status)
                return status;
        } else {
            plain++;
        }
    }
    for (int i = 0; i < *count; i++)
        if (words[i].option && strcmp(words[i].option->name, "help") == 0)
            return LB_OK;
    if (plain < verb->least || (verb->most >= 0 && plain > verb->most))
        return lb_fail(err, LB_USAGE, "use it so: lastbolt %s%s%s", verb->name, *verb->words ? " " : "", verb->words);
    return LB_OK;
}

static void write_options(const struct cli_option *table, struct lb_buf *out)
{
    for (; table && table->name; table++) {
        size_t start = out->length;
        lb_buf_printf(out, "  --%s%s%s", table->name, table->value ? " " : "", table->value ? table->value : "");
        while (out->length - start < 24 && !out->failed)
            lb_buf_putc(out, ' ');
        lb_buf_printf(out, " %s\n", table->help);
    }
}

void cli_usage(const struct cli_verb *verb, struct lb_buf *out)
{
    lb_buf_printf(out, "lastbolt %s%s%s\n%s\n", verb->name, *verb->words ? " " : "", verb->words, verb->help);
    write_options(verb->options, out);
    write_options(common, out);
}
