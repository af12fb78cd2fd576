/* The sections of the job sheet, shared between its files only; everyone else takes report/sheet.h. A section
 * that has nothing to say writes nothing. */
#ifndef LB_REPORT_SHEET_PAGE_H
#define LB_REPORT_SHEET_PAGE_H

#include "plan/step_rows.h"
#include "report/html.h"
#include "report/page.h"
#include "report/sheet.h"

struct sheet {
    struct lb_html html;
    struct lb_buf words; /* for one sentence at a time */
    const struct lb_kit *kit;
    const struct lb_plan *plan;
    const struct lb_map *map;
    struct lb_step_rows *rows;
    /* The number of the line that a row of the map asks for, 0: none. By row of the map. */
    int *line_of_component, *line_of_fastening, *line_of_consumable;
    int32_t today;
    struct lb_error *err;
};

extern const char sheet_style[]; /* sheet_style.c */

/* Sections, in the order of the page. */
void sheet_vehicle(struct sheet *sheet);
void sheet_cautions(struct sheet *sheet);
void sheet_bench(struct sheet *sheet);
void sheet_spares(struct sheet *sheet);
void sheet_tools(struct sheet *sheet);
void sheet_steps(struct sheet *sheet);
void sheet_fluids(struct sheet *sheet);
void sheet_afterwards(struct sheet *sheet);
void sheet_disposal(struct sheet *sheet);
void sheet_missed(struct sheet *sheet);
void sheet_drawings(struct sheet *sheet);

/* sheet_words.c */
/* Opens <section> with its heading, which names it and which the page's list of sections points to. */
void sheet_section(struct sheet *sheet, const char *id, const char *heading);
/* Opens a table with its heading row and its body: close body and table. `class_name` NULL: none; `heads`
 * ends with NULL. */
void sheet_table(struct sheet *sheet, const char *class_name, const char *caption, const char *const *heads);
/* A box to tick with its label: "KIND-NUMBER" is its id. The label is left open for its text: close it. */
void sheet_tick(struct sheet *sheet, const char *kind, size_t number);
/* The same with a text, as an item of a list. */
void sheet_tick_item(struct sheet *sheet, const char *kind, size_t number, const char *text);
/* "67.79" of 67.790897. */
void sheet_put_newton_metres(struct lb_buf *out, int64_t torque);
/* "coolant-concentrate C2", without an amount. */
void sheet_put_type(struct lb_buf *out, const struct lb_article *article);
/* "16 × push-pin hole 8.0 head 20", "3.6 L of distilled-water". */
void sheet_put_article(struct lb_buf *out, int64_t quantity, const struct lb_article *article);
/* "remove Upper radiator hose". */
void sheet_put_step(const struct sheet *sheet, struct lb_buf *out, const struct lb_step *step);
/* <strong> with a word that tells what follows: "Ask", "New", "Caution". */
void sheet_mark(struct sheet *sheet, const char *word);
/* What is to be asked before a row counts, then where the row stands, in small print. */
void sheet_source(struct sheet *sheet, const struct lb_row *row);
/* sheet_step_rows.c: all that belongs to a step, as a list; nothing where nothing does. */
void sheet_step_rows(struct sheet *sheet, uint32_t step);
/* ", line 7"; nothing for line 0. */
void sheet_put_line_number(struct sheet *sheet, int line);
/* sheet_step_fastened.c: the item of one LB_ROW_FASTENED. */
void sheet_step_fastened(struct sheet *sheet, const struct lb_step_row *row, const struct lb_step *step);
/* sheet_fluids.c: "7.2 L: 3.6 L of coolant-concentrate C2 and 3.6 L of distilled-water" of a circuits row. */
void sheet_put_filling(const struct sheet *sheet, struct lb_buf *out, uint32_t circuit_row);
/* Is less filled in than the circuit holds, because the catalogue counts only a share as lost? */
bool sheet_is_filled_in_part(const struct sheet *sheet, uint32_t circuit_row);
/* What to say of it: "is what the catalogue counts as lost of 4.3 L. …" */
void sheet_put_part_filled(const struct sheet *sheet, struct lb_buf *out, uint32_t circuit_row);
/* Is the circuits row drained and filled in this job? */
bool sheet_is_filled(const struct sheet *sheet, uint32_t circuit_row);

#endif
