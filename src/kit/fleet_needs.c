/* The needs of a fleet's kits added up. Pure. */
#include "kit/fleet.h"

#include <stdlib.h>
#include <string.h>

struct summing {
    const struct lb_fleet *fleet;
    LB_VEC(struct lb_fleet_share) shares;
    uint32_t *root;  /* by share: the first one of those that are the same need; leads there step by step */
    uint32_t *sizes; /* by root */
    struct lb_names keys;
    LB_VEC(uint32_t) first; /* by key: a share that has it */
};

static uint32_t root_of(struct summing *s, uint32_t share)
{
    while (s->root[share] != share)
        share = s->root[share] = s->root[s->root[share]];
    return share;
}

/* The less of two is the root, so that needs stand where their first lines do. */
static void join(struct summing *s, uint32_t a, uint32_t b)
{
    a = root_of(s, a);
    b = root_of(s, b);
    s->root[a < b ? b : a] = a < b ? a : b;
}

static const struct lb_part *part_of(const struct lb_line *line)
{
    return line->chosen == LB_NO_NAME ? NULL : line->candidates[line->chosen].part;
}

static lb_status join_by(struct summing *s, uint32_t share, const struct lb_buf *key, struct lb_error *err)
{
    uint32_t id;
    size_t known = s->keys.count;
    if (key->failed || !lb_names_add(&s->keys, lb_buf_text(key), &id))
        return lb_fail_nomem(err);
    if (id == known)
        return LB_PUSH(&s->first, share) ? LB_OK : lb_fail_nomem(err);
    join(s, share, s->first.at[id]);
    return LB_OK;
}

static lb_status join_share(struct summing *s, uint32_t share, struct lb_buf *key, struct lb_error *err)
{
    const struct lb_line *line = s->shares.at[share].line;
    const struct lb_article *article = &line->need->article;
    const struct lb_part *part = part_of(line);
    lb_status status = LB_OK;
    if (article->spec.kind != LB_SPEC_NONE) {
        lb_buf_clear(key);
        lb_buf_printf(key, "s\x1f%s\x1f%s\x1f", article->part_type, article->unit);
        lb_spec_key(key, &article->spec);
        status = join_by(s, share, key, err);
    }
    if (!status && part) {
        lb_buf_clear(key);
        lb_buf_printf(key, "p\x1f%s\x1f%s\x1f%s", article->part_type, article->unit, part->key);
        status = join_by(s, share, key, err);
    }
    return status;
}

static lb_status gather(struct summing *s, struct lb_error *err)
{
    for (size_t k = 0; k < s->fleet->kit_count; k++)
        for (size_t i = 0; i < s->fleet->kits[k]->line_count; i++) {
            const struct lb_line *line = &s->fleet->kits[k]->lines[i];
            if (line->decision == LB_BUY && !LB_PUSH(&s->shares, ((struct lb_fleet_share){k, line})))
                return lb_fail_nomem(err);
        }
    return LB_OK;
}

static lb_status join_all(struct summing *s, struct lb_error *err)
{
    struct lb_buf key = {0};
    lb_status status = LB_OK;
    s->root = calloc(s->shares.count + 1, sizeof *s->root);
    s->sizes = calloc(s->shares.count + 1, sizeof *s->sizes);
    if (!s->root || !s->sizes)
        return lb_fail_nomem(err);
    for (uint32_t i = 0; i < s->shares.count; i++)
        s->root[i] = i;
    for (uint32_t i = 0; !status && i < s->shares.count; i++)
        status = join_share(s, i, &key, err);
    lb_buf_free(&key);
    for (uint32_t i = 0; !status && i < s->shares.count; i++)
        s->sizes[root_of(s, i)]++;
    return status;
}

/* What all lines of it agree on. */
static bool same_spec(const struct lb_spec *a, const struct lb_spec *b)
{
    return lb_spec_meets(a, b) && lb_spec_meets(b, a) && a->kind == b->kind;
}

static int64_t plus(int64_t a, int64_t b)
{
    return a > INT64_MAX - b ? INT64_MAX : a + b; /* neither is negative */
}

static void add_share(struct lb_fleet_need *need, struct lb_fleet_share *shares,
                      const struct lb_fleet_share *share)
{
    const struct lb_article *article = &share->line->need->article;
    const struct lb_part *part = part_of(share->line);
    if (!need->share_count) {
        need->part_type = article->part_type;
        need->unit = article->unit;
        need->spec = article->spec.text;
        need->part = part;
        need->shares = shares;
    } else if (!same_spec(&shares[0].line->need->article.spec, &article->spec)) {
        need->spec = NULL;
    }
    if (need->part && (!part || strcmp(need->part->key, part->key) != 0))
        need->part = NULL;
    need->quantity = plus(need->quantity, article->quantity);
    need->to_buy = plus(need->to_buy, share->line->to_buy);
    shares[need->share_count++] = *share;
}

static lb_status add_up(struct summing *s, struct lb_fleet_needs *out, struct lb_error *err)
{
    struct lb_fleet_need *needs = lb_arena_alloc(&out->memory, (s->shares.count + 1) * sizeof *needs);
    struct lb_fleet_share *shares = lb_arena_alloc(&out->memory, (s->shares.count + 1) * sizeof *shares);
    uint32_t *need_of = lb_arena_alloc(&out->memory, (s->shares.count + 1) * sizeof *need_of);
    struct lb_fleet_share **room = lb_arena_alloc(&out->memory, (s->shares.count + 1) * sizeof *room);
    if (!needs || !shares || !need_of || !room)
        return lb_fail_nomem(err);
    out->at = needs;
    for (uint32_t i = 0; i < s->shares.count; i++) {
        uint32_t root = root_of(s, i);
        if (root == i) {
            need_of[i] = (uint32_t)out->count;
            room[out->count++] = shares;
            shares += s->sizes[i];
        }
        add_share(&needs[need_of[root]], room[need_of[root]], &s->shares.at[i]);
    }
    return LB_OK;
}

lb_status lb_fleet_needs(struct lb_fleet_needs *out, const struct lb_fleet *fleet, struct lb_error *err)
{
    struct summing s = {.fleet = fleet};
    *out = (struct lb_fleet_needs){0};
    lb_status status = gather(&s, err);
    if (!status)
        status = join_all(&s, err);
    if (!status)
        status = add_up(&s, out, err);
    free(s.shares.at);
    free(s.root);
    free(s.sizes);
    free(s.first.at);
    lb_names_free(&s.keys);
    return status;
}

void lb_fleet_needs_free(struct lb_fleet_needs *needs)
{
    lb_arena_free(&needs->memory);
    *needs = (struct lb_fleet_needs){0};
}
