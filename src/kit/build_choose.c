/* Which candidate a line proposes, and why, in words: what was ordered for it, else by one fixed order of
 * preference, so that the same index gives the same kit: what is sure to fit, what lies on the shelf, what
 * can be had, the part itself before a box, the stated spec, the price, the name. */
#include "base/money.h"
#include "kit/build.h"

#include <string.h>

enum availability { NOT_OFFERED, SHORT_OF_STOCK, OFFERED };

struct weighed {
    const struct lb_candidate *candidate;
    enum availability availability;
    bool on_shelf; /* all of it, and it is sure to fit */
    bool states_spec;
    bool priced;
    int64_t cost; /* of the line's need with all that must be bought with it, as lb_basket_cost gives it */
};

static struct weighed weigh(const struct build *b, const struct line_build *line,
                            const struct lb_candidate *candidate)
{
    struct weighed w = {.candidate = candidate};
    const struct lb_spec *wanted = &line->line.need->article.spec;
    int64_t cost;
    w.on_shelf = candidate->fit == LB_FIT_YES && build_shelf_has(candidate);
    w.states_spec = wanted->kind != LB_SPEC_NONE && lb_spec_meets(&candidate->part->spec, wanted);
    w.priced = build_price(b, candidate->part, candidate->quantity, &w.cost, NULL);
    for (size_t i = 0; w.priced && i < candidate->companion_count; i++) {
        w.priced =
            build_price(b, candidate->companions[i].part, candidate->companions[i].quantity, &cost, NULL);
        w.cost += w.priced ? cost : 0;
    }
    w.availability = w.priced ? OFFERED : candidate->part->live ? SHORT_OF_STOCK : NOT_OFFERED;
    return w;
}

/* Negative: a goes before b. */
static int64_t prefer(const struct weighed *a, const struct weighed *b)
{
    if (a->candidate->eligible != b->candidate->eligible)
        return a->candidate->eligible ? -1 : 1;
    if (a->candidate->fit != b->candidate->fit)
        return a->candidate->fit > b->candidate->fit ? -1 : 1;
    if (a->on_shelf != b->on_shelf)
        return a->on_shelf ? -1 : 1;
    if (a->availability != b->availability)
        return a->availability > b->availability ? -1 : 1;
    if ((a->candidate->via == LB_VIA_BOX) != (b->candidate->via == LB_VIA_BOX))
        return a->candidate->via == LB_VIA_BOX ? 1 : -1;
    if (a->states_spec != b->states_spec)
        return a->states_spec ? -1 : 1;
    if (a->priced && a->cost != b->cost)
        return a->cost < b->cost ? -1 : 1;
    return strcmp(a->candidate->part->key, b->candidate->part->key);
}

/* What "as" a candidate came in, for people. */
static const char *via_words(const struct lb_candidate *c)
{
    switch (c->via) {
    case LB_VIA_APPLICATION:
        return "its catalogue lists this vehicle";
    case LB_VIA_SPEC:
        return "its spec is the one asked for";
    case LB_VIA_ANY:
        return "it is not made for one vehicle";
    case LB_VIA_BOX:
        return "it is in the box";
    case LB_VIA_SAME:
        return "it is the same as a part that fits";
    case LB_VIA_INSTEAD:
        return "it may be used instead of a part that fits";
    case LB_VIA_SUCCESSOR:
        return "it replaces a superseded number";
    case LB_VIA_ORDERED:
        return "it was ordered when it still was listed";
    case LB_VIA_OWNER:
        break;
    }
    return "you named it";
}

static const char *price_words(struct build *b, const struct weighed *best, size_t rivals)
{
    const struct lb_part_offer *offer = NULL;
    int64_t cost;
    struct lb_buf price = {0};
    if (best->on_shelf)
        return "it lies on the shelf";
    if (!best->priced)
        return best->availability == SHORT_OF_STOCK ? "no supplier has enough of it" : "nobody offers it now";
    build_price(b, best->candidate->part, best->candidate->quantity, &cost, &offer);
    lb_money_print(&price, offer->price, offer->currency);
    const char *words =
        price.failed ? (lb_fail_nomem(b->err), (const char *)NULL)
        : rivals ? build_words(b, "preferred among %zu that could be bought, %s %s a pack at %s", rivals + 1,
                               lb_buf_text(&price), offer->currency, b->suppliers.at[offer->supplier].label)
                 : build_words(b, "the only one that can be bought, %s %s a pack at %s", lb_buf_text(&price),
                               offer->currency, b->suppliers.at[offer->supplier].label);
    lb_buf_free(&price);
    return words;
}

static lb_status say_because(struct build *b, struct line_build *line, const struct weighed *best,
                             size_t rivals)
{
    const struct lb_place *place = &best->candidate->place;
    const struct supply *supply = build_supply_of(line, best->candidate->part->key);
    const char *price = !supply           ? price_words(b, best, rivals)
                        : supply->ordered ? "it was ordered for this line"
                                          : "it was taken off the shelf for this line";
    if (!price)
        return LB_NOMEM;
    line->line.because = line->line.named      ? build_words(b, "you named it; %s", price)
                         : place->file != NULL ? build_words(b, "%s (%s:%u); %s", via_words(best->candidate),
                                                             place->file, place->line, price)
                                               : build_words(b, "%s; %s", via_words(best->candidate), price);
    return line->line.because ? LB_OK : LB_NOMEM;
}

static lb_status choose(struct build *b, struct line_build *line)
{
    struct weighed best = {0};
    size_t offered = 0;
    bool fixed = (line->line.named || line->supplied) && line->line.chosen != LB_NO_NAME;
    for (size_t i = 0; i < line->candidates.count; i++) {
        struct weighed w = weigh(b, line, &line->candidates.at[i]);
        offered += w.candidate->eligible && w.availability == OFFERED;
        if (fixed ? i == line->line.chosen
                  : (w.candidate->eligible && (!best.candidate || prefer(&w, &best) < 0)))
            best = w;
    }
    if (!best.candidate)
        return LB_OK;
    line->line.chosen = (uint32_t)(best.candidate - line->candidates.at);
    if (line->line.decision == LB_BUY && !line->supplied)
        build_shelf_take(best.candidate);
    return say_because(b, line, &best, offered > 0 ? offered - 1 : 0);
}

lb_status build_choose(struct build *b)
{
    lb_status status = LB_OK;
    build_fill_shelf(b);
    for (size_t i = 0; !status && i < b->lines.count; i++)
        status = choose(b, &b->lines.at[i]);
    if (!status)
        status = build_save(b);
    return status ? status : build_cover(b);
}
