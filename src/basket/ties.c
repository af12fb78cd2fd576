/* Among equal baskets: fewer parcels, then the earlier arrival, then the names that come first. Each is a
 * question with the price as its cutoff; that no answer is better is proved as the price is. */
#include "basket/ties.h"

#include "basket/solver.h"

/* A question may take a quarter of the time that is left. */
lb_status basket_ask_tie(struct basket_tie *tie, struct lb_basket **other, struct lb_error *err)
{
    double now = basket_now();
    tie->question.until = now + (tie->until - now) / 4;
    *other = NULL;
    if (tie->until - now < 0.001) {
        tie->open = true;
        return LB_OK;
    }
    lb_status status = basket_ask(other, &tie->question, err);
    if (!status && !(*other)->found) {
        tie->open |= !(*other)->proved;
        lb_basket_free(*other);
        *other = NULL;
    }
    return status;
}

void basket_take_tie(struct basket_tie *tie, struct lb_basket *other)
{
    other->proved = true;
    other->bound = (*tie->best)->bound;
    lb_basket_free(*tie->best);
    *tie->best = other;
}

static lb_status fewer_parcels(struct basket_tie *tie, struct lb_error *err)
{
    lb_status status = LB_OK;
    struct lb_basket *other = *tie->best;
    while (!status && other && (*tie->best)->parcel_count) {
        tie->question.parcels = (int64_t)(*tie->best)->parcel_count - 1;
        status = basket_ask_tie(tie, &other, err);
        if (!status && other)
            basket_take_tie(tie, other);
    }
    tie->question.parcels = (int64_t)(*tie->best)->parcel_count;
    return status;
}

static lb_status earlier(struct basket_tie *tie, struct lb_error *err)
{
    lb_status status = LB_OK;
    struct lb_basket *other = *tie->best;
    while (!status && other && (*tie->best)->days) {
        tie->question.days = (*tie->best)->days - 1;
        status = basket_ask_tie(tie, &other, err);
        if (!status && other)
            basket_take_tie(tie, other);
    }
    tie->question.days = (*tie->best)->days;
    return status;
}

lb_status basket_break_ties(struct lb_basket **best, const struct basket_question *question,
                            struct lb_error *err)
{
    struct basket_tie tie = {.best = best, .question = *question, .until = question->until};
    tie.question.cutoff = tie.question.floor = basket_price(*best);
    lb_status status = fewer_parcels(&tie, err);
    if (!status && !tie.open)
        status = earlier(&tie, err);
    if (!status && !tie.open)
        status = basket_first_names(&tie, err);
    return status;
}
