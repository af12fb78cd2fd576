/* What need not be bought any more: what was ordered for the lines and what came of it, and what lies on the
 * shelf. */
#include "base/decimal.h"
#include "kit/build.h"

#include <string.h>

static struct line_build *find_line(struct build *b, const char *key)
{
    for (size_t i = 0; i < b->lines.count; i++)
        if (strcmp(b->lines.at[i].line.need->key, key) == 0)
            return &b->lines.at[i];
    return NULL; /* the map or the facts have changed: nothing needs it now */
}

static lb_status read_supply(struct build *b, struct line_build *line, struct lb_statement *st)
{
    struct supply supply = {.beside = lb_integer(st, 4) != 0,
                            .ordered = lb_integer(st, 5) != 0,
                            .here = lb_integer(st, 6),
                            .on_way = lb_integer(st, 7)};
    line->line.lost |= lb_integer(st, 8) > 0;
    lb_status status = build_text(b, lb_text(st, 1), &supply.key);
    if (!status)
        status = build_text(b, lb_text(st, 2), &supply.brand);
    if (!status)
        status = build_text(b, lb_text(st, 3), &supply.number);
    if (status || supply.here + supply.on_way <= 0)
        return status;
    return LB_PUSH(&line->supplies, supply) ? LB_OK : lb_fail_nomem(b->err);
}

static lb_status read_box_share(struct build *b, struct line_build *line, struct lb_statement *st)
{
    struct box_share share = {.quantity = lb_integer(st, 4)};
    lb_status status = build_text(b, lb_text(st, 1), &share.key);
    if (status)
        return status;
    return LB_PUSH(&line->box_shares, share) ? LB_OK : lb_fail_nomem(b->err);
}

/* A query over the kit's rows whose first column is the line's key; three texts behind it are never NULL. */
static lb_status read_rows(struct build *b, const char *sql,
                           lb_status (*read)(struct build *, struct line_build *, struct lb_statement *))
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(b->store, &st, sql, b->err);
    if (status)
        return status;
    lb_bind_integer(st, 1, b->id);
    while (!(status = lb_step(st, &row, b->err)) && row) {
        status = lb_need_texts(st, 0, 4, b->err);
        struct line_build *line = status ? NULL : find_line(b, lb_text(st, 0));
        if (line)
            status = read(b, line, st);
        if (status)
            break;
    }
    lb_statement_free(st);
    return status;
}

/* What was ordered first answers the line, unless the owner has named another part since. */
static lb_status answer(struct build *b, struct line_build *line)
{
    for (size_t i = 0; i < line->supplies.count && !line->line.named; i++) {
        const struct supply *supply = &line->supplies.at[i];
        if (supply->beside)
            continue;
        line->supplied = true;
        return build_take_part(b, line, supply->brand, supply->number, LB_VIA_ORDERED);
    }
    return LB_OK;
}

static lb_status read_shelf(struct build *b)
{
    lb_status status = lb_shelf_load(&b->shelf, b->store, b->err);
    for (size_t i = 0; !status && b->shelf.items.count && i < b->parts.count; i++) {
        struct entry *entry = b->parts.at[i];
        const struct lb_shelf_item *item = entry ? lb_shelf_find(&b->shelf, entry->part.key) : NULL;
        if (!item)
            continue;
        entry->shelf = item->quantity;
        entry->shelf_opened = item->opened;
    }
    return status;
}

lb_status build_supply(struct build *b)
{
    lb_status status =
        read_rows(b,
                  "SELECT line_key, part, brand, part_number, min(beside), max(order_line IS NOT NULL), "
                  "sum(here), sum(quantity - here - lost), sum(lost), min(id) FROM supply WHERE kit = ?1 "
                  "GROUP BY line_key, part ORDER BY 10",
                  read_supply);
    if (!status)
        status = read_rows(b,
                           "SELECT line_key, part, part, part, quantity FROM supply_box WHERE kit = ?1 "
                           "ORDER BY line_key, part",
                           read_box_share);
    for (size_t i = 0; !status && i < b->lines.count; i++)
        status = answer(b, &b->lines.at[i]);
    return status ? status : read_shelf(b);
}

const struct supply *build_supply_of(const struct line_build *line, const char *part_key)
{
    for (size_t i = 0; i < line->supplies.count; i++)
        if (strcmp(line->supplies.at[i].key, part_key) == 0)
            return &line->supplies.at[i];
    return NULL;
}

void build_fill_shelf(struct build *b)
{
    for (size_t i = 0; i < b->parts.count; i++)
        if (b->parts.at[i])
            b->parts.at[i]->shelf_left = b->parts.at[i]->shelf;
}

bool build_shelf_has(const struct lb_candidate *candidate)
{
    bool has = entry_of(candidate->part)->shelf_left >= candidate->quantity;
    for (size_t i = 0; has && i < candidate->companion_count; i++)
        has = entry_of(candidate->companions[i].part)->shelf_left >= candidate->companions[i].quantity;
    return has;
}

static int64_t take(const struct lb_part *part, int64_t quantity)
{
    int64_t taken = lb_least(entry_of(part)->shelf_left, quantity);
    entry_of(part)->shelf_left -= taken;
    return taken;
}

void build_shelf_take(const struct lb_candidate *candidate)
{
    take(candidate->part, candidate->quantity);
    for (size_t i = 0; i < candidate->companion_count; i++)
        take(candidate->companions[i].part, candidate->companions[i].quantity);
}

static const struct lb_candidate *chosen(const struct line_build *line)
{
    return line->line.chosen == LB_NO_NAME ? NULL : &line->candidates.at[line->line.chosen];
}

void build_count_supply(struct line_build *line)
{
    const struct lb_candidate *candidate = chosen(line);
    const struct supply *supply = candidate ? build_supply_of(line, candidate->part->key) : NULL;
    line->line.here = supply ? supply->here : 0;
    line->line.on_way = supply ? supply->on_way : 0;
    line->line.from_shelf = 0;
    line->line.opened = false;
    line->line.to_buy = line->line.decision == LB_BUY && candidate ? candidate->quantity : 0;
    line->line.to_buy -= lb_least(line->line.to_buy, line->line.here + line->line.on_way);
}

static void count_companions(struct line_build *line, const struct lb_candidate *candidate)
{
    const struct lb_line *l = &line->line;
    bool wanted = l->decision == LB_BUY && (l->to_buy || build_is_seen_to(l));
    for (size_t i = 0; i < candidate->companion_count; i++) {
        struct lb_companion *companion = (struct lb_companion *)&candidate->companions[i]; /* the kit's own */
        const struct supply *supply = build_supply_of(line, companion->part->key);
        companion->to_buy = wanted ? companion->quantity : 0;
        companion->seen_to = supply ? supply->here + supply->on_way : 0;
        companion->to_buy -= lb_least(companion->to_buy, companion->seen_to);
        companion->to_buy -= take(companion->part, companion->to_buy);
    }
}

void build_count_shelf(struct line_build *line)
{
    const struct lb_candidate *candidate = chosen(line);
    if (!candidate)
        return;
    line->line.from_shelf = take(candidate->part, line->line.to_buy);
    line->line.opened = line->line.from_shelf && entry_of(candidate->part)->shelf_opened;
    line->line.to_buy -= line->line.from_shelf;
    count_companions(line, candidate);
}

bool build_is_seen_to(const struct lb_line *line)
{
    return !line->to_buy && (line->here || line->on_way || line->from_shelf);
}

bool lb_line_wants_again(const struct lb_line *line)
{
    bool wants = line->to_buy > 0;
    const struct lb_candidate *chosen = line->chosen == LB_NO_NAME ? NULL : &line->candidates[line->chosen];
    for (size_t i = 0; chosen && i < chosen->companion_count; i++)
        wants |= chosen->companions[i].to_buy > 0;
    return line->lost && wants && line->decision == LB_BUY;
}
