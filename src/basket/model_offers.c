/* Offers: how many packs, and that a supplier who sends some is open. */
#include "basket/model.h"

#include <math.h>

static const struct basket_offer *offer_of(const struct basket_model *m, const struct model_lot *lot)
{
    return &m->problem->offers[lot->offer];
}

static void enumerate(struct basket_model *m, struct model_lot *lot)
{
    const struct basket_offer *offer = offer_of(m, lot);
    lot->packs = (int)m->pack_columns.count;
    lot->from = offer->low;
    lot->count = (int)(offer->cover - offer->low + 1);
    for (int i = 0; i < lot->count; i++) {
        int column = model_column(m, MODEL_BINARY, 1, 0);
        m->failed |= !LB_PUSH(&m->pack_columns, column);
    }
}

/* used >= all + packs ÷ cover; packs >= low × (used - all). */
static void count(struct basket_model *m, struct model_lot *lot)
{
    const struct basket_offer *offer = offer_of(m, lot);
    double cover = (double)offer->cover, low = (double)offer->low;
    lot->packs = model_column(m, MODEL_INTEGER, cover - 1, 0);
    lot->all = model_column(m, MODEL_BINARY, 1, 0);
    lot->used = model_column(m, MODEL_BINARY, 1, 0);
    model_term(m, lot->packs, 1 / (cover - 1));
    model_term(m, lot->all, 1);
    model_term(m, lot->used, -1);
    model_end_row(m, -INFINITY, 0, 1);
    model_term(m, lot->packs, 1);
    model_term(m, lot->used, -low);
    model_term(m, lot->all, low);
    model_end_row(m, 0, INFINITY, 1 / low);
}

/* Only where goods must reach some value, and only what meets its minimum. */
static void pad(struct basket_model *m, struct model_lot *lot)
{
    const struct basket_offer *offer = offer_of(m, lot);
    double most = (double)(offer->high - offer->cover);
    if (most <= 0 || !m->tiers.at[lot->tier].from || !offer->price)
        return;
    lot->surplus = model_column(m, MODEL_INTEGER, most, 0);
    if (offer->low == 1)
        return;
    model_term(m, lot->surplus, 1 / most);
    model_term(m, lot->used, -1);
    for (int i = 0; i < lot->count; i++)
        model_term(m, m->pack_columns.at[lot->packs + i], -1);
    model_end_row(m, -INFINITY, 0, 1);
}

static void add_lot(struct basket_model *m, size_t offer, size_t tier)
{
    struct model_lot lot = {.offer = offer, .tier = tier};
    if (m->problem->offers[offer].cover - m->problem->offers[offer].low < MODEL_MOST_ENUMERATED)
        enumerate(m, &lot);
    else
        count(m, &lot);
    m->rank = MODEL_SURPLUS;
    pad(m, &lot);
    m->rank = MODEL_PACKS;
    m->failed |= !LB_PUSH(&m->lots, lot);
}

void model_add_offers(struct basket_model *m)
{
    for (size_t i = 0; i < m->problem->offer_count; i++) {
        const struct model_seller *seller = &m->sellers[m->problem->offers[i].supplier];
        m->first_lot[i] = m->lots.count;
        for (size_t t = 0; t < seller->tier_count; t++)
            add_lot(m, i, seller->first_tier + t);
    }
    m->first_lot[m->problem->offer_count] = m->lots.count;
}

size_t model_first_lot(const struct basket_model *m, uint32_t part)
{
    return m->first_lot[m->problem->goods[part].first];
}

size_t model_end_lot(const struct basket_model *m, uint32_t part)
{
    return m->first_lot[m->problem->goods[part].first + m->problem->goods[part].count];
}

static double at_most(double value, double most)
{
    return fabs(value) < most ? value : copysign(most, value);
}

void model_count_packs(struct basket_model *m, const struct model_lot *lot, double pack, double most,
                       bool surplus)
{
    for (int i = 0; i < lot->count; i++)
        model_term(m, m->pack_columns.at[lot->packs + i], at_most(pack * (double)(lot->from + i), most));
    if (!lot->count) {
        model_term(m, lot->packs, at_most(pack, most));
        model_term(m, lot->all, at_most(pack * (double)offer_of(m, lot)->cover, most));
    }
    if (surplus)
        model_term(m, lot->surplus, at_most(pack, most));
}

/* terms <= the tier's, for terms of which each stands with 1 (or 1 ÷ most). */
static void add_link(const struct basket_model *m, glp_prob *lp, const struct model_lot *lot, bool surplus)
{
    int columns[MODEL_MOST_ENUMERATED + 3], count = 0, row = basket_glpk.glp_add_rows(lp, 1);
    double values[MODEL_MOST_ENUMERATED + 3];
    for (int i = 0; !surplus && i < lot->count; i++)
        if (m->pack_columns.at[lot->packs + i])
            columns[++count] = m->pack_columns.at[lot->packs + i], values[count] = 1;
    if (surplus)
        columns[++count] = lot->surplus, values[count] = 1. / LB_SURPLUS_PACKS;
    else if (lot->used)
        columns[++count] = lot->used, values[count] = 1;
    if (m->tiers.at[lot->tier].column)
        columns[++count] = m->tiers.at[lot->tier].column, values[count] = -1;
    basket_glpk.glp_set_mat_row(lp, row, count, columns, values);
    basket_glpk.glp_set_row_bnds(lp, row, GLP_UP, 0, 0);
}

int model_add_links(const struct basket_model *m, glp_prob *lp)
{
    int added = 0;
    for (size_t i = 0; i < m->lots.count; i++) {
        const struct model_lot *lot = &m->lots.at[i];
        double open = model_value(lp, m->tiers.at[lot->tier].column) + MODEL_SLACK;
        double packs = model_value(lp, lot->used);
        for (int k = 0; k < lot->count; k++)
            packs += model_value(lp, m->pack_columns.at[lot->packs + k]);
        bool surplus = offer_of(m, lot)->low == 1 && model_value(lp, lot->surplus) > open * LB_SURPLUS_PACKS;
        if (packs > open)
            add_link(m, lp, lot, false);
        if (surplus)
            add_link(m, lp, lot, true);
        added += (packs > open) + surplus;
    }
    return added;
}
