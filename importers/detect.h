/* Which kinds of file a heading row makes. Private to importers/. */
#ifndef LB_IMPORTERS_DETECT_H
#define LB_IMPORTERS_DETECT_H

#include "importers/header.h"

/* Fills header->kinds. LB_DATA: none or two; the words name the nearest and what it lacks, or both. */
LB_CHECK lb_status lb_detect_kinds(struct lb_header *header, long line, const char *name,
                                   const struct lb_read_options *options, struct lb_error *err);

#endif
