/* Boxes (formats.md §3.7): what is in the box of a chosen part covers other lines, by quantity. And boxes
 * that pay: one that costs less than what it saves on the lines that it covers is proposed instead. */
#include "base/decimal.h"
#include "kit/build.h"
#include "kit/pool.h"

#include <string.h>

static bool buys(const struct line_build *line)
{
    return line->line.decision == LB_BUY && line->line.chosen != LB_NO_NAME;
}

static const struct lb_candidate *chosen(const struct line_build *line)
{
    return &line->candidates.at[line->line.chosen];
}

int64_t build_held_by_box(const struct build *b, const struct line_build *line)
{
    bool bare;
    const struct lb_part *part = chosen(line)->part;
    for (size_t i = 0; chosen(line)->via == LB_VIA_BOX && i < part->content_count; i++)
        if (build_content_meets(b, &part->contents[i], line, &bare))
            return part->contents[i].quantity;
    return 0;
}

/* Whole boxes, when it is a box that is bought for what is in it. */
static int64_t still_to_buy(const struct build *b, const struct line_build *line)
{
    int64_t held = build_held_by_box(b, line);
    return held ? lb_decimal_ceil_div(line->open, held) * LB_MILLION : line->open;
}

/* What the line wants when nothing is covered yet, beside what it has. */
static int64_t wants(const struct build *b, const struct line_build *line)
{
    int64_t held = line->line.to_buy ? build_held_by_box(b, line) : 0;
    if (!held)
        return line->line.to_buy;
    int64_t here = lb_decimal_muldiv(line->line.here + line->line.on_way, held, LB_MILLION);
    int64_t need = line->line.need->article.quantity;
    return need > here ? need - here : 0;
}

/* What one content of the boxes of a line holds and no line has been given yet. */
struct inside {
    int64_t left, seen_to; /* seen_to: of it, in boxes that are here or on their way; they are opened first */
};

/* Part of what one content of the box of line `from` holds goes to `line`, `most` at the most. */
static lb_status cover_line(struct build *b, size_t from, struct line_build *line,
                            const struct lb_content *content, int64_t most, struct inside *inside)
{
    bool bare;
    const struct line_build *box = &b->lines.at[from];
    if (!inside->left || !line->open || !build_content_meets(b, content, line, &bare))
        return LB_OK;
    /* A line that the same box was chosen for by its contents has said that the bare content is meant. */
    bool same_box = chosen(line)->part == chosen(box)->part;
    if (bare && !same_box && !lb_line_shares_component(&box->line, &line->line))
        return LB_OK;
    int64_t taken = inside->left < line->open ? inside->left : line->open;
    taken = taken < most ? taken : most;
    int64_t seen_to = taken < inside->seen_to ? taken : inside->seen_to;
    struct lb_cover cover = {chosen(box)->part, (uint32_t)from, taken, seen_to, content->place};
    inside->left -= taken;
    inside->seen_to -= seen_to;
    line->open -= taken;
    line->line.to_buy = still_to_buy(b, line);
    return LB_PUSH(&line->covers, cover) ? LB_OK : lb_fail_nomem(b->err);
}

/* How many boxes come to the bench: whole ones. */
static int64_t boxes_there(const struct line_build *line)
{
    return lb_decimal_ceil_div(line->line.to_buy + line->line.here + line->line.on_way, LB_MILLION);
}

static int64_t boxes_seen_to(const struct line_build *line)
{
    return (line->line.here + line->line.on_way) / LB_MILLION;
}

/* One box may answer several lines by its contents; lines that ask for the box itself each need their own. */
static bool may_cover(const struct line_build *line, const struct lb_part *box)
{
    return chosen(line)->part != box || chosen(line)->via == LB_VIA_BOX;
}

/* What the box was ordered for comes first. */
static lb_status cover_shares(struct build *b, size_t from, const struct lb_part *box,
                              const struct lb_content *content, struct inside *inside)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < b->lines.count; i++) {
        struct line_build *line = &b->lines.at[i];
        for (size_t s = 0; !status && i != from && buys(line) && s < line->box_shares.count; s++) {
            struct box_share *share = &line->box_shares.at[s];
            int64_t before = inside->left;
            if (!share->left || strcmp(share->key, box->key) != 0)
                continue;
            status = cover_line(b, from, line, content, share->left, inside);
            share->left -= before - inside->left;
        }
    }
    return status;
}

static lb_status open_box(struct build *b, size_t from)
{
    const struct lb_part *box = chosen(&b->lines.at[from])->part;
    int64_t boxes = boxes_there(&b->lines.at[from]);
    lb_status status = LB_OK;
    for (size_t c = 0; !status && c < box->content_count; c++) {
        int64_t quantity = box->contents[c].quantity;
        struct inside inside = {lb_decimal_muldiv(boxes, quantity, 1),
                                lb_decimal_muldiv(boxes_seen_to(&b->lines.at[from]), quantity, 1)};
        status = cover_shares(b, from, box, &box->contents[c], &inside);
        for (size_t i = 0; !status && i < b->lines.count; i++)
            if (i != from && buys(&b->lines.at[i]) && may_cover(&b->lines.at[i], box))
                status = cover_line(b, from, &b->lines.at[i], &box->contents[c], INT64_MAX, &inside);
    }
    return status;
}

lb_status build_cover(struct build *b)
{
    lb_status status = LB_OK;
    for (size_t i = 0; i < b->lines.count; i++) {
        struct line_build *line = &b->lines.at[i];
        line->covers.count = 0;
        for (size_t s = 0; s < line->box_shares.count; s++)
            line->box_shares.at[s].left = line->box_shares.at[s].quantity;
        build_count_supply(line);
        line->open = buys(line) ? wants(b, line) : 0;
    }
    for (size_t i = 0; !status && i < b->lines.count; i++)
        if (boxes_there(&b->lines.at[i]) && chosen(&b->lines.at[i])->part->content_count)
            status = open_box(b, i);
    build_fill_shelf(b);
    for (size_t i = 0; !status && i < b->lines.count; i++)
        build_count_shelf(&b->lines.at[i]);
    return status;
}

/* What all lines cost as they stand, for comparison; lines that cannot be priced count nothing. */
static int64_t total_cost(const struct build *b)
{
    int64_t total = 0, cost;
    for (size_t i = 0; i < b->lines.count; i++) {
        const struct line_build *line = &b->lines.at[i];
        if (!buys(line))
            continue;
        if (line->line.to_buy && build_price(b, chosen(line)->part, line->line.to_buy, &cost, NULL))
            total += cost;
        for (size_t c = 0; c < chosen(line)->companion_count; c++) {
            const struct lb_companion *companion = &chosen(line)->companions[c];
            if (companion->to_buy && build_price(b, companion->part, companion->to_buy, &cost, NULL))
                total += cost;
        }
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
        if (!buys(line) || line->line.named || line->supplied ||
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
