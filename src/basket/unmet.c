/* Needs that nothing can supply, seen without asking the solver: each by itself, so what several needs
 * together are too much for is not seen here. Never lists one that could be met. */
#include "basket/question.h"

#include "base/decimal.h"

static int64_t add_capped(int64_t a, int64_t b)
{
    int64_t sum;
    return __builtin_add_overflow(a, b, &sum) ? INT64_MAX : sum;
}

static int64_t times_capped(int64_t a, int64_t b)
{
    int64_t product;
    return __builtin_mul_overflow(a, b, &product) ? INT64_MAX : product;
}

/* All of a part that could be there. */
static int64_t supply(const struct basket_problem *p, uint32_t part)
{
    int64_t sum = p->market->parts[part].on_hand;
    for (size_t i = 0; i < p->goods[part].count; i++) {
        const struct basket_offer *offer = &p->offers[p->goods[part].first + i];
        sum = add_capped(sum, times_capped(offer->high, offer->pack));
    }
    return sum;
}

/* Whether some opener of a cover could take the box. */
static bool can_open(const struct lb_market *market, uint32_t box, const struct lb_basket_cover *cover)
{
    for (size_t i = 0; i < cover->opener_count; i++) {
        const struct lb_basket_need *opener = &market->needs[cover->openers[i]];
        for (size_t o = 0; o < opener->option_count; o++)
            if (opener->options[o].part == box)
                return true;
    }
    return !cover->opener_count;
}

/* By need: what boxes could cover at the most, were all of them for it. */
static void pour_all(const struct basket_problem *p, int64_t *covers)
{
    for (size_t c = 0; c < p->market->content_count; c++) {
        const struct lb_basket_content *content = &p->market->contents[c];
        int64_t all = times_capped(supply(p, content->part) / LB_MILLION, content->quantity);
        for (size_t i = 0; all > 0 && i < content->cover_count; i++) {
            int64_t *cover = &covers[content->covers[i].need];
            if (can_open(p->market, content->part, &content->covers[i]))
                *cover = add_capped(*cover, all);
        }
    }
}

static const struct lb_basket_demand *demand_of(const struct lb_basket_option *option, size_t i,
                                                struct lb_basket_demand *own)
{
    *own = (struct lb_basket_demand){option->part, option->quantity};
    return i ? &option->companions[i - 1] : own;
}

/* `missing` of the need comes from this option. */
static bool can_supply(const struct basket_problem *p, const struct lb_basket_need *need,
                       const struct lb_basket_option *option, int64_t missing)
{
    struct lb_basket_demand own;
    if (option->quantity <= 0)
        return missing <= 0;
    for (size_t i = 0; missing > 0 && i <= option->companion_count; i++) {
        const struct lb_basket_demand *demand = demand_of(option, i, &own);
        if (basket_share(missing, demand->quantity, need->quantity) > supply(p, demand->part))
            return false;
    }
    return true;
}

lb_status basket_find_unmet(struct basket_build *build, const struct basket_problem *problem,
                            struct lb_error *err)
{
    const struct lb_market *market = problem->market;
    size_t room = (market->need_count + 1) * sizeof(int64_t);
    uint32_t *unmet = lb_arena_alloc(&build->arena, room);
    int64_t *covers = lb_arena_alloc(&build->arena, room);
    if (!unmet || !covers)
        return lb_fail_nomem(err);
    pour_all(problem, covers);
    for (uint32_t n = 0; n < market->need_count; n++) {
        const struct lb_basket_need *need = &market->needs[n];
        bool can = false;
        for (size_t i = 0; !can && i < need->option_count; i++)
            can = can_supply(problem, need, &need->options[i], need->quantity - covers[n]);
        if (!can)
            unmet[build->basket.unmet_count++] = n;
    }
    build->basket.unmet = unmet;
    return LB_OK;
}
