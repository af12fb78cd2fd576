#include "basket/draft.h"

#include "base/decimal.h"

#include <string.h>

enum { ROUNDS = 6, MOST_FAULTS = 1 << 20 };

#define FAULT (INT64_C(1) << 42) /* minor units: more than any price that is compared */

/* A draft with fewer faults is better than a cheaper one: that is how a possible one is come by. */
static int64_t look(struct draft *d)
{
    draft_price(d, false);
    return d->faults < MOST_FAULTS && d->price < FAULT ? d->price + d->faults * FAULT : INT64_MAX;
}

/* What an option costs by itself where it is cheapest: how the first ones are chosen. */
static double option_cost(struct draft *d, const struct lb_basket_need *need,
                          const struct lb_basket_option *option)
{
    const struct basket_problem *p = d->problem;
    double total = (double)option->premium;
    for (size_t i = 0; i <= option->companion_count; i++) {
        uint32_t part = i ? option->companions[i - 1].part : option->part;
        int64_t quantity = i ? option->companions[i - 1].quantity : option->quantity;
        if (quantity <= 0)
            quantity = need->quantity > LB_MILLION ? need->quantity : LB_MILLION;
        quantity -= quantity < p->market->parts[part].on_hand ? quantity : p->market->parts[part].on_hand;
        const struct draft_list *list = quantity ? draft_list(d, part, quantity) : NULL;
        double best = !quantity ? 0 : list->count ? list->plans[0].cost : 1e18;
        total += best;
    }
    return total;
}

static void choose_options(struct draft *d)
{
    for (size_t n = 0; n < d->problem->market->need_count; n++) {
        const struct lb_basket_need *need = &d->problem->market->needs[n];
        double best_cost = 0;
        for (uint32_t i = 0; i < need->option_count; i++) {
            double cost = option_cost(d, need, &need->options[i]);
            if (i && cost >= best_cost)
                continue;
            d->options[n] = i;
            best_cost = cost;
        }
    }
}

/* One supplier opened or closed, or one opened for another that is closed. */
static bool flip_suppliers(struct draft *d, int64_t *best)
{
    size_t count = d->problem->market->supplier_count;
    bool better = false;
    for (size_t s = 0; s < count; s++) {
        if (!d->problem->sellers[s].most)
            continue;
        d->allowed[s] = !d->allowed[s];
        int64_t price = look(d);
        if (price < *best) {
            *best = price;
            better = true;
            continue;
        }
        for (size_t t = 0; d->allowed[s] && t < count; t++) {
            if (t == s || !d->allowed[t] || !d->problem->sellers[t].most)
                continue;
            d->allowed[t] = false;
            price = look(d);
            if (price < *best)
                break;
            d->allowed[t] = true;
        }
        if (price < *best) {
            *best = price;
            better = true;
        } else {
            d->allowed[s] = !d->allowed[s];
        }
    }
    return better;
}

/* One need at a time answered by another option. */
static bool change_options(struct draft *d, int64_t *best)
{
    bool better = false;
    for (size_t n = 0; n < d->problem->market->need_count; n++) {
        for (uint32_t i = 0; i < d->problem->market->needs[n].option_count; i++) {
            uint32_t before = d->options[n];
            if (i == before)
                continue;
            d->options[n] = i;
            int64_t price = look(d);
            if (price < *best) {
                *best = price;
                better = true;
            } else {
                d->options[n] = before;
            }
        }
    }
    return better;
}

/* One part at a time bought in another way, or in the cheapest again. */
static bool move_parts(struct draft *d, int64_t *best)
{
    bool better = false;
    for (uint32_t part = 0; part < d->problem->market->part_count; part++) {
        const struct draft_list *list = &d->lists[part];
        if (!d->wanted[part])
            continue;
        for (size_t i = 0; i <= list->count; i++) {
            uint32_t before = d->pins[part], pin = i < list->count ? (uint32_t)i : UINT32_MAX;
            if (pin == before || (i < list->count && !draft_plan_allowed(d, &list->plans[i])))
                continue;
            d->pins[part] = pin;
            int64_t price = look(d);
            if (price < *best) {
                *best = price;
                better = true;
            } else {
                d->pins[part] = before;
            }
        }
    }
    return better;
}

bool basket_draft_improve(struct draft *d)
{
    int64_t best = look(d);
    for (int round = 0; round < ROUNDS; round++) {
        bool better = flip_suppliers(d, &best);
        better |= change_options(d, &best);
        look(d);
        better |= move_parts(d, &best);
        if (!better)
            break;
    }
    draft_price(d, true);
    return d->possible;
}

/* What is set, without what comes of it. */
static void copy_settings(struct draft *d, struct draft_settings *to, bool back)
{
    const struct lb_market *market = d->problem->market;
    if (back) {
        memcpy(d->allowed, to->allowed, market->supplier_count * sizeof *d->allowed);
        memcpy(d->options, to->options, market->need_count * sizeof *d->options);
        memcpy(d->pins, to->pins, market->part_count * sizeof *d->pins);
        return;
    }
    memcpy(to->allowed, d->allowed, market->supplier_count * sizeof *d->allowed);
    memcpy(to->options, d->options, market->need_count * sizeof *d->options);
    memcpy(to->pins, d->pins, market->part_count * sizeof *d->pins);
}

static uint32_t roll(uint32_t *state, uint32_t below)
{
    *state = *state * 1664525u + 1013904223u;
    return (*state >> 8) % below;
}

/* Some suppliers shut, some opened, some options changed, nothing pinned: another place to begin from. */
static void shake(struct draft *d, uint32_t *state)
{
    const struct lb_market *market = d->problem->market;
    for (size_t s = 0; s < market->supplier_count; s++)
        if (d->problem->sellers[s].most && roll(state, 3) == 0)
            d->allowed[s] = !d->allowed[s];
    for (size_t n = 0; n < market->need_count; n++)
        if (market->needs[n].option_count > 1 && roll(state, 8) == 0)
            d->options[n] = roll(state, (uint32_t)market->needs[n].option_count);
    for (size_t i = 0; i < market->part_count; i++)
        d->pins[i] = UINT32_MAX;
}

void basket_draft_shake(struct draft *d, int times)
{
    int64_t best = d->possible ? d->price : INT64_MAX;
    uint32_t state = 1;
    copy_settings(d, &d->kept, false);
    for (int i = 0; i < times; i++) {
        shake(d, &state);
        basket_draft_improve(d);
        if (d->possible && d->price < best) {
            best = d->price;
            copy_settings(d, &d->kept, false);
        } else {
            copy_settings(d, &d->kept, true);
        }
    }
    draft_price(d, true);
}

static lb_status make_room(struct draft *d, struct lb_arena *arena, struct lb_error *err)
{
    const struct lb_market *market = d->problem->market;
    size_t covers = 0;
    for (size_t i = 0; i < market->content_count; i++)
        covers += market->contents[i].cover_count;
    d->allowed = lb_arena_alloc(arena, (market->supplier_count + 1) * sizeof *d->allowed);
    d->options = lb_arena_alloc(arena, (market->need_count + 1) * sizeof *d->options);
    d->pins = lb_arena_alloc(arena, (market->part_count + 1) * sizeof *d->pins);
    d->wanted = lb_arena_alloc(arena, (market->part_count + 1) * sizeof *d->wanted);
    d->goods = lb_arena_alloc(arena, (market->supplier_count + 1) * sizeof *d->goods);
    d->sends = lb_arena_alloc(arena, (market->supplier_count + 1) * sizeof *d->sends);
    d->packs = lb_arena_alloc(arena, (d->problem->offer_count + 1) * sizeof *d->packs);
    d->poured = lb_arena_alloc(arena, (covers + 1) * sizeof *d->poured);
    d->covered = lb_arena_alloc(arena, (market->need_count + 1) * sizeof *d->covered);
    d->lists = lb_arena_alloc(arena, (market->part_count + 1) * sizeof *d->lists);
    d->dear = lb_arena_alloc(arena, (market->supplier_count + 1) * sizeof *d->dear);
    d->kept.allowed = lb_arena_alloc(arena, (market->supplier_count + 1) * sizeof *d->allowed);
    d->kept.options = lb_arena_alloc(arena, (market->need_count + 1) * sizeof *d->options);
    d->kept.pins = lb_arena_alloc(arena, (market->part_count + 1) * sizeof *d->pins);
    return d->kept.allowed && d->kept.options && d->kept.pins && d->allowed && d->options && d->pins &&
                   d->wanted && d->goods && d->sends && d->packs && d->poured && d->covered && d->lists &&
                   d->dear
               ? LB_OK
               : lb_fail_nomem(err);
}

lb_status basket_draft(struct draft *draft, const struct basket_problem *problem, struct lb_arena *arena,
                       struct lb_error *err)
{
    *draft = (struct draft){.problem = problem};
    lb_status status = make_room(draft, arena, err);
    if (status)
        return status;
    for (size_t s = 0; s < problem->market->supplier_count; s++) {
        const struct basket_conversion *conversion = &problem->sellers[s].conversion;
        int64_t tax = problem->market->suppliers[s].tax;
        draft->dear[s] = (1 + (tax > 0 ? (double)tax / 1e8 : 0)) *
                         (conversion->by ? (double)conversion->times / (double)conversion->by : 1);
        draft->allowed[s] = problem->sellers[s].most > 0;
    }
    for (size_t i = 0; i < problem->market->part_count; i++)
        draft->pins[i] = UINT32_MAX;
    choose_options(draft);
    return LB_OK;
}
