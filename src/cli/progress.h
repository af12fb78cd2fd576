/* How far an import is, on a terminal; and Ctrl-C, which stops it and loses nothing. */
#ifndef LB_CLI_PROGRESS_H
#define LB_CLI_PROGRESS_H

#include "catalog/import.h"
#include "cli/cli.h"

struct cli_progress {
    bool shown;          /* standard error is a terminal and nobody said --quiet */
    bool line;           /* there is one to be wiped */
    double began, drawn; /* seconds; of the file at hand, of the last drawing */
    char file[256];
};

/* From now on the first Ctrl-C stops the import, a second one the program. */
void cli_progress_begin(struct cli_progress *progress, const struct cli *cli);
/* struct lb_import_options.progress; the context is a struct cli_progress. */
bool cli_progress_tell(void *context, const struct lb_import_progress *now);
/* Wipes the line. */
void cli_progress_end(struct cli_progress *progress);

#endif
