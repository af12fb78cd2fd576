/* One belt of a kit, as it is drawn: its run, the belt that was chosen, where labels stand. Private to
 * report/draw_belt*.c. */
#ifndef LB_REPORT_DRAW_BELT_H
#define LB_REPORT_DRAW_BELT_H

#include "kit/kit.h"
#include "plan/belt_map.h"

enum { BELT_WIDTH = 400, BELT_MARGIN = 10, BELT_TALL = 300, BELT_SIDE = 66, BELT_ABOVE = 40 }; /* px */
enum { BELT_NAME = 40 }; /* columns of a name, a brand, a number */

struct belt_view {
    const struct lb_kit *kit;
    struct lb_arena arena;
    struct lb_mapped_belt mapped;
    struct lb_belt run; /* not of one that is open */
    const char *fault;  /* why it cannot be drawn, and where; NULL: it can */
    const char *name;   /* the belt's */
    const char *names[LB_BELT_MOST];
    /* The belt that is to go on: the chosen part's, else what the map asks for. */
    const struct lb_part *part; /* NULL: none is chosen, or it states no length */
    const char *designation;    /* "6PK1555"; NULL: no length is known */
    int64_t length;             /* millionths of a mm */
    enum lb_belt_fit fit;
    int64_t over;
};

/* Where all is written that is drawn and said of the belts. */
struct belt_sheet {
    struct lb_buf body, words;
    double y;
};

/* Adds one belt: picture and words, or why there is none. draw_belt_words.c */
void belt_put(struct belt_sheet *sheet, const struct belt_view *view);
/* Appends the picture of a run, at (0, y) and BELT_WIDTH wide; returns the y below it. */
double belt_put_picture(struct lb_buf *out, const struct belt_view *view, double y);

#endif
