#include "catalog/preview.h"

#include "importers/show.h"

#include <string.h>

static size_t column_of(struct lb_preview *preview, const struct lb_column *column)
{
    size_t at = 0;
    while (at < preview->column_count && strcmp(preview->columns[at]->name, column->name) != 0)
        at++;
    if (at == preview->column_count)
        preview->columns[preview->column_count++] = column;
    return at;
}

/* What an empty cell means is worth showing only where the file has the column; what is fixed, never. */
static bool is_shown(const struct lb_mapping *mapping, const struct lb_column *column, const char *text)
{
    for (size_t i = 0; mapping && i < mapping->column_count; i++)
        if (strcmp(mapping->columns[i].field, column->name) == 0)
            return mapping->columns[i].column >= 0;
    return !column->fallback || strcmp(text, column->fallback) != 0;
}

static const char *currency_of(const struct lb_kind *kind, const struct lb_value *values)
{
    int column = lb_kind_column(kind, "currency");
    return column >= 0 && values[column].type == LB_VALUE_TEXT ? values[column].text : NULL;
}

static bool add_kind(struct lb_preview *preview, const char **texts, const struct lb_kind *kind,
                     const struct lb_value *values, const struct lb_mapping *mapping)
{
    bool failed = false;
    struct lb_buf text = {0};
    for (int i = 0; i < kind->column_count && !failed; i++) {
        const struct lb_column *column = &kind->columns[i];
        size_t at = column_of(preview, column);
        lb_buf_clear(&text);
        lb_value_show(&text, column, &values[i], currency_of(kind, values));
        if (!is_shown(mapping, column, lb_buf_text(&text)))
            continue;
        texts[at] = lb_arena_text(&preview->texts, lb_buf_text(&text), text.length);
        failed = text.failed || !texts[at];
    }
    lb_buf_free(&text);
    return !failed;
}

bool lb_preview_add(struct lb_preview *preview, const struct lb_row *row, const struct lb_mapping *mapping)
{
    if (preview->row_count == LB_PREVIEW_ROWS)
        return true;
    const char **texts = lb_arena_alloc(&preview->texts, LB_PREVIEW_COLUMNS * sizeof *texts);
    if (!texts)
        return false;
    for (size_t i = 0; i < LB_PREVIEW_COLUMNS; i++)
        texts[i] = "";
    for (int k = 0; k < row->kind_count; k++)
        if (!add_kind(preview, texts, row->kinds[k], row->values[k], mapping))
            return false;
    preview->rows[preview->row_count++] = (struct lb_preview_row){row->line, texts};
    return true;
}

void lb_preview_free(struct lb_preview *preview)
{
    lb_arena_free(&preview->texts);
}
