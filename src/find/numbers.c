#include "find/numbers_private.h"

#include "catalog/partkey.h"
#include "store/pairs.h"

#include <stdlib.h>
#include <string.h>

lb_status lb_numbers_open(struct lb_numbers **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_numbers *n = *out = calloc(1, sizeof *n);
    if (!n)
        return lb_fail_nomem(err);
    n->store = store;
    lb_status status = lb_pairs_open(&n->pairs, store, err);
    if (!status)
        status = lb_walk_open(&n->walk, store, err);
    if (!status)
        status = numbers_rows_open(&n->rows, store, err);
    if (!status)
        status = lb_store_prepare(store, &n->brand, "SELECT key FROM brand WHERE id = ?1", err);
    if (status) {
        lb_numbers_close(n);
        *out = NULL;
    }
    return status;
}

void lb_numbers_close(struct lb_numbers *n)
{
    if (!n)
        return;
    lb_pairs_close(n->pairs);
    lb_walk_close(n->walk);
    numbers_rows_close(n->rows);
    lb_statement_free(n->brand);
    free(n->brands.at);
    lb_arena_free(&n->brand_texts);
    struct lb_buf *bufs[] = {&n->wanted.key, &n->wanted.folded, &n->text, &n->folded,
                             &n->next,       &n->key,           &n->kept};
    for (size_t i = 0; i < sizeof bufs / sizeof *bufs; i++)
        lb_buf_free(bufs[i]);
    free(n->wanted.symbols.list.at);
    free(n->symbols.list.at);
    free(n->ids.list.at);
    free(n->other_ids.list.at);
    free(n->candidates.at);
    free(n->written.at);
    free(n->slots);
    free(n);
}

void lb_number_finds_free(struct lb_number_finds *finds)
{
    free(finds->list.at);
    lb_arena_free(&finds->texts);
    *finds = (struct lb_number_finds){0};
}

static lb_status read_typed(struct wanted *wanted, const char *typed, struct lb_error *err)
{
    lb_buf_clear(&wanted->key);
    lb_part_number_key(&wanted->key, typed);
    lb_buf_clear(&wanted->folded);
    lb_buf_puts(&wanted->folded, lb_buf_text(&wanted->key));
    if (wanted->key.failed || wanted->folded.failed)
        return lb_fail_nomem(err);
    if (wanted->folded.length)
        lb_term_fold(wanted->folded.text);
    return numbers_read(&wanted->symbols, lb_buf_text(&wanted->folded), wanted->folded.length)
               ? LB_OK
               : lb_fail_nomem(err);
}

/* How many characters there must be for each way; the same key tells exact and alike. */
static const struct {
    enum lb_number_match match;
    size_t characters;
    lb_status (*find)(struct lb_numbers *, struct lb_error *);
} ways[] = {
    {LB_NUMBER_EXACT, 1, numbers_find_same},
    {LB_NUMBER_BEGINS, 2, numbers_find_longer},
    {LB_NUMBER_INSIDE, 4, numbers_find_inside},
    {LB_NUMBER_EDIT, 4, numbers_find_edited},
};

static int by_rank(const void *left, const void *right)
{
    const struct lb_number_find *a = left, *b = right;
    const struct class x = {a->match, a->more, a->cost}, y = {b->match, b->more, b->cost};
    int order = numbers_compare_class(&x, &y);
    if (!order)
        order = strcmp(lb_part_key_number(a->key), lb_part_key_number(b->key));
    return order ? order : strcmp(a->key, b->key);
}

static void finish(struct lb_numbers *n)
{
    struct lb_number_finds *finds = n->finds;
    if (finds->list.count > 1)
        qsort(finds->list.at, finds->list.count, sizeof *finds->list.at, by_rank);
    if (finds->list.count > n->most) {
        finds->list.count = n->most;
        finds->cut = true;
    }
    numbers_rows_rest(n->rows);
    n->written.count = 0;
    n->candidates.count = 0;
    lb_buf_clear(&n->kept);
    if (n->slot_count)
        memset(n->slots, 0, n->slot_count * sizeof *n->slots);
}

lb_status lb_numbers_find(struct lb_numbers *n, const char *typed, enum lb_number_match widest, size_t most,
                          struct lb_number_finds *finds, struct lb_error *err)
{
    bool held;
    lb_number_finds_free(finds);
    n->finds = finds;
    n->widest = widest;
    n->most = most;
    lb_status status = read_typed(&n->wanted, typed, err);
    if (!status)
        status = lb_store_hold(n->store, &held, err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < sizeof ways / sizeof *ways; i++) {
        if (ways[i].match > widest || n->wanted.symbols.list.count < ways[i].characters)
            continue;
        status = ways[i].find(n, err);
        if (finds->list.count >= most)
            break;
    }
    finish(n);
    lb_store_release(n->store, held);
    if (status)
        lb_number_finds_free(finds);
    return status;
}
