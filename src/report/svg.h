/* SVG 1.1, put together piece by piece: escaped texts (report/html.h), boxes, lines, arrow heads, hatching.
 * No ids are given (so that several drawings may stand in one page), no style sheets and no references; what
 * a catalogue wrote stays text. Valid inside HTML 5 and as a file of its own.
 *
 *     lb_svg_begin(&out, 400, 300, "A drawing", "What it shows, in words");
 *     lb_svg_text(&out, &(struct lb_svg_words){.x = 10, .y = 20}, "radiator");
 *     lb_svg_end(&out);
 */
#ifndef LB_REPORT_SVG_H
#define LB_REPORT_SVG_H

#include "base/buf.h"

enum { LB_SVG_SIZE = 12 }; /* px, of texts that say no other */

/* Width and height in px; the drawing stands on white. `words` (may be NULL) is the description, for those
 * who cannot see it. */
void lb_svg_begin(struct lb_buf *out, int width, int height, const char *title, const char *words);
void lb_svg_end(struct lb_buf *out);
/* A drawing inside the drawing: its origin is at `y`. */
void lb_svg_group(struct lb_buf *out, double x, double y);
void lb_svg_group_end(struct lb_buf *out);
/* To a tenth, "12" and "12.5": the same everywhere. */
void lb_svg_number(struct lb_buf *out, double number);

struct lb_svg_words {
    double x, y; /* of the base line */
    int size;    /* px; 0: LB_SVG_SIZE */
    enum { LB_SVG_START, LB_SVG_MIDDLE, LB_SVG_END } anchor;
    bool bold, dim;
};
void lb_svg_text(struct lb_buf *out, const struct lb_svg_words *how, const char *text);

/* How an outline is drawn: told apart without colour. */
enum lb_svg_line { LB_SVG_SOLID, LB_SVG_THICK, LB_SVG_DASHED, LB_SVG_DOTTED };
struct lb_svg_box {
    double x, y, width, height, round; /* round: radius of the corners */
    enum lb_svg_line line;
    const char *fill; /* a colour of ours, never a text from outside; NULL: white */
};
void lb_svg_box(struct lb_buf *out, const struct lb_svg_box *box);
/* Slanting lines inside a box, `apart` px from one another. */
void lb_svg_hatch(struct lb_buf *out, const struct lb_svg_box *box, int apart);
void lb_svg_stroke(struct lb_buf *out, double x1, double y1, double x2, double y2, enum lb_svg_line line);
/* The head of an arrow that comes from (x1, y1), its point at (x2, y2), `size` px long. */
void lb_svg_head(struct lb_buf *out, double x1, double y1, double x2, double y2, double size);

/* About how wide a text is in px, rather too wide than too narrow: fonts differ. */
int lb_svg_width(const char *text, int size);
/* How many bytes of `text` make up its first line of `width` px, broken at blanks; at least one character.
 * *next is where the following line begins, at the end when there is none. */
size_t lb_svg_break(const char *text, int size, int width, size_t *next);
/* Texts below one another from `how` on, a line each `size` + 3 px; returns the y of the line after them. */
double lb_svg_paragraph(struct lb_buf *out, const struct lb_svg_words *how, int width, const char *text);
/* How many lines that makes. */
int lb_svg_lines(const char *text, int size, int width);

#endif
