#include "plan/work.h"

#include <string.h>

static lb_status refuse(const struct work *w, const struct lb_map_fastening *a,
                        const struct lb_map_fastening *b)
{
    const char *const *sources = w->map->sources;
    return lb_fail_at(
        w->err, sources[b->row.source], b->row.line, 0,
        "%s of %s (%s:%u) and %s of %s (%s:%u) are one joint but differ in part_type or spec. Make the rows "
        "agree, or give them different joints.",
        a->item, w->map->components[a->component], sources[a->row.source], a->row.line, b->item,
        w->map->components[b->component], sources[b->row.source], b->row.line);
}

bool lb_article_agrees(const struct lb_article *a, const struct lb_article *b)
{
    return strcmp(a->part_type, b->part_type) == 0 && strcmp(a->unit, b->unit) == 0 &&
           a->spec.kind == b->spec.kind && lb_spec_meets(&a->spec, &b->spec) &&
           lb_spec_meets(&b->spec, &a->spec);
}

lb_status lb_plan_fold_joint(const struct work *w, struct joint *joint, uint32_t fastening)
{
    const struct lb_map_fastening *row = &w->map->fastenings[fastening];
    if (joint->first == LB_NO_NAME) {
        *joint = (struct joint){fastening, fastening, row->reuse};
        return LB_OK;
    }
    if (!lb_article_agrees(&w->map->fastenings[joint->first].article, &row->article))
        return refuse(w, &w->map->fastenings[joint->first], row);
    if (row->article.quantity > w->map->fastenings[joint->largest].article.quantity)
        joint->largest = fastening;
    if (row->reuse < joint->reuse)
        joint->reuse = row->reuse;
    return LB_OK;
}
