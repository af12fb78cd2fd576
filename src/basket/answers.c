#include "basket/answers.h"

#include "base/decimal.h"
#include "basket/problem.h"

#include <string.h>

static int64_t lack(const struct basket_ledger *ledger, uint32_t need)
{
    return ledger->market->needs[need].quantity - ledger->covered[need];
}

/* What the openers of a cover leave to it: all, where none are named. */
static int64_t opened(const struct basket_ledger *ledger, const struct lb_basket_content *content,
                      const struct lb_basket_cover *cover)
{
    int64_t boxes = 0;
    for (size_t i = 0; i < cover->opener_count; i++) {
        const struct lb_basket_need *need = &ledger->market->needs[cover->openers[i]];
        uint32_t option = ledger->solution->options[cover->openers[i]];
        if (option >= need->option_count || need->options[option].part != content->part)
            continue;
        int64_t here = lb_decimal_ceil_div(need->options[option].quantity, LB_MILLION);
        boxes += here > 1 ? here : 1;
    }
    return cover->opener_count ? lb_decimal_muldiv(boxes, content->quantity, 1) : INT64_MAX;
}

static int64_t pour(struct basket_ledger *ledger, const struct lb_basket_cover *cover, int64_t amount,
                    int64_t *left, int64_t *room)
{
    int64_t taken = lb_least(lb_least(amount, *left), lb_least(*room, lack(ledger, cover->need)));
    if (taken <= 0)
        return 0;
    *left -= taken;
    *room -= taken;
    ledger->covered[cover->need] += taken;
    return taken;
}

/* First as wished for, then what is left to whoever lacks something. */
static void open_boxes(struct basket_ledger *ledger, const struct lb_basket_content *content,
                       const int64_t *wishes, int64_t *poured)
{
    int64_t boxes = ledger->units[content->part] / LB_MILLION;
    int64_t left = lb_decimal_muldiv(boxes, content->quantity, 1);
    for (size_t round = 0; round < 2; round++) {
        for (size_t i = 0; i < content->cover_count; i++) {
            const struct lb_basket_cover *cover = &content->covers[i];
            int64_t room = opened(ledger, content, cover);
            room -= round ? lb_least(wishes[i], room) : 0;
            poured[i] += pour(ledger, cover, round ? INT64_MAX : wishes[i], &left, &room);
        }
    }
}

static bool draw(struct basket_ledger *ledger, uint32_t part, int64_t quantity)
{
    ledger->units[part] -= quantity;
    return ledger->units[part] >= 0;
}

/* What is still lacking comes from the option's part, with its companions. */
static bool answer(struct basket_ledger *ledger, uint32_t n, struct lb_basket_answer *out)
{
    const struct lb_basket_need *need = &ledger->market->needs[n];
    int64_t missing = lack(ledger, n);
    *out = (struct lb_basket_answer){ledger->solution->options[n], 0, ledger->covered[n]};
    if (out->option >= need->option_count)
        return !missing;
    const struct lb_basket_option *option = &need->options[out->option];
    if (option->quantity <= 0)
        return !missing;
    if (!missing && need->quantity) {
        out->option = UINT32_MAX;
        return true;
    }
    out->bought = basket_share(missing, option->quantity, need->quantity);
    bool met = draw(ledger, option->part, out->bought);
    for (size_t i = 0; i < option->companion_count; i++)
        met &= draw(ledger, option->companions[i].part,
                    basket_share(missing, option->companions[i].quantity, need->quantity));
    return met;
}

bool basket_parcels_hold(const struct lb_basket *basket)
{
    for (size_t i = 0; i < basket->parcel_count; i++)
        if (basket->parcels[i].below_shipping || basket->parcels[i].below_minimum)
            return false;
    return true;
}

bool basket_settle(struct basket_ledger *ledger)
{
    const struct lb_market *market = ledger->market;
    const struct basket_solution *solution = ledger->solution;
    bool met = true;
    memset(ledger->covered, 0, market->need_count * sizeof *ledger->covered);
    memset(ledger->poured, 0, solution->cover_count * sizeof *ledger->poured);
    for (size_t i = 0; i < market->part_count; i++)
        ledger->units[i] = market->parts[i].on_hand;
    for (size_t i = 0; i < solution->purchase_count; i++) {
        const struct basket_purchase *p = &solution->purchases[i];
        ledger->units[p->part] += p->packs * market->parts[p->part].offers[p->offer].pack;
    }
    for (size_t c = 0, at = 0; c < market->content_count; at += market->contents[c++].cover_count)
        open_boxes(ledger, &market->contents[c], solution->covers + at, ledger->poured + at);
    for (uint32_t n = 0; n < market->need_count; n++)
        if (n != ledger->without)
            met &= answer(ledger, n, &ledger->answers[n]);
    return met;
}

lb_status basket_ledger(struct basket_ledger *out, const struct lb_market *market,
                        const struct basket_solution *solution, struct lb_arena *arena, struct lb_error *err)
{
    *out = (struct basket_ledger){.market = market, .solution = solution, .without = UINT32_MAX};
    out->units = lb_arena_alloc(arena, (market->part_count + 1) * sizeof *out->units);
    out->covered = lb_arena_alloc(arena, (market->need_count + 1) * sizeof *out->covered);
    out->poured = lb_arena_alloc(arena, (solution->cover_count + 1) * sizeof *out->poured);
    out->answers = lb_arena_alloc(arena, (market->need_count + 1) * sizeof *out->answers);
    return out->units && out->covered && out->poured && out->answers ? LB_OK : lb_fail_nomem(err);
}

int64_t basket_premium(const struct lb_market *market, const uint32_t *options)
{
    int64_t sum = 0;
    for (size_t n = 0; n < market->need_count; n++)
        if (options[n] < market->needs[n].option_count)
            sum += market->needs[n].options[options[n]].premium;
    return sum;
}

lb_status basket_answers(struct basket_build *build, const struct lb_market *market,
                         const struct basket_solution *solution, bool *met, struct lb_error *err)
{
    struct basket_ledger ledger;
    lb_status status = basket_ledger(&ledger, market, solution, &build->arena, err);
    uint32_t *options = lb_arena_alloc(&build->arena, (market->need_count + 1) * sizeof *options);
    if (status || !options)
        return status ? status : lb_fail_nomem(err);
    *met = basket_settle(&ledger) && basket_parcels_hold(&build->basket);
    build->basket.answers = ledger.answers;
    build->basket.premium = basket_premium(market, solution->options);
    if (market->need_count)
        memcpy(options, solution->options, market->need_count * sizeof *options);
    build->options = options;
    build->covers = ledger.poured;
    build->cover_count = solution->cover_count;
    return LB_OK;
}
