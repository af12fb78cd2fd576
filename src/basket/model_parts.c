/* Parts: that what is bought of each suffices. */
#include "base/decimal.h"
#include "basket/conversion.h"
#include "basket/model.h"

#include <math.h>

/* Units of a part, all of a lot no more than what they may be needed for. */
static void cover_terms(struct basket_model *m, uint32_t part, double most)
{
    for (size_t i = model_first_lot(m, part); i < model_end_lot(m, part); i++)
        model_count_packs(m, &m->lots.at[i], (double)m->problem->offers[m->lots.at[i].offer].pack, most,
                          false);
}

double model_wanted_terms(struct basket_model *m, uint32_t part)
{
    double constant = 0;
    for (size_t n = 0; n < m->problem->market->need_count; n++) {
        const struct lb_basket_need *need = &m->problem->market->needs[n];
        for (size_t i = 0; i < need->option_count; i++) {
            const struct lb_basket_option *option = &need->options[i];
            int column;
            double amount = model_amount(m, n, i, &column), here = 0;
            if (m->options[m->first_option[n] + i].off)
                continue;
            if (option->part == part && option->quantity > 0)
                here += amount;
            for (size_t c = 0; c < option->companion_count; c++)
                if (option->companions[c].part == part)
                    here += amount * (double)option->companions[c].quantity / (double)option->quantity;
            model_term(m, column, -here);
            constant += column ? 0 : here;
        }
    }
    return constant;
}

/* One consumer at a time: its own quantity is the most that counts for it. */
static void meet_each(struct basket_model *m, uint32_t part)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    if (goods->consumers < 2 || m->problem->market->parts[part].on_hand)
        return;
    for (size_t n = 0; n < m->problem->market->need_count; n++) {
        const struct lb_basket_need *need = &m->problem->market->needs[n];
        for (size_t i = 0; i < need->option_count; i++) {
            int column;
            double amount = model_amount(m, n, i, &column);
            if (need->options[i].part != part || m->options[m->first_option[n] + i].off ||
                m->options[m->first_option[n] + i].direct || need->options[i].quantity <= 0)
                continue;
            cover_terms(m, part, amount);
            model_term(m, column, -amount);
            model_end_row(m, column ? 0 : amount, INFINITY, 1 / amount);
        }
    }
}

/* Where one option alone takes of the shelf, it does so as far as it is chosen; else the relaxation would
 * choose as much of it as the shelf gives for nothing. */
static double shelf_share(struct basket_model *m, uint32_t part, double hand)
{
    int choice = 0;
    for (size_t n = 0; n < m->problem->market->need_count && m->problem->goods[part].consumers == 1; n++)
        for (size_t i = 0; i < m->problem->market->needs[n].option_count; i++)
            if (m->problem->market->needs[n].options[i].part == part &&
                m->problem->market->needs[n].options[i].quantity > 0)
                choice = m->options[m->first_option[n] + i].choice;
    model_term(m, choice, hand);
    return choice ? 0 : hand;
}

/* Packs counted in so many units at a time, rounded up: what that many units need at the least. */
static void round_up(struct basket_model *m, uint32_t part, int64_t most, int64_t step, int choice)
{
    double least = (double)lb_decimal_ceil_div(most, step);
    for (size_t i = model_first_lot(m, part); i < model_end_lot(m, part); i++) {
        const struct model_lot *lot = &m->lots.at[i];
        int64_t pack = m->problem->offers[lot->offer].pack;
        for (int k = 0; k < lot->count; k++) {
            int64_t units = pack * (lot->from + k);
            units = units < most ? units : most;
            model_term(m, m->pack_columns.at[lot->packs + k], (double)lb_decimal_ceil_div(units, step));
        }
        if (lot->count)
            continue;
        model_term(m, lot->packs, (double)lb_decimal_ceil_div(pack < most ? pack : most, step));
        model_term(m, lot->all, least);
    }
    model_term(m, choice, -least);
    model_end_row(m, choice ? 0 : least, INFINITY, 1 / least);
}

static void round_all(struct basket_model *m, uint32_t part, int choice)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    int64_t unit = goods->most, done[8];
    int n = 0;
    for (size_t o = goods->first; o < goods->first + goods->count; o++)
        unit = (int64_t)basket_common_divisor(unit, m->problem->offers[o].pack);
    if (goods->most > unit) {
        done[n++] = goods->most - unit;
        round_up(m, part, goods->most, goods->most - unit, choice);
    }
    for (size_t o = goods->first; o < goods->first + goods->count; o++) {
        int64_t pack = m->problem->offers[o].pack;
        bool known = false;
        for (int i = 0; i < n; i++)
            known |= done[i] == pack;
        if (known || n == 8 || pack >= goods->most || goods->most % pack == 0)
            continue;
        done[n++] = pack;
        round_up(m, part, goods->most, pack, choice);
    }
}

/* Nothing that is left asks for the part. */
static bool is_off(const struct basket_model *m, uint32_t part)
{
    for (size_t n = 0; n < m->problem->market->need_count; n++) {
        const struct lb_basket_need *need = &m->problem->market->needs[n];
        for (size_t i = 0; i < need->option_count; i++) {
            if (m->options[m->first_option[n] + i].off)
                continue;
            if (need->options[i].part == part)
                return false;
            for (size_t c = 0; c < need->options[i].companion_count; c++)
                if (need->options[i].companions[c].part == part)
                    return false;
        }
    }
    return true;
}

static void meet_part(struct basket_model *m, uint32_t part)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    double most = (double)goods->most, hand = (double)m->problem->market->parts[part].on_hand;
    if (!goods->consumers || is_off(m, part))
        return;
    double constant = model_wanted_terms(m, part);
    hand = shelf_share(m, part, hand);
    int choice = m->row.columns.count == 1 && m->kinds.at[m->row.columns.at[0] - 1] != MODEL_REAL
                     ? m->row.columns.at[0]
                     : 0;
    bool single = goods->consumers == 1 && !goods->boxed && goods->most && (choice || !m->row.columns.count);
    if (goods->most)
        cover_terms(m, part, most);
    if (!goods->most) /* the shelf has enough */
        m->row.columns.count = m->row.values.count = 0;
    else
        model_end_row(m, constant - hand, INFINITY, most > 0 ? 1 / most : 1);
    if (single)
        round_all(m, part, choice);
    meet_each(m, part);
}

void model_add_parts(struct basket_model *m)
{
    for (uint32_t part = 0; part < m->problem->market->part_count; part++) {
        meet_part(m, part);
        model_bound_surplus(m, part);
    }
}
