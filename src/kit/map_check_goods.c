/* What a kit would buy, held against the catalogues: part types that none has, hardware that must not go back
 * and that no part or box supplies. Whether something fits the vehicle or is offered is the kit's question.
 */
#include "kit/map_checker.h"

#include <stdlib.h>
#include <string.h>

struct goods {
    struct checker *c;
    struct tally needed,
        other;             /* part types that a kit may buy; those of what only comes off and goes back on */
    struct tally single;   /* types with a spec, of what is used once */
    struct lb_names specs; /* by the key of `single`: as written */
    struct check_parts parts;
    struct lb_statement *contents;
};

/* Renewed by a job, or worn: its part type is bought. */
static bool *list_renewed(struct checker *c)
{
    const struct lb_map *m = c->map;
    bool *renewed = check_alloc(c, m->component_count + 1, sizeof *renewed);
    for (size_t i = 0; renewed && i < c->job_rows.count; i++) {
        const struct lb_target *target = &c->job_rows.at[i].target;
        if (!target->thing.is_circuit && !target->refit)
            renewed[target->thing.id] = true;
    }
    for (size_t i = 0; renewed && i < m->component_row_count; i++)
        if (m->component_rows[i].wear_km || m->component_rows[i].wear_months)
            renewed[m->component_rows[i].component] = true;
    return renewed;
}

static void add_single(struct goods *g, const struct lb_map_fastening *row)
{
    struct lb_buf key = {0};
    size_t before;
    uint32_t id;
    if (row->article.spec.kind == LB_SPEC_NONE)
        return;
    lb_buf_printf(&key, "%s\x1f", row->article.part_type);
    lb_spec_key(&key, &row->article.spec);
    g->c->failed |= key.failed;
    before = g->single.at.count;
    check_tally(g->c, &g->single, lb_buf_text(&key), &row->row);
    if (g->single.at.count > before) { /* what the key stands for, in the same order */
        lb_buf_clear(&key);
        lb_buf_printf(&key, "%s\x1f%s", row->article.part_type, row->article.spec.text);
        g->c->failed |= key.failed || !lb_names_add(&g->specs, lb_buf_text(&key), &id);
    }
    lb_buf_free(&key);
}

static void list_goods(struct goods *g)
{
    struct checker *c = g->c;
    const struct lb_map *m = c->map;
    const bool *renewed = list_renewed(c);
    for (size_t i = 0; renewed && i < m->component_row_count; i++)
        check_tally(c, renewed[m->component_rows[i].component] ? &g->needed : &g->other,
                    m->component_rows[i].article.part_type, &m->component_rows[i].row);
    for (size_t i = 0; i < m->fastening_count; i++) {
        const struct lb_map_fastening *row = &m->fastenings[i];
        check_tally(c, row->reuse == LB_REUSE_ALWAYS ? &g->other : &g->needed, row->article.part_type,
                    &row->row);
        if (row->reuse == LB_REUSE_NEVER)
            add_single(g, row);
    }
    for (size_t i = 0; i < m->circuit_row_count; i++) {
        const struct lb_map_circuit *row = &m->circuit_rows[i];
        check_tally(c, &g->needed, row->fluid.part_type, &row->row);
        if (row->diluent.part_type)
            check_tally(c, &g->needed, row->diluent.part_type, &row->row);
    }
    for (size_t i = 0; i < m->consumable_count; i++)
        check_tally(c, &g->needed, m->consumables[i].article.part_type, &m->consumables[i].row);
}

static bool any_part(void *found, const struct lb_spec *spec)
{
    (void)spec;
    *(bool *)found = true;
    return false;
}

/* A part of the type that meets the spec (NULL: any). */
static lb_status find_part(struct goods *g, const char *part_type, const struct lb_spec *spec, bool *found)
{
    *found = false;
    return check_parts_each(&g->parts, part_type, spec, any_part, found);
}

/* A box with such a thing in it. A content that says neither number nor spec may be it. */
static lb_status find_content(struct goods *g, const char *part_type, const struct lb_spec *spec, bool *found)
{
    bool row;
    lb_status status = LB_OK;
    lb_bind_text(g->contents, 1, part_type);
    while (!*found && !(status = lb_step(g->contents, &row, g->c->err)) && row)
        *found = !spec || (lb_is_null(g->contents, 0) ? lb_is_null(g->contents, 1)
                                                      : check_meets(lb_text(g->contents, 0), spec));
    lb_statement_reset(g->contents);
    return status;
}

static lb_status find_any(struct goods *g, const char *part_type, const struct lb_spec *spec, bool *found)
{
    lb_status status = find_part(g, part_type, spec, found);
    return status || *found ? status : find_content(g, part_type, spec, found);
}

static lb_status judge_types(struct goods *g, const struct tally *tally, enum lb_severity severity)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < tally->at.count; i++) {
        const char *type = tally->keys.at[i];
        const struct tallied *met = &tally->at.at[i];
        bool found, needed = tally == &g->needed;
        if (!needed && lb_names_find(&g->needed.keys, type) != LB_NO_NAME)
            continue;
        status = find_any(g, type, NULL, &found);
        if (status || found)
            continue;
        check_find(g->c, severity, "no-part", met->row,
                   "no catalogue has a part of type %s, which %zu row%s ask%s for%s", type, met->count,
                   met->count == 1 ? "" : "s", met->count == 1 ? "s" : "",
                   needed ? ". Import one that has, or correct the type."
                          : "; no kit buys it as the jobs stand.");
    }
    return status;
}

static lb_status judge_single(struct goods *g)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < g->single.at.count; i++) {
        const char *words = g->specs.at[i], *split = strchr(words, '\x1f');
        struct lb_spec spec = lb_spec_parse(split + 1);
        const struct tallied *met = &g->single.at.at[i];
        char *type = strndup(words, (size_t)(split - words));
        bool of_type, found;
        status = type ? find_any(g, type, NULL, &of_type) : lb_fail_nomem(g->c->err);
        if (!status && of_type)
            status = find_any(g, type, &spec, &found);
        if (!status && of_type && !found)
            check_find(
                g->c, LB_WARNING, "not-supplied", met->row,
                "%s %s must not be used again (%zu row%s), and no part and no box supplies it. Import a "
                "catalogue that has it, or correct the spec.",
                type, split + 1, met->count, met->count == 1 ? "" : "s");
        free(type);
    }
    return status;
}

static lb_status open_catalogues(struct goods *g)
{
    struct checker *c = g->c;
    lb_status status = check_parts_open(&g->parts, c);
    if (!status)
        status = lb_store_prepare(
            c->store, &g->contents,
            "SELECT r.item_spec, r.item_number" LB_PLACED("contents") "WHERE r.item_type = ?1", c->err);
    return status;
}

lb_status check_goods(struct checker *c)
{
    struct goods g = {.c = c};
    list_goods(&g);
    lb_status status = c->failed ? LB_OK : open_catalogues(&g);
    if (!status && !c->failed)
        status = judge_types(&g, &g.needed, LB_WARNING);
    if (!status && !c->failed)
        status = judge_types(&g, &g.other, LB_NOTE);
    if (!status && !c->failed)
        status = judge_single(&g);
    check_tally_free(&g.needed);
    check_tally_free(&g.other);
    check_tally_free(&g.single);
    lb_names_free(&g.specs);
    lb_statement_free(g.contents);
    check_parts_close(&g.parts);
    return status;
}
