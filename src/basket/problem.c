/* What may be used at all, and how much of it at the most. */
#include "basket/problem.h"

#include "base/decimal.h"
#include "basket/parcels.h"

int64_t basket_share(int64_t quantity, int64_t of, int64_t whole)
{
    basket_wide product = (basket_wide)quantity * of;
    return whole > 0 ? (int64_t)((product + whole - 1) / whole) : 0;
}

static int64_t add_capped(int64_t a, int64_t b)
{
    int64_t sum;
    return __builtin_add_overflow(a, b, &sum) ? INT64_MAX : sum;
}

static void take(struct basket_problem *p, uint32_t part, int64_t quantity)
{
    p->goods[part].most = add_capped(p->goods[part].most, quantity);
    p->goods[part].consumers++;
}

/* Of boxes so many as hold all that their contents may be wanted for. */
static void take_contents(struct basket_problem *p)
{
    for (size_t c = 0; c < p->market->content_count; c++) {
        const struct lb_basket_content *content = &p->market->contents[c];
        int64_t wanted = 0;
        if (content->quantity <= 0)
            continue;
        for (size_t i = 0; i < content->cover_count; i++) {
            wanted = add_capped(wanted, p->market->needs[content->covers[i].need].quantity);
            p->boxable[content->covers[i].need] = true;
        }
        int64_t boxes = lb_decimal_ceil_div(wanted, content->quantity);
        struct basket_goods *goods = &p->goods[content->part];
        goods->boxed |= content->cover_count > 0;
        if (boxes < INT64_MAX / LB_MILLION && boxes * LB_MILLION > goods->held)
            goods->held = boxes * LB_MILLION;
        goods->most = goods->held > goods->most ? goods->held : goods->most;
    }
}

static void take_all(struct basket_problem *p)
{
    for (size_t n = 0; n < p->market->need_count; n++) {
        const struct lb_basket_need *need = &p->market->needs[n];
        for (size_t i = 0; i < need->option_count; i++) {
            const struct lb_basket_option *option = &need->options[i];
            if (option->quantity > 0)
                take(p, option->part, option->quantity);
            for (size_t c = 0; c < option->companion_count; c++)
                take(p, option->companions[c].part, option->companions[c].quantity);
        }
    }
    take_contents(p);
    for (size_t i = 0; i < p->market->part_count; i++) {
        int64_t hand = p->market->parts[i].on_hand;
        p->goods[i].most -= hand < p->goods[i].most ? hand : p->goods[i].most;
    }
}

static bool in_time(const struct basket_problem *p, const struct lb_basket_offer *offer)
{
    return p->limits->arrive_days < 0 || basket_days(p->market, offer) <= p->limits->arrive_days;
}

static bool use_offer(struct basket_problem *p, uint32_t part, uint32_t index, struct basket_offer *out)
{
    const struct lb_basket_offer *offer = &p->market->parts[part].offers[index];
    int64_t amount;
    *out =
        (struct basket_offer){.part = part, .offer = index, .supplier = offer->supplier, .pack = offer->pack};
    if (offer->supplier >= p->market->supplier_count || !p->sellers[offer->supplier].open ||
        !in_time(p, offer) || !basket_pack_price(p->market, offer, &out->price))
        return false;
    out->low = offer->minimum_packs > 1 ? offer->minimum_packs : 1;
    out->cover = lb_decimal_ceil_div(p->goods[part].most, offer->pack);
    out->cover = out->cover > out->low ? out->cover : out->low;
    out->high = out->cover + LB_SURPLUS_PACKS;
    if (offer->stock >= 0 && offer->stock < out->high)
        out->high = offer->stock;
    out->cover = out->cover < out->high ? out->cover : out->high;
    return out->high >= out->low && !__builtin_mul_overflow(out->cover, out->price, &amount) &&
           amount <= LB_AMOUNT_MAX;
}

static lb_status use_offers(struct basket_problem *p, struct lb_error *err)
{
    size_t room = 0;
    for (size_t i = 0; i < p->market->part_count; i++)
        room += p->market->parts[i].offer_count;
    p->offers = lb_arena_alloc(&p->arena, (room + 1) * sizeof *p->offers);
    if (!p->offers)
        return lb_fail_nomem(err);
    for (uint32_t part = 0; part < p->market->part_count; part++) {
        struct basket_goods *goods = &p->goods[part];
        goods->first = p->offer_count;
        for (uint32_t i = 0; goods->most && i < p->market->parts[part].offer_count; i++)
            p->offer_count += use_offer(p, part, i, &p->offers[p->offer_count]);
        goods->count = p->offer_count - goods->first;
    }
    return LB_OK;
}

static void open_seller(struct basket_problem *p, uint32_t s)
{
    struct basket_seller *seller = &p->sellers[s];
    const struct lb_supplier *supplier = &p->market->suppliers[s];
    /* Also for one that is closed: the model divides by what its conversion has. */
    bool comparable =
        basket_find_conversion(p->market, supplier->currency, p->market->currency, &seller->conversion);
    seller->open = comparable && !(p->limits->closed && p->limits->closed[s]);
}

/* What a supplier's table and minimum make of surplus goods. */
static void judge_seller(struct basket_problem *p, uint32_t s)
{
    struct basket_seller *seller = &p->sellers[s];
    const struct lb_supplier *supplier = &p->market->suppliers[s];
    int64_t highest = 0, lowest = INT64_MAX;
    bool starts_late =
        supplier->minimum_order > 0 || (supplier->shipping_count && !basket_shipping_row(supplier, 0));
    for (size_t i = 0; i < supplier->shipping_count; i++) {
        int64_t charge = supplier->shipping[i].charge;
        seller->thresholds |= charge < highest;
        highest = charge > highest ? charge : highest;
        lowest = charge < lowest ? charge : lowest;
    }
    seller->thresholds |= starts_late;
    /* Two minor units for tax and conversion that round another way. */
    seller->worth = starts_late ? INT64_MAX : highest - lowest + 2;
}

/* Surplus dearer than what it can save is no choice. */
static void trim_surplus(struct basket_problem *p)
{
    for (size_t i = 0; i < p->offer_count; i++) {
        struct basket_offer *offer = &p->offers[i];
        struct basket_seller *seller = &p->sellers[offer->supplier];
        if (!seller->thresholds || offer->price > seller->worth)
            offer->high = offer->cover;
        int64_t all;
        if (__builtin_mul_overflow(offer->high, offer->price, &all))
            all = INT64_MAX;
        seller->most = add_capped(seller->most, all);
    }
}

lb_status basket_problem(struct basket_problem *out, const struct lb_market *market,
                         const struct lb_basket_limits *limits, struct lb_error *err)
{
    *out = (struct basket_problem){.market = market, .limits = limits};
    out->goods = lb_arena_alloc(&out->arena, (market->part_count + 1) * sizeof *out->goods);
    out->sellers = lb_arena_alloc(&out->arena, (market->supplier_count + 1) * sizeof *out->sellers);
    out->boxable = lb_arena_alloc(&out->arena, (market->need_count + 1) * sizeof *out->boxable);
    if (!out->goods || !out->sellers || !out->boxable)
        return lb_fail_nomem(err);
    take_all(out);
    for (uint32_t s = 0; s < market->supplier_count; s++) {
        open_seller(out, s);
        judge_seller(out, s);
    }
    lb_status status = use_offers(out, err);
    if (!status)
        trim_surplus(out);
    return status;
}

void basket_problem_free(struct basket_problem *problem)
{
    lb_arena_free(&problem->arena);
}
