#include "kit/part.h"
#include "base/decimal.h"
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "kit/build.h"

#include <stdlib.h>
#include <string.h>

enum { GROUPS_MAX = 64, CHAIN_MAX = 256 };

struct owned_card {
    struct lb_part_card card; /* first: what is handed out */
    struct build *build;      /* its texts and parts */
};

typedef LB_VEC(struct lb_part_group) group_list;

static lb_status keep_group(struct build *b, group_list *list, const struct lb_part_member *members,
                            size_t count)
{
    struct lb_part_member *kept = lb_arena_alloc(&b->arena, (count + 1) * sizeof *kept);
    if (!kept)
        return lb_fail_nomem(b->err);
    if (count)
        memcpy(kept, members, count * sizeof *kept);
    return LB_PUSH(list, ((struct lb_part_group){kept, count})) ? LB_OK : lb_fail_nomem(b->err);
}

/* The end of one group of successors: [first, end) of old->successors. */
static size_t group_end(const struct entry *old, size_t first)
{
    size_t end = first + 1;
    while (end < old->successors.count &&
           strcmp(old->successors.at[end].group, old->successors.at[first].group) == 0)
        end++;
    return end;
}

/* Everything that supersessions lead to is read, so that a loop can be seen before anything follows it. */
static lb_status read_chain(struct build *b, uint32_t part)
{
    lb_status status = LB_OK;
    LB_VEC(uint32_t) open = {0};
    if (!LB_PUSH(&open, part))
        status = lb_fail_nomem(b->err);
    for (size_t i = 0; !status && i < open.count; i++) {
        const struct entry *entry = b->parts.at[open.at[i]];
        for (size_t s = 0; !status && s < entry->successors.count; s++) {
            uint32_t next = entry->successors.at[s].part;
            if (b->parts.at[next]->loaded)
                continue;
            status = build_part(b, b->part_keys.at[next], NULL, NULL, &next);
            if (!status && !LB_PUSH(&open, next))
                status = lb_fail_nomem(b->err);
        }
    }
    free(open.at);
    return status ? status : build_refuse_loops(b);
}

static lb_status list_successors(struct build *b, const struct entry *old, group_list *out)
{
    lb_status status = LB_OK;
    for (size_t first = 0, end; !status && first < old->successors.count; first = end) {
        struct lb_part_member members[CHAIN_MAX];
        size_t count = 0;
        end = group_end(old, first);
        for (size_t i = first; i < end && count < CHAIN_MAX; i++)
            members[count++] = (struct lb_part_member){&b->parts.at[old->successors.at[i].part]->part,
                                                       old->successors.at[i].quantity};
        status = keep_group(b, out, members, count);
    }
    return status;
}

/* One alternative on its way to the living end: the first member that is superseded is replaced by each of
 * its groups in turn; an alternative without one is done. */
static lb_status follow_chains(struct build *b, const struct entry *start, group_list *out)
{
    group_list open = {0};
    struct lb_part_member self = {&start->part, LB_MILLION};
    lb_status status = keep_group(b, &open, &self, 1);
    for (size_t i = 0; !status && i < open.count && out->count < GROUPS_MAX; i++) {
        struct lb_part_group group = open.at[i];
        size_t old = 0;
        while (old < group.count && !entry_of(group.members[old].part)->successors.count)
            old++;
        if (old == group.count) {
            status = LB_PUSH(out, group) ? LB_OK : lb_fail_nomem(b->err);
            continue;
        }
        const struct entry *entry = entry_of(group.members[old].part);
        for (size_t first = 0, end;
             !status && first < entry->successors.count && open.count < 16 * GROUPS_MAX; first = end) {
            struct lb_part_member members[2 * CHAIN_MAX];
            size_t count = 0;
            end = group_end(entry, first);
            for (size_t m = 0; m < group.count && count < CHAIN_MAX; m++)
                if (m != old)
                    members[count++] = group.members[m];
            for (size_t s = first; s < end && count < 2 * CHAIN_MAX; s++)
                members[count++] =
                    (struct lb_part_member){&b->parts.at[entry->successors.at[s].part]->part,
                                            lb_decimal_muldiv(group.members[old].quantity,
                                                              entry->successors.at[s].quantity, LB_MILLION)};
            status = keep_group(b, &open, members, count < CHAIN_MAX ? count : CHAIN_MAX);
        }
    }
    free(open.at);
    return status;
}

/* Takes the part that a crossrefs row names into the list of parts, without reading it yet. */
static lb_status name_part(struct build *b, struct lb_statement *st, uint32_t *id)
{
    if (!lb_names_add(&b->part_keys, lb_text(st, 0), id))
        return lb_fail_nomem(b->err);
    while (b->parts.count < b->part_keys.count)
        if (!LB_PUSH(&b->parts, NULL))
            return lb_fail_nomem(b->err);
    if (b->parts.at[*id])
        return LB_OK;
    struct entry *entry = lb_arena_alloc(&b->arena, sizeof *entry);
    if (!entry)
        return lb_fail_nomem(b->err);
    entry->part.key = b->part_keys.at[*id];
    b->parts.at[*id] = entry;
    lb_status status = build_text(b, lb_text(st, 1), &entry->part.brand);
    return status ? status : build_text(b, lb_text(st, 2), &entry->part.number);
}

/* The parts that one crossrefs relation gives for a part; when it is transitive, for those too. */
static lb_status follow_refs(struct build *b, enum part_query query, uint32_t of, bool transitive,
                             const struct lb_part ***out, size_t *count)
{
    LB_VEC(uint32_t) found = {0};
    lb_status status = LB_PUSH(&found, of) ? LB_OK : lb_fail_nomem(b->err);
    for (size_t i = 0; !status && i < found.count && (transitive || i == 0); i++) {
        struct lb_statement *st = build_query(b, query, b->part_keys.at[found.at[i]]);
        bool row;
        if (!st)
            status = b->err->status;
        while (!status && !(status = lb_step(st, &row, b->err)) && row) {
            uint32_t id;
            bool known = false;
            status = name_part(b, st, &id);
            for (size_t k = 0; !status && k < found.count; k++)
                known |= found.at[k] == id;
            if (!status && !known && !LB_PUSH(&found, id))
                status = lb_fail_nomem(b->err);
        }
    }
    const struct lb_part **parts = lb_arena_alloc(&b->arena, (found.count + 1) * sizeof *parts);
    if (!status && !parts)
        status = lb_fail_nomem(b->err);
    for (size_t i = 1; !status && i < found.count; i++) {
        uint32_t id;
        status = build_part(b, b->part_keys.at[found.at[i]], NULL, NULL, &id);
        if (!status)
            parts[(*count)++] = &b->parts.at[id]->part;
    }
    *out = parts;
    free(found.at);
    return status;
}

static lb_status read_applications(struct build *b, struct lb_part_card *card)
{
    struct lb_statement *st;
    bool row;
    LB_VEC(struct lb_part_application) list = {0};
    lb_status status =
        lb_store_prepare(b->store, &st,
                         "SELECT s.name, " LB_PLACE_LINE
                         ", r.make, r.model, r.built_from, r.built_to, r.\"when\", r.position, "
                         "coalesce(r.quantity, -1)" LB_PLACED(
                             "applications") "WHERE r.id IN (SELECT value FROM json_each(?1))" LB_IN_ORDER,
                         b->err);
    if (!status && (status = lb_lookup_part(b->lookup, card->part->key, &b->rows, b->err)))
        lb_statement_free(st);
    if (status)
        return status;
    b->rows_of = NULL;
    lb_bind_text(st, 1, lb_buf_text(&b->rows));
    while (!status && !(status = lb_step(st, &row, b->err)) && row) {
        struct lb_part_application a = {.quantity = lb_integer(st, 8)};
        const char **texts[] = {&a.make, &a.model, &a.built_from, &a.built_to, &a.when, &a.position};
        status = build_place(b, st, 0, &a.place);
        for (int i = 0; !status && i < 6; i++)
            status = build_text(b, lb_text(st, 2 + i), texts[i]);
        if (!status && !LB_PUSH(&list, a))
            status = lb_fail_nomem(b->err);
    }
    lb_statement_free(st);
    struct lb_part_application *kept = lb_arena_alloc(&b->arena, (list.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(b->err);
    if (!status && list.count)
        memcpy(kept, list.at, list.count * sizeof *kept);
    card->applications = kept;
    card->application_count = list.count;
    free(list.at);
    return status;
}

static lb_status fill(struct owned_card *owned, const char *brand, const char *number)
{
    struct build *b = owned->build;
    struct lb_part_card *card = &owned->card;
    group_list successors = {0}, current = {0};
    const struct lb_part **same = NULL, **instead = NULL;
    uint32_t part = 0;
    lb_status status = build_suppliers(b);
    lb_part_key(&b->scratch, brand, number);
    char *key = strdup(lb_buf_text(&b->scratch));
    if (!status)
        status = key && !b->scratch.failed ? build_part(b, key, NULL, NULL, &part) : lb_fail_nomem(b->err);
    free(key);
    struct entry *entry = status ? NULL : b->parts.at[part];
    if (entry && !entry->part.brand) /* known by reference or offer only, if at all */
        status = build_refuse_part(b, entry, brand, number);
    if (!status)
        status = build_former(b, entry);
    if (!status)
        status = build_was(b, entry);
    if (!status)
        status = read_chain(b, part);
    if (!status)
        status = list_successors(b, entry, &successors);
    if (!status)
        status = follow_chains(b, entry, &current);
    if (!status)
        status = follow_refs(b, QUERY_SAME, part, true, &same, &card->same_count);
    if (!status)
        status = follow_refs(b, QUERY_INSTEAD, part, false, &instead, &card->instead_count);
    if (!status) {
        card->part = &entry->part;
        card->same = same;
        card->instead = instead;
        card->suppliers = b->suppliers.at;
        status = read_applications(b, card);
    }
    card->superseded_by = successors.at;
    card->superseded_by_count = successors.count;
    card->current = current.at;
    card->current_count = current.count;
    return status;
}

lb_status lb_part_card_open(struct lb_part_card **out, struct lb_store *store, const char *brand,
                            const char *number, int32_t today, struct lb_error *err)
{
    *out = NULL;
    struct owned_card *owned = calloc(1, sizeof *owned);
    if (owned)
        owned->build = calloc(1, sizeof *owned->build);
    if (!owned || !owned->build) {
        free(owned);
        return lb_fail_nomem(err);
    }
    owned->build->store = store;
    owned->build->err = err;
    owned->build->today = today;
    lb_status status = fill(owned, brand, number);
    if (status)
        lb_part_card_free(&owned->card);
    else
        *out = &owned->card;
    return status;
}

void lb_part_card_free(struct lb_part_card *card)
{
    if (!card)
        return;
    struct owned_card *owned = (struct owned_card *)card; /* its first member */
    free((void *)card->superseded_by);
    free((void *)card->current);
    lb_kit_free(&owned->build->kit);
    free(owned);
}
