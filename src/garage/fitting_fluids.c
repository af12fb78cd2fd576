/* Which platforms the vehicle has, and which part types their maps take as fluids and consumables: those of
 * the platforms, circuits and consumables whose conditions are not false. */
#include "catalog/spans.h"
#include "garage/applies.h"
#include "garage/fitting_parts.h"

#include <stdlib.h>
#include <string.h>

/* Columns of the three queries: what is named, and which rows count. */
enum { NAMED, WHEN, BUILT_FROM, BUILT_TO };

static lb_status read_name(struct making *m, struct lb_statement *st, struct lb_names *names)
{
    uint32_t id;
    const char *name = lb_text(st, NAMED);
    return !name || lb_names_add(names, name, &id) ? LB_OK : lb_fail_nomem(m->err);
}

/* What the rows name that are not false; `dated`: they have build dates as well. */
static lb_status read_names(struct making *m, const char *sql, const char *first, const char *second,
                            bool dated, struct lb_names *names)
{
    struct lb_statement *st;
    enum lb_truth truth;
    bool row;
    lb_status status = lb_store_prepare(m->store, &st, sql, m->err);
    if (status)
        return status;
    lb_bind_text(st, 1, first);
    if (second)
        lb_bind_text(st, 2, second);
    while (!(status = lb_step(st, &row, m->err)) && row) {
        status = lb_applies(&m->facts, lb_text(st, WHEN), dated ? lb_text(st, BUILT_FROM) : NULL,
                            dated ? lb_text(st, BUILT_TO) : NULL, NULL, NULL, &truth, m->err);
        if (!status && truth != LB_FALSE)
            status = read_name(m, st, names);
        if (status)
            break;
    }
    lb_statement_free(st);
    return status;
}

static int by_text(const void *left, const void *right)
{
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static lb_status keep_types(struct making *m, const struct lb_names *types)
{
    for (size_t i = 0; i < types->count; i++) {
        const char *type = lb_arena_text(&m->arena, types->at[i], strlen(types->at[i]));
        if (!type || !LB_PUSH(&m->fluid_types, type))
            return lb_fail_nomem(m->err);
    }
    if (m->fluid_types.count)
        qsort(m->fluid_types.at, m->fluid_types.count, sizeof *m->fluid_types.at, by_text);
    return LB_OK;
}

static lb_status keep_platforms(struct making *m, const struct lb_names *platforms)
{
    for (size_t i = 0; i < platforms->count; i++) {
        const char *platform = lb_arena_text(&m->arena, platforms->at[i], strlen(platforms->at[i]));
        if (!platform || !LB_PUSH(&m->platforms, platform))
            return lb_fail_nomem(m->err);
    }
    if (m->platforms.count)
        qsort(m->platforms.at, m->platforms.count, sizeof *m->platforms.at, by_text);
    return LB_OK;
}

#define OF_PLATFORM(type, table) "SELECT r." type ", r.\"when\"" LB_PLACED(table) "WHERE r.platform = ?1"

lb_status fitting_fluids(struct making *m)
{
    static const char *const kinds[] = {OF_PLATFORM("fluid_type", "circuits"),
                                        OF_PLATFORM("diluent_type", "circuits"),
                                        OF_PLATFORM("part_type", "consumables")};
    struct lb_names platforms = {0}, types = {0};
    lb_status status = read_names(m,
                                  "SELECT r.platform, r.\"when\", r.built_from, r.built_to" LB_PLACED(
                                      "platforms") "WHERE r.make_key = ?1 AND r.model_key = ?2",
                                  lb_buf_text(&m->make_key), lb_buf_text(&m->model_key), true, &platforms);
    for (size_t i = 0; i < platforms.count; i++)
        for (size_t k = 0; !status && k < sizeof kinds / sizeof *kinds; k++)
            status = read_names(m, kinds[k], platforms.at[i], NULL, false, &types);
    if (!status)
        status = keep_types(m, &types);
    if (!status)
        status = keep_platforms(m, &platforms);
    lb_names_free(&platforms);
    lb_names_free(&types);
    return status;
}
