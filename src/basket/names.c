/* The last tie: of two sorted lists of suppliers the one that compares first.
 *
 * A list comes before the best one if up to some place it has the same names and there one that is named
 * before the best's. That a supplier must be in the basket is asked by a need for a part that only it (or one
 * of several) sells, for nothing. There cannot be a parcel with nothing else in it: without that parcel the
 * basket would cost no more and have fewer parcels, and it is known that there is none like that. */
#include "basket/ties.h"

#include "base/decimal.h"

#include <stdlib.h>

struct names {
    struct basket_tie *tie;
    const struct lb_market *market;
    bool *sells;           /* by supplier: something that may be wanted, in time */
    bool *among;           /* by supplier: one of these must be in it */
    struct lb_market with; /* the market and what must be in the basket */
    struct lb_arena arena; /* of `with` */
};

static uint32_t supplier_at(const struct names *names, size_t i)
{
    return (*names->tie->best)->parcels[i].supplier;
}

static bool is_before(const struct names *names, uint32_t a, uint32_t b)
{
    return basket_compare_suppliers(names->market, a, b) < 0;
}

static lb_status find_sellers(struct names *names, struct lb_error *err)
{
    struct basket_problem problem;
    const struct basket_question *question = &names->tie->question;
    struct lb_basket_limits limits = {.closed = question->closed, .arrive_days = question->days};
    lb_status status = basket_problem(&problem, names->market, &limits, err);
    for (size_t i = 0; !status && i < problem.offer_count; i++)
        names->sells[problem.offers[i].supplier] = true;
    basket_problem_free(&problem);
    return status;
}

/* The market with room for so many more needs. */
static lb_status copy_market(struct names *names, size_t more, struct lb_error *err)
{
    const struct lb_market *market = names->market;
    struct lb_arena *arena = &names->arena;
    struct lb_basket_part *parts = lb_arena_alloc(arena, (market->part_count + more) * sizeof *parts);
    struct lb_basket_need *needs = lb_arena_alloc(arena, (market->need_count + more) * sizeof *needs);
    if (!parts || !needs)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < market->part_count; i++)
        parts[i] = market->parts[i];
    for (size_t i = 0; i < market->need_count; i++)
        needs[i] = market->needs[i];
    names->with = *market;
    names->with.parts = parts;
    names->with.needs = needs;
    return LB_OK;
}

/* A pass, one piece for nothing, of which each of `among` has one. */
static lb_status require(struct names *names, const bool *among, struct lb_error *err)
{
    size_t count = names->market->supplier_count;
    struct lb_basket_offer *offers = lb_arena_alloc(&names->arena, (count + 1) * sizeof *offers);
    struct lb_basket_option *option = lb_arena_alloc(&names->arena, sizeof *option);
    if (!offers || !option)
        return lb_fail_nomem(err);
    struct lb_basket_part *part = (struct lb_basket_part *)&names->with.parts[names->with.part_count];
    *part = (struct lb_basket_part){.offers = offers};
    for (uint32_t s = 0; s < count; s++)
        if (among[s])
            offers[part->offer_count++] =
                (struct lb_basket_offer){.supplier = s,
                                         .currency = names->market->suppliers[s].currency,
                                         .pack = LB_MILLION,
                                         .minimum_packs = 1,
                                         .stock = 1};
    *option = (struct lb_basket_option){.part = (uint32_t)names->with.part_count++, .quantity = LB_MILLION};
    struct lb_basket_need *need = (struct lb_basket_need *)&names->with.needs[names->with.need_count++];
    *need = (struct lb_basket_need){LB_MILLION, option, 1};
    return LB_OK;
}

static lb_status require_first(struct names *names, size_t fixed, struct lb_error *err)
{
    bool *one = lb_arena_alloc(&names->arena, names->market->supplier_count + 1);
    lb_status status = one ? LB_OK : lb_fail_nomem(err);
    for (size_t i = 0; !status && i < fixed; i++) {
        one[supplier_at(names, i)] = true;
        status = require(names, one, err);
        one[supplier_at(names, i)] = false;
    }
    return status;
}

/* Whether it has what was asked for: what it has for nothing is not in it any more. */
static bool has_all(const struct names *names, size_t fixed, const struct lb_basket *other)
{
    size_t found = 0;
    bool among = false;
    for (size_t i = 0; i < other->parcel_count; i++) {
        for (size_t k = 0; k < fixed; k++)
            found += other->parcels[i].supplier == supplier_at(names, k);
        among |= names->among[other->parcels[i].supplier];
    }
    return among && found == fixed;
}

/* A basket with the first `fixed` suppliers of the best one, and one of names->among. */
static lb_status ask(struct names *names, size_t fixed, struct lb_basket **other, struct lb_error *err)
{
    lb_status status = copy_market(names, fixed + 1, err);
    if (!status)
        status = require_first(names, fixed, err);
    if (!status)
        status = require(names, names->among, err);
    names->tie->question.asked = &names->with;
    if (!status)
        status = basket_ask_tie(names->tie, other, err);
    if (!status && *other && !has_all(names, fixed, *other)) {
        names->tie->open = true;
        lb_basket_free(*other);
        *other = NULL;
    }
    lb_arena_free(&names->arena);
    names->arena = (struct lb_arena){0};
    return status;
}

static bool has(const struct names *names, uint32_t supplier)
{
    const struct lb_basket *best = *names->tie->best;
    for (size_t i = 0; i < best->parcel_count; i++)
        if (best->parcels[i].supplier == supplier)
            return true;
    return false;
}

/* Those that could make a list come first at all: named before the last. */
static bool gather_all(struct names *names)
{
    bool any = false;
    uint32_t last = supplier_at(names, (*names->tie->best)->parcel_count - 1);
    for (uint32_t s = 0; s < names->market->supplier_count; s++)
        any |= names->among[s] = names->sells[s] && !has(names, s) && is_before(names, s, last);
    return any;
}

/* Those that could at this place: between the name before it and the one there. */
static bool gather_at(struct names *names, size_t place)
{
    bool any = false;
    for (uint32_t s = 0; s < names->market->supplier_count; s++)
        any |= names->among[s] = names->sells[s] && is_before(names, s, supplier_at(names, place)) &&
                                 (!place || is_before(names, supplier_at(names, place - 1), s));
    return any;
}

static bool comes_first(const struct names *names, const struct lb_basket *other)
{
    const struct lb_basket *best = *names->tie->best;
    int order = 0;
    for (size_t i = 0; !order && i < best->parcel_count && i < other->parcel_count; i++)
        order =
            basket_compare_suppliers(names->market, other->parcels[i].supplier, best->parcels[i].supplier);
    return order < 0;
}

/* One question tells most baskets that no name can be bettered. True in *alone: this one could not. */
static lb_status try_all(struct names *names, bool *alone, struct lb_error *err)
{
    struct lb_basket *other = NULL;
    lb_status status = LB_OK;
    do {
        *alone = !gather_all(names);
        if (!*alone)
            status = ask(names, 0, &other, err);
        if (status || *alone)
            break;
        *alone = !other;
        if (!other || !comes_first(names, other))
            break;
        basket_take_tie(names->tie, other);
        other = NULL;
    } while (true);
    lb_basket_free(other);
    return status;
}

static lb_status try_places(struct names *names, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t place = 0; !status && !names->tie->open && place < (*names->tie->best)->parcel_count;) {
        struct lb_basket *other = NULL;
        if (gather_at(names, place))
            status = ask(names, place, &other, err);
        if (other)
            basket_take_tie(names->tie, other);
        else
            place++;
    }
    return status;
}

lb_status basket_first_names(struct basket_tie *tie, struct lb_error *err)
{
    size_t room = tie->question.market->supplier_count + 1;
    struct names names = {.tie = tie, .market = tie->question.market};
    bool alone = !(*tie->best)->parcel_count;
    names.sells = calloc(room, sizeof *names.sells);
    names.among = calloc(room, sizeof *names.among);
    lb_status status = names.sells && names.among ? LB_OK : lb_fail_nomem(err);
    if (!status)
        status = find_sellers(&names, err);
    if (!status && !alone)
        status = try_all(&names, &alone, err);
    if (!status && !alone)
        status = try_places(&names, err);
    free(names.sells);
    free(names.among);
    tie->question.asked = NULL;
    return status;
}
