/* A relaxation's values as the beginning of a draft. */
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
