#include "garage/preference.h"

#include <stdlib.h>
#include <string.h>

lb_status lb_preference_load(struct lb_preferences *out, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    *out = (struct lb_preferences){0};
    lb_status status =
        lb_store_prepare(store, &st, "SELECT part_type, premium FROM preference ORDER BY part_type", err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row) {
        struct lb_preference item = {.premium = lb_integer(st, 1)};
        status = lb_need_texts(st, 0, 1, err);
        if (!status)
            status = lb_keep_text(st, 0, &out->texts, &item.part_type, err);
        if (!status && !LB_PUSH(&out->items, item))
            status = lb_fail_nomem(err);
        if (status)
            break;
    }
    lb_statement_free(st);
    if (status)
        lb_preference_free(out);
    return status;
}

int64_t lb_preference_find(const struct lb_preferences *preferences, const char *part_type)
{
    for (size_t i = 0; part_type && i < preferences->items.count; i++)
        if (strcmp(preferences->items.at[i].part_type, part_type) == 0)
            return preferences->items.at[i].premium;
    return 0;
}

void lb_preference_free(struct lb_preferences *preferences)
{
    free(preferences->items.at);
    lb_arena_free(&preferences->texts);
    *preferences = (struct lb_preferences){0};
}

lb_status lb_preference_set(struct lb_store *store, const char *part_type, int64_t premium,
                            struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(
        store, &st,
        premium > 0 ? "INSERT OR REPLACE INTO preference (part_type, premium) VALUES (?1, ?2)"
                    : "DELETE FROM preference WHERE part_type = ?1",
        err);
    if (status)
        return status;
    lb_bind_text(st, 1, part_type);
    if (premium > 0)
        lb_bind_integer(st, 2, premium);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}
