#include "plan/tray.h"

#include <stdlib.h>
#include <string.h>

static const char *pool_prefix(enum pool pool)
{
    static const char *const prefixes[] = {"", "fluid|", "spare|"};
    return prefixes[pool];
}

static bool may_merge(enum pool pool, const struct lb_article *article)
{
    return pool == POOL_FLUIDS || article->spec.kind != LB_SPEC_NONE;
}

/* What lines have in common that merge; empty when this one stays alone: without a spec nothing proves
 * sameness. */
static void write_merge_key(struct lb_buf *out, enum pool pool, const struct lb_article *article)
{
    lb_buf_clear(out);
    if (!may_merge(pool, article))
        return;
    lb_buf_printf(out, "%s%s|", pool_prefix(pool), article->part_type);
    lb_spec_key(out, &article->spec);
    lb_buf_printf(out, "|%s", article->unit);
}

/* Makes the key in tray->text unique: #2, #3 … where the map itself does not tell two lines apart. */
static const char *unique_key(struct tray *tray)
{
    uint32_t id;
    size_t length = tray->text.length;
    for (int copy = 2;; copy++) {
        size_t known = tray->line_keys.count;
        if (tray->text.failed || !lb_names_add(&tray->line_keys, tray->text.text, &id))
            return NULL;
        if (tray->line_keys.count > known)
            return lb_arena_text(tray->w->arena, tray->text.text, tray->text.length);
        tray->text.length = length;
        lb_buf_printf(&tray->text, "#%d", copy);
    }
}

static struct draft *draft_new(struct tray *tray, enum pool pool, enum lb_reason reason,
                               const struct lb_article *article)
{
    struct draft draft = {.pool = pool, .need = {.article = *article, .reason = reason}};
    draft.need.article.quantity = 0;
    draft.need.key = unique_key(tray);
    if (!draft.need.key || !LB_PUSH(&tray->drafts, draft)) {
        lb_fail_nomem(tray->w->err);
        return NULL;
    }
    return &tray->drafts.at[tray->drafts.count - 1];
}

struct draft *tray_line(struct tray *tray, enum pool pool, enum lb_reason reason,
                        const struct lb_article *article, uint32_t component, const char *label)
{
    uint32_t id;
    write_merge_key(&tray->text, pool, article);
    if (!tray->text.length) {
        lb_buf_printf(&tray->text, "%s%s|@%s/%s", pool_prefix(pool), article->part_type,
                      tray->w->map->components[component], label);
        return draft_new(tray, pool, reason, article);
    }
    size_t known = tray->merge_keys.count;
    if (tray->text.failed || !lb_names_add(&tray->merge_keys, tray->text.text, &id)) {
        lb_fail_nomem(tray->w->err);
        return NULL;
    }
    if (tray->merge_keys.count > known) {
        if (LB_PUSH(&tray->by_merge_key, (uint32_t)tray->drafts.count))
            return draft_new(tray, pool, reason, article);
        lb_fail_nomem(tray->w->err);
        return NULL;
    }
    struct draft *draft = &tray->drafts.at[tray->by_merge_key.at[id]];
    if (reason < draft->need.reason)
        draft->need.reason = reason;
    return draft;
}

lb_status tray_derive(struct tray *tray, struct draft *draft, struct lb_origin origin,
                      const struct ways *ways, const struct lb_row *row)
{
    origin.sure = !ways && certain(row);
    draft->need.sure |= origin.sure;
    draft->need.article.quantity += origin.quantity;
    if (!draft->need.sure && !ways_add(tray->w, &draft->ways, ways, row, NULL))
        return LB_NOMEM;
    return LB_PUSH(&draft->origins, origin) ? LB_OK : lb_fail_nomem(tray->w->err);
}

lb_status tray_mention(struct tray *tray, struct draft *draft, struct lb_origin origin)
{
    origin.quantity = 0;
    origin.sure = false;
    return LB_PUSH(&draft->origins, origin) ? LB_OK : lb_fail_nomem(tray->w->err);
}

/* The facts that a line hangs on, as numbers. */
static lb_status keep_doubts(struct work *w, const struct draft *draft, struct lb_need *out)
{
    uint64_t *facts = lb_plan_alloc(w, w->words, sizeof *facts);
    size_t count = 0;
    if (!facts)
        return LB_NOMEM;
    ways_facts(w, &draft->ways, facts);
    for (size_t i = 0; i < w->words; i++)
        count += (size_t)__builtin_popcountll(facts[i]);
    uint32_t *doubts = lb_plan_alloc(w, count + 1, sizeof *doubts);
    if (!doubts)
        return LB_NOMEM;
    for (uint32_t fact = 0; fact < w->map->fact_count; fact++)
        if (facts[fact / 64] >> (fact % 64) & 1)
            doubts[out->doubt_count++] = fact;
    out->doubts = doubts;
    return LB_OK;
}

/* Copies what the plan keeps of a draft into its memory. */
static lb_status keep(struct tray *tray, const struct draft *draft, struct lb_need *out)
{
    struct lb_origin *origins = lb_plan_alloc(tray->w, draft->origins.count, sizeof *origins);
    if (!origins)
        return LB_NOMEM;
    memcpy(origins, draft->origins.at, draft->origins.count * sizeof *origins);
    *out = draft->need;
    out->origins = origins;
    out->origin_count = draft->origins.count;
    return out->sure ? LB_OK : keep_doubts(tray->w, draft, out);
}

static lb_status serve_pool(struct tray *tray, bool spares, const struct lb_need **out, size_t *count)
{
    struct lb_need *needs = lb_plan_alloc(tray->w, tray->drafts.count + 1, sizeof *needs);
    if (!needs)
        return LB_NOMEM;
    *out = needs;
    for (int reason = LB_TARGET; reason <= LB_MISSED_BEFORE; reason++) {
        for (size_t i = 0; i < tray->drafts.count; i++) {
            struct draft *draft = &tray->drafts.at[i];
            if ((draft->pool == POOL_SPARES) != spares || (int)draft->need.reason != reason)
                continue;
            if (!spares)
                tray->w->need_ways[*count] = draft->ways;
            lb_status status = keep(tray, draft, &needs[(*count)++]);
            if (status)
                return status;
        }
    }
    return LB_OK;
}

lb_status tray_serve(struct tray *tray)
{
    struct lb_plan *plan = tray->w->plan;
    tray->w->need_ways = lb_plan_alloc(tray->w, tray->drafts.count + 1, sizeof *tray->w->need_ways);
    if (!tray->w->need_ways)
        return LB_NOMEM;
    lb_status status = serve_pool(tray, false, &plan->needs, &plan->need_count);
    return status ? status : serve_pool(tray, true, &plan->spares, &plan->spare_count);
}

void tray_free(struct tray *tray)
{
    for (size_t i = 0; i < tray->drafts.count; i++)
        free(tray->drafts.at[i].origins.at);
    free(tray->drafts.at);
    free(tray->by_merge_key.at);
    lb_names_free(&tray->merge_keys);
    lb_names_free(&tray->line_keys);
    lb_buf_free(&tray->text);
}

enum pool tray_pool_of(const struct work *w, const struct lb_map_consumable *row)
{
    bool piece = row->missed && row->article.dimension == LB_COUNT;
    return piece && lb_names_find(&w->consumed, row->article.part_type) == LB_NO_NAME ? POOL_NEEDS
                                                                                      : POOL_FLUIDS;
}

/* The pairs are few (one suggestion's), so the specs are compared one by one instead of by key. */
bool tray_same_line(enum pool a_pool, const struct lb_article *a, enum pool b_pool,
                    const struct lb_article *b)
{
    return a_pool == b_pool && may_merge(a_pool, a) && may_merge(b_pool, b) &&
           strcmp(a->part_type, b->part_type) == 0 && strcmp(a->unit, b->unit) == 0 &&
           a->spec.kind == b->spec.kind && lb_spec_meets(&a->spec, &b->spec) &&
           lb_spec_meets(&b->spec, &a->spec);
}
