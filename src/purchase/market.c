/* The lines to buy of all kits as needs of one market. The kit's own choice is a proposal: a need is free
 * among all candidates that are as sure to fit, unless the owner named the part or some of it was ordered. */
#include "base/decimal.h"
#include "base/money.h"
#include "purchase/making.h"

/* A need being made from a line. */
struct draft_need {
    uint32_t kit;
    const struct lb_line *line;
    struct lb_wanting wanting;
    struct lb_basket_option *options;
    const struct lb_candidate **candidates;
    struct making_option *facts;
    size_t count;
};

static lb_status begin_need(struct making *m, struct draft_need *draft, size_t room)
{
    draft->options = lb_arena_alloc(&m->arena, (room + 1) * sizeof *draft->options);
    draft->candidates = lb_arena_alloc(&m->arena, (room + 1) * sizeof *draft->candidates);
    draft->facts = lb_arena_alloc(&m->arena, (room + 1) * sizeof *draft->facts);
    draft->count = 0;
    return draft->options && draft->candidates && draft->facts ? LB_OK : lb_fail_nomem(m->err);
}

static lb_status end_need(struct making *m, const struct draft_need *draft, int64_t quantity, bool beside)
{
    struct lb_basket_need want = {quantity, draft->options, draft->count};
    struct lb_purchase_need need = {draft->kit, draft->line, beside, draft->candidates};
    return LB_PUSH(&m->wants, want) && LB_PUSH(&m->needs, need) && LB_PUSH(&m->facts, draft->facts)
               ? LB_OK
               : lb_fail_nomem(m->err);
}

/* So much of what the whole need asks for is asked for still. */
static int64_t part_of(const struct draft_need *draft, int64_t quantity)
{
    int64_t whole = draft->line->need->article.quantity;
    return draft->wanting.of_need == whole ? quantity
                                           : lb_decimal_muldiv_up(quantity, draft->wanting.of_need, whole);
}

/* What is bought with the part; of a part that was ordered, beside what came with it. */
static lb_status add_companions(struct making *m, const struct draft_need *draft,
                                const struct lb_candidate *candidate, struct lb_basket_option *option)
{
    struct lb_basket_demand *demands =
        lb_arena_alloc(&m->arena, (candidate->companion_count + 1) * sizeof *demands);
    if (!demands)
        return lb_fail_nomem(m->err);
    option->companions = demands;
    for (size_t i = 0; i < candidate->companion_count; i++) {
        const struct lb_companion *companion = &candidate->companions[i];
        struct lb_basket_demand *demand = &demands[option->companion_count];
        demand->quantity = draft->wanting.fixed ? companion->quantity - companion->seen_to
                                                : part_of(draft, companion->quantity);
        if (demand->quantity <= 0)
            continue;
        lb_status status = making_part(m, draft->kit, companion->part, &demand->part);
        if (status)
            return status;
        option->companion_count++;
    }
    return LB_OK;
}

/* Only whether it fits is left to say: then it can be had. */
static bool is_supplied(const struct making_option *facts)
{
    for (size_t i = 0; i < facts->gap_count; i++)
        if (facts->gaps[i].code != LB_GAP_FIT_UNKNOWN)
            return false;
    return true;
}

static lb_status add_option(struct making *m, struct draft_need *draft, const struct lb_candidate *candidate)
{
    struct lb_basket_option *option = &draft->options[draft->count];
    struct making_option *facts = &draft->facts[draft->count];
    int64_t quantity = draft->wanting.fixed ? draft->wanting.of_part : part_of(draft, candidate->quantity);
    bool box = candidate->via == LB_VIA_BOX;
    draft->candidates[draft->count++] = candidate;
    option->quantity = box ? 0 : quantity;
    lb_status status = making_part(m, draft->kit, candidate->part, &option->part);
    if (!status)
        status = add_companions(m, draft, candidate, option);
    if (!status)
        status = lb_kit_judge(m->kits.at[draft->kit], draft->line, candidate, box ? LB_MILLION : quantity,
                              &facts->gaps, &facts->gap_count, m->err);
    facts->supplied = is_supplied(facts);
    return status;
}

/* The best fit that has anything to be had; when nothing is, the best fit there is. */
static enum lb_fit best_fit(const struct making *m, const struct draft_need *draft)
{
    enum lb_fit best = LB_FIT_NO, there = LB_FIT_NO;
    for (size_t i = 0; i < draft->line->candidate_count; i++) {
        const struct lb_candidate *candidate = &draft->line->candidates[i];
        if (!candidate->eligible)
            continue;
        there = candidate->fit > there ? candidate->fit : there;
        if (candidate->fit > best && lb_kit_can_have(m->kits.at[draft->kit], candidate))
            best = candidate->fit;
    }
    return best == LB_FIT_NO ? there : best;
}

static lb_status add_free_options(struct making *m, struct draft_need *draft)
{
    enum lb_fit fit = best_fit(m, draft);
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < draft->line->candidate_count; i++) {
        const struct lb_candidate *candidate = &draft->line->candidates[i];
        if (candidate->eligible && candidate->fit == fit && candidate->fit != LB_FIT_NO)
            status = add_option(m, draft, candidate);
    }
    return status;
}

/* What an option costs where it is cheapest, by goods, in millionths of a minor unit; false: nobody has it.
 */
static bool cheapest(const struct making *m, uint32_t part, int64_t quantity, int64_t *cost)
{
    bool found = false;
    for (size_t i = 0; i < m->goods.at[part].offer_count; i++) {
        int64_t packs, price;
        if (!lb_basket_cost(&m->purchase.market, &m->goods.at[part].offers[i], quantity, &packs, &price) ||
            (found && price >= *cost))
            continue;
        *cost = price;
        found = true;
    }
    return found;
}

static bool cost_of(const struct making *m, const struct lb_basket_option *option,
                    const struct lb_candidate *candidate, int64_t *cost)
{
    int64_t more;
    bool can = cheapest(m, option->part, option->quantity ? option->quantity : candidate->quantity, cost);
    for (size_t i = 0; can && i < option->companion_count; i++) {
        can = cheapest(m, option->companions[i].part, option->companions[i].quantity, &more);
        *cost = can && more < INT64_MAX - *cost ? *cost + more : *cost;
    }
    return can;
}

/* The vehicle maker's own part may cost so much more than the cheapest other: the others count as so much
 * dearer than they are. */
static void add_premium(const struct making *m, struct draft_need *draft)
{
    int64_t percent = lb_preference_find(&m->preferences, draft->line->need->article.part_type);
    int64_t least = INT64_MAX, cost;
    bool own = false;
    for (size_t i = 0; percent && i < draft->count; i++) {
        own |= draft->candidates[i]->part->maker_part;
        if (!draft->candidates[i]->part->maker_part &&
            cost_of(m, &draft->options[i], draft->candidates[i], &cost) && cost < least)
            least = cost;
    }
    if (!own || least == INT64_MAX)
        return;
    int64_t premium = lb_money_percent(lb_decimal_muldiv(least, 1, LB_MILLION), percent);
    for (size_t i = 0; i < draft->count; i++)
        if (!draft->candidates[i]->part->maker_part)
            draft->options[i].premium = premium;
}

/* The part that answers the line is here; what was to come with it is not all. */
static lb_status add_beside(struct making *m, struct draft_need *draft)
{
    const struct lb_candidate *chosen = &draft->line->candidates[draft->line->chosen];
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < chosen->companion_count; i++) {
        const struct lb_companion *companion = &chosen->companions[i];
        int64_t quantity = companion->quantity - companion->seen_to;
        if (quantity <= 0)
            continue;
        const struct lb_candidate alone = {.part = companion->part, .fit = LB_FIT_YES, .quantity = quantity};
        status = begin_need(m, draft, 1);
        if (!status)
            status = add_option(m, draft, &alone);
        draft->options[0].quantity = quantity;
        draft->candidates[0] = chosen;
        if (!status)
            status = end_need(m, draft, quantity, true);
    }
    return status;
}

static lb_status add_line(struct making *m, uint32_t kit, const struct lb_line *line)
{
    struct draft_need draft = {.kit = kit, .line = line};
    if (line->decision != LB_BUY || !line->candidate_count)
        return LB_OK;
    draft.wanting = lb_kit_wanting(m->kits.at[kit], line);
    if (!draft.wanting.of_need)
        return draft.wanting.fixed ? add_beside(m, &draft) : LB_OK;
    lb_status status = begin_need(m, &draft, line->candidate_count);
    if (!status && (draft.wanting.fixed || line->named) && line->chosen != LB_NO_NAME)
        status = add_option(m, &draft, &line->candidates[line->chosen]);
    else if (!status)
        status = add_free_options(m, &draft);
    if (status || !draft.count)
        return status; /* gaps.c tells what became of its candidates */
    add_premium(m, &draft);
    return end_need(m, &draft, draft.wanting.of_need, false);
}

lb_status making_needs(struct making *m)
{
    struct lb_market *market = &m->purchase.market;
    lb_status status = LB_OK;
    for (uint32_t k = 0; !status && k < m->kits.count; k++)
        for (size_t i = 0; !status && i < m->kits.at[k]->line_count; i++)
            status = add_line(m, k, &m->kits.at[k]->lines[i]);
    market->parts = m->goods.at;
    market->part_count = m->goods.count;
    market->needs = m->wants.at;
    market->need_count = m->wants.count;
    m->purchase.needs = m->needs.at;
    m->purchase.parts = m->parts.at;
    m->purchase.offers = m->offers.at;
    return status;
}
