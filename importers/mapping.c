#include "importers/mapping.h"

#include "importers/profile.h"

#include <stdlib.h>
#include <string.h>

static void write_fixed(struct lb_buf *out, const char *field, const char *value)
{
    struct lb_buf convert = {0};
    lb_buf_printf(&convert, "fixed %s", value);
    lb_profile_write_row(out, field, "", lb_buf_text(&convert));
    out->failed |= convert.failed;
    lb_buf_free(&convert);
}

static void write_kinds(struct lb_buf *out, const struct lb_mapping *mapping)
{
    struct lb_buf names = {0};
    for (int i = 0; i < mapping->kind_count; i++)
        lb_buf_printf(&names, "%s%s", i ? "+" : "", mapping->kinds[i]->name);
    write_fixed(out, "kind", lb_buf_text(&names));
    out->failed |= names.failed;
    lb_buf_free(&names);
}

void lb_mapping_write_profile(struct lb_buf *out, const struct lb_mapping *mapping)
{
    const char separator[] = {mapping->separator, '\0'};
    lb_buf_puts(out, LB_PROFILE_HEADINGS);
    write_fixed(out, "encoding", mapping->encoding);
    write_fixed(out, "separator", mapping->separator == '\t' ? "tab" : separator);
    write_kinds(out, mapping);
    for (size_t i = 0; i < mapping->column_count; i++) {
        const struct lb_mapping_column *column = &mapping->columns[i];
        lb_profile_write_row(out, column->field, column->heading, column->convert);
    }
    for (size_t i = 0; i < mapping->ignored_count; i++)
        lb_profile_write_row(out, mapping->ignored[i] == mapping->packs ? "packs" : "ignore",
                             mapping->ignored[i], "");
    for (size_t i = 0; i < mapping->unknown_count; i++)
        lb_profile_write_row(out, "ignore", mapping->unknown[i].heading, "");
}

bool lb_mapping_is_plain(const struct lb_mapping *mapping)
{
    for (size_t i = 0; i < mapping->column_count; i++) {
        const struct lb_mapping_column *column = &mapping->columns[i];
        if (column->by != LB_MAPPED_BY_OPTION && (column->by != LB_MAPPED_BY_NAME || column->inferred))
            return false;
    }
    return true;
}

static const char *keep(struct lb_mapping *copy, const char *text, bool *failed)
{
    const char *kept = text ? lb_arena_text(&copy->texts, text, strlen(text)) : NULL;
    *failed |= text && !kept;
    return kept;
}

static bool copy_lists(struct lb_mapping *copy, const struct lb_mapping *from)
{
    bool failed = false;
    struct lb_mapping_column *columns =
        lb_arena_alloc(&copy->texts, (from->column_count + 1) * sizeof *columns);
    struct lb_mapping_unknown *unknown =
        lb_arena_alloc(&copy->texts, (from->unknown_count + 1) * sizeof *unknown);
    const char **ignored = lb_arena_alloc(&copy->texts, (from->ignored_count + 1) * sizeof *ignored);
    if (!columns || !unknown || !ignored)
        return false;
    for (size_t i = 0; i < from->column_count; i++) {
        columns[i] = from->columns[i];
        columns[i].field = keep(copy, columns[i].field, &failed);
        columns[i].heading = keep(copy, columns[i].heading, &failed);
        columns[i].convert = keep(copy, columns[i].convert, &failed);
    }
    for (size_t i = 0; i < from->unknown_count; i++) {
        unknown[i] = from->unknown[i];
        unknown[i].heading = keep(copy, unknown[i].heading, &failed);
        unknown[i].why = keep(copy, unknown[i].why, &failed);
    }
    for (size_t i = 0; i < from->ignored_count; i++) {
        ignored[i] = keep(copy, from->ignored[i], &failed);
        if (from->ignored[i] == from->packs)
            copy->packs = ignored[i];
    }
    copy->encoding = keep(copy, from->encoding, &failed);
    copy->columns = columns;
    copy->unknown = unknown;
    copy->ignored = ignored;
    return !failed;
}

struct lb_mapping *lb_mapping_copy(const struct lb_mapping *mapping)
{
    struct lb_mapping *copy = malloc(sizeof *copy);
    if (!copy)
        return NULL;
    *copy = *mapping;
    copy->texts = (struct lb_arena){0};
    if (copy_lists(copy, mapping))
        return copy;
    lb_mapping_free(copy);
    return NULL;
}

void lb_mapping_free(struct lb_mapping *mapping)
{
    if (!mapping)
        return;
    lb_arena_free(&mapping->texts);
    free(mapping);
}
