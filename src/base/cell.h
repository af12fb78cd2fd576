/* One cell of a CSV that we write. Source: RFC 4180 §2. Reading is importers/'s work. */
#ifndef LB_BASE_CELL_H
#define LB_BASE_CELL_H

#include "base/buf.h"

/* Appends `text` (NULL: empty), quoted where it must be. A cell that a spreadsheet would take for a formula
 * (it begins with = + - @ or a control character and is no plain number) gets an apostrophe in front, which
 * makes it inert. */
void lb_cell_write(struct lb_buf *out, const char *text);

#endif
