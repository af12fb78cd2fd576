/* The command line: words in, one verb run, an exit status out. Parsing of words and printing only; whatever
 * is worth computing is computed in the rooms below. */
#ifndef LB_CLI_CLI_H
#define LB_CLI_CLI_H

#include "base/buf.h"
#include "cli/options.h"
#include "report/table.h"
#include "store/store.h"

#include <jansson.h>

enum { EXIT_GAPS = 1 };

struct lb_kit;
struct lb_fleet;

struct cli {
    const char *index; /* path of the index */
    bool json, quiet;
    int64_t now;           /* seconds since 1970-01-01, UTC */
    int32_t today;         /* days since then */
    struct lb_style style; /* of standard output */
    struct lb_store *store;
    struct lb_error err;
    struct lb_buf out; /* printed when the verb is done, or by cli_hand_out */
    const struct cli_word *words;
    int word_count;
};

enum cli_opens {
    OPENS_NOTHING,
    OPENS_READ,
    OPENS_WRITE,
    OPENS_EITHER, /* to write when there are options of its own or words beyond `least`; else it only shows */
};

struct cli_verb {
    const char *name;  /* one word or two */
    const char *words; /* what it takes, for the usage line */
    const char *help;  /* one line */
    enum cli_opens opens;
    int least, most;                  /* plain words; most -1: any number */
    const struct cli_option *options; /* ends with a NULL name; NULL: none */
    /* Returns an exit status; 0 also when cli->err was filled with a status, which then counts. */
    int (*run)(struct cli *cli);
    /* Refuses words that make no sense before anything is opened or made; NULL: any will do. */
    lb_status (*judge)(struct cli *cli);
};

/* cli/VERB.c */
extern const struct cli_option import_options[], find_options[], vehicle_options[], build_options[];
extern const struct cli_option missed_options[];
extern const struct cli_option buy_options[], order_options[], receive_options[], shelf_options[];
extern const struct cli_option log_options[], due_options[];
extern const struct cli_option lock_options[], check_options[];
int run_import(struct cli *cli);
int run_sources(struct cli *cli);
int run_sources_drop(struct cli *cli);
int run_find(struct cli *cli);
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
int run_kit_lock(struct cli *cli);
int run_draw(struct cli *cli);
int run_buy(struct cli *cli);
int run_order(struct cli *cli);
int run_receive(struct cli *cli);
int run_shelf(struct cli *cli);
int run_shelf_set(struct cli *cli);
int run_deposits(struct cli *cli);
int run_deposits_claim(struct cli *cli);
int run_prefer(struct cli *cli);
int run_missed(struct cli *cli);
int run_rules(struct cli *cli);
int run_rules_drop(struct cli *cli);
int run_log(struct cli *cli);
int run_log_drop(struct cli *cli);
int run_due(struct cli *cli);
int run_map_check(struct cli *cli);
int run_sheet(struct cli *cli);
int run_verify(struct cli *cli);
/* vehicle.c: what fits the vehicles, made again where it may have changed; a failure is remarked upon and
 * changes nothing. */
void cli_refresh_fitting(const struct cli *cli);
/* kit.c. The kit, of one vehicle, that the first plain word names; NULL: cli->err says why. A fleet is
 * refused with the names of its kits. lb_kit_free. */
struct lb_kit *cli_open_kit(struct cli *cli);
/* The same for a kit's name or a fleet's. lb_fleet_free. */
struct lb_fleet *cli_open_fleet(struct cli *cli);
/* Prints it as `kit show` does. */
void cli_show_fleet(struct cli *cli, const struct lb_fleet *fleet);
lb_status judge_import(struct cli *cli);
lb_status judge_find(struct cli *cli);
lb_status judge_vehicle_add(struct cli *cli);
lb_status judge_vehicle_set(struct cli *cli);
lb_status judge_kit_build(struct cli *cli);
lb_status judge_kit_why(struct cli *cli);
lb_status judge_kit_set(struct cli *cli);
lb_status judge_kit_lock(struct cli *cli);
lb_status judge_kit_check(struct cli *cli);
lb_status judge_draw(struct cli *cli);
lb_status judge_buy(struct cli *cli);
lb_status judge_order(struct cli *cli);
lb_status judge_receive(struct cli *cli);
lb_status judge_deposits_claim(struct cli *cli);
lb_status judge_prefer(struct cli *cli);
lb_status judge_missed(struct cli *cli);
lb_status judge_rules_drop(struct cli *cli);
lb_status judge_log(struct cli *cli);
lb_status judge_log_drop(struct cli *cli);
lb_status judge_due(struct cli *cli);

/* run.c: parses, runs, prints; the program's exit status. */
int cli_main(const struct cli_verbs *verbs, int argc, char **argv);
/* Prints what is in cli->out by now, for results that are worth reading before the rest is worked out. False:
 * it could not be written; cli->out keeps it, so that the end of the run says why. */
bool cli_hand_out(struct cli *cli);

/* words.c. Is the word this option? */
bool cli_is(const struct cli_word *word, const char *option);
/* The nth plain word (0 is the first after the verb), or NULL. */
const char *cli_plain(const struct cli *cli, int n);
/* The value of an option's last occurrence, "" for a flag that was given, NULL when it was not. */
const char *cli_value(const struct cli *cli, const char *option);
/* A whole number, 0 or above; false: fills cli->err. */
bool cli_number(struct cli *cli, const char *text, const char *what, long *number);
/* The same of an option's value, which must lie between two bounds; not given, *number stays. */
bool cli_number_between(struct cli *cli, const char *option, long least, long most, long *number);
/* What a room below said of an option's value (LB_DATA) is wrong on the command line, so it becomes a usage
 * error that names the option; other failures stay as they are. */
LB_CHECK lb_status cli_blame_option(struct cli *cli, const char *option);
/* What a quantity is counted in, for people: "pieces" for each, else the unit. */
const char *cli_unit(const char *unit);
/* "4 × Studwell SW-1", "1.4 L of Saltmere SM-C2". */
void cli_put_part(struct lb_buf *out, int64_t quantity, const char *unit, const char *brand,
                  const char *number);
/* Prints an object and frees it; NULL: out of memory. */
void cli_print_json(struct cli *cli, json_t *object);
/* A remark for people, on standard error, unless --quiet. */
void cli_remark(const struct cli *cli, const char *format, ...) LB_PRINTF(2, 3);

/* Errors: each line of `words` on standard error, made harmless for terminals, behind the program's name. */
void cli_say(const char *words);

/* surroundings.c */
LB_CHECK lb_status cli_find_time(int64_t *now, struct lb_error *err);
struct lb_style cli_find_style(void);
/* *path is the caller's to free; `named` (--db) may be NULL. */
LB_CHECK lb_status cli_find_index(const char *named, char **path, struct lb_error *err);
/* Makes what is missing of the folders that lead to a file; `path` is as it was afterwards. `of` is what the
 * file is, for the words of a failure. */
LB_CHECK lb_status cli_make_folders(char *path, const char *of, struct lb_error *err);
/* Where lists fetched by https are kept: $XDG_CACHE_HOME/lastbolt, else below the home folder, else beside
 * the index. *path is the caller's to free. */
LB_CHECK lb_status cli_find_downloads(const char *index, char **path, struct lb_error *err);
/* $SSL_CERT_FILE, as OpenSSL names it: authorities that are trusted besides the system's; NULL: none. */
const char *cli_find_certificates(void);

#endif
