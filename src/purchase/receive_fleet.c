/* What came for lines of several kits of a fleet: one transaction over one call for each kit. */
#include "purchase/receiving.h"

#include <stdlib.h>

struct fleet_call {
    struct lb_receipts *out; /* by kit */
    const struct lb_fleet *fleet;
    const struct lb_arrival *arrivals;
    const size_t *kits; /* by arrival */
    size_t count;
    int32_t today;
    struct receiving_call call; /* as each kit's begins */
};

static size_t gather(const struct fleet_call *f, size_t k, const struct lb_kit *now, struct lb_arrival *own)
{
    size_t count = 0;
    for (size_t i = 0; i < f->count; i++) {
        if (f->kits[i] != k)
            continue;
        own[count] = f->arrivals[i];
        own[count++].line = &now->lines[f->arrivals[i].line->number - 1];
    }
    return count;
}

/* Another kit's call may have given this one something just now, so it is opened anew. */
static lb_status receive_kit(struct fleet_call *f, size_t k, struct lb_arrival *own)
{
    struct receiving_call call = f->call;
    struct lb_kit *now;
    const struct lb_kit *was = f->fleet->kits[k];
    lb_status status = lb_kit_open(&now, call.store, was->name, f->today, call.err);
    if (status)
        return status;
    call.kit = now;
    if (now->line_count != was->line_count)
        status = lb_fail(call.err, LB_DATA, "%s was built anew meanwhile. Nothing was recorded; try again.",
                         was->name);
    else
        status = receiving_lines(&call, own, gather(f, k, now, own), &f->out[k]);
    if (!status && f->out[k].count) /* a receipt is the first member */
        f->call.before = (const struct receiving *)f->out[k].at[f->out[k].count - 1];
    lb_kit_free(now);
    return status;
}

static bool is_named(const struct fleet_call *f, size_t k)
{
    for (size_t i = 0; i < f->count; i++)
        if (f->kits[i] == k)
            return true;
    return false;
}

lb_status lb_fleet_receive(struct lb_receipts *out, struct lb_store *store, const struct lb_fleet *fleet,
                           const struct lb_arrival *arrivals, const size_t *kits, size_t count,
                           enum lb_came how, int64_t now, int32_t today, struct lb_error *err)
{
    struct fleet_call f = {out, fleet, arrivals, kits, count, today, {0}};
    f.call = (struct receiving_call){
        .store = store, .fleet = fleet, .inside = true, .how = how, .now = now, .err = err};
    for (size_t k = 0; k < fleet->kit_count; k++)
        out[k] = (struct lb_receipts){0};
    struct lb_arrival *own = calloc(count + 1, sizeof *own);
    lb_status status = own ? lb_store_begin(store, err) : lb_fail_nomem(err);
    for (size_t k = 0; !status && k < fleet->kit_count; k++)
        if (is_named(&f, k))
            status = receive_kit(&f, k, own);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    for (size_t k = 0; status && k < fleet->kit_count; k++)
        lb_receipts_free(&out[k]);
    free(own);
    return status;
}
