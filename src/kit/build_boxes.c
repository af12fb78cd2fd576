/* Boxes (formats.md §3.7): what is in the box of a chosen part covers other lines, by quantity. And boxes
 * that pay: one that costs less than what it saves on the lines that it covers is proposed instead. */
#include "base/decimal.h"
#include "kit/build.h"

#include <string.h>

static bool buys(const struct line_build *line)
{
    return line->line.decision == LB_BUY && line->line.chosen != LB_NO_NAME;
}

static const struct lb_candidate *chosen(const struct line_build *line)
{
    return &line->candidates.at[line->line.chosen];
}

static bool share_component(const struct lb_need *a, const struct lb_need *b)
{
    for (size_t i = 0; i < a->origin_count; i++)
        for (size_t k = 0; k < b->origin_count; k++)
            if (a->origins[i].component != LB_NO_NAME && a->origins[i].component == b->origins[k].component)
                return true;
    return false;
}

/* Part of what one content of the box of line `from` holds goes to `line`; what is left comes back. */
static lb_status cover_line(struct build *b, size_t from, struct line_build *line,
                            const struct lb_content *content, int64_t *left)
{
    bool bare;
    const struct line_build *box = &b->lines.at[from];
    if (!*left || !line->line.to_buy || !build_content_meets(b, content, line, &bare))
        return LB_OK;
    /* A line that the same box was chosen for by its contents has said that the bare content is meant. */
    bool same_box = chosen(line)->part == chosen(box)->part;
    if (bare && !same_box && !share_component(box->line.need, line->line.need))
        return LB_OK;
    int64_t taken = *left < line->line.to_buy ? *left : line->line.to_buy;
    struct lb_cover cover = {chosen(box)->part, (uint32_t)from, taken, content->place};
    *left -= taken;
    line->line.to_buy -= taken;
    return LB_PUSH(&line->covers, cover) ? LB_OK : lb_fail_nomem(b->err);
}

/* How many boxes come to the bench: whole ones. */
static int64_t boxes_bought(const struct line_build *line)
{
    return lb_decimal_ceil_div(line->line.to_buy, LB_MILLION);
}

/* One box may answer several lines by its contents; lines that ask for the box itself each need their own. */
static bool may_cover(const struct line_build *line, const struct lb_part *box)
{
    return chosen(line)->part != box || chosen(line)->via == LB_VIA_BOX;
}

static lb_status open_box(struct build *b, size_t from)
{
    const struct lb_part *box = chosen(&b->lines.at[from])->part;
    int64_t boxes = boxes_bought(&b->lines.at[from]);
    lb_status status = LB_OK;
    for (size_t c = 0; !status && c < box->content_count; c++) {
        int64_t left = lb_decimal_muldiv(boxes, box->contents[c].quantity, 1);
        for (size_t i = 0; !status && i < b->lines.count; i++)
            if (i != from && buys(&b->lines.at[i]) && may_cover(&b->lines.at[i], box))
                status = cover_line(b, from, &b->lines.at[i], &box->contents[c], &left);
    }
    return status;
}

lb_status build_cover(struct build *b)
{
    lb_status status = LB_OK;
    for (size_t i = 0; i < b->lines.count; i++) {
        struct line_build *line = &b->lines.at[i];
        line->covers.count = 0;
        line->line.to_buy = buys(line) ? chosen(line)->quantity : 0;
    }
    for (size_t i = 0; !status && i < b->lines.count; i++)
        if (b->lines.at[i].line.to_buy && chosen(&b->lines.at[i])->part->content_count)
            status = open_box(b, i);
    return status;
}

/* What all lines cost as they stand, for comparison; lines that cannot be priced count nothing. */
static int64_t total_cost(const struct build *b)
{
    int64_t total = 0, cost;
    for (size_t i = 0; i < b->lines.count; i++) {
        const struct line_build *line = &b->lines.at[i];
        if (!line->line.to_buy)
            continue;
        if (build_price(b, chosen(line)->part, line->line.to_buy, &cost, NULL))
            total += cost;
        for (size_t c = 0; c < chosen(line)->companion_count; c++)
            if (build_price(b, chosen(line)->companions[c].part, chosen(line)->companions[c].quantity, &cost,
                            NULL))
                total += cost;
    }
    return total;
}

/* A box is worth a trial when it is as sure to fit as what is chosen and can be bought. */
static bool worth_trying(const struct build *b, const struct line_build *line, size_t candidate)
{
    const struct lb_candidate *c = &line->candidates.at[candidate];
    int64_t cost;
    return candidate != line->line.chosen && c->eligible && c->part->content_count &&
           c->fit >= chosen(line)->fit && build_price(b, c->part, c->quantity, &cost, NULL);
}

lb_status build_save(struct build *b)
{
    lb_status status = build_cover(b);
    int64_t best = total_cost(b), cost;
    for (size_t i = 0; !status && i < b->lines.count; i++) {
        struct line_build *line = &b->lines.at[i];
        if (!buys(line) || line->line.named ||
            !build_price(b, chosen(line)->part, chosen(line)->quantity, &cost, NULL))
            continue;
        for (size_t c = 0; !status && c < line->candidates.count; c++) {
            uint32_t before = line->line.chosen;
            if (!worth_trying(b, line, c))
                continue;
            line->line.chosen = (uint32_t)c;
            status = build_cover(b);
            int64_t now = total_cost(b);
            if (now >= best) {
                line->line.chosen = before;
                continue;
            }
            best = now;
            line->line.because = build_words(b, "what is in its box makes it the cheaper way (%s:%u)",
                                             line->candidates.at[c].part->contents[0].place.file,
                                             line->candidates.at[c].part->contents[0].place.line);
            if (!line->line.because)
                status = LB_NOMEM;
        }
    }
    return status;
}
