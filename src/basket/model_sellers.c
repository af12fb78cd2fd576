/* Suppliers: shipping by goods value, minimum order, tax, the number of parcels. */
#include "base/decimal.h"
#include "basket/model.h"
#include "basket/parcels.h"

#include <math.h>

#define FINEST 2e-6 /* a difference below which the solver cannot tell values apart */

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

/* Goods under a row are at least what it begins with; where some later row costs more, also at most what it
 * ends with. */
static void bound_goods(struct basket_model *m, uint32_t s, size_t t)
{
    const struct model_tier *tier = &m->tiers.at[m->sellers[s].first_tier + t];
    double from = (double)tier->from, to = (double)tier->to;
    if (tier->from > 0) {
        tier_goods(m, m->sellers[s].first_tier + t, 1);
        model_term(m, tier->column, -from);
        model_end_row(m, 0, INFINITY, 1 / from);
    }
    bool rises = false;
    for (size_t later = t + 1; later < m->sellers[s].tier_count; later++)
        rises |= tier[later - t].charge > tier->charge;
    if (rises) {
        tier_goods(m, m->sellers[s].first_tier + t, 1);
        model_term(m, tier->column, -to);
        model_end_row(m, -INFINITY, 0, 1 / to);
    }
}

/* Adds the terms of the row being made, whole numbers, to the price. */
static void pay(struct basket_model *m)
{
    for (size_t i = 0; i < m->row.columns.count; i++) {
        int column = m->row.columns.at[i];
        basket_glpk.glp_set_obj_coef(m->lp, column,
                                     basket_glpk.glp_get_obj_coef(m->lp, column) + m->row.values.at[i]);
    }
    m->row.columns.count = m->row.values.count = 0;
}

/* Splits terms of whole numbers × times ÷ by: the whole parts stay, the row being made gets what is left of
 * each, subtracted. */
static void split(struct basket_model *m, struct model_row *terms, basket_wide times, basket_wide by)
{
    for (size_t i = 0; i < terms->columns.count; i++) {
        basket_wide product = (basket_wide)terms->values.at[i] * times;
        terms->values.at[i] = (double)(product / by);
        model_term(m, terms->columns.at[i], -(double)(product % by) / (double)by);
    }
}

/* The sum of the terms of the row being made (whole numbers) × times ÷ by, rounded half up, as terms again:
 * what is whole stays with its column, and a small integer column takes up the rest. That is as low as its
 * row lets it be, which is above the rest less a half by half of the finest step there is. */
static void round_terms(struct basket_model *m, int open, basket_wide times, basket_wide by)
{
    struct model_row terms = m->row;
    m->row = m->spare;
    split(m, &terms, times, by);
    if (!m->row.columns.count) {
        model_skip(m);
    } else {
        int column = model_column(m, MODEL_INTEGER, INFINITY, 0);
        model_term(m, column, 1);
        model_term(m, open, 0.5 - fmax(0.5 / (double)by, FINEST));
        model_end_row(m, 0, INFINITY, 1);
        m->failed |= !LB_PUSH(&terms.columns, column) || !LB_PUSH(&terms.values, 1);
    }
    m->spare = m->row;
    m->row = terms;
}

static void pay_converted(struct basket_model *m, uint32_t s)
{
    const struct basket_conversion *conversion = &m->problem->sellers[s].conversion;
    if (conversion->rate)
        round_terms(m, m->sellers[s].open, conversion->times, conversion->by);
    pay(m);
}

static void add_tax(struct basket_model *m, uint32_t s)
{
    const struct model_seller *seller = &m->sellers[s];
    const struct model_tier *tiers = m->tiers.at + seller->first_tier;
    basket_wide tax = m->problem->market->suppliers[s].tax, whole = 100 * LB_MILLION,
                common = basket_common_divisor(tax, whole);
    goods_terms(m, s, 1);
    for (size_t i = 0; i < seller->tier_count; i++)
        model_term(m, tiers[i].column, (double)tiers[i].charge);
    round_terms(m, seller->open, tax / common, whole / common);
    pay_converted(m, s);
}

static void close_seller(struct basket_model *m, uint32_t s)
{
    struct model_seller *seller = &m->sellers[s];
    if (!m->problem->sellers[s].most)
        return;
    for (size_t t = 0; t < seller->tier_count; t++)
        bound_goods(m, s, t);
    goods_terms(m, s, 1);
    pay_converted(m, s);
    if (m->problem->market->suppliers[s].tax > 0)
        add_tax(m, s);
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
