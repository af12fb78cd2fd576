/* §3.8: while you are in there. A component that wears, is no target and whose own closure lies within the
 * teardown. The teardown is closed already, so that closure lies within it as soon as the component's own
 * rows do; what it would bring is what its own rows add at `removed`. Each component's rows are looked at
 * once. */
#include "plan/tray.h"

#include <stdlib.h>

struct extra {
    struct lb_article article;
    enum pool pool;
};

struct draft_suggestion {
    struct work *w;
    uint32_t component;
    LB_VEC(struct extra) extras;
};

static lb_status add(struct draft_suggestion *draft, enum pool pool, const struct lb_article *article,
                     int64_t quantity)
{
    if (quantity <= 0)
        return LB_OK;
    for (size_t i = 0; i < draft->extras.count; i++) {
        if (tray_same_line(draft->extras.at[i].pool, &draft->extras.at[i].article, pool, article)) {
            draft->extras.at[i].article.quantity += quantity;
            return LB_OK;
        }
    }
    struct extra extra = {*article, pool};
    extra.article.quantity = quantity;
    return LB_PUSH(&draft->extras, extra) ? LB_OK : lb_fail_nomem(draft->w->err);
}

/* Would removing the component disturb a row that the teardown leaves alone? */
static bool newly(const struct draft_suggestion *draft, enum lb_level at)
{
    return draft->w->level[draft->component] < at;
}

static bool within(const struct work *w, size_t node, uint32_t self)
{
    for (uint32_t i = w->access_of.start[node]; i < w->access_of.start[node + 1]; i++) {
        const struct lb_map_access *row = &w->map->access[w->access_of.row[i]];
        if (row->needs != self && w->level[row->needs] < row->state)
            return false;
    }
    return true;
}

static bool needs_anything(const struct work *w, size_t node, uint32_t self)
{
    for (uint32_t i = w->access_of.start[node]; i < w->access_of.start[node + 1]; i++)
        if (w->map->access[w->access_of.row[i]].needs != self)
            return true;
    return false;
}

/* A circuit that only this component would open has to be drained, so its access counts as the component's
 * own. */
static bool lies_within(const struct work *w, uint32_t component)
{
    bool met = w->level[component] > LB_UNTOUCHED || needs_anything(w, component, component);
    if (!within(w, component, component))
        return false;
    for (uint32_t i = w->opens_of.start[component]; i < w->opens_of.start[component + 1]; i++) {
        size_t node = node_of_circuit(w, w->map->opens[w->opens_of.row[i]].circuit);
        if (!within(w, node, component))
            return false;
        met |= needs_anything(w, node, component);
    }
    return met;
}

static lb_status extra_parts(struct draft_suggestion *draft)
{
    const struct work *w = draft->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->components_of.start[draft->component];
         !status && i < w->components_of.start[draft->component + 1]; i++) {
        const struct lb_article *article = &w->map->component_rows[w->components_of.row[i]].article;
        status = add(draft, POOL_NEEDS, article, article->quantity);
    }
    return status;
}

static int64_t joint_need(const struct work *w, const struct joint *joint)
{
    bool needed = joint->first != LB_NO_NAME && joint->reuse == LB_REUSE_NEVER;
    return needed ? w->map->fastenings[joint->largest].article.quantity : 0;
}

/* What this component's rows make of a joint beyond what the teardown already makes of it; answered at the
 * first of them. */
static lb_status extra_joint(struct draft_suggestion *draft, uint32_t first)
{
    const struct work *w = draft->w;
    uint32_t number = w->map->fastenings[first].joint;
    struct joint joint = w->joints[number];
    int64_t before = joint_need(w, &joint);
    for (uint32_t i = w->fastenings_of.start[draft->component];
         i < w->fastenings_of.start[draft->component + 1]; i++) {
        const struct lb_map_fastening *row = &w->map->fastenings[w->fastenings_of.row[i]];
        if (row->joint != number || !newly(draft, row->at))
            continue;
        if (w->fastenings_of.row[i] < first)
            return LB_OK; /* counted there */
        lb_status status = lb_plan_fold_joint(w, &joint, w->fastenings_of.row[i]);
        if (status)
            return status;
    }
    return add(draft, POOL_NEEDS, &w->map->fastenings[first].article, joint_need(w, &joint) - before);
}

static lb_status extra_fastenings(struct draft_suggestion *draft)
{
    const struct work *w = draft->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->fastenings_of.start[draft->component];
         !status && i < w->fastenings_of.start[draft->component + 1]; i++) {
        const struct lb_map_fastening *row = &w->map->fastenings[w->fastenings_of.row[i]];
        if (!newly(draft, row->at))
            continue;
        if (row->joint)
            status = extra_joint(draft, w->fastenings_of.row[i]);
        else if (row->reuse == LB_REUSE_NEVER)
            status = add(draft, POOL_NEEDS, &row->article, row->article.quantity);
    }
    return status;
}

static lb_status extra_fluid(struct draft_suggestion *draft, uint32_t circuit, int64_t before, int64_t after)
{
    const struct work *w = draft->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->circuits_of.start[circuit]; !status && i < w->circuits_of.start[circuit + 1]; i++) {
        const struct lb_map_circuit *row = &w->map->circuit_rows[w->circuits_of.row[i]];
        struct mixture was, is;
        status = lb_plan_mix(w, row, before, &was);
        if (!status)
            status = lb_plan_mix(w, row, after, &is);
        if (!status)
            status = add(draft, POOL_FLUIDS, &row->fluid, is.fluid - was.fluid);
        if (!status && row->diluent.part_type)
            status = add(draft, POOL_FLUIDS, &row->diluent, is.diluent - was.diluent);
    }
    return status;
}

/* A component that opens a circuit twice loses the larger share: only its largest row counts, and the first
 * of equals. */
static bool largest_of_circuit(const struct work *w, uint32_t component, uint32_t index)
{
    const struct lb_map_opens *row = &w->map->opens[index];
    for (uint32_t i = w->opens_of.start[component]; i < w->opens_of.start[component + 1]; i++) {
        uint32_t other = w->opens_of.row[i];
        const struct lb_map_opens *rival = &w->map->opens[other];
        if (rival->circuit == row->circuit &&
            (rival->share > row->share || (rival->share == row->share && other < index)))
            return false;
    }
    return true;
}

static lb_status extra_fluids(struct draft_suggestion *draft)
{
    const struct work *w = draft->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->opens_of.start[draft->component];
         !status && i < w->opens_of.start[draft->component + 1]; i++) {
        uint32_t index = w->opens_of.row[i];
        const struct lb_map_opens *row = &w->map->opens[index];
        if (row->share > w->share[row->circuit] && largest_of_circuit(w, draft->component, index))
            status = extra_fluid(draft, row->circuit, w->share[row->circuit], row->share);
    }
    return status;
}

static lb_status extra_consumables(struct draft_suggestion *draft)
{
    const struct work *w = draft->w;
    lb_status status = LB_OK;
    for (uint32_t i = w->consumables_of.start[draft->component];
         !status && i < w->consumables_of.start[draft->component + 1]; i++) {
        const struct lb_map_consumable *row = &w->map->consumables[w->consumables_of.row[i]];
        if (newly(draft, row->at))
            status = add(draft, tray_pool_of(w, row), &row->article, row->article.quantity);
    }
    return status;
}

static lb_status fill(struct draft_suggestion *draft, struct lb_suggestion *out)
{
    static lb_status (*const stages[])(struct draft_suggestion *) = {extra_parts, extra_fastenings,
                                                                     extra_fluids, extra_consumables};
    lb_status status = LB_OK;
    draft->extras.count = 0;
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](draft);
    if (status)
        return status;
    struct lb_extra *extras = lb_plan_alloc(draft->w, draft->extras.count + 1, sizeof *extras);
    if (!extras)
        return LB_NOMEM;
    for (size_t i = 0; i < draft->extras.count; i++)
        extras[i].article = draft->extras.at[i].article;
    out->extras = extras;
    out->extra_count = draft->extras.count;
    return LB_OK;
}

/* The first of a component's rows that states a wear interval, or LB_NO_NAME. */
static uint32_t wear_row(const struct work *w, uint32_t component)
{
    for (uint32_t i = w->components_of.start[component]; i < w->components_of.start[component + 1]; i++) {
        const struct lb_map_component *row = &w->map->component_rows[w->components_of.row[i]];
        if (row->wear_km || row->wear_months)
            return w->components_of.row[i];
    }
    return LB_NO_NAME;
}

lb_status lb_plan_suggest(struct work *w)
{
    struct draft_suggestion draft = {.w = w};
    LB_VEC(struct lb_suggestion) found = {0};
    lb_status status = LB_OK;
    for (uint32_t c = 0; !status && c < w->map->component_count; c++) {
        uint32_t row = w->is_target[c] ? LB_NO_NAME : wear_row(w, c);
        if (row == LB_NO_NAME || !lies_within(w, c))
            continue;
        struct lb_suggestion suggestion = {.component = c, .component_row = row};
        draft.component = c;
        status = fill(&draft, &suggestion);
        if (!status && !LB_PUSH(&found, suggestion))
            status = lb_fail_nomem(w->err);
    }
    struct lb_suggestion *out = lb_plan_alloc(w, found.count + 1, sizeof *out);
    if (!status && !out)
        status = LB_NOMEM;
    for (size_t i = 0; !status && i < found.count; i++)
        out[i] = found.at[i];
    w->plan->suggestions = out;
    w->plan->suggestion_count = found.count;
    free(found.at);
    free(draft.extras.at);
    return status;
}
