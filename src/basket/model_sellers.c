/* Suppliers: shipping by goods value, minimum order, tax, the number of parcels. */
#include "base/decimal.h"
#include "basket/model.h"
#include "basket/parcels.h"

#include <math.h>

#define FINEST 1e-5 /* a step below which the solver cannot tell values apart */

/* The rows that some value of goods can reach: from the minimum order on, up to all that could be bought. */
static void list_tiers(struct basket_model *m, uint32_t s)
{
    const struct lb_supplier *supplier = &m->problem->market->suppliers[s];
    struct model_seller *seller = &m->sellers[s];
    int64_t least = supplier->minimum_order > 0 ? supplier->minimum_order : 0;
    seller->first_tier = m->tiers.count;
    if (!m->problem->sellers[s].open)
        return;
    if (!supplier->shipping_count)
        m->failed |= !LB_PUSH(&m->tiers, ((struct model_tier){least, INT64_MAX, 0, 0}));
    for (size_t i = 0; i < supplier->shipping_count; i++) {
        const struct lb_shipping *row = &supplier->shipping[i];
        int64_t next = i + 1 < supplier->shipping_count ? row[1].goods_from : INT64_MAX;
        int64_t from = row->goods_from > least ? row->goods_from : least;
        if (next > from && from <= m->problem->sellers[s].most &&
            basket_shipping_row(supplier, row->goods_from) == row)
            m->failed |= !LB_PUSH(
                &m->tiers, ((struct model_tier){from, next == INT64_MAX ? next : next - 1, row->charge, 0}));
    }
    seller->tier_count = m->tiers.count - seller->first_tier;
}

static double charge_cost(const struct basket_model *m, uint32_t s, const struct model_tier *tier)
{
    return (double)basket_convert(tier->charge, &m->problem->sellers[s].conversion);
}

static void add_tiers(struct basket_model *m, uint32_t s)
{
    struct model_seller *seller = &m->sellers[s];
    struct model_tier *tiers = m->tiers.at + seller->first_tier;
    if (m->failed)
        return;
    seller->open = model_column(m, MODEL_BINARY, 1, seller->tier_count == 1 ? charge_cost(m, s, tiers) : 0);
    if (seller->tier_count == 1)
        tiers->column = seller->open;
    for (size_t i = 0; seller->tier_count != 1 && i < seller->tier_count; i++) {
        tiers[i].column = model_column(m, MODEL_BINARY, 1, charge_cost(m, s, &tiers[i]));
        model_term(m, tiers[i].column, 1);
    }
    if (seller->tier_count == 1)
        return;
    model_term(m, seller->open, -1);
    model_end_row(m, 0, 0, 1);
}

void model_add_sellers(struct basket_model *m)
{
    for (uint32_t s = 0; s < m->problem->market->supplier_count; s++) {
        list_tiers(m, s);
        add_tiers(m, s);
    }
}

/* Goods under one row of a table, × factor, as terms of the row being made. */
static void tier_goods(struct basket_model *m, size_t tier, double factor)
{
    for (size_t i = 0; i < m->lots.count; i++)
        if (m->lots.at[i].tier == tier)
            model_count_packs(m, &m->lots.at[i],
                              factor * (double)m->problem->offers[m->lots.at[i].offer].price, INFINITY, true);
}

static void goods_terms(struct basket_model *m, uint32_t s, double factor)
{
    for (size_t t = 0; t < m->sellers[s].tier_count; t++)
        tier_goods(m, m->sellers[s].first_tier + t, factor);
}

/* Goods under a row are at least what it begins with; where a later row costs more, also at most what it ends
 * with. */
static void bound_goods(struct basket_model *m, uint32_t s, size_t t)
{
    const struct model_tier *tier = &m->tiers.at[m->sellers[s].first_tier + t];
    double from = (double)tier->from, to = (double)tier->to;
    if (tier->from > 0) {
        tier_goods(m, m->sellers[s].first_tier + t, 1);
        model_term(m, tier->column, -from);
        model_end_row(m, 0, INFINITY, 1 / from);
    }
    if (t + 1 < m->sellers[s].tier_count && tier[1].charge > tier->charge) {
        tier_goods(m, m->sellers[s].first_tier + t, 1);
        model_term(m, tier->column, -to);
        model_end_row(m, -INFINITY, 0, 1 / to);
    }
}

static int64_t common_divisor(int64_t a, int64_t b)
{
    while (b) {
        int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* An integer column that is `value` rounded half up where it is as low as the row lets it be: the row being
 * made holds the terms of -value, whose exact values are multiples of 1 ÷ steps. */
static int round_column(struct basket_model *m, int open, double steps, double cost)
{
    int column = model_column(m, MODEL_INTEGER, INFINITY, cost);
    model_term(m, column, 1);
    model_term(m, open, 0.5 - fmax(1 / steps, FINEST));
    model_end_row(m, 0, INFINITY, 1);
    return column;
}

static void add_tax(struct basket_model *m, uint32_t s)
{
    const struct lb_supplier *supplier = &m->problem->market->suppliers[s];
    struct model_seller *seller = &m->sellers[s];
    const struct model_tier *tiers = m->tiers.at + seller->first_tier;
    int64_t whole = 100 * LB_MILLION;
    double rate = (double)supplier->tax / (double)whole;
    goods_terms(m, s, -rate);
    for (size_t i = 0; i < seller->tier_count; i++)
        model_term(m, tiers[i].column, -rate * (double)tiers[i].charge);
    seller->tax = round_column(m, seller->open, (double)(whole / common_divisor(whole, supplier->tax)),
                               m->problem->sellers[s].conversion.rate ? 0 : 1);
}

static void convert_column(struct basket_model *m, uint32_t s, int *column, int tax)
{
    const struct basket_conversion *conversion = &m->problem->sellers[s].conversion;
    double rate = (double)conversion->times / (double)conversion->by;
    if (tax)
        model_term(m, tax, -rate);
    else
        goods_terms(m, s, -rate);
    *column = round_column(m, m->sellers[s].open, (double)conversion->by, 1);
}

static void close_seller(struct basket_model *m, uint32_t s)
{
    struct model_seller *seller = &m->sellers[s];
    if (!m->problem->sellers[s].most)
        return;
    for (size_t t = 0; t < seller->tier_count; t++)
        bound_goods(m, s, t);
    if (m->problem->market->suppliers[s].tax > 0)
        add_tax(m, s);
    if (!m->problem->sellers[s].conversion.rate)
        return;
    convert_column(m, s, &seller->goods_in, 0);
    if (seller->tax)
        convert_column(m, s, &seller->tax_in, seller->tax);
}

void model_close_sellers(struct basket_model *m)
{
    for (uint32_t s = 0; s < m->problem->market->supplier_count; s++)
        close_seller(m, s);
    if (m->problem->limits->parcels <= 0)
        return;
    for (uint32_t s = 0; s < m->problem->market->supplier_count; s++)
        model_term(m, m->sellers[s].open, 1);
    model_end_row(m, -INFINITY, m->problem->limits->parcels, 1);
}
