/* A purchase becomes orders: a row a parcel, a row a line of it, and what each kit's line gets of it. */
#include "base/date.h"
#include "base/decimal.h"
#include "garage/shelf.h"
#include "purchase/order.h"
#include "purchase/orders.h"
#include "purchase/parts.h"

#include <stdlib.h>

struct recording {
    struct lb_store *store;
    const struct lb_purchase *purchase;
    const char *ordered; /* UTC, ISO 8601 */
    struct lb_statement *order, *line, *supply, *box;
    struct lb_error *err;
};

static lb_status prepare(struct recording *r)
{
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&r->order, "INSERT INTO orders (supplier, label, currency, ordered, file, goods, shipping, tax, "
                    "expected) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"},
        {&r->line, "INSERT INTO order_line (part, brand, part_number, unit, supplier_code, \"order\", packs, "
                   "pack_quantity, price, deposit) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)"},
        {&r->supply, "INSERT INTO supply (line_key, part, brand, part_number, kit, order_line, quantity, "
                     "here, beside) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"},
        {&r->box, "INSERT INTO supply_box (line_key, part, kit, quantity) VALUES (?1, ?2, ?3, ?4) "
                  "ON CONFLICT (kit, line_key, part) DO UPDATE SET quantity = quantity + ?4"},
    };
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof statements / sizeof *statements; i++)
        status = lb_store_prepare(r->store, statements[i].statement, statements[i].sql, r->err);
    return status;
}

static void bind_texts(struct lb_statement *st, const char *const *texts, int count)
{
    for (int i = 0; i < count; i++)
        lb_bind_text(st, i + 1, texts[i]);
}

static lb_status record_order(struct recording *r, const struct lb_parcel *parcel, const char *file,
                              int64_t *id)
{
    const struct lb_supplier *supplier = &r->purchase->market.suppliers[parcel->supplier];
    const char *const texts[] = {supplier->name, supplier->label, parcel->currency, r->ordered, file};
    bind_texts(r->order, texts, 5);
    lb_bind_integer(r->order, 6, parcel->goods);
    lb_bind_integer(r->order, 7, parcel->shipping);
    lb_bind_integer(r->order, 8, parcel->tax);
    if (!lb_order_day_known(parcel))
        lb_bind_null(r->order, 9);
    else
        lb_bind_integer(r->order, 9, r->purchase->today + parcel->days);
    lb_status status = lb_run(r->order, r->err);
    *id = lb_store_last_id(r->store);
    return status;
}

static lb_status record_line(struct recording *r, int64_t order, const struct lb_parcel_line *line,
                             int64_t *id)
{
    const struct lb_part *part = r->purchase->parts[line->part];
    const struct lb_part_offer *offer = r->purchase->offers[line->part][line->offer];
    const char *const texts[] = {part->key, part->brand, part->number, lb_part_unit(part),
                                 offer->supplier_code};
    const int64_t numbers[] = {order, line->packs, offer->pack_quantity, line->price,
                               line->packs ? line->deposit / line->packs : 0};
    bind_texts(r->line, texts, 5);
    for (int i = 0; i < 5; i++)
        lb_bind_integer(r->line, i + 6, numbers[i]);
    lb_status status = lb_run(r->line, r->err);
    *id = lb_store_last_id(r->store);
    return status;
}

/* Gives out up to `quantity` of a part to the shares that are still without, in their order; order_line 0: it
 * is taken off the shelf. `done` is what earlier calls gave out. */
static lb_status give_out(struct recording *r, uint32_t part, const struct lb_use *use, int64_t *done,
                          int64_t quantity, int64_t order_line)
{
    const struct lb_part *p = r->purchase->parts[part];
    int64_t passed = 0;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && quantity > 0 && i < use->shares.count; i++) {
        const struct lb_use_share *share = &use->shares.at[i];
        int64_t open = passed + share->quantity - (*done > passed ? *done : passed);
        int64_t given = open < quantity ? open : quantity;
        passed += share->quantity;
        if (given <= 0)
            continue;
        const struct lb_purchase_need *need = &r->purchase->needs[share->need];
        const char *const texts[] = {need->line->need->key, p->key, p->brand, p->number};
        bind_texts(r->supply, texts, 4);
        lb_bind_integer(r->supply, 5, lb_kit_id(r->purchase->kits[need->kit]));
        if (order_line)
            lb_bind_integer(r->supply, 6, order_line);
        else
            lb_bind_null(r->supply, 6);
        lb_bind_integer(r->supply, 7, given);
        lb_bind_integer(r->supply, 8, order_line ? 0 : given);
        lb_bind_integer(r->supply, 9, share->beside);
        status = lb_run(r->supply, r->err);
        *done += given;
        quantity -= given;
    }
    return status;
}

static lb_status take_off_shelf(struct recording *r, const struct lb_uses *uses, int64_t *done)
{
    lb_status status = LB_OK;
    for (uint32_t p = 0; !status && p < uses->part_count; p++) {
        int64_t quantity = uses->parts[p].from_shelf;
        if (!quantity)
            continue;
        status = lb_shelf_take(r->store, r->purchase->parts[p]->key, quantity, r->err);
        if (!status)
            status = give_out(r, p, &uses->parts[p], &done[p], quantity, 0);
    }
    return status;
}

static lb_status record_parcels(struct recording *r, const struct lb_uses *uses, const char *const *files,
                                int64_t *done)
{
    const struct lb_basket *basket = r->purchase->basket;
    lb_status status = LB_OK;
    for (size_t p = 0; !status && p < basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &basket->parcels[p];
        int64_t order = 0, id = 0;
        status = record_order(r, parcel, files ? files[p] : NULL, &order);
        for (size_t i = 0; !status && i < parcel->line_count; i++) {
            const struct lb_parcel_line *line = &parcel->lines[i];
            int64_t pack = r->purchase->offers[line->part][line->offer]->pack_quantity;
            int64_t quantity = lb_decimal_muldiv(line->packs, pack, 1);
            status = record_line(r, order, line, &id);
            if (!status)
                status = give_out(r, line->part, &uses->parts[line->part], &done[line->part], quantity, id);
        }
    }
    return status;
}

static lb_status record_boxes(struct recording *r, const struct lb_uses *uses)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < uses->holdings.count; i++) {
        const struct lb_use_holding *holding = &uses->holdings.at[i];
        const struct lb_purchase_need *need = &r->purchase->needs[holding->need];
        lb_bind_text(r->box, 1, need->line->need->key);
        lb_bind_text(r->box, 2, r->purchase->parts[holding->part]->key);
        lb_bind_integer(r->box, 3, lb_kit_id(r->purchase->kits[need->kit]));
        lb_bind_integer(r->box, 4, holding->quantity);
        status = lb_run(r->box, r->err);
    }
    return status;
}

static lb_status record_all(struct recording *r, const char *const *files)
{
    struct lb_uses uses = {0};
    int64_t *done = calloc(r->purchase->market.part_count + 1, sizeof *done);
    lb_status status = done ? prepare(r) : lb_fail_nomem(r->err);
    if (!status)
        status = lb_uses_find(&uses, r->purchase, r->err);
    if (!status)
        status = take_off_shelf(r, &uses, done);
    if (!status)
        status = record_parcels(r, &uses, files, done);
    if (!status)
        status = record_boxes(r, &uses);
    if (!status)
        status = purchase_forget_shown(r->store, r->purchase, r->err);
    lb_uses_free(&uses);
    free(done);
    return status;
}

lb_status lb_orders_record(struct lb_store *store, const struct lb_purchase *purchase,
                           const char *const *files, int64_t now, struct lb_error *err)
{
    struct lb_buf ordered = {0};
    lb_date_print_time(&ordered, now);
    struct recording r = {.store = store, .purchase = purchase, .ordered = lb_buf_text(&ordered), .err = err};
    lb_status status = ordered.failed ? lb_fail_nomem(err) : record_all(&r, files);
    struct lb_statement *const statements[] = {r.order, r.line, r.supply, r.box};
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++)
        lb_statement_free(statements[i]);
    lb_buf_free(&ordered);
    return status;
}
