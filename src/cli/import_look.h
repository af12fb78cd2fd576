/* How files were understood, for `import --dry-run` and `--save-profile`. */
#ifndef LB_CLI_IMPORT_LOOK_H
#define LB_CLI_IMPORT_LOOK_H

#include "catalog/import.h"
#include "cli/cli.h"
#include "report/json.h"

/* Prints one file's mapping, where it is not simply the columns' own names, and its first rows. */
void import_look(struct cli *cli, const struct lb_imported_file *file);
/* Sets the members `mapping` and `preview`. */
void import_look_json(struct lb_maker *maker, json_t *object, const struct lb_imported_file *file);
/* Before an index is made: refuses a profile that is none, and to save to what exists already. */
LB_CHECK lb_status import_judge_profiles(struct cli *cli);
/* Writes the mapping of the file, or of all when they were read the same way. */
LB_CHECK lb_status import_save_profile(struct cli *cli, const struct lb_import_result *result,
                                       const char *path);

#endif
