/* What the two files share that count what came. Private to purchase/. */
#ifndef LB_PURCHASE_RECEIVING_H
#define LB_PURCHASE_RECEIVING_H

#include "purchase/orders.h"

/* An order line of the part, of which something may still come. */
struct open_line {
    int64_t id, pack, open;
    const char *supplier, *ordered;
};

/* A kit's line that waits for some of an order line. */
struct waiting {
    int64_t id, open;
    const char *kit_name, *line_key;
    bool named, own_kit, beside; /* the line that the owner named; one of that kit; goes with another part */
};

/* What was taken for good before. */
struct taken {
    int64_t supply, order_line, here;
};

struct receiving {
    struct lb_receipt receipt; /* first: what is handed out */
    struct lb_arena texts;
    struct lb_store *store;
    const struct lb_kit *kit;
    const struct lb_line *line;
    enum lb_came how;
    int64_t now;
    const char *part, *part_type; /* its key; what it is, NULL: nobody says */
    int64_t *credited;            /* by line of the kit: what it has been given just now */
    LB_VEC(struct open_line) open;
    LB_VEC(struct waiting) waiting;
    LB_VEC(struct taken) taken;
    LB_VEC(struct lb_receipt_order) orders;
    LB_VEC(struct lb_receipt_other) others;
    struct lb_error *err;
};

/* receiving.c. The part that the owner named, or else the one that was ordered for the line. */
LB_CHECK lb_status receiving_name_part(struct receiving *r, const char *brand, const char *number);
LB_CHECK lb_status receiving_find_part(struct receiving *r);
/* Each replaces what is in r->open, r->waiting, r->taken. */
LB_CHECK lb_status receiving_find_open(struct receiving *r);
LB_CHECK lb_status receiving_find_waiting(struct receiving *r, int64_t order_line);
LB_CHECK lb_status receiving_find_taken(struct receiving *r);
/* One statement with integers only. */
LB_CHECK lb_status receiving_run(struct receiving *r, const char *sql, const int64_t *numbers, int count);
/* LB_DATA: more came than was ordered. */
LB_CHECK lb_status receiving_refuse(struct receiving *r, int64_t quantity, int64_t possible);

#endif
