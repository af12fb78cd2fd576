/* Parts: that what is bought of each suffices, and is no more than the market allows. */
#include "base/decimal.h"
#include "basket/model.h"

#include <math.h>

/* Units of a part, all of a lot no more than what they may be needed for. */
static void cover_terms(struct basket_model *m, uint32_t part, double most)
{
    for (size_t i = model_first_lot(m, part); i < model_end_lot(m, part); i++)
        model_count_packs(m, &m->lots.at[i], (double)m->problem->offers[m->lots.at[i].offer].pack, most,
                          false);
}

/* What a part is wanted for, as terms of the row being made; what is wanted anyhow comes back. */
static double wanted_terms(struct basket_model *m, uint32_t part)
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

/* Is an option answered with the part, or does it bring it along? */
static bool takes(const struct lb_basket_option *option, uint32_t part)
{
    bool found = option->part == part;
    for (size_t c = 0; c < option->companion_count; c++)
        found |= option->companions[c].part == part;
    return found;
}

static bool uses(const struct basket_model *m, size_t need, size_t option, uint32_t part)
{
    return takes(&m->problem->market->needs[need].options[option], part) &&
           !m->options[m->first_option[need] + option].off;
}

/* Does some content of the part ask for no opener? Then boxes are bought for what is in them alone. */
static bool is_bought_for_contents(const struct basket_model *m, uint32_t part)
{
    const struct lb_market *market = m->problem->market;
    for (size_t c = 0; c < market->content_count; c++)
        for (size_t i = 0; market->contents[c].part == part && i < market->contents[c].cover_count; i++)
            if (!market->contents[c].covers[i].opener_count)
                return true;
    return false;
}

/* All that is bought of a part, each lot as far as it is used, as terms of the row being made. */
static void usage_terms(struct basket_model *m, uint32_t part)
{
    for (size_t i = model_first_lot(m, part); i < model_end_lot(m, part); i++) {
        const struct model_lot *lot = &m->lots.at[i];
        for (int k = 0; k < lot->count; k++)
            model_term(m, m->pack_columns.at[lot->packs + k], 1);
        model_term(m, lot->used, 1);
        model_term(m, lot->surplus, 1. / LB_SURPLUS_PACKS);
    }
}

/* Packs of a part that answers nothing would only pad: no more of it than its users allow, which is none
 * where none is chosen. */
static void buy_only_what_is_chosen(struct basket_model *m, uint32_t part)
{
    bool always = m->problem->goods[part].boxed && is_bought_for_contents(m, part);
    double lots = (double)(model_end_lot(m, part) - model_first_lot(m, part));
    usage_terms(m, part);
    for (size_t n = 0; n < m->problem->market->need_count; n++) {
        for (size_t i = 0; i < m->problem->market->needs[n].option_count; i++) {
            int choice = m->options[m->first_option[n] + i].choice;
            if (!uses(m, n, i, part))
                continue;
            always |= !choice;
            model_term(m, choice, -2 * lots);
        }
    }
    if (lots > 0 && !always)
        model_end_row(m, -INFINITY, 0, 1);
    m->row.columns.count = m->row.values.count = 0;
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

static int64_t common(int64_t a, int64_t b)
{
    return (int64_t)basket_common_divisor(a, b);
}

static void round_all(struct basket_model *m, uint32_t part, int choice)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    int64_t unit = goods->most, done[8];
    int n = 0;
    for (size_t o = goods->first; o < goods->first + goods->count; o++)
        unit = common(unit, m->problem->offers[o].pack);
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
    double constant = wanted_terms(m, part);
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

/* What boxes hold for a need, as far as it concerns steps. */
static int64_t box_step(const struct basket_model *m, size_t need, int64_t step)
{
    const struct lb_market *market = m->problem->market;
    step = common(step, market->needs[need].quantity);
    for (size_t c = 0; c < market->content_count; c++)
        for (size_t i = 0; i < market->contents[c].cover_count; i++)
            if (market->contents[c].covers[i].need == need)
                step = common(step, market->contents[c].quantity);
    return step;
}

/* Quantities of a part that are bought are multiples of this. */
static int64_t step_of(const struct basket_model *m, uint32_t part)
{
    const struct lb_market *market = m->problem->market;
    const struct basket_goods *goods = &m->problem->goods[part];
    int64_t step = market->parts[part].on_hand;
    for (size_t o = goods->first; o < goods->first + goods->count; o++)
        step = common(step, m->problem->offers[o].pack);
    for (size_t n = 0; n < market->need_count; n++) {
        for (size_t i = 0; i < market->needs[n].option_count; i++) {
            const struct lb_basket_option *option = &market->needs[n].options[i];
            if (option->part == part)
                step = common(step, option->quantity);
            for (size_t c = 0; c < option->companion_count; c++)
                if (option->companions[c].part == part)
                    step = common(step, option->companions[c].quantity);
            if (m->problem->boxable[n] && takes(option, part))
                step = box_step(m, n, step);
        }
    }
    return step;
}

/* What is wanted of a part, beyond the shelf, depends on choices. */
struct demand {
    double hand, step;
    int some; /* column: 1 when it is more than nothing; 0: it is whenever it is chosen */
};

/* Nothing is bought of what the shelf or boxes have enough of. */
static void buy_only_what_is_wanted(struct basket_model *m, uint32_t part, struct demand *demand)
{
    double lots = (double)(model_end_lot(m, part) - model_first_lot(m, part));
    enum model_rank before = m->rank;
    m->rank = MODEL_SURPLUS;
    demand->some = model_column(m, MODEL_BINARY, 1, 0);
    m->rank = before;
    usage_terms(m, part);
    model_term(m, demand->some, -2 * lots);
    model_end_row(m, -INFINITY, 0, 1);
    double constant = wanted_terms(m, part), least = demand->hand + demand->step / 2; /* wanted: negative */
    model_term(m, demand->some, least);
    model_end_row(m, -INFINITY, constant, 1 / least);
}

static void offer_packs(struct basket_model *m, size_t o)
{
    for (size_t i = m->first_lot[o]; i < m->first_lot[o + 1]; i++)
        model_count_packs(m, &m->lots.at[i], (double)m->problem->offers[o].pack, INFINITY, true);
}

/* No offer gives more packs than cover what is wanted, and two; or than its minimum, and two. */
static void bound_offer(struct basket_model *m, size_t o, const struct demand *demand)
{
    const struct basket_offer *offer = &m->problem->offers[o];
    double pack = (double)offer->pack, most = (double)offer->high * pack;
    int wants = 0;
    if (offer->low > 1) { /* 1: by what is wanted; 0: by the minimum */
        wants = model_column(m, MODEL_BINARY, 1, 0);
        offer_packs(m, o);
        model_term(m, wants, -most);
        model_end_row(m, -INFINITY, pack * (double)(offer->low + LB_SURPLUS_PACKS), 1 / most);
    }
    offer_packs(m, o);
    model_term(m, demand->some, demand->hand);
    model_term(m, wants, most);
    double constant = wanted_terms(m, offer->part);
    model_end_row(m, -INFINITY,
                  constant + (LB_SURPLUS_PACKS + 1) * pack - demand->step + (offer->low > 1 ? most : 0),
                  1 / most);
}

/* Of boxes: what their contents are wanted for, or who asks for the box itself, and two. */
static double most_boxes(const struct basket_model *m, const struct basket_offer *offer, int64_t quantity)
{
    int64_t lacks = quantity - m->problem->market->parts[offer->part].on_hand;
    int64_t packs = lacks > 0 ? lb_decimal_ceil_div(lacks, offer->pack) : 0;
    return lacks > 0 ? (double)((packs > offer->low ? packs : offer->low) + LB_SURPLUS_PACKS) : 0;
}

static int64_t asked_by(const struct lb_basket_option *option, uint32_t part)
{
    int64_t asked = option->part == part ? option->quantity : 0;
    for (size_t c = 0; c < option->companion_count; c++)
        asked += option->companions[c].part == part ? option->companions[c].quantity : 0;
    return asked;
}

/* What all who may ask for the part itself want at the most. */
static int64_t most_asked(const struct basket_model *m, uint32_t part)
{
    const struct lb_market *market = m->problem->market;
    int64_t sum = 0;
    for (size_t n = 0; n < market->need_count; n++) {
        int64_t most = 0;
        for (size_t i = 0; i < market->needs[n].option_count; i++) {
            int64_t asked = asked_by(&market->needs[n].options[i], part);
            most = asked > most ? asked : most;
        }
        sum += most;
    }
    return sum;
}

/* What those want who do ask, whatever boxes cover, as negative terms of the row being made; what is asked
 * anyhow comes back. */
static double asked_terms(struct basket_model *m, uint32_t part)
{
    const struct lb_market *market = m->problem->market;
    double constant = 0;
    for (size_t n = 0; n < market->need_count; n++) {
        for (size_t i = 0; i < market->needs[n].option_count; i++) {
            const struct model_option *option = &m->options[m->first_option[n] + i];
            double asked = option->off ? 0 : (double)asked_by(&market->needs[n].options[i], part);
            model_term(m, option->choice, -asked);
            constant += option->choice ? 0 : asked;
        }
    }
    return constant;
}

static void bound_boxes(struct basket_model *m, size_t o, const struct demand *demand)
{
    const struct basket_offer *offer = &m->problem->offers[o];
    double pack = (double)offer->pack, most = (double)offer->high * pack,
           anyhow = pack * most_boxes(m, offer, m->problem->goods[offer->part].held);
    if (most <= anyhow)
        return;
    bool varies = pack * most_boxes(m, offer, most_asked(m, offer->part)) > anyhow;
    int asked = varies ? model_column(m, MODEL_BINARY, 1, 0) : 0; /* 1: by who asks; 0: by its contents */
    offer_packs(m, o);
    model_term(m, asked, -most);
    model_end_row(m, -INFINITY, anyhow, 1 / most);
    if (!varies)
        return;
    offer_packs(m, o);
    model_term(m, asked, most);
    double constant = asked_terms(m, offer->part);
    model_end_row(m, -INFINITY, constant + (LB_SURPLUS_PACKS + 1) * pack - demand->step - demand->hand + most,
                  1 / most);
}

/* Only a supplier whose charge falls with the goods, or who has a minimum, makes more worth having. */
static bool may_pad(const struct basket_model *m, size_t o)
{
    return m->problem->sellers[m->problem->offers[o].supplier].thresholds;
}

/* Do boxes or the shelf cover a part of it? */
static bool is_helped(const struct basket_model *m, uint32_t part)
{
    const struct lb_market *market = m->problem->market;
    bool helped = market->parts[part].on_hand > 0;
    for (size_t n = 0; n < market->need_count; n++)
        for (size_t i = 0; m->problem->boxable[n] && i < market->needs[n].option_count; i++)
            helped |= takes(&market->needs[n].options[i], part);
    return helped;
}

/* Is what is wanted of it not just all or nothing? (Of the problem alone: ordinals stay what they are,
 * whatever is off.) */
static bool depends(const struct basket_model *m, uint32_t part)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    bool varies = goods->consumers > 1 || is_helped(m, part), pads = false;
    for (size_t o = goods->first; o < goods->first + goods->count; o++)
        pads |= may_pad(m, o);
    return varies && pads && !goods->boxed;
}

static void bound_surplus(struct basket_model *m, uint32_t part)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    struct demand demand = {.hand = (double)m->problem->market->parts[part].on_hand,
                            .step = (double)step_of(m, part)};
    bool varies = depends(m, part);
    if (varies && is_helped(m, part))
        buy_only_what_is_wanted(m, part, &demand);
    for (size_t o = goods->first; o < goods->first + goods->count; o++) {
        if (!may_pad(m, o))
            continue;
        if (goods->boxed)
            bound_boxes(m, o, &demand);
        else if (varies)
            bound_offer(m, o, &demand);
    }
}

void model_add_parts(struct basket_model *m)
{
    for (uint32_t part = 0; part < m->problem->market->part_count; part++) {
        meet_part(m, part);
        buy_only_what_is_chosen(m, part);
        bound_surplus(m, part);
    }
}
