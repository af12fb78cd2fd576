/* Candidates become finds: a row that is there is looked for, and the part written as it is written there. */
#include "base/fingerprint.h"
#include "base/text.h"
#include "catalog/partkey.h"
#include "find/numbers_private.h"
#include "store/pairs.h"

#include <stdlib.h>
#include <string.h>

/* So many files are looked into for a better writing of a number that is known to be there. */
enum { LOOKS_MAX = 64 };

lb_status numbers_brand(struct lb_numbers *n, uint32_t brand, const char **key, struct lb_error *err)
{
    bool row;
    while (n->brands.count <= brand && brand < 1 << 24)
        if (!LB_PUSH(&n->brands, NULL))
            return lb_fail_nomem(err);
    if (brand < n->brands.count && n->brands.at[brand]) {
        *key = n->brands.at[brand];
        return LB_OK;
    }
    lb_bind_integer(n->brand, 1, brand);
    lb_status status = lb_step(n->brand, &row, err);
    const char *text = !status && row ? lb_text(n->brand, 0) : NULL;
    if (!status && (!text || brand >= n->brands.count))
        status = lb_store_refuse_damaged(n->store, err);
    if (!status) {
        *key = n->brands.at[brand] = lb_arena_text(&n->brand_texts, text, strlen(text));
        status = *key ? LB_OK : lb_fail_nomem(err);
    }
    lb_statement_reset(n->brand);
    return status;
}

static size_t slot_of(const struct lb_numbers *n, const char *key)
{
    size_t mask = n->slot_count - 1, slot = lb_fingerprint_of(key, strlen(key)) & mask;
    for (; n->slots[slot]; slot = (slot + 1) & mask)
        if (strcmp(n->finds->list.at[n->slots[slot] - 1].key, key) == 0)
            break;
    return slot;
}

size_t numbers_place(const struct lb_numbers *n, const char *key)
{
    size_t slot = n->slot_count ? slot_of(n, key) : 0;
    return n->slot_count && n->slots[slot] ? n->slots[slot] - 1 : n->finds->list.count;
}

static bool note_place(struct lb_numbers *n)
{
    const struct lb_number_finds *finds = n->finds;
    size_t first = finds->list.count - 1;
    if (finds->list.count * 2 > n->slot_count) {
        size_t count = n->slot_count ? n->slot_count * 2 : 128;
        uint32_t *slots = calloc(count, sizeof *slots);
        if (!slots)
            return false;
        free(n->slots);
        n->slots = slots;
        n->slot_count = count;
        first = 0;
    }
    for (size_t i = first; i < finds->list.count; i++)
        n->slots[slot_of(n, finds->list.at[i].key)] = (uint32_t)i + 1;
    return true;
}

static const char *keep(struct lb_number_finds *finds, const char *text)
{
    return lb_arena_text(&finds->texts, text, strlen(text));
}

lb_status numbers_add(struct lb_numbers *n, const char *key, const char *brand, const char *number,
                      enum row_kind kind, const struct class *class, struct lb_error *err)
{
    struct lb_number_finds *finds = n->finds;
    size_t id = numbers_place(n, key);
    bool known = id < finds->list.count;
    if (known && n->written.at[id] <= kind)
        return LB_OK;
    struct lb_number_find find = {.key = known ? finds->list.at[id].key : keep(finds, key),
                                  .brand = keep(finds, brand),
                                  .number = keep(finds, number),
                                  .match = class->match,
                                  .more = class->more,
                                  .cost = class->cost};
    if (!find.key || !find.brand || !find.number)
        return lb_fail_nomem(err);
    if (known) {
        finds->list.at[id] = find;
        n->written.at[id] = kind;
        return LB_OK;
    }
    return LB_PUSH(&n->written, kind) && LB_PUSH(&finds->list, find) && note_place(n) ? LB_OK
                                                                                      : lb_fail_nomem(err);
}

static int by_class(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    int order = numbers_compare_class(&a->class, &b->class);
    if (!order)
        order = strcmp(a->number ? a->number : "", b->number ? b->number : "");
    if (!order)
        order = strcmp(a->brand_key, b->brand_key);
    return order ? order : memcmp(a->term, b->term, a->length < b->length ? a->length : b->length);
}

/* What is known of a candidate so far. */
struct writing {
    enum row_kind kind; /* ROW_KINDS: nothing */
    struct lb_buf brand, number;
    int looks;
};

/* The side of a row that has the candidate's key. */
static bool is_meant(struct lb_numbers *n, const struct candidate *c, const char *brand, const char *number)
{
    lb_buf_clear(&n->text);
    lb_text_fold(&n->text, brand);
    if (n->text.failed || strcmp(lb_buf_text(&n->text), c->brand_key) != 0)
        return false;
    lb_buf_clear(&n->text);
    lb_part_number_key(&n->text, number);
    lb_term_number(&n->key, lb_buf_text(&n->text), c->brand);
    return !n->key.failed && n->key.length == c->length && memcmp(n->key.text, c->term, c->length) == 0;
}

static lb_status look_at(struct lb_numbers *n, const struct candidate *c, int64_t row, struct writing *w,
                         struct lb_error *err)
{
    enum row_kind kind;
    struct sides sides;
    lb_status status = numbers_rows_kind(n->rows, row, &kind, err);
    if (status || kind >= w->kind)
        return status;
    w->looks += w->kind < ROW_KINDS;
    status = numbers_rows_read(n->rows, row, kind, &sides, err);
    for (int i = 0; !status && i < sides.count && w->kind > kind; i++) {
        if (!is_meant(n, c, sides.brand[i], sides.number[i]))
            continue;
        w->kind = kind;
        lb_buf_clear(&w->brand);
        lb_buf_puts(&w->brand, sides.brand[i]);
        lb_buf_clear(&w->number);
        lb_buf_puts(&w->number, sides.number[i]);
    }
    return !status && (n->text.failed || n->key.failed) ? lb_fail_nomem(err) : status;
}

/* Most candidates have few rows, which came with them; parts of many offers and vehicles have more. */
static lb_status find_writing(struct lb_numbers *n, const struct candidate *c, struct writing *w,
                              struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < c->id_count && w->kind > ROW_PARTS; i++)
        status = look_at(n, c, c->ids[i], w, err);
    if (status || !c->further || w->kind == ROW_PARTS)
        return status;
    n->ids.list.count = 0;
    status = lb_pairs_find(n->pairs, c->term, c->length, &n->ids, err);
    for (size_t i = 0; !status && i < n->ids.list.count && w->kind > ROW_PARTS && w->looks < LOOKS_MAX; i++)
        status = look_at(n, c, n->ids.list.at[i], w, err);
    return status;
}

bool numbers_fold(struct lb_numbers *n, const char *number_key)
{
    lb_buf_clear(&n->folded);
    lb_buf_puts(&n->folded, number_key);
    if (n->folded.failed)
        return false;
    if (n->folded.length)
        lb_term_fold(n->folded.text);
    return numbers_read(&n->symbols, lb_buf_text(&n->folded), n->folded.length);
}

/* A number that its key has only the beginning of is known now. */
static lb_status classify_late(struct lb_numbers *n, const struct writing *w, struct class *class,
                               bool *meant, struct lb_error *err)
{
    lb_buf_clear(&n->text);
    lb_part_number_key(&n->text, lb_buf_text(&w->number));
    if (n->text.failed || !numbers_fold(n, lb_buf_text(&n->text)))
        return lb_fail_nomem(err);
    *meant = numbers_classify(&n->wanted, lb_buf_text(&n->text), &n->symbols, class);
    return LB_OK;
}

static lb_status settle(struct lb_numbers *n, struct candidate *c, struct writing *w, struct lb_error *err)
{
    w->kind = ROW_KINDS;
    w->looks = 0;
    lb_status status = find_writing(n, c, w, err);
    if (status || w->kind == ROW_KINDS)
        return status;
    bool meant = true;
    if (!c->number && (status = classify_late(n, w, &c->class, &meant, err)))
        return status;
    lb_part_key(&n->text, lb_buf_text(&w->brand), lb_buf_text(&w->number));
    if (n->text.failed || w->brand.failed || w->number.failed)
        return lb_fail_nomem(err);
    if (!meant || c->class.match > n->widest || numbers_place(n, n->text.text) < n->finds->list.count)
        return LB_OK;
    return numbers_add(n, n->text.text, lb_buf_text(&w->brand), lb_buf_text(&w->number), w->kind, &c->class,
                       err);
}

lb_status numbers_settle(struct lb_numbers *n, struct lb_error *err)
{
    struct writing w = {0};
    lb_status status = LB_OK;
    for (size_t i = 0; i < n->candidates.count; i++) {
        struct candidate *c = &n->candidates.at[i];
        c->term = n->kept.text + c->kept;
        c->number = c->whole ? c->term + c->length : NULL;
    }
    if (n->candidates.count > 1)
        qsort(n->candidates.at, n->candidates.count, sizeof *n->candidates.at, by_class);
    for (size_t i = 0; !status && i < n->candidates.count && n->finds->list.count <= n->most; i++)
        status = settle(n, &n->candidates.at[i], &w, err);
    n->candidates.count = 0;
    lb_buf_clear(&n->kept);
    lb_buf_free(&w.brand);
    lb_buf_free(&w.number);
    return status;
}
