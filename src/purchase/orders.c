/* What is still on its way, and which deposits are open. */
#include "purchase/orders.h"

#include "base/decimal.h"

#include <stdlib.h>
#include <string.h>

/* The number of the kit's line that is for this, or 0. */
static int number_of(const struct lb_kit *kit, const char *line_key)
{
    for (size_t i = 0; i < kit->line_count; i++)
        if (strcmp(kit->lines[i].need->key, line_key) == 0)
            return kit->lines[i].number;
    return 0;
}

static int by_line(const void *left, const void *right)
{
    const struct lb_on_way *a = left, *b = right;
    int order = (a->line == 0) - (b->line == 0);
    order = order ? order : a->line - b->line;
    order = order ? order : strcmp(a->ordered, b->ordered);
    order = order ? order : strcmp(a->supplier, b->supplier);
    order = order ? order : strcmp(a->brand, b->brand);
    return order ? order : strcmp(a->number, b->number);
}

typedef LB_VEC(struct lb_on_way) on_way_list;

static lb_status read_on_way(struct lb_arena *texts, on_way_list *list, const struct lb_kit *kit,
                             struct lb_statement *st, struct lb_error *err)
{
    struct lb_on_way item = {.quantity = lb_integer(st, 6),
                             .expected = lb_is_null(st, 7) ? LB_NO_DAY : (int32_t)lb_integer(st, 7)};
    const char **columns[] = {&item.brand, &item.number, &item.unit, &item.supplier, &item.ordered};
    lb_status status = lb_need_texts(st, 0, 6, err);
    for (int i = 0; !status && i < 5; i++)
        status = lb_keep_text(st, i + 1, texts, columns[i], err);
    if (status)
        return status;
    item.line = number_of(kit, lb_text(st, 0));
    return LB_PUSH(list, item) ? LB_OK : lb_fail_nomem(err);
}

lb_status lb_orders_on_way(struct lb_on_way_list *out, struct lb_store *store, const struct lb_kit *kit,
                           struct lb_error *err)
{
    struct lb_statement *st;
    on_way_list list = {0};
    bool row;
    *out = (struct lb_on_way_list){0};
    lb_status status = lb_store_prepare(
        store, &st,
        "SELECT s.line_key, s.brand, s.part_number, l.unit, o.label, o.ordered, "
        "s.quantity - s.here - s.lost, o.expected FROM supply s JOIN order_line l ON l.id = s.order_line "
        "JOIN orders o ON o.id = l.\"order\" WHERE s.kit = ?1 AND s.quantity > s.here + s.lost",
        err);
    if (status)
        return status;
    lb_bind_integer(st, 1, lb_kit_id(kit));
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = read_on_way(&out->texts, &list, kit, st, err)))
            break;
    lb_statement_free(st);
    out->at = list.at;
    out->count = list.count;
    if (!status && list.count)
        qsort(list.at, list.count, sizeof *list.at, by_line);
    if (status)
        lb_on_way_free(out);
    return status;
}

void lb_on_way_free(struct lb_on_way_list *list)
{
    free(list->at);
    lb_arena_free(&list->texts);
    *list = (struct lb_on_way_list){0};
}
