#include "purchase/making.h"

#include "kit/fleet.h"

#include <stdlib.h>
#include <string.h>

static lb_status open_kits(struct making *m, const char *const *names, size_t count)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++) {
        struct lb_kit *kit;
        bool open = false;
        for (size_t k = 0; k < m->kits.count; k++)
            open |= strcmp(m->kits.at[k]->name, names[i]) == 0;
        if (open)
            continue;
        status = lb_kit_open(&kit, m->store, names[i], m->purchase.today, m->err);
        if (!status && !LB_PUSH(&m->kits, kit)) {
            lb_kit_free(kit);
            status = lb_fail_nomem(m->err);
        }
    }
    m->purchase.kits = m->kits.at;
    m->purchase.kit_count = m->kits.count;
    if (!status && !m->kits.count)
        status = lb_fail(m->err, LB_DATA, "name a kit to buy for; kit list tells which there are.");
    return status;
}

static lb_status make_market(struct making *m)
{
    lb_status status = lb_shelf_load(&m->shelf, m->store, m->err);
    m->purchase.shelf = &m->shelf;
    if (!status)
        status = lb_preference_load(&m->preferences, m->store, m->err);
    if (!status)
        status = making_suppliers(m);
    if (!status)
        status = making_needs(m);
    return status ? status : making_boxes(m);
}

/* What was asked for may be impossible; then there is no basket, and it is said why. */
static lb_status solve(struct making *m)
{
    struct lb_purchase *purchase = &m->purchase;
    lb_status status = LB_OK;
    bool past = m->options->arrive_by != LB_NO_DAY && m->options->arrive_by < purchase->today;
    if (!past)
        status = lb_basket_solve(&purchase->basket, &purchase->market, &m->limits, m->err);
    if (status || (purchase->basket && purchase->basket->found))
        return status;
    purchase->blocked = true;
    status = making_obstacles(m);
    lb_basket_free(purchase->basket);
    purchase->basket = NULL;
    return status;
}

static lb_status make(struct making *m, const char *const *names, size_t count)
{
    struct lb_names kits = {0};
    lb_status status = lb_fleet_names(&kits, m->store, names, count, m->err);
    if (!status)
        status = open_kits(m, kits.at, kits.count);
    lb_names_free(&kits);
    if (!status)
        status = make_market(m);
    if (!status)
        status = making_limits(m);
    if (!status)
        status = making_stuck(m);
    if (!status && !m->purchase.blocked)
        status = solve(m);
    if (!status)
        status = making_questions(m);
    if (!status)
        status = making_hand_gaps(m);
    if (!status)
        status = purchase_tell_moved(&m->purchase, &m->arena, m->store, m->err);
    return status ? status : purchase_tell_locked(&m->purchase, &m->arena, m->store, m->err);
}

lb_status lb_purchase_make(struct lb_purchase **out, struct lb_store *store, const char *const *names,
                           size_t name_count, const struct lb_purchase_options *options, int32_t today,
                           struct lb_error *err)
{
    bool held = false;
    *out = NULL;
    struct making *m = calloc(1, sizeof *m);
    if (!m)
        return lb_fail_nomem(err);
    m->store = store;
    m->options = options;
    m->err = err;
    m->purchase.today = today;
    lb_status status = lb_store_hold(store, &held, err);
    if (!status)
        status = make(m, names, name_count);
    lb_store_release(store, held);
    if (status)
        lb_purchase_free(&m->purchase);
    else
        *out = &m->purchase;
    return status;
}

lb_status lb_purchase_compare(struct lb_purchase *purchase, const struct lb_purchase_options *options,
                              struct lb_error *err)
{
    const struct making *m = (const struct making *)purchase; /* its first member */
    lb_status status = LB_OK;
    if (!purchase->basket)
        return LB_OK;
    if (options->front)
        status = lb_front_solve(&purchase->front, &purchase->market, &m->limits, purchase->basket, err);
    if (!status && options->reasons)
        status = lb_reasons_solve(&purchase->reasons, &purchase->market, &m->limits, purchase->basket, err);
    return status;
}

void lb_purchase_free(struct lb_purchase *purchase)
{
    if (!purchase)
        return;
    struct making *m = (struct making *)purchase; /* its first member */
    if (purchase->reasons)
        lb_reasons_free(purchase->reasons);
    if (purchase->front)
        lb_front_free(purchase->front);
    lb_basket_free(purchase->basket);
    for (size_t k = 0; k < m->kits.count; k++)
        lb_kit_free(m->kits.at[k]);
    free(m->kits.at);
    free(m->suppliers.at);
    free(m->goods.at);
    free(m->parts.at);
    free(m->offers.at);
    free(m->wants.at);
    free(m->needs.at);
    free(m->facts.at);
    free(m->contents.at);
    free(m->gaps.at);
    lb_names_free(&m->supplier_names);
    lb_names_free(&m->part_keys);
    lb_shelf_free(&m->shelf);
    lb_preference_free(&m->preferences);
    lb_arena_free(&m->arena);
    free(m);
}
