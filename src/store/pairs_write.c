#include "store/pairs_block.h"

#include <stdlib.h>
#include <string.h>

struct lb_run_writer {
    struct lb_statement *insert, *insert_block, *end;
    int64_t run, next_block, pairs;
    struct lb_block block;
};

static lb_status prepare(struct lb_run_writer *run, struct lb_store *store, struct lb_error *err)
{
    lb_status status = lb_store_prepare(
        store, &run->insert, "INSERT INTO lookup (run, key, first, block) VALUES (?1, ?2, ?3, ?4)", err);
    if (!status)
        status = lb_store_prepare(store, &run->insert_block,
                                  "INSERT INTO lookup_block (id, pairs) VALUES (?1, ?2)", err);
    if (!status)
        status =
            lb_store_prepare(store, &run->end, "INSERT INTO lookup_run (run, pairs) VALUES (?1, ?2)", err);
    if (!status)
        status = lb_store_integer(store, "SELECT coalesce(max(run), 0) + 1 FROM lookup_run", &run->run, err);
    return status ? status
                  : lb_store_integer(store, "SELECT coalesce(max(id), 0) + 1 FROM lookup_block",
                                     &run->next_block, err);
}

lb_status lb_run_begin(struct lb_run_writer **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_run_writer *run = *out = calloc(1, sizeof *run);
    if (!run)
        return lb_fail_nomem(err);
    lb_status status = prepare(run, store, err);
    if (status) {
        lb_run_free(run);
        *out = NULL;
    }
    return status;
}

static lb_status write_block(struct lb_run_writer *run, struct lb_error *err)
{
    struct lb_block *block = &run->block;
    if (!block->size)
        return LB_OK;
    lb_block_close(block);
    lb_bind_integer(run->insert_block, 1, run->next_block);
    lb_bind_blob(run->insert_block, 2, block->bytes, block->size);
    lb_status status = lb_run(run->insert_block, err);
    if (status)
        return status;
    lb_bind_integer(run->insert, 1, run->run);
    lb_bind_blob(run->insert, 2, block->first.key, block->first.length);
    lb_bind_integer(run->insert, 3, block->first.id);
    lb_bind_integer(run->insert, 4, run->next_block++);
    block->size = 0;
    return lb_run(run->insert, err);
}

lb_status lb_run_add(struct lb_run_writer *run, const void *key, size_t length, int64_t id,
                     struct lb_error *err)
{
    length = length < LB_PAIRS_KEY_MAX ? length : LB_PAIRS_KEY_MAX;
    run->pairs++;
    if (lb_block_add(&run->block, key, length, id))
        return LB_OK;
    lb_status status = write_block(run, err);
    lb_block_add(&run->block, key, length, id); /* the first always fits */
    return status;
}

lb_status lb_run_end(struct lb_run_writer *run, struct lb_error *err)
{
    lb_status status = write_block(run, err);
    if (!status && run->pairs) {
        lb_bind_integer(run->end, 1, run->run);
        lb_bind_integer(run->end, 2, run->pairs);
        status = lb_run(run->end, err);
    }
    lb_run_free(run);
    return status;
}

void lb_run_free(struct lb_run_writer *run)
{
    if (!run)
        return;
    lb_statement_free(run->insert);
    lb_statement_free(run->insert_block);
    lb_statement_free(run->end);
    free(run);
}
