/* What of a basket cost more or less when its kits were locked. */
#include "base/date.h"
#include "catalog/partkey.h"
#include "kit/lock.h"
#include "purchase/parts.h"

#include <stdlib.h>
#include <string.h>

/* The part as a lock has it; NULL: no line of it chose that part. */
static const struct lb_lock_part *find_locked(const struct lb_kit_lock *lock, const char *key,
                                              struct lb_buf *scratch)
{
    for (size_t i = 0; i < lock->lines.count; i++) {
        const struct lb_lock_part *part = &lock->lines.at[i].part;
        if (!part->brand)
            continue;
        lb_part_key(scratch, part->brand, part->number);
        if (strcmp(lb_buf_text(scratch), key) == 0)
            return part;
    }
    return NULL;
}

/* Adds what is bought when it cost something else; *moved has room for all that is bought. */
static void compare(const struct lb_purchase *purchase, const struct lb_kit_lock *lock,
                    const struct lb_parcel *parcel, const struct lb_parcel_line *line, struct lb_moved *moved,
                    size_t *count, struct lb_buf *scratch)
{
    struct purchase_shown_line bought = purchase_line_of(purchase, parcel, line);
    const struct lb_lock_part *part = find_locked(lock, bought.part, scratch);
    const struct lb_lock_offer now = {.supplier = bought.supplier,
                                      .code = bought.supplier_code,
                                      .currency = bought.currency,
                                      .pack = bought.pack_quantity,
                                      .minimum = purchase->offers[line->part][line->offer]->minimum_packs};
    const struct lb_lock_offer *was = part ? lb_lock_offer_like(&now, part) : NULL;
    if (was && was->price != bought.price)
        moved[(*count)++] = (struct lb_moved){.part = purchase->parts[line->part],
                                              .supplier = purchase_label_of(purchase, bought.supplier),
                                              .was = was->price,
                                              .now = bought.price,
                                              .currency = bought.currency};
}

static size_t count_bought(const struct lb_basket *basket)
{
    size_t count = 0;
    for (size_t p = 0; p < basket->parcel_count; p++)
        count += basket->parcels[p].line_count;
    return count;
}

static lb_status tell(const struct lb_purchase *purchase, const struct lb_kit_lock *lock,
                      struct lb_purchase_lock *out, struct lb_arena *arena, struct lb_error *err)
{
    struct lb_buf day = {0}, scratch = {0};
    const struct lb_basket *basket = purchase->basket;
    struct lb_moved *moved = lb_arena_alloc(arena, (count_bought(basket) + 1) * sizeof *moved);
    lb_date_print(&day, lock->locked);
    out->locked = day.failed ? NULL : lb_arena_text(arena, day.text, day.length);
    out->moved = moved;
    lb_status status = moved && out->locked ? LB_OK : lb_fail_nomem(err);
    for (size_t p = 0; !status && p < basket->parcel_count; p++)
        for (size_t i = 0; i < basket->parcels[p].line_count; i++)
            compare(purchase, lock, &basket->parcels[p], &basket->parcels[p].lines[i], moved,
                    &out->moved_count, &scratch);
    if (!status)
        qsort(moved, out->moved_count, sizeof *moved, purchase_by_part);
    if (!status && scratch.failed)
        status = lb_fail_nomem(err);
    lb_buf_free(&day);
    lb_buf_free(&scratch);
    return status;
}

lb_status purchase_tell_locked(struct lb_purchase *purchase, struct lb_arena *arena, struct lb_store *store,
                               struct lb_error *err)
{
    lb_status status = LB_OK;
    struct lb_purchase_lock *locks = lb_arena_alloc(arena, (purchase->kit_count + 1) * sizeof *locks);
    if (!locks)
        return lb_fail_nomem(err);
    purchase->locks = locks;
    purchase->lock_count = 0;
    for (uint32_t k = 0; !status && purchase->basket && k < purchase->kit_count; k++) {
        struct lb_kit_lock lock;
        bool locked;
        status = lb_lock_load(&lock, &locked, store, purchase->kits[k], err);
        if (status || !locked)
            continue;
        locks[purchase->lock_count] = (struct lb_purchase_lock){.kit = k};
        status = tell(purchase, &lock, &locks[purchase->lock_count++], arena, err);
        lb_lock_free(&lock);
    }
    return status;
}
