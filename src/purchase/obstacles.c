/* No basket, although each line could be had: what was asked for, what suppliers ask for, or what they have
 * together stands in the way. Found by asking again with one thing left out at a time. */
#include "purchase/obstacles.h"

#include "base/date.h"
#include "base/decimal.h"

#include <string.h>

#define SECONDS 1.0 /* for each question */

static lb_status obstacle(struct making *m, struct lb_buf *words)
{
    return making_gap(m, LB_NO_KIT, 0, PURCHASE_NO_BASKET, making_words(m, words));
}

/* Suppliers without what is left out. */
static lb_status relax_suppliers(struct making *m, unsigned without, struct lb_market *market)
{
    struct lb_supplier *suppliers = lb_arena_alloc(&m->arena, (m->suppliers.count + 1) * sizeof *suppliers);
    if (!suppliers)
        return lb_fail_nomem(m->err);
    for (size_t i = 0; i < m->suppliers.count; i++) {
        suppliers[i] = m->suppliers.at[i];
        if (without & OBSTACLE_MINIMUM)
            suppliers[i].minimum_order = -1;
        if (without & OBSTACLE_SHIPPING)
            suppliers[i].shipping_count = 0;
    }
    market->suppliers = suppliers;
    return LB_OK;
}

/* Everybody who has some has enough. */
static lb_status relax_stock(struct making *m, struct lb_market *market)
{
    struct lb_basket_part *goods = lb_arena_alloc(&m->arena, (m->goods.count + 1) * sizeof *goods);
    if (!goods)
        return lb_fail_nomem(m->err);
    for (size_t p = 0; p < m->goods.count; p++) {
        goods[p] = m->goods.at[p];
        struct lb_basket_offer *offers =
            lb_arena_alloc(&m->arena, (goods[p].offer_count + 1) * sizeof *offers);
        if (!offers)
            return lb_fail_nomem(m->err);
        for (size_t i = 0; i < goods[p].offer_count; i++) {
            offers[i] = goods[p].offers[i];
            offers[i].stock = offers[i].stock ? -1 : 0;
        }
        goods[p].offers = offers;
    }
    market->parts = goods;
    return LB_OK;
}

lb_status obstacles_ask(struct making *m, unsigned without, const struct lb_basket_limits *limits,
                        struct lb_basket **out)
{
    struct lb_market market = m->purchase.market;
    struct lb_basket_limits asked = *limits;
    asked.seconds = asked.seconds < SECONDS ? asked.seconds : SECONDS;
    if (without & OBSTACLE_DAY)
        asked.arrive_days = -1;
    if (without & OBSTACLE_PARCELS)
        asked.parcels = 0;
    if (without & OBSTACLE_CLOSED)
        asked.closed = NULL;
    lb_status status = relax_suppliers(m, without, &market);
    if (!status && (without & OBSTACLE_STOCK))
        status = relax_stock(m, &market);
    return status ? status : lb_basket_solve(out, &market, &asked, m->err);
}

static lb_status is_past(struct making *m)
{
    struct lb_buf words = {0};
    lb_date_print(&words, m->options->arrive_by);
    lb_buf_puts(&words, " is past: nothing can come by then");
    return obstacle(m, &words);
}

static lb_status not_worked_out(struct making *m)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, "not worked out within ");
    lb_decimal_print(&words, (int64_t)(m->options->seconds * LB_MILLION + 0.5));
    lb_buf_puts(&words, " s; allow more with --seconds");
    return obstacle(m, &words);
}

/* What can stand in the way at all: what nobody asked for does not. */
static unsigned possible(const struct making *m)
{
    unsigned all = OBSTACLE_STOCK;
    all |= m->limits.arrive_days >= 0 ? OBSTACLE_DAY : 0;
    all |= m->limits.parcels ? OBSTACLE_PARCELS : 0;
    for (size_t i = 0; i < m->suppliers.count; i++) {
        all |= m->closed[i] ? OBSTACLE_CLOSED : 0;
        all |= m->suppliers.at[i].minimum_order > 0 ? OBSTACLE_MINIMUM : 0;
        all |= m->suppliers.at[i].shipping_count && m->suppliers.at[i].shipping[0].goods_from > 0
                   ? OBSTACLE_SHIPPING
                   : 0;
    }
    return all;
}

/* Leaves `without` out; when there is a basket then, tells what of it kept it from being one. */
static lb_status try_without(struct making *m, unsigned without)
{
    struct lb_basket *basket = NULL;
    lb_status status = obstacles_ask(m, without, &m->limits, &basket);
    if (!status && basket->found)
        status = obstacles_tell(m, without, basket);
    lb_basket_free(basket);
    return status;
}

static lb_status try_each(struct making *m)
{
    unsigned all = possible(m);
    size_t before = m->gaps.count;
    lb_status status = LB_OK;
    for (unsigned one = 1; !status && one < OBSTACLE_END; one <<= 1)
        if (all & one)
            status = try_without(m, one);
    if (!status && m->gaps.count == before)
        status = try_without(m, all);
    if (status || m->gaps.count > before)
        return status;
    struct lb_buf words = {0};
    lb_buf_puts(&words, "each line can be bought by itself, but no basket was found that meets all of them");
    return obstacle(m, &words);
}

lb_status making_obstacles(struct making *m)
{
    bool told = false;
    if (!m->purchase.basket)
        return is_past(m);
    if (!m->purchase.basket->proved)
        return not_worked_out(m);
    lb_status status = making_stuck_boxed(m, &told);
    if (!status && !told)
        status = obstacles_by_line(m, &told);
    return status || told ? status : try_each(m);
}
