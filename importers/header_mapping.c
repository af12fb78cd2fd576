/* The mapping that a settled header makes. */
#include "base/text.h"
#include "importers/header.h"

#include <string.h>

struct making {
    struct lb_header *header;
    const struct lb_read_options *options;
    struct lb_mapping_column *columns;
    struct lb_mapping_unknown *unknown;
    struct lb_mapping *out;
};

static bool is_taken(const struct making *m, const char *field)
{
    for (size_t i = 0; i < m->out->column_count; i++)
        if (strcmp(m->columns[i].field, field) == 0)
            return true;
    return false;
}

/* The supplier that the options fill in: for every row, or for empty cells. */
static bool fill_supplier(struct making *m, struct lb_mapping_column *map)
{
    struct lb_recast recast = {.empty = m->options->supplier};
    struct lb_buf text = {0};
    if (strstr(map->convert, "fixed ") == map->convert || strstr(map->convert, "empty "))
        return true;
    if (map->column < 0)
        recast = (struct lb_recast){.fixed = m->options->supplier};
    lb_buf_printf(&text, "%s%s", map->convert, *map->convert ? "; " : "");
    lb_recast_write(&text, &recast);
    map->convert = text.failed ? NULL : lb_arena_text(&m->header->arena, text.text, text.length);
    map->by = map->by == LB_MAPPED_BY_NAME || map->column < 0 ? LB_MAPPED_BY_OPTION : map->by;
    lb_buf_free(&text);
    return map->convert != NULL;
}

static bool add_column(struct making *m, int k, int i)
{
    const struct lb_column *column = &m->header->kinds[k]->columns[i];
    const struct lb_scheme_entry *entry = lb_scheme_find(&m->header->scheme, column->name);
    bool fills = m->options && m->options->supplier && strcmp(column->name, "supplier") == 0;
    int at = m->header->columns[k][i];
    struct lb_mapping_column map = {
        column->name, at < 0 ? "" : m->header->names[at], at, "", LB_MAPPED_BY_NAME, false};
    if (is_taken(m, column->name) || (entry && entry->derived) || (!entry && at < 0 && !fills))
        return true;
    if (entry)
        map = entry->map;
    bool whole = !fills || fill_supplier(m, &map);
    m->columns[m->out->column_count++] = map;
    return whole;
}

/* Why a heading is not used: a doubt, or a column that these kinds have not. NULL: it is not known. */
static const char *why_not(struct lb_header *header, int column, bool *failed)
{
    const struct lb_scheme *scheme = &header->scheme;
    struct lb_buf words = {0};
    for (size_t i = 0; i < scheme->doubts.count; i++)
        if (scheme->doubts.at[i].column == column)
            return scheme->doubts.at[i].why;
    for (size_t i = 0; i < scheme->entries.count && !words.length; i++)
        if (scheme->entries.at[i].map.column == column)
            lb_buf_printf(&words, "is %s, which a file of %s does not have", scheme->entries.at[i].map.field,
                          header->kinds[0]->name);
    const char *kept = words.length ? lb_arena_text(&header->arena, words.text, words.length) : NULL;
    *failed |= words.failed || (words.length && !kept);
    lb_buf_free(&words);
    return kept;
}

static bool is_used(const struct making *m, int column)
{
    const struct lb_header *header = m->header;
    for (size_t i = 0; i < m->out->column_count; i++)
        if (m->columns[i].column == column)
            return true;
    for (size_t i = 0; i < header->scheme.entries.count; i++) {
        const struct lb_recast *recast = header->scheme.entries.at[i].recast;
        if (recast && recast->per_heading && lb_text_same_words(recast->per_heading, header->names[column]))
            return true;
    }
    for (size_t i = 0; i < m->out->ignored_count; i++)
        if (lb_text_same_words(m->out->ignored[i], header->names[column]))
            return true;
    return false;
}

lb_status lb_header_mapping(struct lb_header *header, const struct lb_read_options *options, char separator,
                            struct lb_mapping *out, struct lb_error *err)
{
    struct making m = {.header = header, .options = options, .out = out};
    *out = (struct lb_mapping){.kind_count = header->kind_count, .separator = separator};
    out->encoding = options && options->encoding ? options->encoding : "UTF-8";
    memcpy(out->kinds, header->kinds, sizeof out->kinds);
    if (header->profile) {
        out->ignored = header->profile->ignored.at;
        out->ignored_count = header->profile->ignored.count;
        out->packs = header->profile->packs;
    }
    m.columns = lb_arena_alloc(&header->arena, 3 * LB_KIND_COLUMNS_MAX * sizeof *m.columns);
    m.unknown = lb_arena_alloc(&header->arena, ((size_t)header->count + 1) * sizeof *m.unknown);
    bool whole = m.columns && m.unknown, failed = false;
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; whole && i < header->kinds[k]->column_count; i++)
            whole = add_column(&m, k, i);
    for (int c = 0; whole && c < header->count; c++)
        if (*header->names[c] && !is_used(&m, c))
            m.unknown[out->unknown_count++] =
                (struct lb_mapping_unknown){header->names[c], c, why_not(header, c, &failed)};
    out->columns = m.columns;
    out->unknown = m.unknown;
    return whole && !failed ? LB_OK : lb_fail_nomem(err);
}
