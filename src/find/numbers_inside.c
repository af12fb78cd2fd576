/* Numbers by what is inside them: the rows that have all pieces of four bytes of it, few of which are needed,
 * and then the rows themselves. */
#include "catalog/partkey.h"
#include "find/numbers_private.h"
#include "store/pairs.h"

#include <stdlib.h>
#include <string.h>

enum {
    PIECES_MAX = 12,  /* of what was typed that are looked at */
    HEAVY = 64,       /* blocks: lists that are longer are not read to their end */
    LIST_MAX = 50000, /* rows of one */
    FEW = 8,          /* rows: so many are read rather than a further list */
    BEHIND_MAX = 200, /* rows: looking for mistakes among more is slower than going over the keys */
    ROWS_MAX = 300,   /* that are read, beside four for each part that is asked for */
};

struct piece {
    char key[1 + LB_TERM_PIECE];
    int64_t blocks; /* of its list */
};

/* First the first and the last one, which have least in common. */
static size_t list_pieces(const char *text, size_t length, struct piece *pieces)
{
    size_t last = length - LB_TERM_PIECE, count = last + 1 < PIECES_MAX ? last + 1 : PIECES_MAX;
    for (size_t i = 0; i < count; i++) {
        size_t at = i == 0 ? 0 : i == 1 ? last : (i - 1) * last / (count - 1);
        pieces[i].key[0] = 'g';
        memcpy(pieces[i].key + 1, text + at, LB_TERM_PIECE);
    }
    return count;
}

static lb_status weigh(struct lb_numbers *n, struct piece *pieces, size_t count, struct lb_error *err)
{
    for (size_t i = 0; i < count; i++) {
        lb_status status = lb_walk_blocks(n->walk, pieces[i].key, sizeof pieces->key, &pieces[i].blocks, err);
        if (status)
            return status;
        struct piece piece = pieces[i];
        size_t at = i;
        for (; at > 0 && pieces[at - 1].blocks > piece.blocks; at--)
            pieces[at] = pieces[at - 1];
        pieces[at] = piece;
    }
    return LB_OK;
}

static lb_status keep_some(void *context, const unsigned char *key, size_t length, int64_t id)
{
    struct lb_ids *ids = context;
    (void)key;
    (void)length;
    if (ids->list.count == LIST_MAX)
        return LB_STOPPED;
    return LB_PUSH(&ids->list, id) ? LB_OK : LB_NOMEM;
}

static int by_id(const void *left, const void *right)
{
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return (a > b) - (a < b);
}

/* Ascending, each once. Runs mostly follow each other by their rows; not when small ones became one. */
static void put_in_order(struct lb_ids *ids)
{
    int64_t *at = ids->list.at;
    size_t count = ids->list.count, kept = 0;
    for (size_t i = 1; i < count; i++)
        if (at[i] < at[i - 1]) {
            qsort(at, count, sizeof *at, by_id);
            break;
        }
    for (size_t i = 0; i < count; i++)
        if (!kept || at[i] != at[kept - 1])
            at[kept++] = at[i];
    ids->list.count = kept;
}

/* The rows of a piece; *part: of a very frequent one only the first. */
static lb_status read_list(struct lb_numbers *n, const struct piece *piece, struct lb_ids *ids, bool *part,
                           struct lb_error *err)
{
    char end[sizeof piece->key + 1] = {0};
    memcpy(end, piece->key, sizeof piece->key);
    ids->list.count = 0;
    lb_status status =
        piece->blocks <= HEAVY
            ? lb_pairs_find(n->pairs, piece->key, sizeof piece->key, ids, err)
            : lb_pairs_scan(n->pairs, piece->key, sizeof piece->key, end, sizeof end, keep_some, ids, err);
    if (status == LB_STOPPED) {
        *part = true;
        status = LB_OK;
    }
    put_in_order(ids);
    return status == LB_NOMEM ? lb_fail_nomem(err) : status;
}

static void intersect(struct lb_ids *ids, const struct lb_ids *other)
{
    size_t kept = 0, at = 0;
    for (size_t i = 0; i < ids->list.count; i++) {
        while (at < other->list.count && other->list.at[at] < ids->list.at[i])
            at++;
        if (at < other->list.count && other->list.at[at] == ids->list.at[i])
            ids->list.at[kept++] = ids->list.at[i];
    }
    ids->list.count = kept;
}

/* Into n->ids: rows that may have that text in their numbers, but not at the beginning. */
static lb_status list_rows(struct lb_numbers *n, const char *text, size_t length, bool *part,
                           struct lb_error *err)
{
    struct piece pieces[PIECES_MAX] = {0};
    size_t count = list_pieces(text, length, pieces);
    *part = false;
    lb_status status = weigh(n, pieces, count, err);
    if (!status)
        status = read_list(n, &pieces[0], &n->ids, part, err);
    for (size_t p = 1; !status && p < count && n->ids.list.count > FEW && pieces[p].blocks <= HEAVY; p++) {
        status = read_list(n, &pieces[p], &n->other_ids, part, err);
        intersect(&n->ids, &n->other_ids);
    }
    return status;
}

static lb_status take_side(struct lb_numbers *n, const char *brand, const char *number, enum row_kind kind,
                           enum lb_number_match widest, struct lb_error *err)
{
    struct class class;
    lb_part_key(&n->text, brand, number);
    if (n->text.failed)
        return lb_fail_nomem(err);
    const char *key = lb_part_key_number(n->text.text);
    if (!numbers_fold(n, key))
        return lb_fail_nomem(err);
    if (!numbers_classify(&n->wanted, key, &n->symbols, &class) || class.match > widest)
        return LB_OK;
    return numbers_add(n, n->text.text, brand, number, kind, &class, err);
}

static lb_status take_row(struct lb_numbers *n, int64_t row, enum lb_number_match widest,
                          struct lb_error *err)
{
    enum row_kind kind;
    struct sides sides = {0};
    lb_status status = numbers_rows_kind(n->rows, row, &kind, err);
    if (!status && kind < ROW_KINDS)
        status = numbers_rows_read(n->rows, row, kind, &sides, err);
    for (int i = 0; !status && i < sides.count; i++)
        status = take_side(n, sides.brand[i], sides.number[i], kind, widest, err);
    return status;
}

lb_status numbers_find_inside(struct lb_numbers *n, struct lb_error *err)
{
    const struct lb_buf *folded = &n->wanted.folded;
    size_t limit = numbers_bound(n, ROWS_MAX, 4), i = 0;
    bool part;
    lb_status status =
        list_rows(n, folded->text, folded->length < LB_TERM_NUMBER_MAX ? folded->length : LB_TERM_NUMBER_MAX,
                  &part, err);
    for (; !status && i < n->ids.list.count && i < limit; i++)
        status = take_row(n, n->ids.list.at[i], LB_NUMBER_INSIDE, err);
    n->finds->cut |= !status && (part || i < n->ids.list.count);
    return status;
}

lb_status numbers_find_behind(struct lb_numbers *n, size_t from, bool *all, struct lb_error *err)
{
    const struct lb_buf *folded = &n->wanted.folded;
    bool part;
    lb_status status = list_rows(n, folded->text + from, folded->length - from, &part, err);
    *all = !status && !part && n->ids.list.count <= BEHIND_MAX;
    for (size_t i = 0; !status && *all && i < n->ids.list.count; i++)
        status = take_row(n, n->ids.list.at[i], LB_NUMBER_EDIT, err);
    return status;
}
