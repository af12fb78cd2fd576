/* The command line: words in, one verb run, an exit status out. Parsing of words and printing only; whatever is worth
 * computing is computed in the rooms below. */
#ifndef LB_CLI_CLI_H
#define LB_CLI_CLI_H

#include "base/buf.h"
#include "report/table.h"
#include "store/store.h"

#include <jansson.h>

enum { EXIT_GAPS = 1 };

/* An option that a verb takes; `value` NULL: a flag. The table is also the help. */
struct cli_option {
    const char *name, *value, *help;
};

/* One option or word as it stood on the command line. */
struct cli_word {
    const struct cli_option *option; /* NULL: a plain word */
    const char *text;                /* the word, or the option's value; NULL for a flag */
};

struct cli {
    const char *index; /* path of the index */
    bool json, quiet;
    int32_t today;         /* days since 1970-01-01 */
    struct lb_style style; /* of standard output */
    struct lb_store *store;
    struct lb_error err;
    struct lb_buf out;    /* printed when the verb is done */
    const struct cli_word *words;
    int word_count;
};

enum cli_opens { OPENS_NOTHING, OPENS_READ, OPENS_WRITE };

struct cli_verb {
    const char *name;  /* one word or two */
    const char *words; /* what it takes, for the usage line */
    const char *help;  /* one line */
    enum cli_opens opens;
    int least, most; /* plain words; most -1: any number */
    const struct cli_option *options; /* ends with a NULL name; NULL: none */
    /* Returns an exit status; 0 also when cli->err was filled with a status, which then counts. */
    int (*run)(struct cli *cli);
};

/* cli/VERB.c */
extern const struct cli_option import_options[], vehicle_options[], build_options[];
int run_import(struct cli *cli);
int run_sources(struct cli *cli);
int run_sources_drop(struct cli *cli);
int run_part(struct cli *cli);
int run_vehicle_add(struct cli *cli);
int run_vehicle_list(struct cli *cli);
int run_vehicle_show(struct cli *cli);
int run_vehicle_set(struct cli *cli);
int run_kit_build(struct cli *cli);
int run_kit_list(struct cli *cli);
int run_kit_show(struct cli *cli);
int run_kit_why(struct cli *cli);
int run_kit_check(struct cli *cli);
int run_kit_set(struct cli *cli);
int run_verify(struct cli *cli);

/* The nth plain word (0 is the first after the verb), or NULL. */
const char *cli_plain(const struct cli *cli, int n);
/* The value of an option's last occurrence, "" for a flag that was given, NULL when it was not. */
const char *cli_value(const struct cli *cli, const char *option);
/* A whole number, 0 or above; false: fills cli->err. */
bool cli_number(struct cli *cli, const char *text, const char *what, long *number);
/* Prints an object and frees it; NULL: out of memory. */
void cli_print_json(struct cli *cli, json_t *object);
/* A remark for people, on standard error, unless --quiet. */
void cli_remark(const struct cli *cli, const char *format, ...) LB_PRINTF(2, 3);

/* cli/words.c: splits argv into options and plain words. LB_USAGE: fills err. */
LB_CHECK lb_status cli_split(const struct cli_verb *verb, int argc, char **argv, struct cli_word *words, int *count,
                             struct lb_error *err);
/* Appends the verb's usage and options. */
void cli_usage(const struct cli_verb *verb, struct lb_buf *out);

#endif
