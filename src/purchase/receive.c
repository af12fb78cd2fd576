/* What came: counted against what was ordered, given to the lines that wait for it, the rest to the shelf. */
#include "base/date.h"
#include "base/measure.h"
#include "catalog/partkey.h"
#include "garage/shelf.h"
#include "purchase/receiving.h"

#include <stdlib.h>
#include <string.h>

/* What a line that is ours still wants of a part. A box is opened for several lines, so all of it is wanted
 * as long as its own line is. */
static int64_t wanted(const struct receiving *r, const struct waiting *waiting)
{
    const struct lb_line *line = waiting->line;
    if (!line || line->decision != LB_BUY || line->chosen == LB_NO_NAME)
        return 0;
    const struct lb_candidate *chosen = &line->candidates[line->chosen];
    for (size_t i = 0; waiting->beside && i < chosen->companion_count; i++)
        if (strcmp(chosen->companions[i].part->key, r->part) == 0)
            return INT64_MAX;
    if (waiting->beside || strcmp(chosen->part->key, r->part) != 0)
        return 0;
    int64_t open = chosen->quantity - line->here - *waiting->given;
    return chosen->part->content_count ? INT64_MAX : open > 0 ? open : 0;
}

static lb_status note_other(struct receiving *r, const struct waiting *waiting, int64_t quantity)
{
    struct lb_receipt_other other = {
        .kit = waiting->kit_name, .line = waiting->line ? waiting->line->number : 0, .quantity = quantity};
    if (waiting->named) {
        r->receipt.to_line += quantity;
        return LB_OK;
    }
    return LB_PUSH(&r->others, other) ? LB_OK : lb_fail_nomem(r->err);
}

/* `here` is for the line; `unwanted` came for it too, and the line wants it no more. */
static lb_status credit(struct receiving *r, const struct waiting *waiting, int64_t here, int64_t unwanted)
{
    const int64_t numbers[] = {waiting->id, here, unwanted};
    if (waiting->given)
        *waiting->given += here;
    lb_status status = receiving_run(
        r, "UPDATE supply SET here = here + ?2, quantity = quantity - ?3 WHERE id = ?1", numbers, 3);
    return status || !here ? status : note_other(r, waiting, here);
}

/* What is left over of an order line. Of a fluid it is what stays in the container, unless whole packs do. */
static lb_status put_on_shelf(struct receiving *r, const struct open_line *line, int64_t quantity)
{
    struct lb_buf since = {0};
    lb_date_print_time(&since, r->now);
    struct lb_shelf_item item = {.key = r->part,
                                 .brand = r->receipt.brand,
                                 .number = r->receipt.number,
                                 .part_type = r->part_type,
                                 .unit = r->receipt.unit,
                                 .quantity = quantity,
                                 .since = lb_buf_text(&since)};
    item.opened = strcmp(item.unit, "each") != 0 && quantity % line->pack;
    r->receipt.to_shelf += quantity;
    lb_status status = since.failed ? lb_fail_nomem(r->err) : lb_shelf_add(r->store, &item, r->err);
    lb_buf_free(&since);
    return status;
}

static lb_status came_well(struct receiving *r, const struct open_line *line, int64_t quantity)
{
    const int64_t numbers[] = {line->id, quantity};
    lb_status status = receiving_run(r, "UPDATE order_line SET came = came + ?2 WHERE id = ?1", numbers, 2);
    for (size_t i = 0; !status && quantity > 0 && i < r->waiting.count; i++) {
        const struct waiting *waiting = &r->waiting.at[i];
        int64_t most = waiting->open < quantity ? waiting->open : quantity;
        int64_t wants = waiting->ours ? wanted(r, waiting) : most;
        int64_t here = wants < most ? wants : most;
        status = credit(r, waiting, here, most - here);
        quantity -= here;
    }
    return status || quantity <= 0 ? status : put_on_shelf(r, line, quantity);
}

static const char *lost_sql(enum lb_came how)
{
    return how == LB_CAME_WRONG ? "UPDATE order_line SET wrong = wrong + ?2, came = came - ?3 WHERE id = ?1"
           : how == LB_CAME_DAMAGED
               ? "UPDATE order_line SET damaged = damaged + ?2, came = came - ?3 WHERE id = ?1"
               : "UPDATE order_line SET short = short + ?2, came = came - ?3 WHERE id = ?1";
}

/* What was bought beyond what the lines want is the first to be missed. */
static lb_status lost(struct receiving *r, const struct open_line *line, int64_t quantity)
{
    const int64_t numbers[] = {line->id, quantity, 0};
    int64_t beyond = line->open;
    lb_status status = receiving_run(r, lost_sql(r->how), numbers, 3);
    for (size_t i = 0; i < r->waiting.count; i++)
        beyond -= r->waiting.at[i].open;
    quantity -= beyond <= 0 ? 0 : beyond < quantity ? beyond : quantity;
    for (size_t i = 0; !status && quantity > 0 && i < r->waiting.count; i++) {
        const struct waiting *waiting = &r->waiting.at[i];
        int64_t here = waiting->open < quantity ? waiting->open : quantity;
        const int64_t of_it[] = {waiting->id, here};
        status = receiving_run(r, "UPDATE supply SET lost = lost + ?2 WHERE id = ?1", of_it, 2);
        quantity -= here;
    }
    return status;
}

static lb_status count_line(struct receiving *r, const struct open_line *line, int64_t quantity)
{
    struct lb_receipt_order order = {line->supplier, line->ordered, quantity};
    lb_status status = receiving_find_waiting(r, line->id);
    if (!status && !LB_PUSH(&r->orders, order))
        status = lb_fail_nomem(r->err);
    if (status)
        return status;
    return r->how == LB_CAME_WELL ? came_well(r, line, quantity) : lost(r, line, quantity);
}

/* What was taken for good and is not: newest first. */
static lb_status take_back(struct receiving *r, int64_t *quantity)
{
    lb_status status = receiving_find_taken(r);
    for (size_t i = 0; !status && *quantity > 0 && i < r->taken.count; i++) {
        const struct taken *taken = &r->taken.at[i];
        int64_t back = taken->here < *quantity ? taken->here : *quantity;
        const int64_t of_line[] = {taken->order_line, back, back}, of_supply[] = {taken->supply, back};
        status = receiving_run(r, lost_sql(r->how), of_line, 3);
        if (!status)
            status = receiving_run(r, "UPDATE supply SET lost = lost + ?2, here = here - ?2 WHERE id = ?1",
                                   of_supply, 2);
        *quantity -= back;
        r->receipt.taken_back += back;
    }
    return status;
}

static lb_status note_first(struct receiving *r, int64_t order_line)
{
    struct lb_statement *st;
    struct lb_buf now = {0};
    lb_date_print_time(&now, r->now);
    lb_status status = lb_store_prepare(
        r->store, &st, "UPDATE order_line SET first_came = coalesce(first_came, ?1) WHERE id = ?2", r->err);
    if (!status) {
        lb_bind_text(st, 1, lb_buf_text(&now));
        lb_bind_integer(st, 2, order_line);
        status = now.failed ? lb_fail_nomem(r->err) : lb_run(st, r->err);
        lb_statement_free(st);
    }
    lb_buf_free(&now);
    return status;
}

lb_status receiving_count(struct receiving *r, const struct open_line *line, int64_t quantity)
{
    lb_status status = count_line(r, line, quantity);
    return status || r->how != LB_CAME_WELL ? status : note_first(r, line->id);
}

static lb_status count_all(struct receiving *r)
{
    int64_t quantity = r->receipt.quantity, left = quantity;
    lb_status status = receiving_find_part(r);
    if (!status)
        status = receiving_find_open(r);
    for (size_t i = 0; !status && left > 0 && i < r->open.count; i++) {
        const struct open_line *line = &r->open.at[i];
        int64_t here = line->open < left ? line->open : left;
        status = receiving_count(r, line, here);
        left -= here;
    }
    if (!status && left > 0 && (r->how == LB_CAME_WRONG || r->how == LB_CAME_DAMAGED))
        status = take_back(r, &left);
    return status || left <= 0 ? status : receiving_refuse(r, quantity, quantity - left);
}

static lb_status count_arrival(struct receiving_call *call, const struct lb_arrival *arrival)
{
    struct receiving *r = receiving_add(call, arrival->line, arrival->quantity);
    lb_status status = r ? LB_OK : call->err->status;
    if (!status && arrival->brand)
        status = receiving_name_part(r, arrival->brand, arrival->number);
    return status ? status : count_all(r);
}

lb_status receiving_lines(struct receiving_call *call, const struct lb_arrival *arrivals, size_t count,
                          struct lb_receipts *out)
{
    lb_status status = receiving_begin(call);
    for (size_t i = 0; !status && i < count; i++)
        status = count_arrival(call, &arrivals[i]);
    return receiving_end(call, status, out);
}

lb_status lb_orders_receive(struct lb_receipts *out, struct lb_store *store, const struct lb_kit *kit,
                            const struct lb_arrival *arrivals, size_t count, enum lb_came how, int64_t now,
                            struct lb_error *err)
{
    struct receiving_call call = {.store = store, .kit = kit, .how = how, .now = now, .err = err};
    return receiving_lines(&call, arrivals, count, out);
}
