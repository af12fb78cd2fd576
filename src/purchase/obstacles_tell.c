/* What keeps a basket that would do from being one, in words. */
#include "purchase/obstacles.h"

#include "base/date.h"
#include "base/decimal.h"
#include "base/money.h"

#include <stdlib.h>

static lb_status tell(struct making *m, struct lb_buf *words)
{
    return making_gap(m, LB_NO_KIT, 0, PURCHASE_NO_BASKET, making_words(m, words));
}

/* *sure: what was not found is not there, time or no time. */
static lb_status ask_limits(struct making *m, unsigned without, const struct lb_basket_limits *limits,
                            bool *found, bool *sure)
{
    struct lb_basket *basket = NULL;
    lb_status status = obstacles_ask(m, without, limits, &basket);
    *found = !status && basket->found;
    *sure &= *found || (!status && basket->proved);
    lb_basket_free(basket);
    return status;
}

/* The least days that a basket can be had in, beyond those asked for: halved, since more days never take a
 * basket away. */
static lb_status find_day(struct making *m, unsigned without, int64_t *days, bool *sure)
{
    struct lb_basket_limits limits = m->limits;
    int64_t low = m->limits.arrive_days + 1;
    lb_status status = LB_OK;
    while (!status && low < *days) {
        bool found = false;
        limits.arrive_days = low + (*days - low) / 2;
        status = ask_limits(m, without & ~(unsigned)OBSTACLE_DAY, &limits, &found, sure);
        if (found)
            *days = limits.arrive_days;
        else
            low = limits.arrive_days + 1;
    }
    return status;
}

static lb_status tell_day(struct making *m, unsigned without, const struct lb_basket *basket)
{
    struct lb_buf words = {0};
    int64_t days = basket->days;
    bool sure = true;
    if (days <= m->limits.arrive_days)
        return LB_OK;
    lb_status status = find_day(m, without, &days, &sure);
    lb_buf_puts(&words, "nothing that meets every line comes by ");
    lb_date_print(&words, m->options->arrive_by);
    lb_buf_puts(&words, sure ? "; the earliest is " : "; all can be here by ");
    lb_date_print(&words, (int32_t)(m->purchase.today + days));
    if (!status)
        return tell(m, &words);
    lb_buf_free(&words);
    return status;
}

static lb_status tell_parcels(struct making *m, unsigned without, const struct lb_basket *basket)
{
    struct lb_buf words = {0};
    struct lb_basket_limits limits = m->limits;
    bool found = false, sure = true;
    lb_status status = LB_OK;
    if ((int64_t)basket->parcel_count <= m->limits.parcels)
        return LB_OK;
    while (!status && !found && (size_t)++limits.parcels < basket->parcel_count)
        status = ask_limits(m, without & ~(unsigned)OBSTACLE_PARCELS, &limits, &found, &sure);
    if (status)
        return status;
    lb_buf_printf(&words, "no basket of at most %d parcel%s meets every line; %s %d", m->limits.parcels,
                  m->limits.parcels == 1 ? "" : "s", sure ? "it takes" : "it can be done with",
                  limits.parcels);
    return tell(m, &words);
}

static lb_status tell_closed(struct making *m, const struct lb_basket *basket)
{
    struct lb_buf words = {0};
    const char *between = " ";
    lb_buf_puts(&words, "the suppliers that may be bought from cannot meet every line without");
    for (size_t i = 0; i < basket->parcel_count; i++) {
        if (!m->closed[basket->parcels[i].supplier])
            continue;
        lb_buf_printf(&words, "%s%s", between, m->suppliers.at[basket->parcels[i].supplier].label);
        between = ", ";
    }
    if (between[0] != ' ')
        return tell(m, &words);
    lb_buf_free(&words);
    return LB_OK;
}

static lb_status tell_minimum(struct making *m, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &m->suppliers.at[parcel->supplier];
    struct lb_buf words = {0};
    if (parcel->goods >= supplier->minimum_order)
        return LB_OK;
    lb_buf_printf(&words, "%s: its minimum order of ", supplier->label);
    lb_money_print(&words, supplier->minimum_order, supplier->currency);
    lb_buf_printf(&words, " %s is not reached by what is needed from it", supplier->currency);
    return tell(m, &words);
}

static lb_status tell_shipping(struct making *m, const struct lb_parcel *parcel)
{
    const struct lb_supplier *supplier = &m->suppliers.at[parcel->supplier];
    struct lb_buf words = {0};
    if (!supplier->shipping_count || parcel->goods >= supplier->shipping[0].goods_from)
        return LB_OK;
    lb_buf_printf(&words, "%s states no shipping charge for goods below ", supplier->label);
    lb_money_print(&words, supplier->shipping[0].goods_from, supplier->currency);
    lb_buf_printf(&words, " %s", supplier->currency);
    return tell(m, &words);
}

/* What there is of a part, with what lies on the shelf. */
static int64_t stock_of(const struct making *m, size_t part)
{
    const struct lb_basket_part *goods = &m->goods.at[part];
    int64_t total = goods->on_hand;
    for (size_t i = 0; i < goods->offer_count; i++) {
        if (goods->offers[i].stock < 0)
            return INT64_MAX;
        int64_t here = lb_decimal_muldiv(goods->offers[i].stock, goods->offers[i].pack, 1);
        total = here > INT64_MAX - total ? INT64_MAX : total + here;
    }
    return total;
}

static int64_t wanted_of(const struct making *m, const struct lb_basket *basket, uint32_t part)
{
    int64_t total = 0;
    for (size_t n = 0; n < m->needs.count; n++) {
        const struct lb_basket_answer *answer = &basket->answers[n];
        if (answer->option == UINT32_MAX)
            continue;
        const struct lb_basket_option *option = &m->wants.at[n].options[answer->option];
        total += option->part == part ? answer->bought : 0;
        for (size_t i = 0; i < option->companion_count; i++)
            total += option->companions[i].part == part ? option->companions[i].quantity : 0;
    }
    return total;
}

static lb_status tell_stock(struct making *m, const struct lb_basket *basket)
{
    lb_status status = LB_OK;
    for (uint32_t p = 0; !status && p < m->goods.count; p++) {
        struct lb_buf words = {0};
        int64_t wanted = wanted_of(m, basket, p), there = stock_of(m, p);
        if (wanted <= there)
            continue;
        lb_buf_printf(&words, "%s %s: the lines together need ", m->parts.at[p]->brand,
                      m->parts.at[p]->number);
        lb_decimal_print(&words, wanted);
        lb_buf_puts(&words, ", all suppliers and the shelf have ");
        lb_decimal_print(&words, there);
        status = making_gap(m, LB_NO_KIT, 0, lb_gap_name(LB_GAP_STOCK_SHORT), making_words(m, &words));
    }
    return status;
}

lb_status obstacles_tell(struct making *m, unsigned without, const struct lb_basket *basket)
{
    lb_status status = without & OBSTACLE_DAY ? tell_day(m, without, basket) : LB_OK;
    if (!status && (without & OBSTACLE_PARCELS))
        status = tell_parcels(m, without, basket);
    if (!status && (without & OBSTACLE_CLOSED))
        status = tell_closed(m, basket);
    for (size_t i = 0; !status && (without & OBSTACLE_MINIMUM) && i < basket->parcel_count; i++)
        status = tell_minimum(m, &basket->parcels[i]);
    for (size_t i = 0; !status && (without & OBSTACLE_SHIPPING) && i < basket->parcel_count; i++)
        status = tell_shipping(m, &basket->parcels[i]);
    return status || !(without & OBSTACLE_STOCK) ? status : tell_stock(m, basket);
}
