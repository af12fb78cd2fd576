/* What was last shown for a set of kits is kept, told from what is now, and forgotten when it was ordered. */
#include "base/date.h"
#include "purchase/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int by_id(const void *left, const void *right)
{
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return (a > b) - (a < b);
}

lb_status purchase_name_set(struct lb_buf *out, int64_t *ids, size_t count, struct lb_error *err)
{
    qsort(ids, count, sizeof *ids, by_id);
    for (size_t i = 0; i < count; i++)
        if (!i || ids[i] != ids[i - 1])
            lb_buf_printf(out, "%s%lld", i ? " " : "", (long long)ids[i]);
    return out->failed ? lb_fail_nomem(err) : LB_OK;
}

static lb_status name_purchase(struct lb_buf *out, const struct lb_purchase *purchase, struct lb_error *err)
{
    int64_t *ids = calloc(purchase->kit_count + 1, sizeof *ids);
    if (!ids)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < purchase->kit_count; i++)
        ids[i] = lb_kit_id(purchase->kits[i]);
    lb_status status = purchase_name_set(out, ids, purchase->kit_count, err);
    free(ids);
    return status;
}

static lb_status forget(struct lb_store *store, const char *kits, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(store, &st, "DELETE FROM shown WHERE kits = ?1", err);
    if (status)
        return status;
    lb_bind_text(st, 1, kits);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}

lb_status purchase_forget_shown(struct lb_store *store, const struct lb_purchase *purchase,
                                struct lb_error *err)
{
    struct lb_buf kits = {0};
    lb_status status = name_purchase(&kits, purchase, err);
    if (!status)
        status = forget(store, lb_buf_text(&kits), err);
    lb_buf_free(&kits);
    return status;
}

static lb_status keep_head(struct lb_store *store, const struct lb_purchase *purchase,
                           const struct lb_purchase_options *options, const char *kits, int64_t now,
                           int64_t *id, struct lb_error *err)
{
    struct lb_statement *st;
    struct lb_buf at = {0};
    lb_date_print_time(&at, now);
    lb_status status = lb_store_prepare(
        store, &st,
        "INSERT INTO shown (kits, at, currency, suppliers_at_most, seconds, total, arrive_by) "
        "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        err);
    if (!status) {
        const char *currency = purchase->basket->total.currency; /* of nothing there is none */
        const char *const texts[] = {kits, lb_buf_text(&at), currency ? currency : ""};
        for (int i = 0; i < 3; i++)
            lb_bind_text(st, i + 1, texts[i]);
        lb_bind_integer(st, 4, options->suppliers_at_most);
        lb_bind_integer(st, 5, llround(options->seconds * 1000));
        lb_bind_integer(st, 6, purchase->basket->total.total);
        if (options->arrive_by == LB_NO_DAY)
            lb_bind_null(st, 7);
        else
            lb_bind_integer(st, 7, options->arrive_by);
        status = at.failed ? lb_fail_nomem(err) : lb_run(st, err);
        lb_statement_free(st);
    }
    *id = lb_store_last_id(store);
    lb_buf_free(&at);
    return status;
}

static lb_status keep_suppliers(struct lb_store *store, int64_t id, bool only, const char *const *names,
                                size_t count, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(
        store, &st, "INSERT OR IGNORE INTO shown_supplier (shown, \"only\", name) VALUES (?1, ?2, ?3)", err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < count; i++) {
        lb_bind_integer(st, 1, id);
        lb_bind_integer(st, 2, only);
        lb_bind_text(st, 3, names[i]);
        status = lb_run(st, err);
    }
    lb_statement_free(st);
    return status;
}

struct purchase_shown_line purchase_line_of(const struct lb_purchase *purchase,
                                            const struct lb_parcel *parcel, const struct lb_parcel_line *line)
{
    const struct lb_part_offer *offer = purchase->offers[line->part][line->offer];
    return (struct purchase_shown_line){.part = purchase->parts[line->part]->key,
                                        .supplier = purchase->market.suppliers[parcel->supplier].name,
                                        .supplier_code = offer->supplier_code,
                                        .currency = offer->currency,
                                        .packs = line->packs,
                                        .pack_quantity = offer->pack_quantity,
                                        .price = offer->price};
}

static lb_status keep_line(struct lb_statement *st, int64_t id, const struct purchase_shown_line *line,
                           struct lb_error *err)
{
    const char *const texts[] = {line->part, line->supplier, line->supplier_code, line->currency};
    const int64_t numbers[] = {id, line->packs, line->pack_quantity, line->price};
    for (int i = 0; i < 4; i++) {
        lb_bind_text(st, i + 1, texts[i]);
        lb_bind_integer(st, i + 5, numbers[i]);
    }
    return lb_run(st, err);
}

static lb_status keep_lines(struct lb_store *store, const struct lb_purchase *purchase, int64_t id,
                            struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status =
        lb_store_prepare(store, &st,
                         "INSERT INTO shown_line (part, supplier, supplier_code, currency, "
                         "shown, packs, pack_quantity, price) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
                         err);
    if (status)
        return status;
    for (size_t p = 0; p < purchase->basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &purchase->basket->parcels[p];
        for (size_t i = 0; !status && i < parcel->line_count; i++) {
            struct purchase_shown_line line = purchase_line_of(purchase, parcel, &parcel->lines[i]);
            status = keep_line(st, id, &line, err);
        }
    }
    lb_statement_free(st);
    return status;
}

lb_status lb_purchase_note_shown(struct lb_store *store, const struct lb_purchase *purchase,
                                 const struct lb_purchase_options *options, int64_t now, struct lb_error *err)
{
    struct lb_buf kits = {0};
    int64_t id = 0;
    if (purchase->blocked || !purchase->basket)
        return LB_OK; /* nothing was shown that could be ordered */
    lb_status status = name_purchase(&kits, purchase, err);
    if (!status)
        status = lb_store_begin(store, err);
    if (!status)
        status = forget(store, lb_buf_text(&kits), err);
    if (!status)
        status = keep_head(store, purchase, options, lb_buf_text(&kits), now, &id, err);
    if (!status)
        status = keep_suppliers(store, id, true, options->only, options->only_count, err);
    if (!status)
        status = keep_suppliers(store, id, false, options->without, options->without_count, err);
    if (!status)
        status = keep_lines(store, purchase, id, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    lb_buf_free(&kits);
    return status;
}

const struct lb_part *purchase_find_part(const struct lb_purchase *purchase, const char *key, size_t *index)
{
    for (size_t i = 0; i < purchase->market.part_count; i++) {
        if (strcmp(purchase->parts[i]->key, key) != 0)
            continue;
        if (index)
            *index = i;
        return purchase->parts[i];
    }
    return NULL;
}

/* What the same pack costs there now: under the same code when it has one still, else the cheapest; -1: it is
 * not offered. */
static int64_t price_now(const struct lb_purchase *purchase, size_t part,
                         const struct purchase_shown_line *line)
{
    int64_t now = -1;
    for (size_t i = 0; i < purchase->market.parts[part].offer_count; i++) {
        const struct lb_part_offer *offer = purchase->offers[part][i];
        const struct lb_basket_offer *terms = &purchase->market.parts[part].offers[i];
        const char *code = offer->supplier_code;
        if (!offer->live || offer->pack_quantity != line->pack_quantity ||
            strcmp(offer->currency, line->currency) != 0 ||
            strcmp(purchase->market.suppliers[terms->supplier].name, line->supplier) != 0)
            continue;
        if (code && line->supplier_code && strcmp(code, line->supplier_code) == 0)
            return offer->price;
        now = now < 0 || offer->price < now ? offer->price : now;
    }
    return now;
}

const char *purchase_label_of(const struct lb_purchase *purchase, const char *name)
{
    for (size_t i = 0; i < purchase->market.supplier_count; i++)
        if (strcmp(purchase->market.suppliers[i].name, name) == 0)
            return purchase->market.suppliers[i].label;
    return name;
}

int purchase_by_part(const void *left, const void *right)
{
    const struct lb_moved *a = left, *b = right;
    int order = strcmp(a->part->brand, b->part->brand);
    order = order ? order : strcmp(a->part->number, b->part->number);
    return order ? order : strcmp(a->supplier, b->supplier);
}

static lb_status tell(struct lb_purchase *purchase, struct lb_arena *arena,
                      const struct purchase_shown *shown, struct lb_error *err)
{
    struct lb_moved *moved = lb_arena_alloc(arena, (shown->lines.count + 1) * sizeof *moved);
    char *at = lb_arena_text(arena, shown->at, strlen(shown->at));
    if (!moved || !at)
        return lb_fail_nomem(err);
    purchase->moved = moved;
    purchase->shown = at;
    for (size_t i = 0; i < shown->lines.count; i++) {
        const struct purchase_shown_line *line = &shown->lines.at[i];
        size_t index = 0;
        struct lb_moved one = {.part = purchase_find_part(purchase, line->part, &index), .was = line->price};
        if (!one.part || (one.now = price_now(purchase, index, line)) == line->price)
            continue;
        const char *label = purchase_label_of(purchase, line->supplier);
        one.supplier = lb_arena_text(arena, label, strlen(label));
        one.currency = lb_arena_text(arena, line->currency, strlen(line->currency));
        if (!one.supplier || !one.currency)
            return lb_fail_nomem(err);
        moved[purchase->moved_count++] = one;
    }
    qsort(moved, purchase->moved_count, sizeof *moved, purchase_by_part);
    return LB_OK;
}

lb_status purchase_tell_moved(struct lb_purchase *purchase, struct lb_arena *arena, struct lb_store *store,
                              struct lb_error *err)
{
    struct lb_buf kits = {0};
    struct purchase_shown shown = {0};
    purchase->moved_count = 0;
    lb_status status = name_purchase(&kits, purchase, err);
    if (!status)
        status = purchase_load_set(&shown, store, lb_buf_text(&kits), err);
    if (!status && shown.at)
        status = tell(purchase, arena, &shown, err);
    purchase_free_shown(&shown);
    lb_buf_free(&kits);
    return status;
}
