#include "report/buy_facts.h"

#define LAST_DAY 2932896 /* 9999-12-31 */

bool lb_buy_found(const struct lb_purchase *purchase)
{
    return !purchase->blocked && purchase->basket && purchase->basket->found;
}

int32_t lb_buy_day(const struct lb_purchase *purchase, int64_t days)
{
    return days < LAST_DAY - purchase->today ? (int32_t)(purchase->today + days) : LAST_DAY;
}

bool lb_buy_late(const struct lb_basket *basket)
{
    for (size_t i = 0; i < basket->parcel_count; i++)
        if (basket->parcels[i].days_not_stated)
            return true;
    return false;
}

bool lb_buy_prefers(const struct lb_purchase *purchase)
{
    const struct lb_market *market = &purchase->market;
    for (size_t n = 0; n < market->need_count; n++)
        for (size_t o = 0; o < market->needs[n].option_count; o++)
            if (market->needs[n].options[o].premium > 0)
                return true;
    return false;
}

int64_t lb_buy_slack(const struct lb_basket *basket)
{
    int64_t most = basket->total.total + basket->premium - basket->bound;
    if (basket->proved || most < 0)
        return 0;
    return most < basket->total.total ? most : basket->total.total;
}

const struct lb_basket *lb_buy_point(const struct lb_purchase *purchase, size_t at)
{
    const struct lb_front *front = purchase->front;
    size_t own = 0;
    while (own < front->count && front->points[own]->total.total < purchase->basket->total.total)
        own++;
    return at == own ? purchase->basket : front->points[at > own ? at - 1 : at];
}

const char *lb_buy_unit(const struct lb_purchase *purchase, uint32_t part)
{
    const struct lb_market *market = &purchase->market;
    for (size_t n = 0; n < market->need_count; n++)
        for (size_t o = 0; o < market->needs[n].option_count; o++)
            if (market->needs[n].options[o].part == part && market->needs[n].options[o].quantity > 0)
                return purchase->needs[n].line->need->article.unit;
    return "each";
}

bool lb_buy_opened(const struct lb_purchase *purchase, uint32_t part)
{
    const struct lb_shelf_item *item =
        purchase->shelf ? lb_shelf_find(purchase->shelf, purchase->parts[part]->key) : NULL;
    return item && item->opened;
}

const struct lb_supplier *lb_buy_supplier(const struct lb_purchase *purchase, uint32_t part, uint32_t offer)
{
    return &purchase->market.suppliers[purchase->market.parts[part].offers[offer].supplier];
}
