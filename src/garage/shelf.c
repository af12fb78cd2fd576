#include "garage/shelf.h"
#include "base/decimal.h"

#include <stdlib.h>
#include <string.h>

static lb_status read_item(struct lb_shelf *shelf, struct lb_statement *st, struct lb_error *err)
{
    struct lb_shelf_item item = {.quantity = lb_integer(st, 6), .opened = lb_integer(st, 7) != 0};
    const char **texts[] = {&item.key, &item.brand, &item.number, &item.unit, &item.since, &item.part_type};
    lb_status status = lb_need_texts(st, 0, 5, err);
    for (int i = 0; !status && i < 6; i++)
        status = lb_keep_text(st, i, &shelf->texts, texts[i], err);
    if (status)
        return status;
    return LB_PUSH(&shelf->items, item) ? LB_OK : lb_fail_nomem(err);
}

lb_status lb_shelf_load(struct lb_shelf *out, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    *out = (struct lb_shelf){0};
    lb_status status = lb_store_prepare(store, &st,
                                        "SELECT part, brand, part_number, unit, since, part_type, quantity, "
                                        "opened FROM shelf ORDER BY brand, part_number",
                                        err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = read_item(out, st, err)))
            break;
    lb_statement_free(st);
    if (status)
        lb_shelf_free(out);
    return status;
}

const struct lb_shelf_item *lb_shelf_find(const struct lb_shelf *shelf, const char *part_key)
{
    for (size_t i = 0; i < shelf->items.count; i++)
        if (strcmp(shelf->items.at[i].key, part_key) == 0)
            return &shelf->items.at[i];
    return NULL;
}

void lb_shelf_free(struct lb_shelf *shelf)
{
    free(shelf->items.at);
    lb_arena_free(&shelf->texts);
    *shelf = (struct lb_shelf){0};
}

lb_status lb_shelf_quantity(struct lb_store *store, const char *part_key, int64_t *quantity,
                            struct lb_error *err)
{
    struct lb_statement *st;
    bool row = false;
    *quantity = 0;
    lb_status status = lb_store_prepare(store, &st, "SELECT quantity FROM shelf WHERE part = ?1", err);
    if (status)
        return status;
    lb_bind_text(st, 1, part_key);
    status = lb_step(st, &row, err);
    if (row)
        *quantity = lb_integer(st, 0);
    lb_statement_free(st);
    return status;
}

/* Both ways to put something there; the parameters are the same. */
static lb_status write(struct lb_store *store, const char *sql, const struct lb_shelf_item *item,
                       struct lb_error *err)
{
    struct lb_statement *st;
    const char *const texts[] = {item->key,       item->brand, item->number,
                                 item->part_type, item->unit,  item->since};
    lb_status status = lb_store_prepare(store, &st, sql, err);
    if (status)
        return status;
    for (int i = 0; i < 6; i++)
        lb_bind_text(st, i + 1, texts[i]);
    lb_bind_integer(st, 7, item->quantity);
    lb_bind_integer(st, 8, item->opened);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}

#define PUT                                                                                                  \
    "INSERT INTO shelf (part, brand, part_number, part_type, unit, since, quantity, opened) "                \
    "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) ON CONFLICT (part) DO UPDATE SET opened = max(opened, ?8), "

lb_status lb_shelf_add(struct lb_store *store, const struct lb_shelf_item *item, struct lb_error *err)
{
    return item->quantity > 0 ? write(store, PUT "quantity = quantity + ?7", item, err) : LB_OK;
}

static lb_status take(struct lb_store *store, const char *sql, const char *part_key, int64_t quantity,
                      struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(store, &st, sql, err);
    if (status)
        return status;
    lb_bind_text(st, 1, part_key);
    lb_bind_integer(st, 2, quantity);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}

lb_status lb_shelf_take(struct lb_store *store, const char *part_key, int64_t quantity, struct lb_error *err)
{
    int64_t there;
    lb_status status = lb_shelf_quantity(store, part_key, &there, err);
    if (status || quantity <= 0)
        return status;
    if (there < quantity)
        return lb_fail(err, LB_DATA,
                       "less lies on the shelf than is to be taken from it. See: lastbolt shelf");
    return take(store,
                there == quantity ? "DELETE FROM shelf WHERE part = ?1 AND quantity >= ?2"
                                  : "UPDATE shelf SET quantity = quantity - ?2 WHERE part = ?1",
                part_key, quantity, err);
}

lb_status lb_shelf_set(struct lb_store *store, const struct lb_shelf_item *item, struct lb_error *err)
{
    return item->quantity > 0
               ? write(store, PUT "quantity = ?7", item, err)
               : take(store, "DELETE FROM shelf WHERE part = ?1 AND quantity >= ?2", item->key, 0, err);
}
