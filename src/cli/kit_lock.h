/* What kit check asks of kit_lock.c. */
#ifndef LB_CLI_KIT_LOCK_H
#define LB_CLI_KIT_LOCK_H

#include "cli/cli.h"
#include "kit/drift.h"

/* What has changed since the kit was locked: by --against, else by what the index remembers. *locked false:
 * it was never locked. Free the drift in any case. */
LB_CHECK lb_status cli_find_drift(struct cli *cli, const struct lb_kit *kit, struct lb_drift *drift,
                                  bool *locked);

#endif
