/* One cell of a CSV that we write. Source: RFC 4180 §2. Reading is importers/'s work. */
#ifndef LB_BASE_CELL_H
#define LB_BASE_CELL_H

#include "base/buf.h"

/* Appends `text` (NULL: empty), quoted where it must be. A cell that a spreadsheet would take for a formula
 * (it begins with = + - @ or a control character and is no plain number) gets an apostrophe in front, which
 * makes it inert. */
void lb_cell_write(struct lb_buf *out, const char *text);
/* The same for a file that is cut at `separator` and whose cells are all text to a spreadsheet, also those
 * that look like numbers: a part number "+4912" stays as it is, behind an apostrophe. The full-width signs of
 * a formula count like the narrow ones. */
void lb_cell_write_text(struct lb_buf *out, const char *text, char separator);
/* A cell that lb_cell_write_text wrote, as it was: without the apostrophe that made it inert. Borrowed from
 * `cell`. A text that itself begins with apostrophes before a sign of a formula gets one more when it is
 * written, so that this takes off the right one. */
const char *lb_cell_bare(const char *cell);

#endif
