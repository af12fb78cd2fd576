/* What the files share that count what came. Private to purchase/. */
#ifndef LB_PURCHASE_RECEIVING_H
#define LB_PURCHASE_RECEIVING_H

#include "kit/fleet.h"
#include "purchase/orders.h"

/* What may still come of an order line l. */
#define RECEIVING_OPEN "(l.packs * l.pack_quantity - l.came - l.wrong - l.damaged - l.short)"

/* An order line of the part, of which something may still come. */
struct open_line {
    int64_t id, pack, open;
    const char *supplier, *ordered;
};

/* A kit's line that waits for some of an order line. */
struct waiting {
    int64_t id, open;
    const char *kit_name, *line_key;
    bool named, beside;         /* the line that the owner named; goes with another part */
    bool ours;                  /* its kit is the one that was named, or of the fleet that was */
    const struct lb_line *line; /* when it is ours; NULL: the kit has no such line any more */
    int64_t *given;             /* what the line has been given just now */
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
    const struct lb_fleet *fleet;   /* as in the call */
    const struct lb_line *line;     /* NULL: a whole parcel was named */
    const struct receiving *before; /* what was named before it, and is recorded together with it */
    enum lb_came how;
    int64_t now;
    const char *part, *part_type; /* its key; what it is, NULL: nobody says */
    int64_t *credited;            /* by line of the kit, then of the fleet's kits: what it has been given
                                     just now; all share it */
    LB_VEC(struct open_line) open;
    LB_VEC(struct waiting) waiting;
    LB_VEC(struct taken) taken;
    LB_VEC(struct lb_receipt_order) orders;
    LB_VEC(struct lb_receipt_other) others;
    struct lb_error *err;
};

/* One call: what is counted together, or not at all. */
struct receiving_call {
    struct lb_store *store;
    const struct lb_kit *kit;
    enum lb_came how;
    int64_t now;
    const struct lb_fleet *fleet;   /* the kit is one of its; NULL: it was named by itself */
    bool inside;                    /* the caller's transaction is open, and the caller ends it */
    const struct receiving *before; /* what was named in the same transaction before */
    int64_t *credited;
    LB_VEC(struct lb_receipt *) receipts;
    struct lb_error *err;
};

/* receive_call.c. Begins a transaction, which receiving_end commits when status is LB_OK, and handing out. */
LB_CHECK lb_status receiving_begin(struct receiving_call *call);
LB_CHECK lb_status receiving_end(struct receiving_call *call, lb_status status, struct lb_receipts *out);
/* NULL: out of memory, which call->err says. */
struct receiving *receiving_add(struct receiving_call *call, const struct lb_line *line, int64_t quantity);
/* receive.c. Counts what came for lines of the call's kit. */
LB_CHECK lb_status receiving_lines(struct receiving_call *call, const struct lb_arrival *arrivals,
                                   size_t count, struct lb_receipts *out);
/* Counts so much of an order line. */
LB_CHECK lb_status receiving_count(struct receiving *r, const struct open_line *line, int64_t quantity);

/* receiving.c. The part that the owner named, or else the one that was ordered for the line. */
LB_CHECK lb_status receiving_name_part(struct receiving *r, const char *brand, const char *number);
LB_CHECK lb_status receiving_find_part(struct receiving *r);
/* Each replaces what is in r->open, r->waiting, r->taken. */
LB_CHECK lb_status receiving_find_open(struct receiving *r);
LB_CHECK lb_status receiving_find_waiting(struct receiving *r, int64_t order_line);
LB_CHECK lb_status receiving_find_taken(struct receiving *r);
/* What the kit's line, or NULL any line of it, says of the part: r->part_type. */
void receiving_find_type(struct receiving *r, const struct lb_line *line);
/* One statement with integers only. */
LB_CHECK lb_status receiving_run(struct receiving *r, const char *sql, const int64_t *numbers, int count);
/* LB_DATA: more came than was ordered. */
LB_CHECK lb_status receiving_refuse(struct receiving *r, int64_t quantity, int64_t possible);

#endif
