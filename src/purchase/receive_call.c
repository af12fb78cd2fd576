/* What comes together is recorded together: one transaction, and a receipt for each part of it. */
#include "purchase/receiving.h"

#include <stdlib.h>

lb_status receiving_begin(struct receiving_call *call)
{
    size_t lines = call->kit->line_count;
    for (size_t k = 0; call->fleet && k < call->fleet->kit_count; k++)
        lines += call->fleet->kits[k]->line_count;
    call->credited = calloc(lines + 1, sizeof *call->credited);
    if (!call->credited)
        return lb_fail_nomem(call->err);
    return call->inside ? LB_OK : lb_store_begin(call->store, call->err);
}

struct receiving *receiving_add(struct receiving_call *call, const struct lb_line *line, int64_t quantity)
{
    struct receiving *r = calloc(1, sizeof *r);
    if (!r || !LB_PUSH(&call->receipts, &r->receipt)) {
        free(r);
        lb_fail_nomem(call->err);
        return NULL;
    }
    *r = (struct receiving){
        .receipt = {.line = line ? line->number : 0, .quantity = quantity},
        .store = call->store,
        .kit = call->kit,
        .fleet = call->fleet,
        .line = line,
        .how = call->how,
        .now = call->now,
        .credited = call->credited,
        .err = call->err,
    };
    r->before = call->before;
    if (call->receipts.count > 1) /* a receipt is the first member */
        r->before = (const struct receiving *)call->receipts.at[call->receipts.count - 2];
    return r;
}

lb_status receiving_end(struct receiving_call *call, lb_status status, struct lb_receipts *out)
{
    if (!status && !call->inside)
        status = lb_store_commit(call->store, call->err);
    if (status)
        lb_store_rollback(call->store);
    free(call->credited);
    *out = (struct lb_receipts){call->receipts.at, call->receipts.count};
    for (size_t i = 0; i < out->count; i++) {
        struct receiving *r = (struct receiving *)out->at[i];
        r->receipt.orders = r->orders.at;
        r->receipt.order_count = r->orders.count;
        r->receipt.others = r->others.at;
        r->receipt.other_count = r->others.count;
        r->credited = NULL;
    }
    if (status)
        lb_receipts_free(out);
    return status;
}

void lb_receipts_free(struct lb_receipts *receipts)
{
    for (size_t i = 0; i < receipts->count; i++) {
        struct receiving *r = (struct receiving *)receipts->at[i];
        free(r->open.at);
        free(r->waiting.at);
        free(r->taken.at);
        free(r->orders.at);
        free(r->others.at);
        lb_arena_free(&r->texts);
        free(r);
    }
    free(receipts->at);
    *receipts = (struct lb_receipts){0};
}
