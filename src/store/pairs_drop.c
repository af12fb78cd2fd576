/* Taking out every pair of some rows, whatever their keys: one walk over all blocks. */
#include "store/pairs_block.h"

#include <stdlib.h>
#include <string.h>

struct walk {
    struct lb_store *store;
    struct lb_statement *next, *move, *drop, *drop_block, *rewrite;
    bool (*is_gone)(void *, int64_t);
    void *context;
    struct lb_pair at; /* the first pair of the block at hand */
    int64_t block;
    struct lb_block kept;
    bool changed;
};

static lb_status prepare(struct walk *walk, struct lb_error *err)
{
    const struct {
        struct lb_statement **statement;
        const char *sql;
    } statements[] = {
        {&walk->next,
         "SELECT l.key, l.first, l.block, b.pairs FROM lookup l JOIN lookup_block b ON b.id = l.block "
         "WHERE (l.key, l.first) > (?1, ?2) ORDER BY l.key, l.first LIMIT 1"},
        {&walk->move, "UPDATE lookup SET key = ?3, first = ?4 WHERE key = ?1 AND first = ?2"},
        {&walk->drop, "DELETE FROM lookup WHERE key = ?1 AND first = ?2"},
        {&walk->drop_block, "DELETE FROM lookup_block WHERE id = ?1"},
        {&walk->rewrite, "UPDATE lookup_block SET pairs = ?2 WHERE id = ?1"},
    };
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof statements / sizeof *statements; i++)
        status = lb_store_prepare(walk->store, statements[i].statement, statements[i].sql, err);
    return status;
}

/* What stays of a block never needs more room than the block: keys share no less with a nearer one. */
static lb_status read_block(struct walk *walk, struct lb_error *err)
{
    size_t key_length, size;
    const void *key = lb_blob(walk->next, 0, &key_length);
    const void *block = lb_blob(walk->next, 3, &size);
    struct lb_block_cursor cursor;
    lb_block_begin(&cursor, key ? key : "", key_length, block, size);
    walk->at = cursor.pair;
    walk->at.id = lb_integer(walk->next, 1);
    walk->block = lb_integer(walk->next, 2);
    walk->kept.size = 0;
    walk->changed = false;
    while (lb_block_next(&cursor)) {
        if (walk->is_gone(walk->context, cursor.pair.id))
            walk->changed = true;
        else if (!lb_block_add(&walk->kept, cursor.pair.key, cursor.pair.length, cursor.pair.id,
                               LB_BLOCK_ROOM - 1))
            return lb_store_refuse_damaged(walk->store, err);
    }
    return cursor.broken ? lb_store_refuse_damaged(walk->store, err) : LB_OK;
}

static lb_status drop_block(struct walk *walk, struct lb_error *err)
{
    lb_bind_blob(walk->drop, 1, walk->at.key, walk->at.length);
    lb_bind_integer(walk->drop, 2, walk->at.id);
    lb_bind_integer(walk->drop_block, 1, walk->block);
    lb_status status = lb_run(walk->drop, err);
    return status ? status : lb_run(walk->drop_block, err);
}

static lb_status write_block(struct walk *walk, struct lb_error *err)
{
    if (!walk->kept.size)
        return drop_block(walk, err);
    lb_block_close(&walk->kept);
    lb_bind_integer(walk->rewrite, 1, walk->block);
    lb_bind_blob(walk->rewrite, 2, walk->kept.bytes, walk->kept.size);
    lb_bind_blob(walk->move, 1, walk->at.key, walk->at.length);
    lb_bind_integer(walk->move, 2, walk->at.id);
    lb_bind_blob(walk->move, 3, walk->kept.first.key, walk->kept.first.length);
    lb_bind_integer(walk->move, 4, walk->kept.first.id);
    lb_status status = lb_run(walk->rewrite, err);
    return status ? status : lb_run(walk->move, err);
}

static lb_status walk_all(struct walk *walk, struct lb_error *err)
{
    bool row = true;
    lb_status status = LB_OK;
    while (!status && row) {
        lb_bind_blob(walk->next, 1, walk->at.key, walk->at.length);
        lb_bind_integer(walk->next, 2, walk->at.id);
        status = lb_step(walk->next, &row, err);
        if (!status && row)
            status = read_block(walk, err);
        lb_statement_reset(walk->next);
        if (!status && row && walk->changed)
            status = write_block(walk, err);
    }
    return status;
}

lb_status lb_pairs_drop_rows(struct lb_store *store, bool (*is_gone)(void *context, int64_t row),
                             void *context, struct lb_error *err)
{
    struct walk *walk = calloc(1, sizeof *walk);
    if (!walk)
        return lb_fail_nomem(err);
    walk->store = store;
    walk->is_gone = is_gone;
    walk->context = context;
    lb_status status = prepare(walk, err);
    if (!status)
        status = walk_all(walk, err);
    struct lb_statement *statements[] = {walk->next, walk->move, walk->drop, walk->drop_block, walk->rewrite};
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++)
        lb_statement_free(statements[i]);
    free(walk);
    return status;
}
