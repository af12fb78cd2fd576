#include "purchase/order.h"

#include "purchase/order_file.h"
#include "purchase/orders.h"
#include "purchase/parts.h"

#include <stdlib.h>
#include <string.h>

#define SECONDS 10.0 /* to solve in, when buy was not asked before */

struct ordering {
    struct lb_order order; /* first: what is handed out */
    struct lb_arena arena;
    struct lb_order_files *files;
    int64_t seen; /* the index as it was: another program's changes make it another number */
    struct lb_error *err;
};

static bool is_open_question(const struct lb_purchase *purchase, const struct lb_purchase_gap *gap)
{
    const struct lb_kit *kit = gap->kit < purchase->kit_count ? purchase->kits[gap->kit] : NULL;
    bool about = strcmp(gap->code, lb_gap_name(LB_GAP_ASK)) == 0 ||
                 strcmp(gap->code, lb_gap_name(LB_GAP_FIT_UNKNOWN)) == 0;
    return kit && about && gap->line >= 1 && (size_t)gap->line <= kit->line_count &&
           !kit->lines[gap->line - 1].decided;
}

/* The gaps that stand in the way. */
static lb_status find_gaps(struct ordering *o)
{
    const struct lb_purchase *purchase = o->order.purchase;
    const struct lb_purchase_gap **gaps = lb_arena_alloc(&o->arena, (purchase->gap_count + 1) * sizeof *gaps);
    if (!gaps)
        return lb_fail_nomem(o->err);
    o->order.gaps = gaps;
    for (size_t i = 0; i < purchase->gap_count; i++)
        if (purchase->blocked || is_open_question(purchase, &purchase->gaps[i]))
            gaps[o->order.gap_count++] = &purchase->gaps[i];
    if (purchase->blocked)
        o->order.outcome = LB_ORDER_BLOCKED;
    else if (o->order.gap_count)
        o->order.outcome = LB_ORDER_UNDECIDED;
    return LB_OK;
}

static lb_status find_taken(struct ordering *o)
{
    struct lb_purchase *purchase = o->order.purchase;
    struct lb_uses uses = {0};
    struct lb_order_taken *taken =
        lb_arena_alloc(&o->arena, (purchase->market.part_count + 1) * sizeof *taken);
    lb_status status = taken ? lb_uses_find(&uses, purchase, o->err) : lb_fail_nomem(o->err);
    o->order.taken = taken;
    for (size_t p = 0; !status && p < uses.part_count; p++)
        if (uses.parts[p].from_shelf)
            taken[o->order.taken_count++] =
                (struct lb_order_taken){purchase->parts[p], uses.parts[p].from_shelf};
    lb_uses_free(&uses);
    if (!status && !purchase->basket->parcel_count && !o->order.taken_count)
        o->order.outcome = LB_ORDER_NOTHING;
    return status;
}

/* The packs that the basket has of what a shown line bought: of the same offer at whatever price. */
static bool same_offer(const struct purchase_shown_line *a, const struct purchase_shown_line *b)
{
    const char *x = a->supplier_code ? a->supplier_code : "", *y = b->supplier_code ? b->supplier_code : "";
    return strcmp(a->part, b->part) == 0 && strcmp(a->supplier, b->supplier) == 0 && strcmp(x, y) == 0 &&
           a->pack_quantity == b->pack_quantity;
}

typedef LB_VEC(struct purchase_shown_line) line_list;

static lb_status list_lines(const struct lb_purchase *purchase, line_list *out, struct lb_error *err)
{
    for (size_t p = 0; p < purchase->basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &purchase->basket->parcels[p];
        for (size_t i = 0; i < parcel->line_count; i++)
            if (!LB_PUSH(out, purchase_line_of(purchase, parcel, &parcel->lines[i])))
                return lb_fail_nomem(err);
    }
    return LB_OK;
}

static lb_status add_change(struct ordering *o, struct lb_order_change *changes,
                            const struct purchase_shown_line *line, int64_t was, int64_t now)
{
    const struct lb_purchase *purchase = o->order.purchase;
    struct lb_order_change change = {.was = was, .now = now, .pack = line->pack_quantity};
    const char *label = purchase_label_of(purchase, line->supplier);
    const struct lb_part *part = purchase_find_part(purchase, line->part, NULL);
    struct lb_buf name = {0};
    change.unit = part ? lb_part_unit(part) : NULL;
    if (part)
        lb_buf_printf(&name, "%s %s", part->brand, part->number);
    else
        for (const char *p = line->part; *p; p++)
            lb_buf_putc(&name, *p == '\x1f' ? ' ' : *p);
    change.part = name.failed ? NULL : lb_arena_text(&o->arena, lb_buf_text(&name), name.length);
    change.supplier = lb_arena_text(&o->arena, label, strlen(label));
    changes[o->order.change_count++] = change;
    lb_buf_free(&name);
    return change.part && change.supplier ? LB_OK : lb_fail_nomem(o->err);
}

/* Line by line what was shown against what is; *same: not even a price differs. */
static lb_status compare(struct ordering *o, const struct purchase_shown *shown, const line_list *now,
                         bool *same)
{
    struct lb_order_change *changes =
        lb_arena_alloc(&o->arena, (shown->lines.count + now->count + 1) * sizeof *changes);
    lb_status status = changes ? LB_OK : lb_fail_nomem(o->err);
    o->order.changes = changes;
    for (size_t i = 0; !status && i < shown->lines.count; i++) {
        const struct purchase_shown_line *was = &shown->lines.at[i], *is = NULL;
        for (size_t k = 0; k < now->count && !is; k++)
            is = same_offer(was, &now->at[k]) ? &now->at[k] : NULL;
        *same &= is && is->price == was->price && strcmp(is->currency, was->currency) == 0;
        if (!is || is->packs != was->packs)
            status = add_change(o, changes, was, was->packs, is ? is->packs : 0);
    }
    for (size_t k = 0; !status && k < now->count; k++) {
        bool known = false;
        for (size_t i = 0; i < shown->lines.count; i++)
            known |= same_offer(&shown->lines.at[i], &now->at[k]);
        if (!known)
            status = add_change(o, changes, &now->at[k], 0, now->at[k].packs);
    }
    *same &= !o->order.change_count;
    return status;
}

static lb_status judge_shown(struct ordering *o, const struct purchase_shown *shown)
{
    const struct lb_basket_total *total = &o->order.purchase->basket->total;
    line_list now = {0};
    const char *currency = total->currency ? total->currency : ""; /* of nothing there is none */
    bool same = shown->total == total->total && strcmp(shown->currency, currency) == 0;
    lb_status status = list_lines(o->order.purchase, &now, o->err);
    if (!status)
        status = compare(o, shown, &now, &same);
    free(now.at);
    if (status || same)
        return status;
    o->order.outcome = LB_ORDER_MOVED;
    o->order.shown_total = shown->total;
    o->order.shown_currency = lb_arena_text(&o->arena, shown->currency, strlen(shown->currency));
    return o->order.shown_currency ? LB_OK : lb_fail_nomem(o->err);
}

static lb_status look(struct ordering *o, struct lb_store *store, int64_t *version)
{
    return lb_store_integer(store, "PRAGMA data_version", version, o->err);
}

/* Between looking and ordering somebody else may have ordered the same. */
static lb_status refuse_changed(struct ordering *o, struct lb_store *store)
{
    int64_t now;
    lb_status status = look(o, store, &now);
    return status || now == o->seen ? status
                                    : lb_fail(o->err, LB_DATA,
                                              "the index was changed while this was worked out. Nothing was "
                                              "ordered; look at it again with: lastbolt buy");
}

static lb_status prepare(struct ordering *o, struct lb_store *store, const char *const *names,
                         size_t name_count, int32_t today)
{
    struct purchase_shown shown;
    lb_status status = purchase_load_shown(&shown, store, names, name_count, o->err);
    struct lb_purchase_options options = {.arrive_by = LB_NO_DAY, .seconds = SECONDS};
    if (!status && shown.at)
        options = shown.options;
    if (!status)
        status = lb_purchase_make(&o->order.purchase, store, names, name_count, &options, today, o->err);
    if (!status)
        status = find_gaps(o);
    if (!status && o->order.outcome == LB_ORDER_READY)
        status = find_taken(o);
    if (!status && o->order.outcome == LB_ORDER_READY && shown.at)
        status = judge_shown(o, &shown);
    purchase_free_shown(&shown);
    return status;
}

lb_status lb_order_prepare(struct lb_order **out, struct lb_store *store, const char *const *names,
                           size_t name_count, int32_t today, struct lb_error *err)
{
    *out = NULL;
    struct ordering *o = calloc(1, sizeof *o);
    if (!o)
        return lb_fail_nomem(err);
    o->err = err;
    lb_status status = look(o, store, &o->seen);
    if (!status)
        status = prepare(o, store, names, name_count, today);
    if (status)
        lb_order_free(&o->order);
    else
        *out = &o->order;
    return status;
}

lb_status lb_order_place(struct lb_order *order, struct lb_store *store, const char *folder,
                         const struct lb_profile *profile, int64_t now, struct lb_error *err)
{
    struct ordering *o = (struct ordering *)order; /* its first member */
    o->err = err;
    lb_status status = lb_store_begin(store, err);
    if (!status)
        status = refuse_changed(o, store);
    if (!status)
        status = lb_order_files_write(&o->files, store, order->purchase, folder, profile, err);
    if (!status)
        status = lb_orders_record(store, order->purchase, lb_order_files_stems(o->files), now, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status) {
        lb_store_rollback(store);
        lb_order_files_free(o->files);
        o->files = NULL;
        return status;
    }
    order->stems = lb_order_files_stems(o->files);
    return lb_order_files_name(o->files, store, err);
}

void lb_order_free(struct lb_order *order)
{
    if (!order)
        return;
    struct ordering *o = (struct ordering *)order; /* its first member */
    lb_order_files_free(o->files);
    lb_purchase_free(order->purchase);
    lb_arena_free(&o->arena);
    free(o);
}
