/* What `receive` has recorded, shown. Private to the command line. */
#ifndef LB_CLI_RECEIVE_SHOW_H
#define LB_CLI_RECEIVE_SHOW_H

#include "cli/cli.h"
#include "kit/fleet.h"
#include "purchase/orders.h"

struct receive_page {
    const struct lb_kit *kit; /* as it is now */
    const struct lb_receipts *receipts;
    enum lb_came how;
    bool parcel;                  /* a whole one was named */
    struct lb_on_way_list on_way; /* for the kit */
};

/* Append to cli->out; pages: by kit of the fleet. */
void receive_show_text(struct cli *cli, const struct lb_fleet *fleet, const struct receive_page *pages);
/* {"version":1, kit, came, received:[{line, brand, part_number, came, quantity, unit, orders, to_line,
 * to_others, to_shelf, taken_back, here, on_way, to_buy}], still_on_way}. `line` and the last three are null
 * when a parcel was named; when one line was, its members stand outside too. For a fleet `kit` stands in each
 * of received and still_on_way, whose lines are that kit's own, and nothing of them outside. */
void receive_show_json(struct cli *cli, const struct lb_fleet *fleet, const struct receive_page *pages);

#endif
