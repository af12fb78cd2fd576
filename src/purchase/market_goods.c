/* The suppliers and parts of several kits as those of one market. */
#include "base/text.h"
#include "purchase/making.h"

#include <string.h>

static lb_status fold_name(struct making *m, const char *name, uint32_t *id)
{
    struct lb_buf folded = {0};
    lb_text_fold(&folded, name);
    bool added = !folded.failed && lb_names_add(&m->supplier_names, lb_buf_text(&folded), id);
    lb_buf_free(&folded);
    return added ? LB_OK : lb_fail_nomem(m->err);
}

/* All kits see the same rows of suppliers; those without a row come from the offers of each kit's parts. */
static lb_status add_suppliers(struct making *m, size_t k)
{
    const struct lb_kit *kit = m->kits.at[k];
    uint32_t *ids = lb_arena_alloc(&m->arena, (kit->supplier_count + 1) * sizeof *ids);
    if (!ids)
        return lb_fail_nomem(m->err);
    m->supplier_ids[k] = ids;
    for (size_t i = 0; i < kit->supplier_count; i++) {
        lb_status status = fold_name(m, kit->suppliers[i].name, &ids[i]);
        if (status)
            return status;
        if (ids[i] == m->suppliers.count && !LB_PUSH(&m->suppliers, kit->suppliers[i]))
            return lb_fail_nomem(m->err);
    }
    return LB_OK;
}

lb_status making_suppliers(struct making *m)
{
    struct lb_market *market = &m->purchase.market;
    lb_status status = LB_OK;
    m->supplier_ids = lb_arena_alloc(&m->arena, (m->kits.count + 1) * sizeof *m->supplier_ids);
    if (!m->supplier_ids)
        return lb_fail_nomem(m->err);
    for (size_t k = 0; !status && k < m->kits.count; k++)
        status = add_suppliers(m, k);
    if (!status)
        status = lb_kits_currency(&market->currency, m->kits.at, m->kits.count, m->err);
    for (size_t k = 0; !status && k < m->kits.count; k++)
        lb_kit_compare_in(m->kits.at[k], market->currency);
    market->suppliers = m->suppliers.at;
    market->supplier_count = m->suppliers.count;
    market->rates = m->kits.at[0]->rates;
    market->rate_count = m->kits.at[0]->rate_count;
    return status;
}

uint32_t making_find_supplier(const struct making *m, const char *name)
{
    struct lb_buf folded = {0};
    lb_text_fold(&folded, name);
    uint32_t id = lb_names_find(&m->supplier_names, lb_buf_text(&folded));
    lb_buf_free(&folded);
    for (uint32_t i = 0; id == LB_NO_NAME && i < m->suppliers.count; i++)
        if (lb_text_same_words(m->suppliers.at[i].label, name))
            id = i;
    return id;
}

lb_status making_part(struct making *m, uint32_t kit, const struct lb_part *part, uint32_t *index)
{
    if (!lb_names_add(&m->part_keys, part->key, index))
        return lb_fail_nomem(m->err);
    if (*index < m->parts.count)
        return LB_OK;
    const struct lb_shelf_item *item = lb_shelf_find(&m->shelf, part->key);
    struct lb_basket_offer *terms = lb_arena_alloc(&m->arena, (part->offer_count + 1) * sizeof *terms);
    const struct lb_part_offer **offers = lb_arena_alloc(&m->arena, (part->offer_count + 1) * sizeof *offers);
    if (!terms || !offers)
        return lb_fail_nomem(m->err);
    for (size_t i = 0; i < part->offer_count; i++) {
        offers[i] = &part->offers[i];
        terms[i] = lb_kit_offer(offers[i]);
        terms[i].supplier = m->supplier_ids[kit][terms[i].supplier];
    }
    struct lb_basket_part goods = {terms, part->offer_count, item ? item->quantity : 0};
    return LB_PUSH(&m->goods, goods) && LB_PUSH(&m->parts, part) && LB_PUSH(&m->offers, offers)
               ? LB_OK
               : lb_fail_nomem(m->err);
}
