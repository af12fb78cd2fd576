/* The cheapest basket: solved, priced again in integers, and its ties broken. */
#include "basket/question.h"
#include "basket/solver.h"

#include <stdlib.h>
#include <string.h>

struct basket_question basket_question(const struct lb_market *market, const struct lb_basket_limits *limits)
{
    return (struct basket_question){
        .market = market,
        .closed = limits->closed,
        .parcels = limits->parcels > 0 ? limits->parcels : BASKET_ANY,
        .days = limits->arrive_days >= 0 ? limits->arrive_days : BASKET_ANY,
        .cutoff = BASKET_ANY,
        .floor = INT64_MIN,
        .until = basket_now() + limits->seconds,
    };
}

int64_t basket_price(const struct lb_basket *basket)
{
    return basket->total.total + basket->premium;
}

/* The limits of a question; `shut` has room for all suppliers: no parcels at all means that all are closed.
 */
static struct lb_basket_limits limits_of(const struct basket_question *question, bool *shut)
{
    struct lb_basket_limits limits = {.closed = question->closed, .arrive_days = -1};
    if (question->days != BASKET_ANY)
        limits.arrive_days = question->days;
    if (question->parcels <= 0) {
        memset(shut, true, question->market->supplier_count * sizeof *shut);
        limits.closed = shut;
    } else if (question->parcels <= (int64_t)question->market->supplier_count) {
        limits.parcels = (int)question->parcels;
    }
    return limits;
}

/* What was bought of parts that are no part of the market is left out. */
static void strip(struct basket_solution *solution, const struct lb_market *market)
{
    size_t kept = 0;
    for (size_t i = 0; i < solution->purchase_count; i++)
        if (solution->purchases[i].part < market->part_count)
            solution->purchases[kept++] = solution->purchases[i];
    solution->purchase_count = kept;
}

static lb_status price(struct basket_run *run, const struct basket_question *question,
                       struct basket_build *build, struct lb_error *err)
{
    const struct lb_market *market = question->market;
    struct lb_basket *basket = &build->basket;
    bool met = false;
    run->solution.cover_count = run->cover_count;
    strip(&run->solution, market);
    lb_status status =
        basket_parcels(build, market, run->solution.purchases, run->solution.purchase_count, err);
    if (!status)
        status = basket_answers(build, market, &run->solution, &met, err);
    int64_t least = run->bound > question->floor ? run->bound : question->floor;
    basket->found = !status && met && basket_price(basket) <= question->cutoff;
    basket->bound = least;
    basket->proved = basket->found && basket_price(basket) <= least &&
                     (run->ending == BASKET_OPTIMAL || basket_price(basket) <= question->floor);
    return status;
}

static lb_status search(struct basket_build *build, const struct basket_question *question,
                        const struct basket_problem *problem, struct lb_error *err)
{
    struct basket_run run = {
        .problem = problem, .cutoff = question->cutoff, .likely = question->floor < question->cutoff};
    run.seconds = question->until - basket_now();
    run.seconds = run.seconds > 0.001 ? run.seconds : 0.001;
    lb_status status = basket_run(&run, err);
    if (!status && run.found)
        status = price(&run, question, build, err);
    else if (!status) {
        build->basket.bound = run.bound;
        build->basket.proved = run.ending == BASKET_IMPOSSIBLE;
    }
    basket_run_free(&run);
    return status;
}

lb_status basket_ask(struct lb_basket **out, const struct basket_question *question, struct lb_error *err)
{
    const struct lb_market *asked = question->asked ? question->asked : question->market;
    struct basket_problem problem = {0};
    struct basket_build *build = calloc(1, sizeof *build);
    bool *shut = calloc(asked->supplier_count + 1, sizeof *shut);
    *out = NULL;
    lb_status status = build && shut ? LB_OK : lb_fail_nomem(err);
    struct lb_basket_limits limits = {0};
    if (!status) {
        limits = limits_of(question, shut);
        build->basket.total.currency = question->market->currency;
        status = basket_problem(&problem, asked, &limits, err);
    }
    if (!status)
        status = basket_find_unmet(build, &problem, err);
    if (!status && build->basket.unmet_count)
        build->basket.proved = true;
    else if (!status)
        status = search(build, question, &problem, err);
    basket_problem_free(&problem);
    free(shut);
    if (status)
        lb_basket_free(build ? &build->basket : NULL);
    else
        *out = &build->basket;
    return status;
}

lb_status lb_basket_solve(struct lb_basket **out, const struct lb_market *market,
                          const struct lb_basket_limits *limits, struct lb_error *err)
{
    struct basket_question question = basket_question(market, limits);
    lb_status status = basket_ask(out, &question, err);
    if (!status && (*out)->found && (*out)->proved)
        status = basket_break_ties(out, &question, err);
    if (status) {
        lb_basket_free(*out);
        *out = NULL;
    }
    return status;
}
