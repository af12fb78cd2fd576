#include "catalog/growth.h"

#include "catalog/lookup.h"

lb_status lb_growth_begin(struct lb_growth *growth, struct lb_store *store, struct lb_error *err)
{
    *growth = (struct lb_growth){0};
    lb_status status = lb_terms_load(&growth->terms, store, err);
    if (!status)
        status = lb_store_integer(store, "SELECT next_row FROM state", &growth->next_row, err);
    return status ? status : lb_postings_new(&growth->postings, err);
}

void lb_growth_free(struct lb_growth *growth)
{
    lb_terms_free(&growth->terms);
    lb_postings_free(growth->postings);
    growth->postings = NULL;
}

static lb_status add_term(void *context, const char *key, size_t length, int64_t value)
{
    return lb_postings_add(context, key, length, value);
}

lb_status lb_growth_note(struct lb_growth *growth, const struct lb_kind *kind, const struct lb_value *values,
                         int64_t row, struct lb_error *err)
{
    return lb_terms_of(&growth->terms, kind, row, values, add_term, growth->postings, err);
}

lb_status lb_growth_cut(struct lb_growth *growth, struct lb_postings **full, struct lb_error *err)
{
    *full = growth->postings;
    growth->postings = NULL;
    lb_status status = lb_postings_sort(*full) ? LB_OK : lb_fail_nomem(err);
    return status ? status : lb_postings_new(&growth->postings, err);
}

lb_status lb_growth_write(struct lb_growth *growth, struct lb_store *store, struct lb_error *err)
{
    struct lb_postings *full = NULL;
    if (lb_postings_empty(growth->postings))
        return LB_OK;
    lb_status status = lb_growth_cut(growth, &full, err);
    if (!status)
        status = lb_postings_write(full, store, err);
    lb_postings_free(full);
    return status;
}

lb_status lb_growth_end(struct lb_growth *growth, struct lb_store *store, struct lb_error *err)
{
    lb_status status = lb_growth_write(growth, store, err);
    if (!status)
        status = lb_terms_save(&growth->terms, store, err);
    if (!status)
        status = lb_store_run_for(store, "UPDATE state SET next_row = ?1", growth->next_row, err);
    if (!status)
        status = lb_store_run_for(store, "UPDATE state SET stale = stale + ?1", growth->stale, err);
    if (status)
        return status;
    lb_terms_free(&growth->terms); /* the lookup made anew has its own */
    return growth->torn ? lb_lookup_rebuild(store, err) : lb_lookup_tidy(store, err);
}
