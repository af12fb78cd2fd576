#include "kit/pool.h"

#include "base/decimal.h"
#include "kit/build.h"

#include <stdlib.h>
#include <string.h>

static struct build *build_of(const struct lb_kit *kit)
{
    return (struct build *)kit; /* its first member */
}

static struct line_build *line_of(const struct lb_kit *kit, const struct lb_line *line)
{
    return &build_of(kit)->lines.at[line->number - 1];
}

struct lb_wanting lb_kit_wanting(const struct lb_kit *kit, const struct lb_line *line)
{
    int64_t need = line->need->article.quantity, here = line->here + line->on_way, covered = 0;
    for (size_t i = 0; i < line->cover_count; i++)
        covered += line->covers[i].seen_to;
    struct lb_wanting wanting = {.of_need = need - covered, .fixed = here > 0 && line->chosen != LB_NO_NAME};
    if (wanting.fixed) {
        int64_t whole = line->candidates[line->chosen].quantity;
        int64_t held = build_held_by_box(build_of(kit), line_of(kit, line));
        wanting.of_part = whole - here - (held ? 0 : covered);
        wanting.of_need = held ? wanting.of_need - lb_decimal_muldiv(here, held, LB_MILLION)
                               : lb_decimal_muldiv(need, wanting.of_part, whole);
    }
    wanting.of_need = wanting.of_need > 0 ? wanting.of_need : 0;
    wanting.of_part = wanting.of_part > 0 && wanting.of_need ? wanting.of_part : 0;
    return wanting;
}

lb_status build_count_currencies(struct currency_count *count, const struct lb_part *part,
                                 struct lb_error *err)
{
    for (size_t i = 0; i < part->offer_count; i++) {
        uint32_t id;
        if (!part->offers[i].live)
            continue;
        if (!lb_names_add(&count->codes, part->offers[i].currency, &id) ||
            (id == count->offers.count && !LB_PUSH(&count->offers, 0)))
            return lb_fail_nomem(err);
        count->offers.at[id]++;
    }
    return LB_OK;
}

const char *build_most_currency(const struct currency_count *count)
{
    uint32_t best = LB_NO_NAME;
    for (uint32_t id = 0; id < count->offers.count; id++)
        if (best == LB_NO_NAME || count->offers.at[id] > count->offers.at[best] ||
            (count->offers.at[id] == count->offers.at[best] &&
             strcmp(count->codes.at[id], count->codes.at[best]) < 0))
            best = id;
    return best == LB_NO_NAME ? "" : count->codes.at[best];
}

void build_free_currencies(struct currency_count *count)
{
    free(count->offers.at);
    lb_names_free(&count->codes);
}

static lb_status count_kit(struct currency_count *count, struct lb_names *seen, const struct build *b,
                           struct lb_error *err)
{
    lb_status status = LB_OK;
    for (size_t p = 0; !status && p < b->parts.count; p++) {
        const struct entry *entry = b->parts.at[p];
        size_t known = seen->count;
        uint32_t id;
        if (!entry || !entry->part.offer_count)
            continue;
        if (!lb_names_add(seen, entry->part.key, &id))
            return lb_fail_nomem(err);
        if (seen->count > known)
            status = build_count_currencies(count, &entry->part, err);
    }
    return status;
}

lb_status lb_kits_currency(const char **out, struct lb_kit *const *kits, size_t kit_count,
                           struct lb_error *err)
{
    struct currency_count count = {0};
    struct lb_names seen = {0};
    lb_status status = LB_OK;
    *out = kit_count ? build_of(kits[0])->market.currency : "";
    for (size_t k = 0; !status && kit_count > 1 && k < kit_count; k++)
        status = count_kit(&count, &seen, build_of(kits[k]), err);
    if (!status && kit_count > 1) {
        struct build *first = build_of(kits[0]);
        first->err = err;
        status = build_text(first, build_most_currency(&count), out);
    }
    build_free_currencies(&count);
    lb_names_free(&seen);
    return status;
}

void lb_kit_compare_in(struct lb_kit *kit, const char *currency)
{
    build_of(kit)->market.currency = currency;
}

static bool there_is(const struct build *b, const struct lb_part *part)
{
    return entry_of(part)->shelf > 0 || build_comparable(b, part);
}

bool lb_kit_can_have(const struct lb_kit *kit, const struct lb_candidate *candidate)
{
    const struct build *b = build_of(kit);
    bool can = candidate->eligible && there_is(b, candidate->part);
    for (size_t i = 0; can && i < candidate->companion_count; i++)
        can = there_is(b, candidate->companions[i].part);
    return can;
}

lb_status lb_kit_judge(struct lb_kit *kit, const struct lb_line *line, const struct lb_candidate *candidate,
                       int64_t quantity, const struct lb_gap **gaps, size_t *gap_count, struct lb_error *err)
{
    struct build *b = build_of(kit);
    size_t before = b->gaps.count;
    b->err = err;
    lb_status status = build_judge(b, line_of(kit, line), candidate, quantity);
    *gap_count = b->gaps.count - before;
    struct lb_gap *kept = status ? NULL : lb_arena_alloc(&b->arena, (*gap_count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(err);
    for (size_t i = 0; !status && i < *gap_count; i++)
        kept[i] = b->gaps.at[before + i];
    b->gaps.count = before;
    kit->gaps = b->gaps.at; /* they may have moved */
    *gaps = kept;
    return status;
}

bool lb_kit_content_meets(const struct lb_kit *kit, const struct lb_content *content,
                          const struct lb_line *line, bool *bare)
{
    return build_content_meets(build_of(kit), content, line_of(kit, line), bare);
}

bool lb_line_shares_component(const struct lb_line *a, const struct lb_line *b)
{
    for (size_t i = 0; i < a->need->origin_count; i++)
        for (size_t k = 0; k < b->need->origin_count; k++)
            if (a->need->origins[i].component != LB_NO_NAME &&
                a->need->origins[i].component == b->need->origins[k].component)
                return true;
    return false;
}
