/* What is in the files of an order, and what they are called. Private to purchase/. */
#ifndef LB_PURCHASE_ORDER_TEXT_H
#define LB_PURCHASE_ORDER_TEXT_H

#include "importers/profile.h"
#include "purchase/parts.h"
#include "purchase/uses.h"

/* One line of a parcel with all that is said of it. */
struct order_row {
    const struct lb_part *part;
    const struct lb_part_offer *offer;
    const struct lb_parcel_line *line;
    const struct lb_parcel *parcel;
    const struct lb_supplier *supplier;
    int64_t pack;     /* as the offer's row has it: in the part's own unit */
    const char *kits; /* whom it is for: names, joined with "; " */
};

struct order_rows {
    struct order_row *at;
    size_t count;
};

/* order_rows.c: packs as the offers' rows count them, and for whom they are. */
struct order_reader {
    const struct lb_purchase *purchase;
    struct lb_arena *texts; /* that rows and their texts live in */
    struct lb_uses uses;
    struct lb_statement *pack;
    struct lb_error *err;
};
/* To be closed also when it failed. */
LB_CHECK lb_status order_reader_open(struct order_reader *reader, struct lb_store *store,
                                     const struct lb_purchase *purchase, struct lb_arena *texts,
                                     struct lb_error *err);
void order_reader_close(struct order_reader *reader);
LB_CHECK lb_status order_read_rows(const struct order_reader *reader, const struct lb_parcel *parcel,
                                   struct order_rows *rows);

/* order_csv.c: the list, CRLF, a row of headings first. profile NULL: our own columns. */
void order_write_csv(struct lb_buf *out, const struct order_rows *rows, const struct lb_profile *profile);
/* order_mail.c */
void order_write_mail(struct lb_buf *out, const struct order_rows *rows);

/* order_name.c: what stands behind the stem of an order's files; the name that each has in the end, and the
 * one that it waits under (".NAME.part", no list to whoever looks for one). The caller's to free; NULL: out
 * of memory. */
enum { ORDER_ENDINGS = 2 };
extern const char *const order_endings[ORDER_ENDINGS];
char *order_own_name(const char *stem, const char *ending);
char *order_waiting_name(const char *stem, const char *ending);

#endif
