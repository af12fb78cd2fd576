/* §3.2-3.6: which rows the teardown and the targets turn into needs. */
#include "plan/tray.h"

#include <stdlib.h>

static bool disturbed(const struct work *w, uint32_t component, enum lb_level at)
{
    return component != LB_NO_NAME && w->level[component] >= at;
}

/* §3.2: each applying row of a component to be renewed. */
static lb_status renew_component(struct tray *tray, uint32_t component)
{
    struct work *w = tray->w;
    const struct ways *ways = w->renew_sure[component] ? NULL : &w->renew_ways[component];
    for (uint32_t i = w->components_of.start[component]; i < w->components_of.start[component + 1]; i++) {
        uint32_t index = w->components_of.row[i];
        const struct lb_map_component *row = &w->map->component_rows[index];
        struct draft *draft = tray_line(tray, POOL_NEEDS, LB_TARGET, &row->article, component,
                                        row->position ? row->position : "");
        if (!draft)
            return LB_NOMEM;
        struct lb_origin origin = {LB_FROM_COMPONENT,     index, component, LB_NO_NAME,
                                   row->article.quantity, false};
        lb_status status = tray_derive(tray, draft, origin, ways, &row->row);
        if (status)
            return status;
    }
    return LB_OK;
}

static lb_status renew_targets(struct tray *tray)
{
    struct work *w = tray->w;
    for (size_t i = 0; i < w->target_count; i++) {
        struct lb_thing thing = w->targets[i].thing;
        if (thing.is_circuit || !w->renew[thing.id] || w->first_target[thing.id] != i)
            continue;
        lb_status status = renew_component(tray, thing.id);
        if (status)
            return status;
    }
    return LB_OK;
}

static struct draft *fastening_line(struct tray *tray, const struct lb_map_fastening *row,
                                    enum lb_reuse reuse)
{
    enum lb_reason reason = row->sealing ? LB_SEALING : LB_SINGLE_USE;
    enum pool pool = reuse == LB_REUSE_NEVER ? POOL_NEEDS : POOL_SPARES;
    return tray_line(tray, pool, reason, &row->article, row->component, row->item);
}

static struct lb_origin fastening_origin(const struct lb_map *map, uint32_t index)
{
    const struct lb_map_fastening *row = &map->fastenings[index];
    return (struct lb_origin){LB_FROM_FASTENING,     index, row->component, LB_NO_NAME,
                              row->article.quantity, false};
}

static lb_status one_fastening(struct tray *tray, uint32_t index)
{
    const struct lb_map_fastening *row = &tray->w->map->fastenings[index];
    struct draft *draft = fastening_line(tray, row, row->reuse);
    return draft ? tray_derive(tray, draft, fastening_origin(tray->w->map, index),
                               node_ways(tray->w, row->component, row->at), &row->row)
                 : LB_NOMEM;
}

/* One row of a joint whose line is already there: the largest quantity counts once, the strictest reuse
 * derives. */
static lb_status joint_row(struct tray *tray, const struct joint *joint, struct draft *draft, uint32_t index)
{
    const struct lb_map_fastening *row = &tray->w->map->fastenings[index];
    struct lb_origin origin = fastening_origin(tray->w->map, index);
    if (index != joint->largest)
        origin.quantity = 0;
    if (row->reuse == joint->reuse)
        return tray_derive(tray, draft, origin, node_ways(tray->w, row->component, row->at), &row->row);
    draft->need.article.quantity += origin.quantity;
    return tray_mention(tray, draft, origin);
}

/* §3.3, first pass: what each joint comes to. */
static lb_status fold_joints(struct work *w)
{
    w->joints = lb_plan_alloc(w, w->map->joint_count + 1, sizeof *w->joints);
    if (!w->joints)
        return LB_NOMEM;
    for (size_t i = 0; i <= w->map->joint_count; i++)
        w->joints[i].first = LB_NO_NAME;
    for (size_t i = 0; i < w->map->fastening_count; i++) {
        const struct lb_map_fastening *row = &w->map->fastenings[i];
        if (!row->joint || !disturbed(w, row->component, row->at))
            continue;
        lb_status status = lb_plan_fold_joint(w, &w->joints[row->joint], (uint32_t)i);
        if (status)
            return status;
    }
    return LB_OK;
}

/* §3.3, second pass: lines. The line of a joint is remembered by number, since drafts may move. */
static lb_status need_fastenings(struct tray *tray)
{
    struct work *w = tray->w;
    uint32_t *line = lb_plan_alloc(w, w->map->joint_count + 1, sizeof *line);
    lb_status status = line ? fold_joints(w) : LB_NOMEM;
    for (size_t i = 0; !status && i < w->map->fastening_count; i++) {
        const struct lb_map_fastening *row = &w->map->fastenings[i];
        if (!disturbed(w, row->component, row->at))
            continue;
        const struct joint *joint = &w->joints[row->joint];
        if ((row->joint ? joint->reuse : row->reuse) == LB_REUSE_ALWAYS)
            continue;
        if (!row->joint) {
            status = one_fastening(tray, (uint32_t)i);
            continue;
        }
        if (joint->first == i) {
            struct draft *draft = fastening_line(tray, row, joint->reuse);
            if (!draft)
                return LB_NOMEM;
            line[row->joint] = (uint32_t)(draft - tray->drafts.at);
        }
        status = joint_row(tray, joint, &tray->drafts.at[line[row->joint]], (uint32_t)i);
    }
    return status;
}

static lb_status need_fluid(struct tray *tray, uint32_t index, bool diluent, int64_t quantity)
{
    struct work *w = tray->w;
    const struct lb_map_circuit *row = &w->map->circuit_rows[index];
    if (!quantity)
        return LB_OK;
    struct draft *draft =
        tray_line(tray, POOL_FLUIDS, LB_FLUID, diluent ? &row->diluent : &row->fluid, 0, "");
    if (!draft)
        return LB_NOMEM;
    uint32_t opens = w->share_row[row->circuit];
    struct lb_origin origin = {diluent ? LB_FROM_DILUENT : LB_FROM_FLUID,
                               index,
                               opens == LB_NO_NAME ? LB_NO_NAME : w->map->opens[opens].component,
                               opens,
                               quantity,
                               false};
    return tray_derive(tray, draft, origin, node_ways(w, node_of_circuit(w, row->circuit), LB_REMOVED),
                       &row->row);
}

/* §3.4 */
static lb_status need_fluids(struct tray *tray)
{
    struct work *w = tray->w;
    lb_status status = lb_plan_shares(w);
    for (size_t i = 0; !status && i < w->map->circuit_row_count; i++) {
        struct mixture mixture;
        const struct lb_map_circuit *row = &w->map->circuit_rows[i];
        if (!w->level[node_of_circuit(w, row->circuit)])
            continue;
        status = lb_plan_mix(w, row, w->share[row->circuit], &mixture);
        if (!status)
            status = need_fluid(tray, (uint32_t)i, false, mixture.fluid);
        if (!status)
            status = need_fluid(tray, (uint32_t)i, true, mixture.diluent);
    }
    return status;
}

/* §3.5. What was missed before is laid beside what it is like: pieces beside other parts, unless the map has
 * that type among its consumables; the rest beside fluids and consumables. */
static lb_status need_consumables(struct tray *tray)
{
    struct work *w = tray->w;
    for (size_t i = 0; i < w->map->consumable_count; i++) {
        const struct lb_map_consumable *row = &w->map->consumables[i];
        if (!disturbed(w, row->component, row->at))
            continue;
        enum lb_reason reason = row->missed ? LB_MISSED_BEFORE : LB_CONSUMABLE;
        struct draft *draft =
            tray_line(tray, tray_pool_of(w, row), reason, &row->article, row->component, "");
        if (!draft)
            return LB_NOMEM;
        draft->need.missed |= row->missed;
        struct lb_origin origin = {LB_FROM_CONSUMABLE, (uint32_t)i,           row->component,
                                   LB_NO_NAME,         row->article.quantity, false};
        lb_status status = tray_derive(tray, draft, origin, node_ways(w, row->component, row->at), &row->row);
        if (status)
            return status;
    }
    return LB_OK;
}

lb_status lb_plan_need(struct work *w)
{
    static lb_status (*const stages[])(struct tray *) = {renew_targets, need_fastenings, need_fluids,
                                                         need_consumables, tray_serve};
    struct tray tray = {.w = w};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](&tray);
    tray_free(&tray);
    return status == LB_NOMEM ? lb_fail_nomem(w->err) : status;
}
