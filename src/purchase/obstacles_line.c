/* Lines that nothing answers in time, or from the suppliers that were named. */
#include "purchase/obstacles.h"

#include "base/date.h"
#include "base/decimal.h"

/* Days until an offer is here; what is not stated is none. */
static int64_t days_of(const struct making *m, const struct lb_basket_offer *offer)
{
    int64_t ship = m->suppliers.at[offer->supplier].ship_days;
    return (ship > 0 ? ship : 0) + (offer->lead_days > 0 ? offer->lead_days : 0);
}

/* The first day that so much of a part could come on; -1: never, from whom may be bought from. What the
 * shelf has is here. */
static int64_t part_day(const struct making *m, uint32_t part, int64_t quantity, bool closed)
{
    int64_t best = -1, packs, cost;
    const struct lb_basket_part *goods = &m->goods.at[part];
    if (goods->on_hand >= quantity)
        return 0;
    for (size_t i = 0; i < goods->offer_count; i++) {
        struct lb_basket_offer offer = goods->offers[i];
        if (!offer.stock || (!closed && m->closed[offer.supplier]))
            continue;
        offer.stock = -1; /* several together may have enough */
        if (lb_basket_cost(&m->purchase.market, &offer, offer.pack, &packs, &cost) &&
            (best < 0 || days_of(m, &offer) < best))
            best = days_of(m, &offer);
    }
    return best;
}

static int64_t option_day(const struct making *m, const struct lb_basket_option *option, bool closed)
{
    int64_t last = part_day(m, option->part, option->quantity ? option->quantity : LB_MILLION, closed);
    for (size_t i = 0; last >= 0 && i < option->companion_count; i++) {
        int64_t day = part_day(m, option->companions[i].part, option->companions[i].quantity, closed);
        last = day < 0 || day > last ? day : last;
    }
    return last;
}

static int64_t need_day(const struct making *m, size_t need, bool closed)
{
    int64_t best = -1;
    for (size_t i = 0; i < m->wants.at[need].option_count; i++) {
        int64_t day =
            m->facts.at[need][i].supplied ? option_day(m, &m->wants.at[need].options[i], closed) : -1;
        best = day >= 0 && (best < 0 || day < best) ? day : best;
    }
    return best;
}

static bool sells(const struct making *m, size_t need, uint32_t supplier)
{
    const struct lb_basket_need *want = &m->wants.at[need];
    for (size_t o = 0; o < want->option_count; o++) {
        const struct lb_basket_part *goods = &m->goods.at[want->options[o].part];
        for (size_t i = 0; i < goods->offer_count; i++)
            if (goods->offers[i].supplier == supplier && goods->offers[i].stock)
                return true;
    }
    return false;
}

static lb_status tell(struct making *m, size_t need, struct lb_buf *words)
{
    return making_gap(m, m->needs.at[need].kit, m->needs.at[need].line->number, PURCHASE_NO_BASKET,
                      making_words(m, words));
}

static lb_status tell_closed(struct making *m, size_t need)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s: nobody who may be bought from has it; to be had from",
                  m->needs.at[need].line->need->article.part_type);
    const char *between = " ";
    for (uint32_t s = 0; s < m->suppliers.count; s++) {
        if (!m->closed[s] || !sells(m, need, s))
            continue;
        lb_buf_printf(&words, "%s%s", between, m->suppliers.at[s].label);
        between = ", ";
    }
    return tell(m, need, &words);
}

static lb_status tell_late(struct making *m, size_t need, int64_t day)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s: nothing comes by ", m->needs.at[need].line->need->article.part_type);
    lb_date_print(&words, m->options->arrive_by);
    lb_buf_puts(&words, "; the earliest is ");
    lb_date_print(&words, (int32_t)(m->purchase.today + day));
    return tell(m, need, &words);
}

lb_status obstacles_by_line(struct making *m, bool *any)
{
    size_t before = m->gaps.count;
    lb_status status = LB_OK;
    for (size_t n = 0; !status && n < m->needs.count; n++) {
        int64_t day = need_day(m, n, false);
        if (making_boxes_may_cover(m, n))
            continue;
        if (day < 0 && need_day(m, n, true) >= 0)
            status = tell_closed(m, n);
        else if (m->limits.arrive_days >= 0 && day > m->limits.arrive_days)
            status = tell_late(m, n, day);
    }
    *any = m->gaps.count > before;
    return status;
}
