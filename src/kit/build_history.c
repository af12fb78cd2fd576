/* What the catalogues said before: rows of earlier editions that are listed no more, and what offers cost. */
#include "base/text.h"
#include "catalog/partkey.h"
#include "garage/applies.h"
#include "kit/build.h"
#include "kit/former.h"

#include <stdlib.h>
#include <string.h>

enum { REFUSAL_ROWS = 3 };

static const char *label_of(struct build *b, const char *supplier)
{
    lb_buf_clear(&b->scratch);
    lb_text_fold(&b->scratch, supplier);
    uint32_t id = lb_names_find(&b->supplier_names, lb_buf_text(&b->scratch));
    return id == LB_NO_NAME ? supplier : b->suppliers.at[id].label;
}

bool build_for_vehicle(struct build *b, const char *make, const char *model)
{
    if (!make || !model || !b->make_key.length)
        return false;
    lb_buf_clear(&b->scratch);
    lb_text_fold(&b->scratch, make);
    if (strcmp(lb_buf_text(&b->scratch), lb_buf_text(&b->make_key)) != 0)
        return false;
    lb_buf_clear(&b->scratch);
    lb_text_fold(&b->scratch, model);
    return strcmp(lb_buf_text(&b->scratch), lb_buf_text(&b->model_key)) == 0;
}

/* Would the row let the part fit the kit's vehicle? A card has none. */
static lb_status judge_application(struct build *b, struct lb_former *former)
{
    enum lb_truth truth = LB_FALSE;
    if (!build_for_vehicle(b, former->make, former->model))
        return b->scratch.failed ? lb_fail_nomem(b->err) : LB_OK;
    lb_status status =
        lb_applies(&b->facts, former->when, former->built_from, former->built_to, NULL, NULL, &truth, b->err);
    former->applied = truth != LB_FALSE;
    return status;
}

static lb_status read_former(struct build *b, struct lb_statement *st, struct lb_former *former)
{
    const char **const texts[] = {
        &former->kind,       &former->gone,        &former->brand, &former->number,
        &former->part_type,  &former->description, &former->spec,  &former->unit,
        &former->supplier,   &former->currency,    &former->make,  &former->model,
        &former->built_from, &former->built_to,    &former->when,  &former->position};
    const int count = sizeof texts / sizeof *texts;
    lb_status status = build_place(b, st, 0, &former->place);
    for (int i = 0; !status && i < count; i++)
        status = build_text(b, lb_text(st, 2 + i), texts[i]);
    if (status)
        return status;
    former->price = lb_integer(st, 2 + count);
    former->pack_quantity = lb_integer(st, 3 + count);
    former->label = former->supplier ? label_of(b, former->supplier) : NULL;
    return judge_application(b, former);
}

/* A pack is counted in the unit of the part's row, which may be a former one too; like offers, in the base
 * unit. */
static void convert_packs(struct entry *entry)
{
    const struct lb_former *row = entry->unit ? NULL : lb_former_last(&entry->part, "parts");
    const char *name = entry->unit ? entry->unit : row && row->unit ? row->unit : "each";
    struct lb_unit unit = lb_unit_find(name, LB_MASS);
    const char *symbol = *lb_unit_symbol(unit.dimension) ? lb_unit_symbol(unit.dimension) : name;
    for (size_t i = 0; i < entry->former.count; i++) {
        struct lb_former *former = &entry->former.at[i];
        if (strcmp(former->kind, "offers") != 0)
            continue;
        former->pack_quantity = lb_unit_to_base(unit, former->pack_quantity);
        former->unit = unit.dimension == LB_COUNT ? NULL : symbol;
    }
}

lb_status build_former(struct build *b, struct entry *entry)
{
    bool row;
    lb_status status;
    if (entry->former_read)
        return LB_OK;
    struct lb_statement *st = build_query(b, QUERY_FORMER, entry->part.key);
    if (!st)
        return b->err->status;
    entry->former_read = true;
    while (!(status = lb_step(st, &row, b->err)) && row) {
        struct lb_former former = {0};
        status = read_former(b, st, &former);
        if (!status && !LB_PUSH(&entry->former, former))
            status = lb_fail_nomem(b->err);
        if (status)
            break;
    }
    lb_statement_reset(st);
    entry->part.former = entry->former.at;
    entry->part.former_count = entry->former.count;
    convert_packs(entry);
    return status;
}

static lb_status read_was(struct build *b, struct lb_part_offer *offer)
{
    bool row;
    lb_status status;
    LB_VEC(struct lb_price_was) list = {0};
    struct lb_statement *st = build_query(b, QUERY_WAS, NULL);
    if (!st)
        return b->err->status;
    lb_bind_integer(st, 1, offer->row);
    while (!(status = lb_step(st, &row, b->err)) && row) {
        struct lb_price_was was = {.price = lb_integer(st, 0)};
        status = build_text(b, lb_text(st, 1), &was.currency);
        if (!status)
            status = build_text(b, lb_text(st, 2), &was.until);
        if (!status && !LB_PUSH(&list, was))
            status = lb_fail_nomem(b->err);
        if (status)
            break;
    }
    lb_statement_reset(st);
    struct lb_price_was *kept = lb_arena_alloc(&b->arena, (list.count + 1) * sizeof *kept);
    if (!status && !kept)
        status = lb_fail_nomem(b->err);
    if (!status && list.count)
        memcpy(kept, list.at, list.count * sizeof *kept);
    offer->was = kept;
    offer->was_count = list.count;
    free(list.at);
    return status;
}

lb_status build_was(struct build *b, struct entry *entry)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < entry->offers.count; i++)
        status = read_was(b, &entry->offers.at[i]);
    return status;
}

static lb_status candidate_history(struct build *b, const struct lb_candidate *candidate)
{
    lb_status status = candidate->part->live && candidate->part->part_type && candidate->fit != LB_FIT_NO
                           ? LB_OK
                           : build_former(b, entry_of(candidate->part));
    for (size_t i = 0; !status && i < candidate->companion_count; i++)
        if (!candidate->companions[i].part->live)
            status = build_former(b, entry_of(candidate->companions[i].part));
    return status;
}

lb_status build_history(struct build *b)
{
    int64_t any = 0;
    lb_status status = lb_store_integer(b->store, "SELECT EXISTS (SELECT 1 FROM former)", &any, b->err);
    if (status || !any)
        return status;
    for (size_t i = 0; !status && i < b->lines.count; i++)
        for (size_t c = 0; !status && c < b->lines.at[i].candidates.count; c++)
            status = candidate_history(b, &b->lines.at[i].candidates.at[c]);
    return status ? status : build_gone(b);
}

/* The last few parts and offers rows; what it fitted only when that is all there is. */
static void say_listed(struct lb_buf *out, const struct lb_part *part)
{
    int said = 0;
    bool listed = lb_former_last(part, "parts") || lb_former_last(part, "offers");
    for (size_t i = 0; i < part->former_count && said < REFUSAL_ROWS; i++) {
        if (listed && strcmp(part->former[i].kind, "applications") == 0)
            continue;
        lb_buf_puts(out, said++ ? "; " : "");
        lb_former_say(out, &part->former[i]);
    }
}

lb_status build_refuse_former(struct build *b, const char *brand, const char *number)
{
    uint32_t part;
    struct lb_buf words = {0}, key = {0};
    lb_part_key(&key, brand, number);
    lb_status status =
        key.failed ? lb_fail_nomem(b->err) : build_part(b, lb_buf_text(&key), NULL, NULL, &part);
    if (!status)
        status = build_former(b, b->parts.at[part]);
    if (!status)
        say_listed(&words, &b->parts.at[part]->part);
    if (!status && words.failed)
        status = lb_fail_nomem(b->err);
    if (!status && words.length)
        status = lb_fail(b->err, LB_DATA, "no catalogue lists %s %s any more. %s.", brand, number,
                         lb_buf_text(&words));
    lb_buf_free(&words);
    lb_buf_free(&key);
    return status;
}
