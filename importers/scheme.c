#include "importers/scheme.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

const struct lb_column *lb_scheme_type(const char *name)
{
    for (int k = 0; k < lb_kind_count; k++)
        for (int i = 0; i < lb_kinds[k].column_count; i++)
            if (lb_text_equal_nocase(lb_kinds[k].columns[i].name, name))
                return &lb_kinds[k].columns[i];
    return NULL;
}

struct lb_scheme_entry *lb_scheme_find(const struct lb_scheme *scheme, const char *field)
{
    for (size_t i = 0; i < scheme->entries.count; i++)
        if (strcmp(scheme->entries.at[i].map.field, field) == 0)
            return &scheme->entries.at[i];
    return NULL;
}

bool lb_scheme_is_fixed(const struct lb_scheme_entry *entry)
{
    return entry->map.column < 0 && !entry->derived;
}

lb_status lb_scheme_add(struct lb_scheme *scheme, const struct lb_column *type, struct lb_mapping_column map,
                        struct lb_error *err)
{
    map.field = type->name;
    map.convert = lb_arena_text(&scheme->texts, map.convert, strlen(map.convert));
    map.heading = lb_arena_text(&scheme->texts, map.heading, strlen(map.heading));
    const struct lb_scheme_entry entry = {.type = type, .map = map};
    return map.convert && map.heading && LB_PUSH(&scheme->entries, entry) ? LB_OK : lb_fail_nomem(err);
}

lb_status lb_scheme_add_convert(struct lb_scheme *scheme, struct lb_scheme_entry *entry, const char *more,
                                struct lb_error *err)
{
    struct lb_buf text = {0};
    lb_buf_printf(&text, "%s%s%s", entry->map.convert, *entry->map.convert ? "; " : "", more);
    entry->map.convert = text.failed ? NULL : lb_arena_text(&scheme->texts, text.text, text.length);
    lb_buf_free(&text);
    return entry->map.convert ? LB_OK : lb_fail_nomem(err);
}

lb_status lb_scheme_doubt(struct lb_scheme *scheme, const char *heading, int column, const char *why,
                          struct lb_error *err)
{
    struct lb_mapping_unknown doubt = {heading, column, lb_arena_text(&scheme->texts, why, strlen(why))};
    return doubt.why && LB_PUSH(&scheme->doubts, doubt) ? LB_OK : lb_fail_nomem(err);
}

void lb_scheme_remove(struct lb_scheme *scheme, struct lb_scheme_entry *entry)
{
    size_t at = (size_t)(entry - scheme->entries.at);
    memmove(entry, entry + 1, (--scheme->entries.count - at) * sizeof *entry);
}

/* A price per 100 makes the pack where the file states none. */
static lb_status derive_pack(struct lb_scheme *scheme, struct lb_error *err)
{
    const struct lb_scheme_entry *price = lb_scheme_find(scheme, "price");
    const struct lb_recast *recast = price ? price->recast : NULL;
    if (!recast || (!recast->per && !recast->per_heading && !recast->per_text) ||
        lb_scheme_find(scheme, "pack_quantity"))
        return LB_OK;
    const struct lb_mapping_column map = {.heading = "", .convert = "", .column = -1, .by = price->map.by};
    lb_status status = lb_scheme_add(scheme, lb_scheme_type("pack_quantity"), map, err);
    if (!status)
        scheme->entries.at[scheme->entries.count - 1].derived = true;
    return status;
}

lb_status lb_scheme_settle(struct lb_scheme *scheme, struct lb_error *err)
{
    for (size_t i = 0; i < scheme->entries.count; i++) {
        struct lb_scheme_entry *entry = &scheme->entries.at[i];
        struct lb_buf text = {0};
        if (!*entry->map.convert)
            continue;
        entry->recast = calloc(1, sizeof *entry->recast);
        lb_status status = entry->recast
                               ? lb_recast_parse(entry->recast, entry->map.convert, entry->type, err)
                               : lb_fail_nomem(err);
        if (status)
            return status;
        lb_recast_write(&text, entry->recast);
        entry->map.convert = lb_arena_text(&scheme->texts, lb_buf_text(&text), text.length);
        bool failed = text.failed || !entry->map.convert;
        lb_buf_free(&text);
        if (failed)
            return lb_fail_nomem(err);
    }
    return derive_pack(scheme, err);
}

void lb_scheme_free(struct lb_scheme *scheme)
{
    for (size_t i = 0; i < scheme->entries.count; i++)
        if (scheme->entries.at[i].recast) {
            lb_recast_free(scheme->entries.at[i].recast);
            free(scheme->entries.at[i].recast);
        }
    free(scheme->entries.at);
    free(scheme->doubts.at);
    free(scheme->absent.at);
    lb_arena_free(&scheme->texts);
    *scheme = (struct lb_scheme){0};
}
