/* All that is still to come of an order came. */
#include "base/text.h"
#include "purchase/receiving.h"

#include <stdlib.h>
#include <string.h>

/* An order in which something is for the kit, and of which something is still to come. */
struct parcel {
    int64_t id;
    const char *name, *label, *day; /* of the supplier; on which it was ordered */
};

struct search {
    struct receiving_call *call;
    struct lb_arena texts;
    LB_VEC(struct parcel) open; /* oldest first */
    LB_VEC(struct parcel) meant;
};

static lb_status find_open(struct search *s)
{
    bool row;
    struct lb_statement *st;
    struct lb_error *err = s->call->err;
    lb_status status = lb_store_prepare(
        s->call->store, &st,
        "SELECT o.id, o.supplier, o.label, substr(o.ordered, 1, 10) FROM orders o WHERE "
        "EXISTS (SELECT 1 FROM order_line l WHERE l.\"order\" = o.id AND " RECEIVING_OPEN " > 0) AND "
        "EXISTS (SELECT 1 FROM supply s JOIN order_line l ON l.id = s.order_line WHERE l.\"order\" = o.id "
        "AND (s.kit = ?1 OR s.kit IN (SELECT id FROM kit WHERE fleet = ?2))) ORDER BY o.id",
        err);
    if (status)
        return status;
    lb_bind_integer(st, 1, lb_kit_id(s->call->kit));
    lb_bind_integer(st, 2, s->call->fleet ? s->call->fleet->id : 0);
    while (!(status = lb_step(st, &row, err)) && row) {
        struct parcel parcel = {.id = lb_integer(st, 0)};
        const char **texts[] = {&parcel.name, &parcel.label, &parcel.day};
        status = lb_need_texts(st, 1, 3, err);
        for (int i = 0; !status && i < 3; i++)
            status = lb_keep_text(st, i + 1, &s->texts, texts[i], err);
        if (!status && !LB_PUSH(&s->open, parcel))
            status = lb_fail_nomem(err);
        if (status)
            break;
    }
    lb_statement_free(st);
    return status;
}

static bool ordered_within(const struct parcel *parcel, const struct lb_interval *days)
{
    struct lb_interval day;
    return !lb_date_parse(parcel->day, &day) && day.first >= days->first && day.last <= days->last;
}

static lb_status choose(struct search *s, const char *supplier, const struct lb_interval *days)
{
    for (size_t i = 0; i < s->open.count; i++) {
        const struct parcel *parcel = &s->open.at[i];
        if ((lb_text_same_words(parcel->name, supplier) || lb_text_same_words(parcel->label, supplier)) &&
            ordered_within(parcel, days) && !LB_PUSH(&s->meant, *parcel))
            return lb_fail_nomem(s->call->err);
    }
    return LB_OK;
}

static lb_status refuse_none(const struct search *s, const char *supplier)
{
    struct lb_buf words = {0};
    for (size_t i = 0; i < s->open.count; i++)
        lb_buf_printf(&words, "%s%s (%s)", i ? ", " : ". Open are orders to ", s->open.at[i].label,
                      s->open.at[i].day);
    lb_status status =
        words.failed
            ? lb_fail_nomem(s->call->err)
            : lb_fail(s->call->err, LB_DATA,
                      "no such order to \"%.100s\" is open for %s, so nothing was recorded%s.", supplier,
                      s->call->fleet ? s->call->fleet->name : s->call->kit->name, lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}

static lb_status refuse_several(const struct search *s)
{
    struct lb_buf words = {0};
    for (size_t i = 0; i < s->meant.count; i++)
        lb_buf_printf(&words, "%s%s", i ? " and " : "", s->meant.at[i].day);
    bool same = strcmp(s->meant.at[0].day, s->meant.at[s->meant.count - 1].day) == 0;
    lb_status status =
        words.failed ? lb_fail_nomem(s->call->err)
                     : lb_fail(s->call->err, LB_DATA,
                               "%zu orders to %s are open, of %s. Nothing was recorded. %s: --ordered %s; or "
                               "name the lines that did.",
                               s->meant.count, s->meant.at[0].label, lb_buf_text(&words),
                               same ? "When all of them came" : "Say which came", s->meant.at[0].day);
    lb_buf_free(&words);
    return status;
}

static lb_status gather_row(struct receiving_call *call, struct lb_statement *st)
{
    struct open_line line = {.id = lb_integer(st, 6), .pack = lb_integer(st, 7), .open = lb_integer(st, 8)};
    struct receiving *r = receiving_add(call, NULL, line.open);
    if (!r)
        return call->err->status;
    const char **texts[] = {&line.supplier,    &line.ordered,      &r->part,
                            &r->receipt.brand, &r->receipt.number, &r->receipt.unit};
    lb_status status = lb_need_texts(st, 0, 6, call->err);
    for (int i = 0; !status && i < 6; i++)
        status = lb_keep_text(st, i, &r->texts, texts[i], call->err);
    if (status)
        return status;
    receiving_find_type(r, NULL);
    return LB_PUSH(&r->open, line) ? LB_OK : lb_fail_nomem(call->err);
}

static lb_status gather_parcel(struct receiving_call *call, int64_t order)
{
    bool row;
    struct lb_statement *st;
    lb_status status =
        lb_store_prepare(call->store, &st,
                         "SELECT o.label, o.ordered, l.part, l.brand, l.part_number, l.unit, l.id, "
                         "l.pack_quantity, " RECEIVING_OPEN " FROM order_line l JOIN orders o "
                         "ON o.id = l.\"order\" WHERE o.id = ?1 AND " RECEIVING_OPEN " > 0 ORDER BY l.id",
                         call->err);
    if (status)
        return status;
    lb_bind_integer(st, 1, order);
    while (!(status = lb_step(st, &row, call->err)) && row)
        if ((status = gather_row(call, st)))
            break;
    lb_statement_free(st);
    return status;
}

static lb_status count_meant(struct search *s, const char *supplier, const struct lb_interval *days)
{
    bool any_day = days->first == LB_DATE_MIN && days->last == LB_DATE_MAX;
    lb_status status = find_open(s);
    if (!status)
        status = choose(s, supplier, days);
    if (!status && !s->meant.count)
        status = refuse_none(s, supplier);
    else if (!status && s->meant.count > 1 && any_day)
        status = refuse_several(s);
    for (size_t i = 0; !status && i < s->meant.count; i++)
        status = gather_parcel(s->call, s->meant.at[i].id);
    for (size_t i = 0; !status && i < s->call->receipts.count; i++) {
        struct receiving *r = (struct receiving *)s->call->receipts.at[i]; /* its first member */
        status = receiving_count(r, &r->open.at[0], r->receipt.quantity);
    }
    return status;
}

static lb_status receive(struct receiving_call *call, struct lb_receipts *out, const char *supplier,
                         const struct lb_interval *ordered)
{
    struct search search = {.call = call};
    lb_status status = receiving_begin(call);
    if (!status)
        status = count_meant(&search, supplier, ordered);
    free(search.open.at);
    free(search.meant.at);
    lb_arena_free(&search.texts);
    return receiving_end(call, status, out);
}

lb_status lb_orders_receive_parcel(struct lb_receipts *out, struct lb_store *store, const struct lb_kit *kit,
                                   const char *supplier, struct lb_interval ordered, enum lb_came how,
                                   int64_t now, struct lb_error *err)
{
    struct receiving_call call = {.store = store, .kit = kit, .how = how, .now = now, .err = err};
    return receive(&call, out, supplier, &ordered);
}

lb_status lb_fleet_receive_parcel(struct lb_receipts *out, struct lb_store *store,
                                  const struct lb_fleet *fleet, const char *supplier,
                                  struct lb_interval ordered, enum lb_came how, int64_t now,
                                  struct lb_error *err)
{
    struct receiving_call call = {.store = store,
                                  .kit = fleet->kits[0],
                                  .fleet = fleet->single ? NULL : fleet,
                                  .how = how,
                                  .now = now,
                                  .err = err};
    return receive(&call, out, supplier, &ordered);
}
