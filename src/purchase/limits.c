/* What was asked for besides the kits, as the basket takes it. */
#include "catalog/spans.h"
#include "purchase/making.h"
#include "store/unknown.h"

#include "base/text.h"

/* By which a supplier may be called, also one that none of these kits could buy from. */
#define EVERY_NAME                                                                                           \
    "SELECT r.supplier" LB_PLACED("suppliers") "UNION SELECT r.name" LB_PLACED(                              \
        "suppliers") "WHERE r.name IS NOT NULL UNION SELECT r.supplier" LB_PLACED("offers")

static lb_status is_known(struct making *m, const char *name, bool *known)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(m->store, &st, EVERY_NAME, m->err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, m->err)) && row)
        *known |= lb_text_same_words(lb_text(st, 0), name);
    lb_statement_free(st);
    return status;
}

static lb_status refuse(struct making *m, const char *name)
{
    bool known = false;
    lb_status status = is_known(m, name, &known);
    return status || known
               ? status
               : lb_store_refuse_unknown(m->store, "supplier", name, EVERY_NAME,
                                         "lastbolt part BRAND NUMBER says who offers a part.", m->err);
}

static lb_status set_closed(struct making *m, const char *const *names, size_t count, bool closed)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++) {
        uint32_t id = making_find_supplier(m, names[i]);
        if (id == LB_NO_NAME)
            status = refuse(m, names[i]);
        else
            m->closed[id] = closed;
    }
    return status;
}

lb_status making_limits(struct making *m)
{
    const struct lb_purchase_options *asked = m->options;
    m->closed = lb_arena_alloc(&m->arena, (m->suppliers.count + 1) * sizeof *m->closed);
    if (!m->closed)
        return lb_fail_nomem(m->err);
    for (size_t i = 0; asked->only_count && i < m->suppliers.count; i++)
        m->closed[i] = true;
    m->limits = (struct lb_basket_limits){
        .closed = m->closed,
        .parcels = asked->suppliers_at_most,
        .arrive_days = asked->arrive_by == LB_NO_DAY ? -1 : (int64_t)asked->arrive_by - m->purchase.today,
        .workers = asked->workers,
        .seconds = asked->seconds};
    lb_status status = set_closed(m, asked->only, asked->only_count, false);
    return status ? status : set_closed(m, asked->without, asked->without_count, true);
}
