/* The verb table. What a verb takes, needs opened and does; everything else about the command line follows
 * from it. */
#include "cli/cli.h"

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
    {"kit check", "NAME", "Says whether a kit is complete; exit status 1 when it has gaps.", OPENS_READ, 1, 1,
     NULL, run_kit_check, NULL},
    {"kit set", "NAME LINE buy|have|reuse|drop [BRAND NUMBER]", "Decides on a line, and on its part.",
     OPENS_WRITE, 3, 5, NULL, run_kit_set, judge_kit_set},
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
     "How much dearer the vehicle maker's own part of a type may be; 0 forgets it.", OPENS_WRITE, 0, 2, NULL,
     run_prefer, judge_prefer},
    {"verify", "", "Checks that the index is sound.", OPENS_READ, 0, 0, NULL, run_verify, NULL},
};

int main(int argc, char **argv)
{
    const struct cli_verbs verbs = {table, sizeof table / sizeof *table};
    return cli_main(&verbs, argc, argv);
}
