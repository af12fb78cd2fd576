/* What values mean: a relaxation's as the beginning of a draft, whole ones as a solution. */
#include "basket/model.h"

#include <math.h>
#include <string.h>

/* Packs of each offer of a part, as far as the values buy them. */
static double packs_bought(const struct basket_model *m, size_t offer, const double *values)
{
    double packs = 0;
    for (size_t i = m->first_lot[offer]; i < m->first_lot[offer + 1]; i++) {
        const struct model_lot *lot = &m->lots.at[i];
        for (int k = 0; k < lot->count; k++)
            packs += values[m->pack_columns.at[lot->packs + k]] * (double)(lot->from + k);
        if (!lot->count)
            packs += values[lot->packs] + values[lot->all] * (double)m->problem->offers[offer].cover;
    }
    return packs;
}

/* The plan that is least away from what the values buy. */
static uint32_t nearest_plan(const struct basket_model *m, const struct draft *d, uint32_t part,
                             const double *values)
{
    const struct draft_list *list = &d->lists[part];
    uint32_t best = UINT32_MAX;
    double best_share = 0.3;
    for (uint32_t i = 0; i < list->count; i++) {
        double share = 0, units = 0;
        for (int k = 0; k < DRAFT_OFFERS; k++) {
            double packs = (double)list->plans[i].packs[k];
            if (packs <= 0)
                continue;
            double pack = (double)m->problem->offers[list->plans[i].offers[k]].pack;
            share += fmin(packs, packs_bought(m, list->plans[i].offers[k], values)) * pack;
            units += packs * pack;
        }
        share /= fmax(units, 1);
        if (share <= best_share + 1e-9)
            continue;
        best = i;
        best_share = share;
    }
    return best;
}

static void take_options(const struct basket_model *m, const double *values, struct draft *d)
{
    for (size_t n = 0; n < m->problem->market->need_count; n++) {
        double best = 0;
        for (uint32_t i = 0; i < m->problem->market->needs[n].option_count; i++) {
            int choice = m->options[m->first_option[n] + i].choice;
            if (!choice && !m->options[m->first_option[n] + i].off) {
                d->options[n] = i;
                break;
            }
            if (!choice || values[choice] <= best)
                continue;
            best = values[choice];
            d->options[n] = i;
        }
    }
}

void model_take_draft(const struct basket_model *m, const double *values, struct draft *d)
{
    for (uint32_t s = 0; s < m->problem->market->supplier_count; s++)
        d->allowed[s] = m->sellers[s].open && values[m->sellers[s].open] > 1e-6;
    take_options(m, values, d);
    draft_price(d, false); /* makes the lists for what is wanted now */
    for (uint32_t part = 0; part < m->problem->market->part_count; part++)
        d->pins[part] = nearest_plan(m, d, part, values);
}

double model_value(glp_prob *lp, int column)
{
    return column ? basket_glpk.glp_get_col_prim(lp, column) : 0;
}

static void read_covers(const struct basket_model *m, struct basket_solution *out, size_t covers)
{
    for (size_t i = 0; i < covers; i++)
        out->covers[i] = (int64_t)llround(fmax(model_value(m->lp, m->covers[i]), 0));
}

static void read_options(const struct basket_model *m, struct basket_solution *out)
{
    const struct lb_market *market = m->problem->market;
    for (size_t n = 0; n < market->need_count; n++) {
        double best = 0.5;
        out->options[n] = UINT32_MAX;
        for (uint32_t i = 0; i < market->needs[n].option_count; i++) {
            const struct model_option *option = &m->options[m->first_option[n] + i];
            double value = option->off ? 0 : option->choice ? model_value(m->lp, option->choice) : 1;
            if (value <= best)
                continue;
            best = value;
            out->options[n] = i;
        }
    }
}

static int64_t packs_of(const struct basket_model *m, const struct model_lot *lot)
{
    int64_t packs = llround(model_value(m->lp, lot->surplus));
    for (int k = 0; k < lot->count; k++)
        packs += llround(model_value(m->lp, m->pack_columns.at[lot->packs + k])) * (lot->from + k);
    if (!lot->count)
        packs += llround(model_value(m->lp, lot->packs)) +
                 llround(model_value(m->lp, lot->all)) * m->problem->offers[lot->offer].cover;
    return packs;
}

void model_read_solution(const struct basket_model *m, struct basket_solution *out, size_t covers)
{
    out->purchase_count = 0;
    for (size_t i = 0; i < m->problem->offer_count; i++) {
        const struct basket_offer *offer = &m->problem->offers[i];
        int64_t packs = 0;
        for (size_t l = m->first_lot[i]; l < m->first_lot[i + 1]; l++)
            packs += packs_of(m, &m->lots.at[l]);
        if (packs > 0)
            out->purchases[out->purchase_count++] =
                (struct basket_purchase){offer->part, offer->offer, packs};
    }
    read_options(m, out);
    read_covers(m, out, covers);
}
