/* What a part costs at the least, among the offers that are live. */
#include "base/date.h"
#include "base/decimal.h"
#include "catalog/partkey.h"
#include "find/finder.h"

#include <string.h>

/* Cheaper by the piece; then by the pack, then by the supplier's name. Offers in another currency are passed
 * by: the first supplier's counts. */
static bool is_cheaper(const struct candidate *candidate, int64_t price, int64_t pack, const char *supplier)
{
    int64_t mine = lb_decimal_muldiv(price, LB_MILLION, pack);
    int64_t best = lb_decimal_muldiv(candidate->price, LB_MILLION, candidate->pack_quantity);
    if (mine != best)
        return mine < best;
    return price != candidate->price ? price < candidate->price : strcmp(supplier, candidate->supplier) < 0;
}

static bool is_live(const struct search *search, struct lb_statement *offer)
{
    struct lb_interval valid;
    const char *valid_to = lb_text(offer, 6);
    int64_t stock = lb_integer(offer, 7);
    if (valid_to && !lb_date_parse(valid_to, &valid) && valid.last < search->request->today)
        return false;
    return stock < 0 || (stock > 0 && stock >= lb_integer(offer, 8));
}

/* Columns of the statement `offer`: brand, part_number, price, currency, pack_quantity, supplier, valid_to,
 * stock (-1: not stated), minimum_packs. */
static lb_status take_offer(struct search *search, struct candidate *candidate)
{
    struct lb_finder *f = search->finder;
    lb_status status = lb_need_texts(f->offer, 0, 2, search->err);
    if (!status)
        status = lb_need_texts(f->offer, 3, 1, search->err);
    if (!status)
        status = lb_need_texts(f->offer, 5, 1, search->err);
    if (status)
        return status;
    lb_part_key(&f->key, lb_text(f->offer, 0), lb_text(f->offer, 1));
    if (strcmp(lb_buf_text(&f->key), candidate->key) != 0)
        return LB_OK;
    candidate->offered = true;
    if (!is_live(search, f->offer))
        return LB_OK;
    int64_t price = lb_integer(f->offer, 2), pack = lb_integer(f->offer, 4);
    const char *currency = lb_text(f->offer, 3), *supplier = lb_text(f->offer, 5);
    if (pack <= 0 || (candidate->priced && (strcmp(currency, candidate->currency) != 0 ||
                                            !is_cheaper(candidate, price, pack, supplier))))
        return LB_OK;
    candidate->priced = true;
    candidate->price = price;
    candidate->pack_quantity = pack;
    strncpy(candidate->currency, currency, sizeof candidate->currency - 1);
    return find_keep(search, supplier, &candidate->supplier);
}

lb_status find_offers(struct search *search, struct candidate *candidate)
{
    struct lb_finder *f = search->finder;
    bool row;
    if (!f->has_offers)
        return LB_OK;
    lb_status status = lb_lookup_part(f->lookup, candidate->key, &f->ids, search->err);
    if (status)
        return status;
    lb_bind_text(f->offer, 1, lb_buf_text(&f->ids));
    while (!(status = lb_step(f->offer, &row, search->err)) && row)
        if ((status = take_offer(search, candidate)))
            break;
    lb_statement_reset(f->offer);
    return status;
}
