/* What a draft costs: boxes opened, parts bought where they are cheapest, parcels priced as they will be. */
#include "base/decimal.h"
#include "base/money.h"
#include "basket/draft.h"
#include "basket/parcels.h"

#include <string.h>

enum { MOST_PADDED = 20000 }; /* minor units up to which surplus is looked for */

static const struct lb_basket_option *option_of(const struct draft *d, size_t need)
{
    const struct lb_basket_need *n = &d->problem->market->needs[need];
    return d->options[need] < n->option_count ? &n->options[d->options[need]] : NULL;
}

/* Boxes that needs want for what is in them: those that chose the box for its contents. */
static int64_t boxes_for_contents(const struct draft *d, uint32_t part)
{
    int64_t most = 0;
    for (size_t c = 0; c < d->problem->market->content_count; c++) {
        const struct lb_basket_content *content = &d->problem->market->contents[c];
        int64_t wanted = 0;
        if (content->part != part || content->quantity <= 0)
            continue;
        for (size_t i = 0; i < content->cover_count; i++) {
            const struct lb_basket_option *option = option_of(d, content->covers[i].need);
            if (option && option->part == part && option->quantity <= 0)
                wanted += d->problem->market->needs[content->covers[i].need].quantity;
        }
        int64_t boxes = lb_decimal_ceil_div(wanted, content->quantity);
        most = boxes > most ? boxes : most;
    }
    return most * LB_MILLION;
}

static int64_t opened(const struct draft *d, const struct lb_basket_content *content,
                      const struct lb_basket_cover *cover)
{
    int64_t boxes = 0;
    for (size_t i = 0; i < cover->opener_count; i++) {
        const struct lb_basket_option *option = option_of(d, cover->openers[i]);
        if (!option || option->part != content->part)
            continue;
        int64_t here = lb_decimal_ceil_div(option->quantity, LB_MILLION);
        boxes += here > 1 ? here : 1;
    }
    return cover->opener_count ? boxes * content->quantity : INT64_MAX;
}

/* Those that chose the box for its contents first. */
static void pour(struct draft *d, const struct lb_basket_content *content, int64_t boxes, int64_t *poured)
{
    int64_t left = boxes * content->quantity;
    for (int round = 0; round < 2; round++) {
        for (size_t i = 0; i < content->cover_count; i++) {
            const struct lb_basket_cover *cover = &content->covers[i];
            const struct lb_basket_option *option = option_of(d, cover->need);
            bool chose = option && option->part == content->part && option->quantity <= 0;
            if (chose != !round)
                continue;
            int64_t lack = d->problem->market->needs[cover->need].quantity - d->covered[cover->need];
            poured[i] = lb_least(lb_least(left, lack), opened(d, content, cover));
            left -= poured[i];
            d->covered[cover->need] += poured[i];
        }
    }
}

static void want(struct draft *d, const struct lb_basket_option *option, int64_t missing, int64_t whole)
{
    if (option->quantity <= 0) {
        d->faults += missing != 0;
        return;
    }
    d->wanted[option->part] += basket_share(missing, option->quantity, whole);
    for (size_t i = 0; i < option->companion_count; i++)
        d->wanted[option->companions[i].part] += basket_share(missing, option->companions[i].quantity, whole);
}

/* Boxes are opened in order; what they cover of needs that would buy further boxes is not taken back. */
static void open_boxes(struct draft *d)
{
    const struct lb_market *market = d->problem->market;
    int64_t *poured = d->poured;
    memset(d->covered, 0, market->need_count * sizeof *d->covered);
    for (size_t c = 0; c < market->content_count; poured += market->contents[c++].cover_count) {
        const struct lb_basket_content *content = &market->contents[c];
        int64_t direct = 0, boxes = boxes_for_contents(d, content->part);
        memset(poured, 0, content->cover_count * sizeof *poured);
        for (size_t n = 0; n < market->need_count; n++) {
            const struct lb_basket_option *option = option_of(d, n);
            if (option && option->part == content->part && option->quantity > 0 && !d->covered[n])
                direct += option->quantity;
        }
        boxes = direct > boxes ? direct : boxes;
        if (content->quantity > 0)
            pour(d, content, boxes / LB_MILLION, poured);
    }
}

/* As many boxes as were poured from, whoever wanted them. */
static void want_opened(struct draft *d)
{
    const struct lb_market *market = d->problem->market;
    const int64_t *poured = d->poured;
    for (size_t c = 0; c < market->content_count; poured += market->contents[c++].cover_count) {
        const struct lb_basket_content *content = &market->contents[c];
        int64_t used = 0;
        for (size_t i = 0; i < content->cover_count; i++)
            used += poured[i];
        int64_t boxes = used ? lb_decimal_ceil_div(used, content->quantity) * LB_MILLION : 0;
        if (boxes > d->wanted[content->part])
            d->wanted[content->part] = boxes;
    }
}

static void add_up(struct draft *d)
{
    const struct lb_market *market = d->problem->market;
    memset(d->wanted, 0, market->part_count * sizeof *d->wanted);
    if (market->content_count)
        open_boxes(d);
    for (size_t n = 0; n < market->need_count; n++) {
        const struct lb_basket_option *option = option_of(d, n);
        if (option)
            want(d, option, market->needs[n].quantity - d->covered[n], market->needs[n].quantity);
        d->price += option ? option->premium : 0;
        d->faults += option == NULL;
    }
    want_opened(d);
    for (size_t i = 0; i < market->part_count; i++)
        d->wanted[i] -= lb_least(d->wanted[i], market->parts[i].on_hand);
}

/* The pinned plan, else the cheapest whose suppliers are allowed. */
static const struct draft_plan *plan_of(struct draft *d, uint32_t part)
{
    const struct draft_list *list = draft_list(d, part, d->wanted[part]);
    if (d->pins[part] < list->count)
        return draft_plan_allowed(d, &list->plans[d->pins[part]]) ? &list->plans[d->pins[part]] : NULL;
    for (size_t i = 0; i < list->count; i++)
        if (draft_plan_allowed(d, &list->plans[i]))
            return &list->plans[i];
    return NULL;
}

/* The few plans of the list may all want a closed supplier: packs from whoever is cheapest a unit, one after
 * the other. */
static bool buy_somehow(struct draft *d, uint32_t part)
{
    const struct basket_problem *p = d->problem;
    const struct basket_goods *goods = &p->goods[part];
    int64_t left = d->wanted[part];
    while (left > 0) {
        size_t best = SIZE_MAX;
        double best_cost = 0;
        for (size_t i = goods->first; i < goods->first + goods->count; i++) {
            const struct basket_offer *offer = &p->offers[i];
            int64_t packs = lb_least(lb_decimal_ceil_div(left, offer->pack), offer->high);
            packs = packs > offer->low ? packs : offer->low;
            double cost = (double)packs * (double)offer->price * d->dear[offer->supplier] /
                          (double)lb_least(left, packs * offer->pack);
            if (!d->allowed[offer->supplier] || d->packs[i] || (best != SIZE_MAX && cost >= best_cost))
                continue;
            best = i;
            best_cost = cost;
        }
        if (best == SIZE_MAX)
            return false;
        const struct basket_offer *offer = &p->offers[best];
        int64_t packs = lb_least(lb_decimal_ceil_div(left, offer->pack), offer->high);
        d->packs[best] = packs > offer->low ? packs : offer->low;
        d->goods[offer->supplier] += d->packs[best] * offer->price;
        d->sends[offer->supplier] = true;
        left -= d->packs[best] * offer->pack;
    }
    return true;
}

static void buy(struct draft *d, uint32_t part)
{
    if (!d->wanted[part])
        return;
    const struct draft_plan *plan = plan_of(d, part);
    if (!plan) {
        d->faults += !buy_somehow(d, part);
        return;
    }
    for (int i = 0; i < DRAFT_OFFERS; i++) {
        if (!plan->packs[i])
            continue;
        const struct basket_offer *offer = &d->problem->offers[plan->offers[i]];
        d->packs[plan->offers[i]] += plan->packs[i];
        d->goods[offer->supplier] += plan->packs[i] * offer->price;
        d->sends[offer->supplier] = true;
    }
}

static int64_t parcel_price(const struct basket_problem *p, uint32_t s, int64_t goods, int64_t charge)
{
    const struct lb_supplier *supplier = &p->market->suppliers[s];
    const struct basket_conversion *conversion = &p->sellers[s].conversion;
    int64_t tax = supplier->tax > 0 ? lb_money_percent(goods + charge, supplier->tax) : 0;
    return basket_convert(goods, conversion) + basket_convert(charge, conversion) +
           basket_convert(tax, conversion);
}

/* The goods values worth reaching: those of rows and minimum at or above what is bought. */
struct target {
    int64_t goods, charge;
};

static bool next_target(const struct basket_problem *p, uint32_t s, int64_t goods, size_t *row,
                        struct target *out)
{
    const struct lb_supplier *supplier = &p->market->suppliers[s];
    int64_t floor = goods > supplier->minimum_order ? goods : supplier->minimum_order;
    if (!supplier->shipping_count) {
        *out = (struct target){floor, 0};
        return (*row)++ == 0;
    }
    for (; *row < supplier->shipping_count; (*row)++) {
        const struct lb_shipping *here = &supplier->shipping[*row];
        int64_t from = here->goods_from > floor ? here->goods_from : floor;
        if (basket_shipping_row(supplier, from) != here)
            continue;
        *out = (struct target){from, here->charge};
        (*row)++;
        return true;
    }
    return false;
}

/* Surplus packs of a supplier's that bring at least `gap`, with the least beyond it: sums that can be made,
 * each with the last offer that made it. False: they do not suffice. */
static bool pad(struct draft *d, uint32_t s, int64_t gap, int64_t *more, bool keep)
{
    static _Thread_local int32_t last[MOST_PADDED + 1];
    static _Thread_local int32_t before[MOST_PADDED + 1];
    const struct basket_problem *p = d->problem;
    int64_t best = INT64_MAX, best_from = 0;
    size_t best_offer = 0;
    if (gap > MOST_PADDED)
        return false;
    for (int64_t v = 0; v <= gap; v++)
        last[v] = -1;
    last[0] = -2;
    for (size_t i = 0; i < p->offer_count; i++) {
        const struct basket_offer *offer = &p->offers[i];
        if (offer->supplier != s || !d->wanted[offer->part] || offer->price <= 0 ||
            (!d->packs[i] && offer->low > 1))
            continue;
        int64_t room = d->packs[i] < offer->cover ? offer->high - offer->cover : offer->high - d->packs[i];
        for (int64_t k = 0; k < room; k++) {
            for (int64_t v = gap - 1; v >= 0; v--) {
                if (last[v] == -1)
                    continue;
                if (v + offer->price >= gap) {
                    if (v + offer->price < best) {
                        best = v + offer->price;
                        best_from = v;
                        best_offer = i;
                    }
                } else if (last[v + offer->price] == -1) {
                    last[v + offer->price] = (int32_t)i;
                    before[v + offer->price] = (int32_t)v;
                }
            }
        }
    }
    *more = best;
    if (best == INT64_MAX)
        return false;
    for (int64_t v = best_from; keep && v > 0; v = before[v])
        d->packs[last[v]]++;
    if (keep)
        d->packs[best_offer]++;
    return true;
}

/* As if surplus could be had to the cent, where there is enough of it. */
static int64_t surplus_room(const struct draft *d, uint32_t s)
{
    const struct basket_problem *p = d->problem;
    int64_t room = 0;
    for (size_t i = 0; i < p->offer_count; i++)
        if (p->offers[i].supplier == s && d->wanted[p->offers[i].part] && p->offers[i].high > d->packs[i])
            room += p->offers[i].price * lb_least(LB_SURPLUS_PACKS, p->offers[i].high - d->packs[i]);
    return room;
}

static void price_parcel(struct draft *d, uint32_t s, bool exactly)
{
    const struct basket_problem *p = d->problem;
    int64_t best = INT64_MAX, best_gap = 0, goods = d->goods[s], room = -1;
    struct target target;
    for (size_t row = 0; next_target(p, s, goods, &row, &target);) {
        int64_t gap = target.goods - goods, more = gap;
        if (gap && !p->sellers[s].thresholds)
            continue;
        if (gap && gap > p->sellers[s].worth)
            continue;
        if (gap && room < 0 && !exactly)
            room = surplus_room(d, s);
        if (gap && (exactly ? !pad(d, s, gap, &more, false) : gap > room))
            continue;
        const struct lb_shipping *reached = basket_shipping_row(&p->market->suppliers[s], goods + more);
        int64_t charge = exactly && reached ? reached->charge : target.charge;
        int64_t price = parcel_price(p, s, goods + more, charge);
        if (price >= best)
            continue;
        best = price;
        best_gap = gap;
    }
    d->faults += best == INT64_MAX;
    if (best == INT64_MAX)
        return;
    d->price += best;
    int64_t more;
    if (exactly && best_gap && pad(d, s, best_gap, &more, true))
        d->goods[s] += more;
}

static int parcels_too_many(const struct draft *d)
{
    int parcels = 0, limit = d->problem->limits->parcels;
    for (size_t s = 0; s < d->problem->market->supplier_count; s++)
        parcels += d->sends[s];
    return limit > 0 && parcels > limit ? parcels - limit : 0;
}

void draft_price(struct draft *d, bool exactly)
{
    const struct basket_problem *p = d->problem;
    d->faults = 0;
    d->price = 0;
    memset(d->goods, 0, p->market->supplier_count * sizeof *d->goods);
    memset(d->sends, 0, p->market->supplier_count * sizeof *d->sends);
    memset(d->packs, 0, p->offer_count * sizeof *d->packs);
    add_up(d);
    for (uint32_t part = 0; part < p->market->part_count; part++)
        buy(d, part);
    d->faults += parcels_too_many(d);
    for (uint32_t s = 0; s < p->market->supplier_count; s++)
        if (d->sends[s])
            price_parcel(d, s, exactly);
    d->possible = !d->faults;
}
