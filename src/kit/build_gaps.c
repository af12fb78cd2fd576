/* What keeps a kit from being complete, one sentence a gap (formats.md §3, "Verdict"). */
#include "base/decimal.h"
#include "base/shell.h"
#include "kit/build.h"
#include "kit/former.h"

#include <string.h>

const char *lb_gap_name(enum lb_gap_code code)
{
    static const char *const names[] = {"no-part",      "no-offer",    "fit-unknown",       "superseded",
                                        "discontinued", "stock-short", "reused-single-use", "ask"};
    return names[code];
}

const char *lb_decision_name(enum lb_decision decision)
{
    static const char *const names[] = {"buy", "have", "reuse", "drop"};
    return names[decision];
}

const char *lb_fit_name(enum lb_fit fit)
{
    static const char *const names[] = {"no", "ask", "fits"};
    return names[fit];
}

static lb_status add(struct build *b, const struct lb_line *line, enum lb_gap_code code, const char *message)
{
    if (!message)
        return LB_NOMEM;
    return LB_PUSH(&b->gaps, ((struct lb_gap){code, line->number, message})) ? LB_OK : lb_fail_nomem(b->err);
}

static const char *what(const struct lb_line *line)
{
    return line->need->article.part_type;
}

/* What a part has lost since an earlier edition, behind `first`; "": nothing. NULL: out of memory. */
static const char *lost(struct build *b, const struct lb_part *part, const char *first)
{
    struct lb_buf words = {0};
    lb_former_say_lost(&words, part, first, "; ");
    const char *kept = words.failed ? (lb_fail_nomem(b->err), (const char *)NULL)
                                    : build_words(b, "%s", lb_buf_text(&words));
    lb_buf_free(&words);
    return kept;
}

/* Like add, with what the part has lost behind the message. */
static lb_status add_lost(struct build *b, const struct lb_line *line, enum lb_gap_code code,
                          const struct lb_part *part, const char *message)
{
    const char *more = lost(b, part, "; ");
    return add(b, line, code, message && more ? build_words(b, "%s%s", message, more) : NULL);
}

/* " any more. There was Kestrel K-100: …": what would have done and is listed no more; "": nothing. */
static const char *say_gone(struct build *b, const struct lb_line *line)
{
    if (!line->gone_count)
        return "";
    const struct lb_part *part = line->gone[0];
    const char *more = lost(b, part, ": ");
    return more ? build_words(b, " any more. There was %s %s%s", part->brand, part->number, more) : NULL;
}

/* The kit's name as a command takes it; NULL: out of memory, b->err is filled. */
static const char *shell_name(struct build *b)
{
    struct lb_buf room = {0};
    const char *word = NULL;
    lb_shell_word(&room, b->kit.name);
    if (room.failed)
        lb_fail_nomem(b->err);
    else
        word = build_words(b, "%s", room.text);
    lb_buf_free(&room);
    return word;
}

static lb_status gap_no_candidate(struct build *b, const struct line_build *line)
{
    const struct lb_article *article = &line->line.need->article;
    const char *spec = article->spec.text ? article->spec.text : "", *gone = say_gone(b, &line->line);
    const char *kit = shell_name(b);
    if (!gone || !kit)
        return LB_NOMEM;
    return add(b, &line->line, LB_GAP_NO_PART,
               build_words(b,
                           "%s%s%s: no catalogue has a part for it%s. Import one that does, or name a part: "
                           "kit set %s %d buy BRAND NUMBER",
                           what(&line->line), *spec ? " " : "", spec, gone, kit, line->line.number));
}

/* Every candidate is past: say what became of the first one. */
static lb_status gap_none_eligible(struct build *b, const struct line_build *line)
{
    const struct lb_candidate *first = &line->candidates.at[0];
    for (size_t i = 0; i < line->candidates.count; i++)
        if (line->candidates.at[i].part->superseded || line->candidates.at[i].part->discontinued)
            first = &line->candidates.at[i];
    const struct lb_part *part = first->part;
    if (part->superseded)
        return add_lost(b, &line->line, LB_GAP_SUPERSEDED, part,
                        build_words(b,
                                    "%s: %s %s is superseded, and no number that replaces it can be bought",
                                    what(&line->line), part->brand, part->number));
    if (part->discontinued)
        return add_lost(b, &line->line, LB_GAP_DISCONTINUED, part,
                        build_words(b, "%s: %s %s is discontinued and nobody has any left", what(&line->line),
                                    part->brand, part->number));
    return add(
        b, &line->line, LB_GAP_NO_OFFER,
        build_words(
            b,
            "%s: %s %s is sold by %s, but the job needs %s. State its unit and pack_quantity in that measure",
            what(&line->line), part->brand, part->number, entry_of(part)->unit,
            line->line.need->article.unit));
}

static int64_t stock_of(const struct lb_part *part)
{
    int64_t total = 0;
    for (size_t i = 0; i < part->offer_count; i++) {
        if (!part->offers[i].live)
            continue;
        if (part->offers[i].stock < 0)
            return INT64_MAX; /* not stated is taken as enough */
        int64_t here = lb_decimal_muldiv(part->offers[i].stock, part->offers[i].pack_quantity, 1);
        total = here > INT64_MAX - total ? INT64_MAX : total + here;
    }
    return total;
}

static bool out_of_stock(const struct lb_part *part)
{
    for (size_t i = 0; i < part->offer_count; i++)
        if (part->offers[i].stock >= 0 && part->offers[i].stock < part->offers[i].minimum_packs)
            return true;
    return false;
}

static lb_status gap_not_live(struct build *b, const struct lb_line *line, const struct lb_part *part)
{
    if (part->superseded)
        return add_lost(b, line, LB_GAP_SUPERSEDED, part,
                        build_words(b, "%s: %s %s is superseded and cannot be bought", what(line),
                                    part->brand, part->number));
    if (part->discontinued)
        return add_lost(b, line, LB_GAP_DISCONTINUED, part,
                        build_words(b, "%s: %s %s is discontinued and cannot be bought", what(line),
                                    part->brand, part->number));
    if (out_of_stock(part))
        return add_lost(
            b, line, LB_GAP_STOCK_SHORT, part,
            build_words(b, "%s: %s %s is out of stock everywhere", what(line), part->brand, part->number));
    return add_lost(
        b, line, LB_GAP_NO_OFFER, part,
        build_words(b, "%s: no supplier offers %s %s now", what(line), part->brand, part->number));
}

/* The number that the owner's catalogue lists is past, and what took its place cannot be had either. */
static lb_status gap_successor(struct build *b, const struct line_build *line, const struct lb_candidate *c)
{
    const struct lb_part *old = line->candidates.at[c->through].part;
    return add_lost(b, &line->line, LB_GAP_SUPERSEDED, c->part,
                    build_words(b, "%s: %s %s is superseded by %s %s, which nobody offers now",
                                what(&line->line), old->brand, old->number, c->part->brand, c->part->number));
}

/* The currency of its first live offer: when none can be compared, that one cannot. */
static const char *offered_in(const struct lb_part *part)
{
    for (size_t i = 0; i < part->offer_count; i++)
        if (part->offers[i].live)
            return part->offers[i].currency;
    return "another currency";
}

static lb_status gap_supply(struct build *b, const struct lb_line *line, const struct lb_part *part,
                            int64_t quantity)
{
    struct lb_buf have = {0}, need = {0};
    int64_t stock = stock_of(part);
    if (!part->live)
        return gap_not_live(b, line, part);
    if (!build_comparable(b, part))
        return add(b, line, LB_GAP_NO_OFFER,
                   build_words(b, "%s: %s %s is offered in %s only, and no rates row leads to %s", what(line),
                               part->brand, part->number, offered_in(part), b->market.currency));
    if (stock >= quantity)
        return LB_OK;
    lb_decimal_print(&have, stock);
    lb_decimal_print(&need, quantity);
    lb_status status = add(b, line, LB_GAP_STOCK_SHORT,
                           build_words(b, "%s: %s %s: %s needed, all suppliers together have %s", what(line),
                                       part->brand, part->number, lb_buf_text(&need), lb_buf_text(&have)));
    lb_buf_free(&have);
    lb_buf_free(&need);
    return status;
}

/* Whether the part fits depends on facts, or no catalogue says that it does (any more). */
static lb_status gap_fit(struct build *b, const struct lb_line *line, const struct lb_candidate *c)
{
    const struct lb_part *part = c->part;
    const struct lb_former *row = lb_former_fit(part);
    const char *message = c->asks ? build_words(b, "%s: whether %s %s fits depends on: %s", what(line),
                                                part->brand, part->number, c->asks)
                                  : build_words(b, "%s: no catalogue says that %s %s fits this vehicle",
                                                what(line), part->brand, part->number);
    if (message && !c->asks && row)
        message = build_words(b, "%s%s; %s %s until %.10s", message, row->applied ? " now" : "",
                              row->place.file, row->applied ? "did" : "listed it", row->gone);
    return add(b, line, LB_GAP_FIT_UNKNOWN, message);
}

static lb_status gap_candidate(struct build *b, const struct line_build *line, const struct lb_candidate *c,
                               int64_t quantity)
{
    if (c->via == LB_VIA_SUCCESSOR && !c->part->offer_count)
        return gap_successor(b, line, c);
    return gap_supply(b, &line->line, c->part, quantity);
}

static lb_status gap_chosen(struct build *b, const struct line_build *line)
{
    const struct lb_candidate *c = &line->candidates.at[line->line.chosen];
    lb_status status = c->fit == LB_FIT_YES ? LB_OK : gap_fit(b, &line->line, c);
    return status ? status : gap_candidate(b, line, c, line->line.to_buy);
}

static lb_status gap_companions(struct build *b, const struct line_build *line)
{
    const struct lb_candidate *c = &line->candidates.at[line->line.chosen];
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < c->companion_count; i++)
        if (c->companions[i].to_buy)
            status = gap_supply(b, &line->line, c->companions[i].part, c->companions[i].to_buy);
    return status;
}

static int64_t beside_shelf(const struct lb_part *part, int64_t quantity)
{
    return quantity > entry_of(part)->shelf ? quantity - entry_of(part)->shelf : 0;
}

lb_status build_judge(struct build *b, const struct line_build *line, const struct lb_candidate *c,
                      int64_t quantity)
{
    lb_status status = c->fit == LB_FIT_YES ? LB_OK : gap_fit(b, &line->line, c);
    int64_t wanted = beside_shelf(c->part, quantity);
    if (!status && wanted)
        status = gap_candidate(b, line, c, wanted);
    for (size_t i = 0; !status && i < c->companion_count; i++) {
        const struct lb_companion *companion = &c->companions[i];
        wanted = beside_shelf(companion->part,
                              c->quantity ? lb_decimal_muldiv(companion->quantity, quantity, c->quantity)
                                          : companion->quantity);
        if (wanted)
            status = gap_supply(b, &line->line, companion->part, wanted);
    }
    return status;
}

static lb_status gap_to_buy(struct build *b, const struct line_build *line)
{
    if (line->line.chosen != LB_NO_NAME) {
        lb_status status = line->line.to_buy ? gap_chosen(b, line) : LB_OK;
        return status ? status : gap_companions(b, line);
    }
    return line->candidates.count ? gap_none_eligible(b, line) : gap_no_candidate(b, line);
}

static lb_status gap_ask(struct build *b, const struct lb_line *line)
{
    struct lb_buf facts = {0};
    for (size_t i = 0; i < line->need->doubt_count; i++)
        lb_buf_printf(&facts, "%s%s", i ? ", " : "", b->kit.plan->map->facts[line->need->doubts[i]]);
    lb_status status =
        add(b, line, LB_GAP_ASK,
            build_words(b, "%s: whether it is needed depends on: %s", what(line), lb_buf_text(&facts)));
    lb_buf_free(&facts);
    return status;
}

static lb_status line_gaps(struct build *b, const struct line_build *line)
{
    const struct lb_line *l = &line->line;
    enum lb_reason reason = l->need->reason;
    lb_status status = LB_OK;
    if (l->spare || l->decision == LB_HAVE || l->decision == LB_DROP)
        return LB_OK;
    if (!l->need->sure && !(l->decision == LB_BUY && build_is_seen_to(l)))
        status = gap_ask(b, l);
    if (!status && l->decision == LB_BUY)
        status = gap_to_buy(b, line);
    if (!status && l->decision == LB_REUSE && (reason == LB_SINGLE_USE || reason == LB_SEALING))
        status =
            add(b, l, LB_GAP_REUSED_SINGLE_USE,
                build_words(b, "%s: is to be reused, but its map says that it must not go back", what(l)));
    return status;
}

lb_status build_gaps(struct build *b)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < b->lines.count; i++)
        status = line_gaps(b, &b->lines.at[i]);
    b->kit.gaps = b->gaps.at;
    b->kit.gap_count = b->gaps.count;
    return status;
}
