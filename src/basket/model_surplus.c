/* Surplus: of each part no more packs than are wanted and two, and none of what is wanted for nothing. */
#include "base/decimal.h"
#include "basket/conversion.h"
#include "basket/model.h"

#include <math.h>

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

/* What an option asks of the part for its whole need. */
static int64_t asked_by(const struct lb_basket_option *option, uint32_t part)
{
    int64_t asked = option->part == part ? option->quantity : 0;
    for (size_t c = 0; c < option->companion_count; c++)
        asked += option->companions[c].part == part ? option->companions[c].quantity : 0;
    return asked;
}

/* What boxes hold for a need, as far as it concerns steps. */
static int64_t box_step(const struct basket_model *m, size_t need, int64_t step)
{
    const struct lb_market *market = m->problem->market;
    step = (int64_t)basket_common_divisor(step, market->needs[need].quantity);
    for (size_t c = 0; c < market->content_count; c++)
        for (size_t i = 0; i < market->contents[c].cover_count; i++)
            if (market->contents[c].covers[i].need == need)
                step = (int64_t)basket_common_divisor(step, market->contents[c].quantity);
    return step;
}

/* As much of a need is left to boxes as what comes along with the part, in whole packs, does not meet. */
static int64_t sibling_step(const struct basket_model *m, const struct lb_basket_option *option,
                            uint32_t part, int64_t step)
{
    int64_t own = asked_by(option, part);
    for (size_t i = 0; i <= option->companion_count; i++) {
        const struct basket_goods *goods =
            &m->problem->goods[i ? option->companions[i - 1].part : option->part];
        int64_t quantity = i ? option->companions[i - 1].quantity : option->quantity;
        for (size_t o = goods->first; quantity > 0 && o < goods->first + goods->count; o++) {
            basket_wide share = (basket_wide)own * m->problem->offers[o].pack;
            if (share % quantity == 0)
                step = (int64_t)basket_common_divisor(step, share / quantity);
        }
    }
    return step;
}

/* Quantities of a part that are bought are multiples of this. */
static int64_t step_of(const struct basket_model *m, uint32_t part)
{
    const struct lb_market *market = m->problem->market;
    const struct basket_goods *goods = &m->problem->goods[part];
    int64_t step = market->parts[part].on_hand;
    for (size_t o = goods->first; o < goods->first + goods->count; o++)
        step = (int64_t)basket_common_divisor(step, m->problem->offers[o].pack);
    for (size_t n = 0; n < market->need_count; n++) {
        for (size_t i = 0; i < market->needs[n].option_count; i++) {
            const struct lb_basket_option *option = &market->needs[n].options[i];
            if (!takes(option, part))
                continue;
            step = (int64_t)basket_common_divisor(step, asked_by(option, part));
            if (m->problem->boxable[n])
                step = sibling_step(m, option, part, box_step(m, n, step));
        }
    }
    return step;
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

/* What is wanted of a part, beyond the shelf, depends on choices. */
struct demand {
    uint32_t part;
    double hand, step;
    int some; /* column: 1 when it is more than nothing; 0: it is whenever it is chosen */
};

/* Of boxes as much as is asked, of other parts what boxes leave of it; negative, as for those. */
static double demand_terms(struct basket_model *m, const struct demand *demand)
{
    return m->problem->goods[demand->part].boxed ? asked_terms(m, demand->part)
                                                 : model_wanted_terms(m, demand->part);
}

/* Nothing is bought of what the shelf or boxes have enough of. */
static void buy_only_what_is_wanted(struct basket_model *m, struct demand *demand)
{
    double lots = (double)(model_end_lot(m, demand->part) - model_first_lot(m, demand->part));
    enum model_rank before = m->rank;
    m->rank = MODEL_SURPLUS;
    demand->some = model_column(m, MODEL_BINARY, 1, 0);
    m->rank = before;
    usage_terms(m, demand->part);
    model_term(m, demand->some, -2 * lots);
    model_end_row(m, -INFINITY, 0, 1);
    double constant = demand_terms(m, demand), least = demand->hand + demand->step / 2;
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
    double constant = demand_terms(m, demand);
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

/* Are there as many boxes on the shelf as their contents are wanted for? Then only who asks for the box
 * itself makes more worth having, as with parts that hold nothing. */
static bool holds_enough(const struct basket_model *m, uint32_t part)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    return !goods->boxed || goods->held <= m->problem->market->parts[part].on_hand;
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
    return varies && pads && holds_enough(m, part);
}

static void bound_surplus(struct basket_model *m, uint32_t part)
{
    const struct basket_goods *goods = &m->problem->goods[part];
    struct demand demand = {.part = part,
                            .hand = (double)m->problem->market->parts[part].on_hand,
                            .step = (double)step_of(m, part)};
    bool varies = depends(m, part);
    if (varies && is_helped(m, part))
        buy_only_what_is_wanted(m, &demand);
    for (size_t o = goods->first; o < goods->first + goods->count; o++) {
        if (!may_pad(m, o))
            continue;
        if (!holds_enough(m, part))
            bound_boxes(m, o, &demand);
        else if (varies)
            bound_offer(m, o, &demand);
    }
}

void model_bound_surplus(struct basket_model *m, uint32_t part)
{
    buy_only_what_is_chosen(m, part);
    bound_surplus(m, part);
}
