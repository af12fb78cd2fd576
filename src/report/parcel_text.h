/* One parcel as people check it: its lines as a table with shipping, tax and sum, and what is to be known of
 * it. Shared between the pages that show parcels.
 *
 *     struct lb_parcel_table table;
 *     lb_parcel_table_begin(&table, parcel, supplier);
 *     lb_parcel_table_line(&table, &parcel->lines[i], &row);
 *     lb_parcel_table_end(&table, &page);
 *     lb_page_parcel_notes(&page, parcel, supplier);
 */
#ifndef LB_REPORT_PARCEL_TEXT_H
#define LB_REPORT_PARCEL_TEXT_H

#include "kit/kit.h"
#include "report/page.h"

enum { LB_PARCEL_COLUMNS = 7 };

struct lb_parcel_table {
    struct lb_table_column columns[LB_PARCEL_COLUMNS];
    struct lb_table table;
    const struct lb_parcel *parcel;
};

/* What a line is of. */
struct lb_parcel_row {
    const struct lb_part *part;
    const struct lb_part_offer *offer;
    const char *unit;     /* of the part's quantities */
    const char *what_for; /* NULL: not told */
    const char *marks;    /* NULL: none */
};

/* All are borrowed until lb_parcel_table_end. */
void lb_parcel_table_begin(struct lb_parcel_table *table, const struct lb_parcel *parcel,
                           const struct lb_supplier *supplier);
void lb_parcel_table_line(struct lb_parcel_table *table, const struct lb_parcel_line *line,
                          const struct lb_parcel_row *row);
/* Prints it and frees it. */
void lb_parcel_table_end(struct lb_parcel_table *table, const struct lb_page *page);
/* Why it is no parcel as it stands; that shipping is not stated; deposits. */
void lb_page_parcel_notes(const struct lb_page *page, const struct lb_parcel *parcel,
                          const struct lb_supplier *supplier);
/* "Together 44.32 EUR: goods 30.34, shipping 6.90, tax 7.08". */
void lb_page_total(const struct lb_page *page, const char *what, enum lb_tone tone,
                   const struct lb_basket_total *total);

#endif
