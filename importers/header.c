#include "importers/header.h"

#include "base/buf.h"
#include "base/text.h"
#include "importers/detect.h"

#include <string.h>

int lb_header_column(const struct lb_header *header, const char *name)
{
    if (header->scheme.entries.count) {
        const struct lb_scheme_entry *entry = lb_scheme_find(&header->scheme, name);
        return entry ? entry->map.column : -1;
    }
    for (int i = 0; i < header->count; i++)
        if (lb_text_equal_nocase(header->names[i], name))
            return i;
    return -1;
}

bool lb_header_has(const struct lb_header *header, const char *name)
{
    const struct lb_scheme_entry *entry = lb_scheme_find(&header->scheme, name);
    return (entry && lb_scheme_is_fixed(entry)) || lb_header_column(header, name) >= 0;
}

bool lb_header_is(const struct lb_header *header, int c, const char *name)
{
    for (size_t i = 0; i < header->scheme.entries.count; i++) {
        const struct lb_scheme_entry *entry = &header->scheme.entries.at[i];
        if (entry->map.column == c && strcmp(entry->map.field, name) == 0)
            return true;
    }
    return !header->scheme.entries.count && lb_text_equal_nocase(header->names[c], name);
}

static lb_status keep_names(struct lb_header *header, const struct lb_csv_record *record,
                            struct lb_error *err)
{
    header->count = record->count;
    while (header->count > 0 && record->cells[header->count - 1][0] == '\0')
        header->count--;
    header->names = lb_arena_alloc(&header->arena, ((size_t)header->count + 1) * sizeof *header->names);
    if (!header->names)
        return lb_fail_nomem(err);
    for (int i = 0; i < header->count; i++) {
        const char *cell = record->cells[i];
        header->names[i] = lb_arena_text(&header->arena, cell, strlen(cell));
        if (!header->names[i])
            return lb_fail_nomem(err);
    }
    return LB_OK;
}

/* Which of the two is meant cannot be known. A column that is ignored anyway may be there as often as it
 * likes. */
static lb_status refuse_twice(const struct lb_header *header, int column, long line, const char *name,
                              struct lb_error *err)
{
    for (int i = column + 1; i < header->count; i++)
        if (lb_text_equal_nocase(header->names[i], header->names[column]))
            return lb_fail_at(err, name, line, i + 1,
                              "the heading \"%s\" is there twice, in column %d and column %d",
                              header->names[column], column + 1, i + 1);
    return LB_OK;
}

static lb_status place_columns(struct lb_header *header, long line, const char *name, struct lb_error *err)
{
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++) {
            int column = lb_header_column(header, header->kinds[k]->columns[i].name);
            header->columns[k][i] = column;
            if (column >= 0 && refuse_twice(header, column, line, name, err))
                return LB_DATA;
        }
    return LB_OK;
}

/* Puts the place before words that have none. */
static lb_status place(struct lb_error *own, long line, const char *name, struct lb_error *err)
{
    lb_status status = own->status == LB_DATA ? lb_fail_at(err, name, line, 0, "%s", lb_error_text(own))
                                              : lb_fail(err, own->status, "%s", lb_error_text(own));
    lb_error_free(own);
    return status;
}

static lb_status make_scheme(struct lb_header *header, const struct lb_read_options *options,
                             struct lb_error *err)
{
    const struct lb_profile *profile = options ? options->profile : NULL;
    if (!profile)
        return lb_scheme_by_lexicon(&header->scheme, header->names, header->count, err);
    const struct lb_profile_row *supplier = lb_profile_find(profile, "supplier");
    if (supplier && options->supplier && supplier->recast->fixed &&
        strcmp(supplier->recast->fixed, options->supplier) != 0)
        return lb_fail(err, LB_DATA,
                       "the supplier is to be %.*s, and the profile %s fixes it to %.*s; leave one out",
                       LB_FIT(options->supplier, 60), profile->name, LB_FIT(supplier->recast->fixed, 60));
    return lb_scheme_by_profile(&header->scheme, header->names, header->count, profile, err);
}

lb_status lb_header_read(struct lb_header *header, const struct lb_csv_record *record, const char *name,
                         const struct lb_read_options *options, struct lb_error *err)
{
    struct lb_error own = {0};
    *header = (struct lb_header){0};
    if (record->fault)
        return lb_fail_at(err, name, record->line, record->column, "the row of headings cannot be read: %s",
                          record->fault);
    if (record->count >= LB_CSV_CELLS_MAX)
        return lb_fail_at(err, name, record->line, 0, "the row of headings has more than %d columns",
                          LB_CSV_CELLS_MAX - 1);
    header->profile = options ? options->profile : NULL;
    lb_status status = keep_names(header, record, err);
    if (!status && (status = make_scheme(header, options, &own)))
        place(&own, record->line, name, err);
    return status;
}

lb_status lb_header_settle(struct lb_header *header, long line, const char *name,
                           const struct lb_read_options *options, struct lb_error *err)
{
    lb_status status = lb_scheme_settle(&header->scheme, err);
    if (status == LB_OK)
        status = lb_detect_kinds(header, line, name, options, err);
    return status ? status : place_columns(header, line, name, err);
}

static bool is_ignored(const struct lb_header *header, int column)
{
    for (size_t i = 0; i < header->scheme.entries.count; i++) {
        const struct lb_recast *recast = header->scheme.entries.at[i].recast;
        if (recast && recast->per_heading && lb_text_same_words(recast->per_heading, header->names[column]))
            return true;
    }
    for (size_t i = 0; header->profile && i < header->profile->ignored.count; i++)
        if (lb_text_same_words(header->profile->ignored.at[i], header->names[column]))
            return true;
    return false;
}

static bool is_known(const struct lb_header *header, int column)
{
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++)
            if (header->columns[k][i] == column)
                return true;
    return is_ignored(header, column);
}

/* The columns that are still free are what a misspelt one may have meant. */
static void append_guess(struct lb_buf *out, const struct lb_header *header, const char *heading)
{
    const char *names[3 * LB_KIND_COLUMNS_MAX];
    size_t count = 0;
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++)
            if (header->columns[k][i] < 0)
                names[count++] = header->kinds[k]->columns[i].name;
    struct lb_buf guess = {0};
    if (lb_text_nearest(&guess, heading, names, count))
        lb_buf_printf(out, "; did you mean %s?", lb_buf_text(&guess));
    lb_buf_free(&guess);
}

static const char *doubt_of(const struct lb_header *header, int column)
{
    for (size_t i = 0; i < header->scheme.doubts.count; i++)
        if (header->scheme.doubts.at[i].column == column)
            return header->scheme.doubts.at[i].why;
    return NULL;
}

static const struct lb_scheme_entry *entry_at(const struct lb_header *header, int column)
{
    for (size_t i = 0; i < header->scheme.entries.count; i++)
        if (header->scheme.entries.at[i].map.column == column)
            return &header->scheme.entries.at[i];
    return NULL;
}

static void say_unknown(struct lb_buf *words, const struct lb_header *header, int column)
{
    const char *doubt = doubt_of(header, column);
    const struct lb_scheme_entry *entry = entry_at(header, column);
    bool own = !entry || lb_text_equal_nocase(entry->map.field, header->names[column]);
    lb_buf_printf(words, "column %d, \"%s\"", column + 1, header->names[column]);
    if (doubt) {
        lb_buf_printf(words, ", is not used: it %s", doubt);
    } else if (!own) {
        lb_buf_printf(words, " (%s), is not known to a file of %s and is ignored", entry->map.field,
                      header->kinds[0]->name);
    } else {
        lb_buf_printf(words, ", is not known to a file of %s and is ignored", header->kinds[0]->name);
        append_guess(words, header, header->names[column]);
    }
}

void lb_header_warn(const struct lb_header *header, const struct lb_row_sink *sink)
{
    struct lb_buf words = {0};
    for (int i = 0; i < header->count; i++) {
        if (header->names[i][0] == '\0' || is_known(header, i))
            continue;
        lb_buf_clear(&words);
        say_unknown(&words, header, i);
        sink->warn(sink->context, 0, lb_buf_text(&words));
    }
    for (size_t i = 0; i < header->scheme.absent.count; i++) {
        lb_buf_clear(&words);
        lb_buf_printf(&words, "the profile's heading \"%s\" is not in this file",
                      header->scheme.absent.at[i]);
        sink->warn(sink->context, 0, lb_buf_text(&words));
    }
    lb_buf_free(&words);
}

void lb_header_free(struct lb_header *header)
{
    lb_scheme_free(&header->scheme);
    lb_arena_free(&header->arena);
}
