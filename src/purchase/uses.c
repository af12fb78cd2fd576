#include "purchase/uses.h"

#include "base/decimal.h"

#include <stdlib.h>

struct finding {
    const struct lb_purchase *purchase;
    struct lb_uses *uses;
    int64_t *left; /* by content: what no need has been given yet, of all boxes there are */
    int64_t *used; /* by content */
    struct lb_error *err;
};

static lb_status add_share(struct finding *f, uint32_t part, struct lb_use_share share)
{
    struct lb_use *use = &f->uses->parts[part];
    if (share.quantity <= 0)
        return LB_OK;
    use->total += share.quantity;
    return LB_PUSH(&use->shares, share) ? LB_OK : lb_fail_nomem(f->err);
}

static const struct lb_basket_option *option_of(const struct lb_purchase *purchase, uint32_t need)
{
    uint32_t option = purchase->basket->answers[need].option;
    return option == UINT32_MAX ? NULL : &purchase->market.needs[need].options[option];
}

static lb_status share_parts(struct finding *f)
{
    lb_status status = LB_OK;
    for (uint32_t n = 0; !status && n < f->purchase->market.need_count; n++) {
        const struct lb_basket_option *option = option_of(f->purchase, n);
        if (!option)
            continue;
        status = add_share(
            f, option->part,
            (struct lb_use_share){n, f->purchase->basket->answers[n].bought, f->purchase->needs[n].beside});
        for (size_t c = 0; !status && c < option->companion_count; c++)
            status = add_share(f, option->companions[c].part,
                               (struct lb_use_share){n, option->companions[c].quantity, true});
    }
    return status;
}

/* All of a part that there is once the basket has come. */
static int64_t there_is(const struct lb_purchase *purchase, uint32_t part)
{
    int64_t quantity = purchase->market.parts[part].on_hand;
    for (size_t p = 0; p < purchase->basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &purchase->basket->parcels[p];
        for (size_t i = 0; i < parcel->line_count; i++)
            if (parcel->lines[i].part == part)
                quantity +=
                    lb_decimal_muldiv(parcel->lines[i].packs,
                                      purchase->market.parts[part].offers[parcel->lines[i].offer].pack, 1);
    }
    return quantity;
}

/* How many boxes are opened for a need that not every box is there for. */
static int64_t boxes_opened(const struct lb_purchase *purchase, uint32_t part,
                            const struct lb_basket_cover *cover)
{
    int64_t boxes = 0;
    for (size_t i = 0; i < cover->opener_count; i++) {
        const struct lb_basket_option *option = option_of(purchase, cover->openers[i]);
        if (option && option->part == part)
            boxes += option->quantity > LB_MILLION ? lb_decimal_ceil_div(option->quantity, LB_MILLION) : 1;
    }
    return boxes;
}

static const struct lb_basket_cover *cover_of(const struct lb_basket_content *content, uint32_t need)
{
    for (size_t i = 0; i < content->cover_count; i++)
        if (content->covers[i].need == need)
            return &content->covers[i];
    return NULL;
}

static lb_status hold(struct finding *f, uint32_t need, size_t content, int64_t quantity)
{
    struct lb_use_holding holding = {need, f->purchase->market.contents[content].part, quantity};
    f->left[content] -= quantity;
    f->used[content] += quantity;
    return LB_PUSH(&f->uses->holdings, holding) ? LB_OK : lb_fail_nomem(f->err);
}

/* From the first content that has some left; what then is not found (another need took it, which could have
 * had it elsewhere) is put down to the last that may hold it: it is known to be in one of them. */
static lb_status find_boxes(struct finding *f, uint32_t need)
{
    const struct lb_market *market = &f->purchase->market;
    int64_t wanted = f->purchase->basket->answers[need].covered;
    size_t last = market->content_count;
    lb_status status = LB_OK;
    for (size_t c = 0; !status && wanted > 0 && c < market->content_count; c++) {
        const struct lb_basket_content *content = &market->contents[c];
        const struct lb_basket_cover *cover = cover_of(content, need);
        if (!cover || there_is(f->purchase, content->part) < LB_MILLION)
            continue;
        int64_t most =
            !cover->opener_count
                ? f->left[c]
                : lb_decimal_muldiv(boxes_opened(f->purchase, content->part, cover), content->quantity, 1);
        int64_t taken = lb_least(wanted, lb_least(most, f->left[c]));
        last = most > 0 || last == market->content_count ? c : last;
        wanted -= taken > 0 ? taken : 0;
        status = taken > 0 ? hold(f, need, c, taken) : LB_OK;
    }
    return status || wanted <= 0 || last == market->content_count ? status : hold(f, need, last, wanted);
}

/* Who the boxes belong to that were bought for what is in them: a need that the part answers anyway, else one
 * that chose it for its contents, else the first that has something from it. */
static struct lb_use_share owner_of(const struct finding *f, uint32_t part)
{
    const struct lb_use *use = &f->uses->parts[part];
    struct lb_use_share owner = {UINT32_MAX, 0, true};
    for (size_t i = 0; i < use->shares.count; i++)
        if (!use->shares.at[i].beside)
            return (struct lb_use_share){use->shares.at[i].need, 0, false};
    for (size_t i = 0; i < f->uses->holdings.count; i++) {
        const struct lb_use_holding *holding = &f->uses->holdings.at[i];
        const struct lb_basket_option *option = option_of(f->purchase, holding->need);
        if (holding->part == part && option && option->part == part)
            return (struct lb_use_share){holding->need, 0, false};
        if (holding->part == part && owner.need == UINT32_MAX)
            owner.need = holding->need;
    }
    return owner;
}

/* Boxes that no need asked for as such, but for what is in them. */
static lb_status share_boxes(struct finding *f, uint32_t part)
{
    const struct lb_market *market = &f->purchase->market;
    struct lb_use *use = &f->uses->parts[part];
    int64_t boxes = 0, as_such = 0;
    for (size_t c = 0; c < market->content_count; c++) {
        if (market->contents[c].part != part || !f->used[c])
            continue;
        int64_t needed = lb_decimal_ceil_div(f->used[c], market->contents[c].quantity);
        boxes = needed > boxes ? needed : boxes;
    }
    for (size_t i = 0; i < use->shares.count; i++)
        as_such += use->shares.at[i].quantity;
    boxes = lb_least(boxes, there_is(f->purchase, part) / LB_MILLION);
    struct lb_use_share owner = owner_of(f, part);
    owner.quantity = boxes * LB_MILLION - as_such;
    return owner.need == UINT32_MAX ? LB_OK : add_share(f, part, owner);
}

lb_status lb_uses_find(struct lb_uses *out, const struct lb_purchase *purchase, struct lb_error *err)
{
    const struct lb_market *market = &purchase->market;
    struct finding f = {purchase, out, NULL, NULL, err};
    *out = (struct lb_uses){.part_count = market->part_count};
    out->parts = calloc(market->part_count + 1, sizeof *out->parts);
    f.left = calloc(market->content_count + 1, sizeof *f.left);
    f.used = calloc(market->content_count + 1, sizeof *f.used);
    lb_status status = out->parts && f.left && f.used ? LB_OK : lb_fail_nomem(err);
    for (size_t c = 0; !status && c < market->content_count; c++)
        f.left[c] = lb_decimal_muldiv(there_is(purchase, market->contents[c].part) / LB_MILLION,
                                      market->contents[c].quantity, 1);
    if (!status)
        status = share_parts(&f);
    for (uint32_t n = 0; !status && n < market->need_count; n++)
        status = find_boxes(&f, n);
    for (uint32_t p = 0; !status && p < market->part_count; p++)
        status = share_boxes(&f, p);
    for (size_t p = 0; !status && p < market->part_count; p++)
        out->parts[p].from_shelf = lb_least(market->parts[p].on_hand, out->parts[p].total);
    free(f.left);
    free(f.used);
    return status;
}

bool lb_uses_serves(const struct lb_uses *uses, const struct lb_purchase *purchase, size_t need,
                    uint32_t part)
{
    const struct lb_basket_option *option = option_of(purchase, (uint32_t)need);
    const struct lb_use *use = &uses->parts[part];
    for (size_t i = 0; i < use->shares.count; i++)
        if (use->shares.at[i].need == need)
            return true;
    return option && option->part == part; /* a box that another need owns */
}

void lb_uses_free(struct lb_uses *uses)
{
    for (size_t i = 0; uses->parts && i < uses->part_count; i++)
        free(uses->parts[i].shares.at);
    free(uses->parts);
    free(uses->holdings.at);
    *uses = (struct lb_uses){0};
}
