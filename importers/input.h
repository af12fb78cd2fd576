/* A path of an import -> its text: opened (a file, a pipe, standard input, a member of an archive), unpacked
 * and in UTF-8, ready for lb_read_bytes. Knows no CSV.
 *
 *     status = lb_input_open(&bytes, path, NULL, &err);
 *     if (!status) status = lb_read_bytes(bytes, path->name, &options, &sink, &report, &err);
 *     lb_bytes_close(bytes);
 */
#ifndef LB_IMPORTERS_INPUT_H
#define LB_IMPORTERS_INPUT_H

#include "importers/bytes.h"
#include "importers/paths.h"

#include <stdbool.h>

/* `encoding`: as lb_encoding_open. LB_USAGE: no such encoding. LB_SYSTEM: cannot be opened or read. LB_DATA,
 * here or on reading: a packed file that cannot be unpacked, in the words of archive.h. */
LB_CHECK lb_status lb_input_open(struct lb_bytes **out, const struct lb_import_path *path,
                                 const char *encoding, struct lb_error *err);
/* Whether it can be read only once: standard input, a pipe. */
bool lb_input_is_stream(const struct lb_import_path *path);

#endif
