/* What may stand for a candidate: `same` (both ways, transitive), then `instead` (one way, once), then
 * successors along supersessions with their `same`. And the refusal of supersessions that go round in a
 * circle. */
#include "base/decimal.h"
#include "kit/build.h"

#include <stdlib.h>
#include <string.h>

/* Adds what one crossrefs relation gives for candidate `through`. */
static lb_status add_related(struct build *b, struct line_build *line, uint32_t through,
                             enum part_query query, enum lb_via via, struct mentions *found)
{
    lb_status status =
        build_mentions(b, build_query(b, query, line->candidates.at[through].part->key), found);
    for (size_t i = 0; !status && i < found->count; i++) {
        uint32_t part;
        status = build_part(b, found->at[i].key, found->at[i].brand, found->at[i].number, &part);
        if (!status)
            status = build_add(b, line,
                               (struct lb_candidate){.fit = line->candidates.at[through].fit,
                                                     .asks = line->candidates.at[through].asks,
                                                     .via = via,
                                                     .through = through,
                                                     .place = found->at[i].place},
                               part, NULL);
    }
    return status;
}

/* The `same` closure of the candidates from `first` on; those that it adds are followed too. */
static lb_status close_same(struct build *b, struct line_build *line, size_t first, struct mentions *found)
{
    lb_status status = LB_OK;
    for (size_t i = first; !status && i < line->candidates.count; i++)
        status = add_related(b, line, (uint32_t)i, QUERY_SAME, LB_VIA_SAME, found);
    return status;
}

/* A companion that is itself superseded by one other part gives way to it, as far as that leads; loops are
 * refused elsewhere, so a bound on the way is enough. */
static lb_status living(struct build *b, uint32_t part, const struct lb_part **out)
{
    lb_status status = LB_OK;
    for (int hop = 0; !status && hop < 64; hop++) {
        const struct entry *entry = b->parts.at[part];
        status = build_part(b, entry->part.key, NULL, NULL, &part);
        if (status || entry->part.live || entry->successors.count != 1)
            break;
        part = entry->successors.at[0].part;
    }
    *out = &b->parts.at[part]->part;
    return status;
}

/* Which of the parts that are needed together answers the line: the first of the line's part type, else the
 * first. */
static lb_status choose_main(struct build *b, const struct line_build *line, const struct entry *old,
                             size_t first, size_t end, size_t *main_part)
{
    *main_part = first;
    bool found = false;
    for (size_t i = first; i < end; i++) {
        uint32_t part;
        const char *key = b->part_keys.at[old->successors.at[i].part];
        lb_status status = build_part(b, key, NULL, NULL, &part);
        if (status)
            return status;
        const char *type = b->parts.at[part]->part.part_type;
        if (!found && type && strcmp(type, line->line.need->article.part_type) == 0) {
            *main_part = i;
            found = true;
        }
    }
    return LB_OK;
}

static lb_status add_companions(struct build *b, struct lb_candidate *candidate, const struct entry *old,
                                size_t first, size_t end, size_t main_part, int64_t quantity)
{
    struct lb_companion *companions = lb_arena_alloc(&b->arena, (end - first) * sizeof *companions);
    if (!companions)
        return lb_fail_nomem(b->err);
    candidate->companions = companions;
    for (size_t i = first; i < end; i++) {
        if (i == main_part)
            continue;
        struct lb_companion *companion = &companions[candidate->companion_count++];
        lb_status status = living(b, old->successors.at[i].part, &companion->part);
        if (status)
            return status;
        companion->quantity = lb_decimal_muldiv(quantity, old->successors.at[i].quantity, LB_MILLION);
    }
    return LB_OK;
}

/* One group of successors: all of them are needed together. */
static lb_status add_group(struct build *b, struct line_build *line, uint32_t through, size_t first,
                           size_t end)
{
    const struct entry *old = entry_of(line->candidates.at[through].part);
    int64_t quantity = line->candidates.at[through].quantity;
    struct lb_candidate candidate = {.fit = line->candidates.at[through].fit,
                                     .asks = line->candidates.at[through].asks,
                                     .via = LB_VIA_SUCCESSOR,
                                     .through = through};
    size_t main_part;
    lb_status status = choose_main(b, line, old, first, end, &main_part);
    if (!status)
        status = add_companions(b, &candidate, old, first, end, main_part, quantity);
    if (status)
        return status;
    const struct successor *successor = &old->successors.at[main_part];
    candidate.place = successor->place;
    candidate.quantity = lb_decimal_muldiv(quantity, successor->quantity, LB_MILLION);
    return build_add(b, line, candidate, successor->part, NULL);
}

static lb_status add_successors(struct build *b, struct line_build *line, uint32_t through)
{
    const struct entry *old = entry_of(line->candidates.at[through].part);
    lb_status status = LB_OK;
    for (size_t first = 0, end; !status && first < old->successors.count; first = end) {
        for (end = first + 1; end < old->successors.count; end++)
            if (strcmp(old->successors.at[end].group, old->successors.at[first].group) != 0)
                break;
        status = add_group(b, line, through, first, end);
    }
    return status;
}

lb_status build_substitutes(struct build *b, struct line_build *line)
{
    struct mentions found = {0};
    lb_status status = close_same(b, line, 0, &found);
    size_t members = line->candidates.count;
    for (size_t i = 0; !status && i < members; i++)
        status = add_related(b, line, (uint32_t)i, QUERY_INSTEAD, LB_VIA_INSTEAD, &found);
    for (size_t i = 0; !status && i < line->candidates.count; i++) {
        size_t before = line->candidates.count;
        status = add_successors(b, line, (uint32_t)i);
        if (!status)
            status = close_same(b, line, before, &found);
    }
    free(found.at);
    return status;
}

/* The supersessions that were read, walked depth first on a stack of their own. */
struct walk {
    struct build *b;
    struct step {
        uint32_t part;
        size_t next;
    } * path;
    size_t depth;
};

enum { COLOUR_NEW, COLOUR_ON_PATH, COLOUR_DONE };

static lb_status report_loop(struct walk *walk, uint32_t back_to)
{
    struct build *b = walk->b;
    struct lb_buf words = {0};
    size_t i = 0;
    while (walk->path[i].part != back_to)
        i++;
    lb_buf_puts(&words, "supersessions go round in a circle: ");
    for (size_t first = i; i < walk->depth; i++) {
        const struct entry *old = b->parts.at[walk->path[i].part];
        const struct successor *edge = &old->successors.at[walk->path[i].next - 1];
        const struct lb_part *next = &b->parts.at[edge->part]->part;
        lb_buf_printf(&words, "%s%s %s is replaced by %s %s (%s:%u)", i > first ? ", " : "", old->part.brand,
                      old->part.number, next->brand, next->number, edge->place.file, edge->place.line);
    }
    lb_buf_puts(&words, ". Remove or change one of these rows.");
    lb_status status = words.failed ? lb_fail_nomem(b->err) : lb_fail(b->err, LB_DATA, "%s", words.text);
    lb_buf_free(&words);
    return status;
}

static void enter(struct walk *walk, uint32_t part)
{
    walk->b->parts.at[part]->colour = COLOUR_ON_PATH;
    walk->path[walk->depth++] = (struct step){part, 0};
}

static lb_status walk_from(struct walk *walk, uint32_t part)
{
    enter(walk, part);
    while (walk->depth) {
        struct step *top = &walk->path[walk->depth - 1];
        struct entry *entry = walk->b->parts.at[top->part];
        if (top->next == entry->successors.count) {
            entry->colour = COLOUR_DONE;
            walk->depth--;
            continue;
        }
        uint32_t next = entry->successors.at[top->next++].part;
        unsigned colour = walk->b->parts.at[next]->colour;
        if (colour == COLOUR_ON_PATH)
            return report_loop(walk, next);
        if (colour == COLOUR_NEW)
            enter(walk, next);
    }
    return LB_OK;
}

lb_status build_refuse_loops(struct build *b)
{
    struct walk walk = {.b = b, .path = malloc((b->parts.count + 1) * sizeof *walk.path)};
    lb_status status = walk.path ? LB_OK : lb_fail_nomem(b->err);
    for (uint32_t i = 0; !status && i < b->parts.count; i++)
        if (b->parts.at[i] && b->parts.at[i]->colour == COLOUR_NEW)
            status = walk_from(&walk, i);
    free(walk.path);
    return status;
}
