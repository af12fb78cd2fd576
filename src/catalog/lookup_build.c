/* The lookup made anew from the rows. */
#include "catalog/ingest.h"
#include "catalog/lookup.h"
#include "catalog/postings.h"
#include "catalog/terms.h"

enum {
    LOOKUP_VERSION = 1
}; /* raised when keys or blocks change: the next program to write makes the lookup anew */

struct building {
    struct lb_store *store;
    struct lb_terms terms;
    struct lb_postings *postings;
    int64_t row;
};

static lb_status add_term(void *context, const char *key, size_t length)
{
    struct building *b = context;
    return lb_postings_add(b->postings, key, length, b->row);
}

static lb_status write_out(struct building *b, struct lb_error *err)
{
    lb_status status =
        lb_postings_sort(b->postings) ? lb_postings_write(b->postings, b->store, err) : lb_fail_nomem(err);
    lb_postings_free(b->postings);
    b->postings = NULL;
    return status ? status : lb_postings_new(&b->postings, LB_ROWS_ASCEND, err);
}

static lb_status add_row(void *context, const struct lb_kind *kind, int64_t row,
                         const struct lb_value *values, struct lb_error *err)
{
    struct building *b = context;
    b->row = row;
    lb_status status = lb_terms_of(&b->terms, kind, values, add_term, b, err);
    return status || !lb_postings_full(b->postings) ? status : write_out(b, err);
}

static lb_status add_all(struct building *b, struct lb_ingest *ingest, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < lb_kind_count; i++) {
        if (!lb_terms_has(&lb_kinds[i]))
            continue;
        status = lb_ingest_each(ingest, &lb_kinds[i], add_row, b, err);
        if (!status)
            status = write_out(b, err); /* rows ascend within one kind */
    }
    return status ? status : lb_terms_save(&b->terms, b->store, err);
}

lb_status lb_lookup_rebuild(struct lb_store *store, struct lb_error *err)
{
    struct building b = {.store = store};
    struct lb_ingest *ingest = NULL;
    lb_status status =
        lb_store_execute(store, "DELETE FROM lookup; DELETE FROM lookup_block; DELETE FROM brand", err);
    if (!status)
        status = lb_terms_load(&b.terms, store, err);
    if (!status)
        status = lb_postings_new(&b.postings, LB_ROWS_ASCEND, err);
    if (!status)
        status = lb_ingest_open(&ingest, store, err);
    if (!status)
        status = add_all(&b, ingest, err);
    if (!status)
        status =
            lb_store_run_for(store, "UPDATE state SET lookup_version = ?1, stale = 0", LOOKUP_VERSION, err);
    lb_ingest_close(ingest);
    lb_postings_free(b.postings);
    lb_terms_free(&b.terms);
    return status;
}

lb_status lb_lookup_tidy(struct lb_store *store, struct lb_error *err)
{
    int64_t due = 0;
    lb_status status = lb_store_integer(
        store, "SELECT stale > 1000 AND stale * 4 > (SELECT coalesce(sum(count), 0) FROM span) FROM state",
        &due, err);
    return status || !due ? status : lb_lookup_rebuild(store, err);
}

lb_status lb_lookup_ready(struct lb_store *store, struct lb_error *err)
{
    int64_t version = 0;
    lb_status status = lb_store_integer(store, "SELECT lookup_version FROM state", &version, err);
    if (status || version == LOOKUP_VERSION)
        return status;
    status = lb_store_begin(store, err);
    if (!status)
        status = lb_lookup_rebuild(store, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}
