#include "base/decimal.h"
#include "basket/draft.h"

#include <string.h>

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

void draft_want(struct draft *d)
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
