/* Deposits: open since the packs came, until the owner says that they were given back. A pack that came in
 * part has come. */
#include "base/decimal.h"
#include "purchase/orders.h"

#include <stdlib.h>
#include <string.h>

/* One row of supply with its order line; rows of one order line follow one another. */
struct row {
    int64_t supply, order_line, kit;
    const char *kit_name, *line_key, *supplier, *brand, *number, *currency, *since;
    int64_t pack, deposit, came, here, returned;
};

struct listing {
    struct lb_store *store;
    int32_t today;
    struct lb_kit *const *claiming; /* kits; NULL: nothing is claimed, all is told */
    size_t claiming_count;
    const char *name;           /* what they go by */
    const struct lb_line *line; /* of the only one; NULL: all */
    struct lb_arena texts;
    LB_VEC(struct row) rows;
    LB_VEC(struct lb_deposit) deposits;
    LB_VEC(struct lb_kit *) kits; /* opened to number their lines */
    struct lb_error *err;
};

static lb_status read_row(struct listing *l, struct lb_statement *st)
{
    struct row row = {0};
    const char **texts[] = {&row.kit_name, &row.line_key, &row.supplier, &row.brand,
                            &row.number,   &row.currency, &row.since};
    int64_t *const numbers[] = {&row.supply,  &row.order_line, &row.kit,  &row.pack,
                                &row.deposit, &row.came,       &row.here, &row.returned};
    lb_status status = lb_need_texts(st, 0, 7, l->err);
    for (int i = 0; !status && i < 7; i++)
        status = lb_keep_text(st, i, &l->texts, texts[i], l->err);
    for (int i = 0; i < 8; i++)
        *numbers[i] = lb_integer(st, 7 + i);
    if (status)
        return status;
    return LB_PUSH(&l->rows, row) ? LB_OK : lb_fail_nomem(l->err);
}

static lb_status read_rows(struct listing *l)
{
    struct lb_statement *st;
    bool row;
    lb_status status = lb_store_prepare(
        l->store, &st,
        "SELECT k.name, s.line_key, o.label, l.brand, l.part_number, o.currency, l.first_came, s.id, l.id, "
        "k.id, l.pack_quantity, l.deposit, l.came, s.here, s.returned FROM order_line l "
        "JOIN orders o ON o.id = l.\"order\" JOIN supply s ON s.order_line = l.id JOIN kit k ON k.id = s.kit "
        "WHERE l.deposit > 0 AND l.came > 0 AND l.first_came IS NOT NULL ORDER BY o.label, l.id, s.id",
        l->err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, l->err)) && row)
        if ((status = read_row(l, st)))
            break;
    lb_statement_free(st);
    return status;
}

static int64_t packs_of(const struct row *row, int64_t quantity)
{
    return row->pack > 0 ? lb_decimal_ceil_div(quantity, row->pack) : 0;
}

/* Packs of the order line, of rows [first, end), that came and whose deposit was not given back. */
static int64_t open_packs(const struct listing *l, size_t first, size_t end)
{
    int64_t packs = packs_of(&l->rows.at[first], l->rows.at[first].came);
    for (size_t i = first; i < end; i++)
        packs -= l->rows.at[i].returned;
    return packs > 0 ? packs : 0;
}

/* Packs that came for this row's line alone, as far as they can be told apart. */
static int64_t own_packs(const struct row *row)
{
    int64_t packs = packs_of(row, row->here) - row->returned;
    return packs > 0 ? packs : 0;
}

/* A kit that cannot be worked out now still has its name. */
static lb_status number_of(struct listing *l, const struct row *row, int *number)
{
    struct lb_kit *kit = NULL;
    struct lb_error own = {0};
    *number = 0;
    for (size_t i = 0; i < l->kits.count && !kit; i++)
        if (lb_kit_id(l->kits.at[i]) == row->kit)
            kit = l->kits.at[i];
    if (!kit && lb_kit_open(&kit, l->store, row->kit_name, l->today, &own) == LB_OK &&
        !LB_PUSH(&l->kits, kit)) {
        lb_kit_free(kit);
        return lb_fail_nomem(l->err);
    }
    lb_error_free(&own);
    for (size_t i = 0; kit && i < kit->line_count; i++)
        if (strcmp(kit->lines[i].need->key, row->line_key) == 0)
            *number = kit->lines[i].number;
    return LB_OK;
}

static lb_status say_kit(struct listing *l, const struct row *row, struct lb_buf *words)
{
    int number;
    lb_status status = number_of(l, row, &number);
    lb_buf_printf(words, "%s%s", words->length ? ", " : "", row->kit_name);
    if (number)
        lb_buf_printf(words, " %d", number);
    return status;
}

static lb_status tell(struct listing *l, const struct row *row, int64_t packs, const char *kits)
{
    struct lb_deposit deposit = {row->supplier,
                                 row->brand,
                                 row->number,
                                 packs,
                                 0,
                                 row->currency,
                                 row->since,
                                 lb_arena_text(&l->texts, kits, strlen(kits))};
    deposit.amount = lb_decimal_muldiv(packs, row->deposit, 1);
    return deposit.kits && LB_PUSH(&l->deposits, deposit) ? LB_OK : lb_fail_nomem(l->err);
}

/* One order line's deposits, for all who have some of it. */
static lb_status tell_open(struct listing *l, size_t first, size_t end)
{
    struct lb_buf words = {0};
    int64_t packs = open_packs(l, first, end);
    lb_status status = LB_OK;
    for (int all = 0; packs && all < 2 && !words.length;
         all++) /* nobody alone has a whole pack: all share it */
        for (size_t i = first; !status && i < end; i++)
            if (all || own_packs(&l->rows.at[i]))
                status = say_kit(l, &l->rows.at[i], &words);
    if (!status && packs)
        status =
            words.failed ? lb_fail_nomem(l->err) : tell(l, &l->rows.at[first], packs, lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}

static lb_status give_back(struct listing *l, struct row *row, int64_t packs)
{
    struct lb_statement *st;
    lb_status status =
        lb_store_prepare(l->store, &st, "UPDATE supply SET returned = returned + ?2 WHERE id = ?1", l->err);
    if (status)
        return status;
    lb_bind_integer(st, 1, row->supply);
    lb_bind_integer(st, 2, packs);
    status = lb_run(st, l->err);
    lb_statement_free(st);
    row->returned += packs;
    return status;
}

static bool is_claimed(const struct listing *l, const struct row *row)
{
    for (size_t k = 0; k < l->claiming_count; k++)
        if (row->kit == lb_kit_id(l->claiming[k]))
            return !l->line || strcmp(row->line_key, l->line->need->key) == 0;
    return false;
}

/* A line gives back the packs that came for it; when nobody else has any, also those that are over. */
static lb_status claim(struct listing *l, size_t first, size_t end)
{
    lb_status status = LB_OK;
    for (size_t i = first; !status && i < end; i++) {
        struct row *row = &l->rows.at[i];
        struct lb_buf words = {0};
        bool others = false;
        if (!is_claimed(l, row))
            continue;
        for (size_t k = first; k < end; k++)
            others |= k != i && own_packs(&l->rows.at[k]);
        int64_t open = open_packs(l, first, end), own = own_packs(row);
        int64_t packs = others && own < open ? own : open;
        if (!packs)
            continue;
        status = give_back(l, row, packs);
        if (!status)
            status = say_kit(l, row, &words);
        if (!status)
            status = words.failed ? lb_fail_nomem(l->err) : tell(l, row, packs, lb_buf_text(&words));
        lb_buf_free(&words);
    }
    return status;
}

static lb_status each_line(struct listing *l, lb_status (*each)(struct listing *, size_t, size_t))
{
    lb_status status = read_rows(l);
    for (size_t first = 0, end; !status && first < l->rows.count; first = end) {
        for (end = first + 1; end < l->rows.count; end++)
            if (l->rows.at[end].order_line != l->rows.at[first].order_line)
                break;
        status = each(l, first, end);
    }
    return status;
}

static lb_status hand_out(struct listing *l, lb_status status, struct lb_deposit_list *out)
{
    for (size_t i = 0; i < l->kits.count; i++)
        lb_kit_free(l->kits.at[i]);
    free(l->kits.at);
    free(l->rows.at);
    *out = (struct lb_deposit_list){l->texts, l->deposits.at, l->deposits.count};
    if (status)
        lb_deposits_free(out);
    return status;
}

lb_status lb_deposits(struct lb_deposit_list *out, struct lb_store *store, int32_t today,
                      struct lb_error *err)
{
    struct listing l = {.store = store, .today = today, .err = err};
    return hand_out(&l, each_line(&l, tell_open), out);
}

static lb_status refuse_none(const struct listing *l)
{
    if (l->line)
        return lb_fail(l->err, LB_DATA, "no deposit is open for line %d of %s. See: lastbolt deposits",
                       l->line->number, l->name);
    return lb_fail(l->err, LB_DATA, "no deposit is open for %s. See: lastbolt deposits", l->name);
}

static lb_status claim_all(struct listing *l, struct lb_deposit_list *out)
{
    lb_status status = lb_store_begin(l->store, l->err);
    if (!status)
        status = each_line(l, claim);
    if (!status && !l->deposits.count)
        status = refuse_none(l);
    if (!status)
        status = lb_store_commit(l->store, l->err);
    if (status)
        lb_store_rollback(l->store);
    return hand_out(l, status, out);
}

lb_status lb_deposits_claim(struct lb_deposit_list *out, struct lb_store *store, const struct lb_kit *kit,
                            const struct lb_line *line, int32_t today, struct lb_error *err)
{
    struct lb_kit *const one[] = {(struct lb_kit *)kit};
    struct listing l = {.store = store,
                        .today = today,
                        .claiming = one,
                        .claiming_count = 1,
                        .name = kit->name,
                        .line = line,
                        .err = err};
    return claim_all(&l, out);
}

lb_status lb_fleet_claim(struct lb_deposit_list *out, struct lb_store *store, const struct lb_fleet *fleet,
                         size_t kit, const struct lb_line *line, int32_t today, struct lb_error *err)
{
    if (line)
        return lb_deposits_claim(out, store, fleet->kits[kit], line, today, err);
    struct listing l = {.store = store,
                        .today = today,
                        .claiming = fleet->kits,
                        .claiming_count = fleet->kit_count,
                        .name = fleet->name,
                        .err = err};
    return claim_all(&l, out);
}

void lb_deposits_free(struct lb_deposit_list *list)
{
    free(list->at);
    lb_arena_free(&list->texts);
    *list = (struct lb_deposit_list){0};
}
