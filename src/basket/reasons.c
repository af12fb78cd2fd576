/* Why this basket: what is quickly said first, then what the solver must be asked for. */
#include "basket/reasons.h"

#include "basket/question.h"
#include "basket/reasons_parts.h"
#include "basket/solver.h"

#include <stdlib.h>
#include <string.h>

/* The cheapest basket without one more supplier. */
static lb_status ask_without(struct lb_without *out, const struct basket_question *question,
                             const struct lb_basket *basket, struct lb_error *err)
{
    struct lb_basket *other;
    lb_status status = basket_ask(&other, question, err);
    if (status)
        return status;
    out->found = other->found;
    out->proved = other->proved;
    out->dearer = other->found ? other->total.total - basket->total.total : 0;
    lb_basket_free(other);
    return LB_OK;
}

/* Each gets an even share of the time that is left. */
static lb_status ask_all(struct lb_without *without, bool *closed, struct basket_question *question,
                         const struct lb_basket *basket, struct lb_error *err)
{
    double until = question->until;
    lb_status status = LB_OK;
    question->closed = closed;
    question->floor = basket->proved ? basket_price(basket) : INT64_MIN;
    for (size_t i = 0; !status && i < basket->parcel_count; i++) {
        uint32_t supplier = basket->parcels[i].supplier;
        double now = basket_now();
        without[i].supplier = supplier;
        question->until = now + (until - now) / (double)(basket->parcel_count - i);
        closed[supplier] = true;
        status = ask_without(&without[i], question, basket, err);
        closed[supplier] = false;
    }
    return status;
}

static lb_status reasons_without(struct reasons_build *build, const struct lb_market *market,
                                 struct basket_question *question, const struct lb_basket *basket,
                                 struct lb_error *err)
{
    bool *closed = lb_arena_alloc(&build->arena, market->supplier_count + 1);
    struct lb_without *without = lb_arena_alloc(&build->arena, (basket->parcel_count + 1) * sizeof *without);
    if (!closed || !without)
        return lb_fail_nomem(err);
    if (question->closed)
        memcpy(closed, question->closed, market->supplier_count * sizeof *closed);
    build->reasons.without = without;
    build->reasons.without_count = basket->parcel_count;
    return ask_all(without, closed, question, basket, err);
}

/* What the present basket says by itself, priced again with something changed. */
static lb_status reasons_changes(struct reasons_build *build, const struct basket_problem *problem,
                                 const struct lb_basket *basket, struct lb_error *err)
{
    struct basket_change change;
    struct lb_arena arena = {0};
    lb_status status = change_open(&change, problem, basket, &arena, err);
    if (!status)
        status = reasons_next(build, &change, err);
    if (!status)
        status = reasons_one_more(build, &change, err);
    if (!status)
        status = reasons_surplus(build, &change, err);
    lb_arena_free(&arena);
    return status;
}

lb_status lb_reasons_solve(struct lb_reasons **out, const struct lb_market *market,
                           const struct lb_basket_limits *limits, const struct lb_basket *basket,
                           struct lb_error *err)
{
    struct basket_question question = basket_question(market, limits);
    struct basket_problem problem = {0};
    struct reasons_build *build = calloc(1, sizeof *build);
    *out = NULL;
    lb_status status = build ? LB_OK : lb_fail_nomem(err);
    if (!status)
        status = basket_problem(&problem, market, limits, err);
    if (!status)
        status = reasons_changes(build, &problem, basket, err);
    if (!status)
        status = reasons_without(build, market, &question, basket, err);
    basket_problem_free(&problem);
    if (status)
        lb_reasons_free(build ? &build->reasons : NULL);
    else
        *out = &build->reasons;
    return status;
}

void lb_reasons_free(struct lb_reasons *reasons)
{
    if (!reasons)
        return;
    struct reasons_build *build = (struct reasons_build *)reasons; /* its first member */
    lb_arena_free(&build->arena);
    free(build);
}
