/* The options are chosen: all numbers of boxes, and all ways of handing out what is in them. */
#include "market/brute_hunt.h"

#include <string.h>

enum { MILLION = 1000000 };

/* What is still to be bought, by the ways to hand out that were looked at already; the same by another road
 * is the same. */
struct ways {
    int64_t want[BRUTE_WAYS][BRUTE_PARTS];
    size_t count;
};

/* What is left of the boxes while they are handed out. */
struct handing {
    struct brute_hunt *hunt;
    struct ways *ways;
    int64_t boxes[BRUTE_PARTS]; /* whole ones */
    int64_t left;               /* of the content that is handed out */
};

static const struct lb_basket_option *chosen(const struct brute_hunt *hunt, size_t need)
{
    return &hunt->market->needs[need].options[hunt->option[need]];
}

/* So many boxes are there for a need, by those that open them. */
static int64_t opened(const struct handing *h, uint32_t part, const struct lb_basket_cover *cover)
{
    int64_t boxes = cover->opener_count ? 0 : h->boxes[part];
    for (size_t i = 0; i < cover->opener_count; i++) {
        const struct lb_basket_option *option = chosen(h->hunt, cover->openers[i]);
        if (option->part != part)
            continue;
        int64_t whole = (option->quantity + MILLION - 1) / MILLION;
        boxes += whole > 1 ? whole : 1;
    }
    return boxes < h->boxes[part] ? boxes : h->boxes[part];
}

/* What a need's option takes of its part (or of a companion): the share that boxes leave. */
static int64_t share(const struct brute_hunt *hunt, size_t need, int64_t quantity)
{
    int64_t whole = hunt->market->needs[need].quantity;
    brute_wide fine = (brute_wide)quantity * (whole - hunt->covered[need]) * BRUTE_FINE;
    brute_must(fine % whole == 0);
    return (int64_t)(fine / whole);
}

static void want_all(struct brute_hunt *hunt)
{
    memset(hunt->want, 0, sizeof hunt->want);
    for (size_t n = 0; n < hunt->market->need_count; n++) {
        const struct lb_basket_option *option = chosen(hunt, n);
        hunt->want[option->part] += share(hunt, n, option->quantity);
        for (size_t c = 0; c < option->companion_count; c++)
            hunt->want[option->companions[c].part] += share(hunt, n, option->companions[c].quantity);
    }
    for (size_t p = 0; p < hunt->market->part_count; p++) {
        int64_t shelf = hunt->market->parts[p].on_hand * BRUTE_FINE;
        hunt->want[p] -= shelf < hunt->want[p] ? shelf : hunt->want[p];
    }
}

/* Does a need that is answered by what is in a box find it there? */
static bool all_met(const struct brute_hunt *hunt)
{
    for (size_t n = 0; n < hunt->market->need_count; n++)
        if (!chosen(hunt, n)->quantity && hunt->covered[n] < hunt->market->needs[n].quantity)
            return false;
    return true;
}

static bool new_way(struct ways *ways, const int64_t *want)
{
    for (size_t i = 0; i < ways->count; i++)
        if (!memcmp(ways->want[i], want, sizeof ways->want[i]))
            return false;
    brute_must(ways->count < BRUTE_WAYS);
    memcpy(ways->want[ways->count++], want, sizeof ways->want[0]);
    return true;
}

/* Up to what packs can come to: no offer gives or must give more or less for it. Boxes are there already. */
static void round_up_wants(struct brute_hunt *hunt)
{
    for (size_t p = 0; p < hunt->market->part_count; p++) {
        int64_t step = 0;
        for (size_t i = 0; i < hunt->market->parts[p].offer_count; i++)
            step = brute_divisor(hunt->market->parts[p].offers[i].pack, step);
        step *= BRUTE_FINE;
        if (step)
            hunt->want[p] = hunt->box[p] ? 0 : (hunt->want[p] + step - 1) / step * step;
    }
}

static void settle(struct handing *h)
{
    struct brute_hunt *hunt = h->hunt;
    if (!all_met(hunt))
        return;
    want_all(hunt);
    for (size_t p = 0; p < hunt->market->part_count; p++)
        if (hunt->box[p] && brute_bought(hunt, p) < hunt->want[p])
            return;
    round_up_wants(hunt);
    if (new_way(h->ways, hunt->want))
        brute_buy(hunt);
}

static void hand_out(struct handing *h, size_t content, size_t cover);

/* Any share of what is left of the content, for one need. */
static void hand_to(struct handing *h, size_t content, size_t cover)
{
    const struct lb_basket_content *held = &h->hunt->market->contents[content];
    uint32_t need = held->covers[cover].need;
    int64_t most = opened(h, held->part, &held->covers[cover]) * held->quantity;
    int64_t lacks = h->hunt->market->needs[need].quantity - h->hunt->covered[need];
    most = most < h->left ? most : h->left;
    most = most < lacks ? most : lacks;
    for (int64_t given = most; given >= 0; given -= h->hunt->grain) {
        h->left -= given;
        h->hunt->covered[need] += given;
        hand_out(h, content, cover + 1);
        h->hunt->covered[need] -= given;
        h->left += given;
    }
}

static void hand_out(struct handing *h, size_t content, size_t cover)
{
    const struct lb_market *market = h->hunt->market;
    int64_t left = h->left;
    if (content == market->content_count) {
        settle(h);
    } else if (cover < market->contents[content].cover_count) {
        hand_to(h, content, cover);
    } else {
        const struct lb_basket_content *next = &market->contents[content + 1];
        h->left = content + 1 < market->content_count ? h->boxes[next->part] * next->quantity : 0;
        hand_out(h, content + 1, 0);
        h->left = left;
    }
}

/* So many packs are taken of every box: what is in them, whole boxes only. */
static void unpack(struct brute_hunt *hunt)
{
    static struct ways ways; /* large; one search at a time */
    struct handing h = {.hunt = hunt, .ways = &ways};
    ways.count = 0;
    for (size_t p = 0; p < hunt->market->part_count; p++) {
        int64_t units = hunt->market->parts[p].on_hand;
        for (size_t i = 0; i < hunt->market->parts[p].offer_count; i++)
            units += hunt->packs[p][i] * hunt->market->parts[p].offers[i].pack;
        h.boxes[p] = units / MILLION;
    }
    if (hunt->market->content_count)
        h.left = h.boxes[hunt->market->contents[0].part] * hunt->market->contents[0].quantity;
    hand_out(&h, 0, 0);
}

/* Of a box that answers a need: what that wants, or what is in it wants. */
static int64_t most_boxes(const struct brute_hunt *hunt, size_t part, const struct lb_basket_offer *offer)
{
    int64_t of_use = hunt->boxes_of_use[part] * MILLION * BRUTE_FINE, want = hunt->wish[part];
    want = (want > of_use ? want : of_use) - hunt->market->parts[part].on_hand * BRUTE_FINE;
    return brute_most_packs(hunt, offer, want);
}

static void take_boxes(struct brute_hunt *hunt, size_t part, size_t offer)
{
    if (!brute_may_win(hunt, 0))
        return;
    if (part < hunt->market->part_count &&
        (!hunt->box[part] || !hunt->asked[part] || offer == hunt->market->parts[part].offer_count)) {
        take_boxes(hunt, part + 1, 0);
        return;
    }
    if (part == hunt->market->part_count) {
        unpack(hunt);
        return;
    }
    take_boxes(hunt, part, offer + 1);
    if (!hunt->priced[part][offer].usable)
        return;
    const struct lb_basket_offer *terms = &hunt->market->parts[part].offers[offer];
    int64_t least = terms->minimum_packs > 1 ? terms->minimum_packs : 1;
    for (int64_t packs = least; packs <= most_boxes(hunt, part, terms); packs++) {
        brute_take(hunt, part, offer, packs);
        take_boxes(hunt, part, offer + 1);
        brute_take(hunt, part, offer, -packs);
    }
}

void brute_open_boxes(struct brute_hunt *hunt)
{
    take_boxes(hunt, 0, 0);
}
