/* The next best for a need: another option, or another offer of the part it has, everything else left as it
 * is. What the others need of a part stays; what then is too much of it goes, the dearest first. */
#include "basket/reasons_parts.h"

#include "base/decimal.h"

struct next {
    struct basket_change *change;
    const struct lb_basket_need *need;
    uint32_t n, option, present;
    struct lb_next_best *best;
    int64_t best_price;
    uint32_t best_supplier;
    size_t offers_left_out; /* of the part, by what the need no longer takes */
    uint32_t left_out;      /* the last of them */
};

static const struct lb_basket_option *option_of(const struct next *next)
{
    return &next->need->options[next->option];
}

/* Thins what the need took of a part. */
static void leave(struct next *next, uint32_t part)
{
    struct basket_change *change = next->change;
    change_thin_part(change, part);
    for (size_t i = 0; i < change->basket->parcel_count; i++) {
        const struct lb_parcel *parcel = &change->basket->parcels[i];
        for (size_t l = 0; l < parcel->line_count; l++) {
            const struct lb_parcel_line *line = &parcel->lines[l];
            if (line->part != part || *change_packs(change, part, line->offer) == line->packs)
                continue;
            next->offers_left_out++;
            next->left_out = line->offer;
        }
    }
}

/* The basket without what is bought for the need alone. False: others take something out of what it is
 * answered by now, so that it cannot go. */
static bool leave_present(struct next *next)
{
    const struct lb_basket_option *present = &next->need->options[next->present];
    struct basket_change *change = next->change;
    change_reset(change);
    change->solution.options[next->n] = next->option;
    change->ledger.without = next->n;
    next->offers_left_out = 0;
    if (!change_suffices(change))
        return false;
    if (next->option != next->present)
        for (size_t i = 0; i < present->companion_count; i++)
            change_thin_part(change, present->companions[i].part);
    leave(next, present->part);
    change->ledger.without = UINT32_MAX;
    return true;
}

/* So many packs more of an offer that `missing` of its part is there, within what may be bought of it; 0: it
 * cannot be. */
static int64_t packs_for(struct basket_change *change, const struct basket_offer *offer, int64_t missing)
{
    int64_t had = *change_packs(change, offer->part, offer->offer);
    int64_t packs = lb_decimal_ceil_div(missing, offer->pack);
    if (had + packs < offer->low)
        packs = offer->low - had;
    return had + packs <= offer->high ? packs : 0;
}

/* What is missing of a companion comes from the offer that makes the basket cheapest. */
static lb_status add_companion(struct basket_change *change, uint32_t part, struct lb_error *err)
{
    const struct basket_goods *goods = &change->problem->goods[part];
    int64_t missing = -change->ledger.units[part], best_price = 0, best_packs = 0;
    const struct basket_offer *best = NULL;
    for (size_t i = goods->first; missing > 0 && i < goods->first + goods->count; i++) {
        const struct basket_offer *offer = &change->problem->offers[i];
        int64_t packs = packs_for(change, offer, missing);
        *change_packs(change, part, offer->offer) += packs;
        lb_status status = packs ? change_price(change, err) : LB_OK;
        *change_packs(change, part, offer->offer) -= packs;
        if (status)
            return status;
        if (!packs || (best && change->price >= best_price))
            continue;
        best = offer;
        best_price = change->price;
        best_packs = packs;
    }
    if (best)
        *change_packs(change, part, best->offer) += best_packs;
    return LB_OK;
}

static lb_status add_companions(struct next *next, struct lb_error *err)
{
    const struct lb_basket_option *option = option_of(next);
    lb_status status = LB_OK;
    change_suffices(next->change); /* for what is missing */
    for (size_t i = 0; !status && i < option->companion_count; i++)
        if (option->companions[i].part != option->part)
            status = add_companion(next->change, option->companions[i].part, err);
    return status;
}

static lb_status consider(struct next *next, uint32_t offer, uint32_t supplier, int64_t packs,
                          struct lb_error *err)
{
    struct basket_change *change = next->change;
    struct lb_next_best *best = next->best;
    lb_status status = change_price(change, err);
    if (status || !change->holds)
        return status;
    if (best->found && change->price >= next->best_price) {
        if (change->price > next->best_price || supplier == UINT32_MAX ||
            (next->best_supplier != UINT32_MAX &&
             basket_compare_suppliers(change->market, supplier, next->best_supplier) >= 0))
            return LB_OK;
    }
    best->found = true;
    best->option = next->option;
    best->offer = offer;
    best->packs = packs;
    best->dearer = change->total - change->basket->total.total;
    next->best_price = change->price;
    next->best_supplier = supplier;
    return LB_OK;
}

/* Packs of one offer until the need is met; how many. 0: it cannot be met so. */
static int64_t add_offer(struct next *next, const struct basket_offer *offer, int64_t missing)
{
    struct basket_change *change = next->change;
    int64_t packs = packs_for(change, offer, missing > 0 ? missing : 1);
    int64_t *bought = change_packs(change, offer->part, offer->offer);
    if (!packs)
        return 0;
    *bought += packs;
    /* How many boxes hold enough shows only when they are opened. */
    bool boxes = option_of(next)->quantity <= 0, met = change_suffices(change);
    while (!met && boxes && *bought < offer->high) {
        ++*bought;
        ++packs;
        met = change_suffices(change);
    }
    if (!met)
        *bought -= packs;
    return met ? packs : 0;
}

static lb_status try_offer(struct next *next, const struct basket_offer *offer, int64_t missing,
                           struct lb_error *err)
{
    bool same = next->option == next->present && next->offers_left_out <= 1 &&
                (!next->offers_left_out || next->left_out == offer->offer);
    int64_t packs = same ? 0 : add_offer(next, offer, missing);
    if (!packs)
        return LB_OK;
    lb_status status = consider(next, offer->offer, offer->supplier, packs, err);
    *change_packs(next->change, offer->part, offer->offer) -= packs;
    return status;
}

static lb_status try_option(struct next *next, struct lb_error *err)
{
    struct basket_change *change = next->change;
    const struct basket_goods *goods = &change->problem->goods[option_of(next)->part];
    if (!leave_present(next))
        return LB_OK;
    lb_status status = add_companions(next, err);
    if (status)
        return status;
    if (change_suffices(change)) /* of what is there anyway */
        return next->option == next->present ? LB_OK : consider(next, UINT32_MAX, UINT32_MAX, 0, err);
    int64_t missing = -change->ledger.units[option_of(next)->part];
    for (size_t i = goods->first; !status && i < goods->first + goods->count; i++)
        status = try_offer(next, &change->problem->offers[i], missing, err);
    return status;
}

static bool is_bought(const struct lb_basket *basket, uint32_t part)
{
    for (size_t i = 0; i < basket->parcel_count; i++)
        for (size_t l = 0; l < basket->parcels[i].line_count; l++)
            if (basket->parcels[i].lines[l].part == part)
                return true;
    return false;
}

static lb_status next_best(struct basket_change *change, uint32_t n, struct lb_next_best *best,
                           struct lb_error *err)
{
    const struct lb_basket_need *need = &change->market->needs[n];
    struct next next = {
        .change = change, .need = need, .n = n, .present = change->basket->answers[n].option, .best = best};
    lb_status status = LB_OK;
    *best = (struct lb_next_best){.need = n};
    for (next.option = 0; !status && next.option < need->option_count; next.option++)
        status = try_option(&next, err);
    return status;
}

lb_status reasons_next(struct reasons_build *build, struct basket_change *change, struct lb_error *err)
{
    const struct lb_market *market = change->market;
    struct lb_next_best *all = lb_arena_alloc(&build->arena, (market->need_count + 1) * sizeof *all);
    lb_status status = all ? LB_OK : lb_fail_nomem(err);
    build->reasons.next = all;
    for (uint32_t n = 0; !status && n < market->need_count; n++) {
        uint32_t option = change->basket->answers[n].option;
        if (option < market->needs[n].option_count &&
            is_bought(change->basket, market->needs[n].options[option].part))
            status = next_best(change, n, &all[build->reasons.next_count++], err);
    }
    return status;
}
