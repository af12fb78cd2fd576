/* Parts and sources of a lock, as the index has them now. */
#include "catalog/partkey.h"
#include "kit/build.h"
#include "kit/lock_text.h"

#include <stdlib.h>
#include <string.h>

/* Texts that may be NULL sort before all others. */
static int by_text(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "");
}

static int by_number(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

static int by_supplier(const void *left, const void *right)
{
    const struct lb_lock_offer *a = left, *b = right;
    int order = by_text(a->supplier, b->supplier);
    order = order ? order : by_text(a->code, b->code);
    order = order ? order : by_text(a->currency, b->currency);
    order = order ? order : by_number(a->pack, b->pack);
    order = order ? order : by_number(a->minimum, b->minimum);
    return order ? order : by_number(a->price, b->price);
}

static lb_status copy(struct lb_arena *texts, const char *text, const char **out, struct lb_error *err)
{
    *out = text ? lb_arena_text(texts, text, strlen(text)) : NULL;
    return text && !*out ? lb_fail_nomem(err) : LB_OK;
}

static lb_status take_offer(struct lb_lock_part *out, struct lb_arena *texts, const struct build *b,
                            const struct lb_part_offer *offer)
{
    struct lb_lock_offer taken = {
        .price = offer->price, .pack = lock_bounded(offer->pack_quantity), .minimum = offer->minimum_packs};
    lb_status status = copy(texts, b->suppliers.at[offer->supplier].name, &taken.supplier, b->err);
    if (!status)
        status = copy(texts, offer->supplier_code, &taken.code, b->err);
    if (!status)
        status = copy(texts, offer->currency, &taken.currency, b->err);
    if (status)
        return status;
    return LB_PUSH(&out->offers, taken) ? LB_OK : lb_fail_nomem(b->err);
}

/* "A 1 and B 2 or C 3": parts of one group are needed together, groups are alternatives. */
static lb_status take_successors(struct lb_lock_part *out, struct lb_arena *texts, const struct build *b,
                                 const struct lb_part *part)
{
    const struct entry *entry = entry_of(part);
    struct lb_buf words = {0};
    for (size_t i = 0; i < entry->successors.count; i++) {
        const struct successor *successor = &entry->successors.at[i];
        const struct lb_part *next = &b->parts.at[successor->part]->part;
        bool same = i && strcmp(successor->group, entry->successors.at[i - 1].group) == 0;
        lb_buf_printf(&words, "%s%s %s", i ? same ? " and " : " or " : "", next->brand, next->number);
    }
    lb_status status = words.failed    ? lb_fail_nomem(b->err)
                       : !words.length ? LB_OK
                                       : copy(texts, lb_buf_text(&words), &out->replaced_by, b->err);
    lb_buf_free(&words);
    return status;
}

lb_status lock_take_part(struct lb_lock_part *out, struct lb_arena *texts, const struct build *b,
                         const struct lb_part *part)
{
    lb_status status = copy(texts, part->brand, &out->brand, b->err);
    if (!status)
        status = copy(texts, part->number, &out->number, b->err);
    if (!status)
        status = copy(texts, lb_part_unit(part), &out->unit, b->err);
    if (!status)
        status = take_successors(out, texts, b, part);
    out->discontinued = part->discontinued;
    for (size_t i = 0; !status && i < part->offer_count; i++)
        if (part->offers[i].live)
            status = take_offer(out, texts, b, &part->offers[i]);
    if (!status && out->offers.count)
        qsort(out->offers.at, out->offers.count, sizeof *out->offers.at, by_supplier);
    return status;
}

const struct lb_lock_offer *lb_lock_offer_like(const struct lb_lock_offer *wanted,
                                               const struct lb_lock_part *part)
{
    const struct lb_lock_offer *best = NULL;
    int best_likeness = -1;
    for (size_t i = 0; i < part->offers.count; i++) {
        const struct lb_lock_offer *offer = &part->offers.at[i];
        if (strcmp(offer->supplier, wanted->supplier) != 0 ||
            strcmp(offer->currency, wanted->currency) != 0 || offer->pack != wanted->pack)
            continue;
        int likeness = 2 * (by_text(offer->code, wanted->code) == 0) + (offer->minimum == wanted->minimum);
        if (likeness < best_likeness || (likeness == best_likeness && offer->price >= best->price))
            continue;
        best = offer;
        best_likeness = likeness;
    }
    return best;
}

lb_status lock_fingerprint(const char **out, struct lb_arena *texts, struct lb_store *store, const char *name,
                           struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    *out = NULL;
    lb_status status = lb_store_prepare(store, &st, "SELECT fingerprint FROM source WHERE name = ?1", err);
    if (status)
        return status;
    lb_bind_text(st, 1, name);
    status = lb_step(st, &row, err);
    if (!status && row)
        status = lb_keep_text(st, 0, texts, out, err);
    lb_statement_free(st);
    return status;
}

static lb_status look_up_part(struct lb_lock_fates *out, struct build *b, const struct lb_lock_part *was,
                              struct lb_lock_fate *fate)
{
    uint32_t part;
    if (!was->brand)
        return LB_OK;
    lb_part_key(&b->scratch, was->brand, was->number);
    lb_status status = b->scratch.failed
                           ? lb_fail_nomem(b->err)
                           : build_part(b, lb_buf_text(&b->scratch), was->brand, was->number, &part);
    if (status)
        return status;
    const struct lb_part *now = &b->parts.at[part]->part;
    fate->known = now->part_type || now->offer_count;
    return lock_take_part(&fate->part, &out->texts, b, now);
}

static lb_status take_suppliers(struct lb_lock_fates *out, const struct build *b)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < b->suppliers.count; i++) {
        struct lb_lock_supplier supplier;
        status = copy(&out->texts, b->suppliers.at[i].name, &supplier.name, b->err);
        if (!status)
            status = copy(&out->texts, b->suppliers.at[i].label, &supplier.label, b->err);
        if (!status && !LB_PUSH(&out->suppliers, supplier))
            status = lb_fail_nomem(b->err);
    }
    return status;
}

static lb_status look_up(struct lb_lock_fates *out, struct build *b, const struct lb_kit_lock *lock)
{
    out->parts = calloc(lock->lines.count + 1, sizeof *out->parts);
    out->fingerprints = calloc(lock->sources.count + 1, sizeof *out->fingerprints);
    if (!out->parts || !out->fingerprints)
        return lb_fail_nomem(b->err);
    lb_status status = build_suppliers(b);
    for (out->part_count = 0; !status && out->part_count < lock->lines.count; out->part_count++)
        status = look_up_part(out, b, &lock->lines.at[out->part_count].part, &out->parts[out->part_count]);
    for (size_t i = 0; !status && i < lock->sources.count; i++)
        status =
            lock_fingerprint(&out->fingerprints[i], &out->texts, b->store, lock->sources.at[i].name, b->err);
    return status ? status : take_suppliers(out, b);
}

/* A build of its own: the kit that is open keeps what it has. */
lb_status lb_lock_look_up(struct lb_lock_fates *out, struct lb_store *store, const struct lb_kit_lock *lock,
                          int32_t today, struct lb_error *err)
{
    struct build *b = calloc(1, sizeof *b);
    *out = (struct lb_lock_fates){0};
    if (!b)
        return lb_fail_nomem(err);
    b->store = store;
    b->err = err;
    b->today = today;
    lb_status status = look_up(out, b, lock);
    lb_kit_free(&b->kit);
    if (status)
        lb_lock_fates_free(out);
    return status;
}

void lb_lock_fates_free(struct lb_lock_fates *fates)
{
    for (size_t i = 0; i < fates->part_count; i++)
        free(fates->parts[i].part.offers.at);
    free(fates->parts);
    free(fates->fingerprints);
    free(fates->suppliers.at);
    lb_arena_free(&fates->texts);
    *fates = (struct lb_lock_fates){0};
}
