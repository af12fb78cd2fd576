/* The verb table. What a verb takes, needs opened and does; everything else about the command line follows
 * from it. */
#include "cli/cli.h"

#include <malloc.h>

static const struct cli_verb table[] = {
    {"import", "PATH... [options]",
     "Takes in catalogues and service maps: files, or folders with all .csv below them.", OPENS_WRITE, 1, -1,
     import_options, run_import, judge_import},
    {"sources", "", "Lists what is in the index: from where, since when, how many rows.", OPENS_READ, 0, 0,
     NULL, run_sources, NULL},
    {"sources drop", "NAME", "Takes one source out of the index.", OPENS_WRITE, 1, 1, NULL, run_sources_drop,
     NULL},
    {"find", "WORDS... [--vehicle V] [options]",
     "Finds parts by what somebody says or reads of them: words, numbers, sizes.", OPENS_READ, 1, -1,
     find_options, run_find, judge_find},
    {"part", "BRAND NUMBER", "What the catalogues say of one part number.", OPENS_READ, 2, 2, NULL, run_part,
     NULL},
    {"vehicle add", "NAME --make M --model M [options]", "Adds a vehicle.", OPENS_WRITE, 1, 1,
     vehicle_options, run_vehicle_add, judge_vehicle_add},
    {"vehicle list", "", "Lists the vehicles.", OPENS_READ, 0, 0, NULL, run_vehicle_list, NULL},
    {"vehicle show", "NAME", "Shows what is known of a vehicle.", OPENS_READ, 1, 1, NULL, run_vehicle_show,
     NULL},
    {"vehicle set", "NAME KEY=VALUE...", "Corrects or adds facts; an empty value forgets one.", OPENS_WRITE,
     2, -1, NULL, run_vehicle_set, judge_vehicle_set},
    {"kit build", "NAME (--vehicle V (--job J | --replace COMPONENT)...)...",
     "Works out what jobs on one vehicle or several need, and keeps it by name.", OPENS_WRITE, 1, 1,
     build_options, run_kit_build, judge_kit_build},
    {"kit list", "", "Lists the kits.", OPENS_READ, 0, 0, NULL, run_kit_list, NULL},
    {"kit show", "NAME", "Shows a kit as the index has it now.", OPENS_READ, 1, 1, NULL, run_kit_show, NULL},
    {"kit why", "NAME LINE", "Why a line is in the kit, row by row, and how its part was chosen.", OPENS_READ,
     2, 2, NULL, run_kit_why, judge_kit_why},
    {"kit check", "NAME [--against FILE]",
     "Says whether a kit is complete, and what has changed since it was locked; exit status 1 when it has "
     "gaps.",
     OPENS_READ, 1, 1, check_options, run_kit_check, judge_kit_check},
    {"kit lock", "NAME [--out FILE]", "Keeps a kit as it is today, as a text for version control.",
     OPENS_WRITE, 1, 1, lock_options, run_kit_lock, judge_kit_lock},
    {"kit set", "NAME LINE buy|have|reuse|drop [BRAND NUMBER]", "Decides on a line, and on its part.",
     OPENS_WRITE, 3, 5, NULL, run_kit_set, judge_kit_set},
    {"draw", "NAME teardown|cost|belt",
     "Draws what comes apart for what, what it costs, or how the belt runs: SVG on standard output.",
     OPENS_READ, 2, 2, NULL, run_draw, judge_draw},
    {"sheet", "NAME", "The job sheet of a kit: one HTML page, to print or to read on a phone.", OPENS_READ, 1,
     1, NULL, run_sheet, NULL},
    {"buy", "NAME... [options]", "The cheapest parcels that meet every line of the kits, proved.", OPENS_READ,
     1, -1, buy_options, run_buy, judge_buy},
    {"order", "NAME... --out DIR [--profile FILE]",
     "Writes a list and a mail for each supplier, and remembers what is on its way.", OPENS_WRITE, 1, -1,
     order_options, run_order, judge_order},
    {"receive",
     "NAME (LINE QUANTITY [BRAND NUMBER]... | --from S [--ordered DATE]) [--wrong | --damaged | --short]",
     "Says what came of what was ordered: for lines, or a supplier's whole parcel.", OPENS_WRITE, 1, -1,
     receive_options, run_receive, judge_receive},
    {"shelf", "", "Lists what is left over and lies on the shelf.", OPENS_READ, 0, 0, NULL, run_shelf, NULL},
    {"shelf set", "BRAND NUMBER QUANTITY [--opened]",
     "Says how much of a part lies on the shelf; 0 takes it off.", OPENS_WRITE, 3, 3, shelf_options,
     run_shelf_set, NULL},
    {"deposits", "", "Lists the deposits that are to be claimed back.", OPENS_READ, 0, 0, NULL, run_deposits,
     NULL},
    {"deposits claim", "NAME [LINE]", "Says that the deposits of a kit, or of a line of it, were given back.",
     OPENS_WRITE, 1, 2, NULL, run_deposits_claim, judge_deposits_claim},
    {"prefer", "[PART_TYPE PERCENT]",
     "How much dearer the vehicle maker's own part of a type may be; 0 forgets it.", OPENS_EITHER, 0, 2, NULL,
     run_prefer, judge_prefer},
    {"missed", "NAME PART_TYPE --on COMPONENT [--quantity Q] [--spec S]",
     "Keeps what had to be fetched in the middle of a job, for this and every later kit.", OPENS_WRITE, 2, 2,
     missed_options, run_missed, judge_missed},
    {"rules", "", "Your own rules of what was missed, as CSV that can be imported elsewhere.", OPENS_READ, 0,
     0, NULL, run_rules, NULL},
    {"rules drop", "NUMBER", "Takes one of your own rules back.", OPENS_WRITE, 1, 1, NULL, run_rules_drop,
     judge_rules_drop},
    {"log", "VEHICLE [--done JOB]... [--at DISTANCE] [--on DATE] [options]",
     "Notes what was done on a vehicle, or what its odometer shows; lists its log.", OPENS_EITHER, 1, 1,
     log_options, run_log, judge_log},
    {"log drop", "VEHICLE NUMBER", "Takes a line of the log back.", OPENS_WRITE, 2, 2, NULL, run_log_drop,
     judge_log_drop},
    {"due", "[VEHICLE] [--within DAYS]", "What is due when, by distance or by time, and what goes together.",
     OPENS_READ, 0, 1, due_options, run_due, judge_due},
    {"map check", "PLATFORM", "Looks for what is wrong with a service map, for its author.", OPENS_READ, 1, 1,
     NULL, run_map_check, NULL},
    {"verify", "", "Checks that the index is sound.", OPENS_READ, 0, 0, NULL, run_verify, NULL},
};

int main(int argc, char **argv)
{
    const struct cli_verbs verbs = {table, sizeof table / sizeof *table};
    /* The solver gives memory back and takes it again some hundred times: the process keeps it until it ends.
     */
    mallopt(M_TRIM_THRESHOLD, 256 << 20);
    return cli_main(&verbs, argc, argv);
}
