#include "importers/profile.h"

#include "base/cell.h"
#include "base/text.h"
#include "importers/csv_reader.h"

#include <stdlib.h>
#include <string.h>

/* A row as it stands in the file. */
struct line {
    const char *file;
    long number;
    const char *field, *heading, *convert;
    int columns[3]; /* 0-based: where field, heading and convert stand; -1: nowhere */
};

static const char *const names[] = {"field", "heading", "convert"};

/* A column of any kind; kinds that share a name share its type. */
static const struct lb_column *find_column(const char *name)
{
    for (int k = 0; k < lb_kind_count; k++)
        for (int i = 0; i < lb_kinds[k].column_count; i++)
            if (lb_text_equal_nocase(lb_kinds[k].columns[i].name, name))
                return &lb_kinds[k].columns[i];
    return NULL;
}

static lb_status fail_field(const struct line *line, struct lb_error *err)
{
    const char *known[LB_KIND_COLUMNS_MAX * 24 + 5] = {"separator", "encoding", "kind", "ignore", "packs"};
    size_t count = 5;
    for (int k = 0; k < lb_kind_count; k++)
        for (int i = 0; i < lb_kinds[k].column_count && count < sizeof known / sizeof *known; i++)
            known[count++] = lb_kinds[k].columns[i].name;
    struct lb_buf guess = {0};
    bool near = lb_text_nearest(&guess, line->field, known, count);
    lb_status status =
        lb_fail_at(err, line->file, line->number, line->columns[0] + 1,
                   "\"%.*s\" is no column of any kind of file%s%s%s", LB_FIT(line->field, 60),
                   near ? "; did you mean " : "", near ? lb_buf_text(&guess) : "", near ? "?" : "");
    lb_buf_free(&guess);
    return status;
}

static lb_status add_ignored(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    if (!*line->heading || *line->convert)
        return lb_fail_at(err, line->file, line->number, 0, "a row of `%s` names a heading and nothing else",
                          line->field);
    const char *heading = lb_arena_text(&profile->texts, line->heading, strlen(line->heading));
    return heading && LB_PUSH(&profile->ignored, heading) ? LB_OK : lb_fail_nomem(err);
}

static lb_status set_packs(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    lb_status status = profile->packs ? lb_fail_at(err, line->file, line->number, line->columns[0] + 1,
                                                   "packs is there twice")
                                      : add_ignored(profile, line, err);
    if (!status)
        profile->packs = profile->ignored.at[profile->ignored.count - 1];
    return status;
}

/* The value behind `fixed`, which a row about the whole file must have. */
static lb_status take_fixed(const struct line *line, const char **value, struct lb_error *err)
{
    *value = line->convert + 5;
    while (**value == ' ')
        ++*value;
    if (*line->heading || strncmp(line->convert, "fixed ", 6) != 0 || !**value)
        return lb_fail_at(err, line->file, line->number, line->columns[2] + 1,
                          "%s is said of the whole file: no heading, and `fixed` with the value",
                          line->field);
    return LB_OK;
}

static lb_status set_separator(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    const char *value;
    lb_status status = take_fixed(line, &value, err);
    if (status)
        return status;
    bool one = strlen(value) == 1 && strchr(",;|", *value);
    if (!one && strcmp(value, "tab") != 0)
        return lb_fail_at(err, line->file, line->number, line->columns[2] + 1,
                          "a separator is one of , ; | or the word tab, not \"%.*s\"", LB_FIT(value, 60));
    profile->separator = one ? *value : '\t';
    return LB_OK;
}

static lb_status set_encoding(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    const char *value;
    lb_status status = take_fixed(line, &value, err);
    if (!status && !(profile->encoding = lb_arena_text(&profile->texts, value, strlen(value))))
        status = lb_fail_nomem(err);
    return status;
}

static int required(const struct lb_kind *kind)
{
    int count = 0;
    for (int i = 0; i < kind->column_count; i++)
        count += kind->columns[i].required;
    return count;
}

static void add_kind(struct lb_profile *profile, const struct lb_kind *kind)
{
    int at = profile->kind_count++;
    for (; at > 0 && required(profile->kinds[at - 1]) < required(kind); at--)
        profile->kinds[at] = profile->kinds[at - 1];
    profile->kinds[at] = kind;
}

static lb_status set_kinds(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    const char *value;
    lb_status status = take_fixed(line, &value, err);
    for (size_t length; !status && *value; value += length + (value[length] == '+')) {
        length = strcspn(value, "+");
        char *name = strndup(value, length);
        const struct lb_kind *kind = name ? lb_kind_find(name) : NULL;
        bool shares = profile->kind_count == 0 || (kind && kind->shares && profile->kinds[0]->shares);
        for (int i = 0; i < profile->kind_count; i++)
            shares = shares && profile->kinds[i] != kind;
        free(name);
        if (!name)
            return lb_fail_nomem(err);
        if (!kind || !shares || profile->kind_count == 3)
            return lb_fail_at(
                err, line->file, line->number, line->columns[2] + 1,
                "\"%.*s\" is no kind of file; only parts, offers and applications are joined, with +",
                LB_FIT(line->convert + 6, 60));
        add_kind(profile, kind);
    }
    return status;
}

/* Names its place, and keeps the words. */
static lb_status place(const struct line *line, struct lb_error *own, struct lb_error *err)
{
    lb_status status = own->status == LB_DATA ? lb_fail_at(err, line->file, line->number,
                                                           line->columns[2] + 1, "%s", lb_error_text(own))
                                              : lb_fail_nomem(err);
    lb_error_free(own);
    return status;
}

static lb_status judge_row(const struct lb_profile *profile, const struct line *line,
                           const struct lb_profile_row *row, struct lb_error *err)
{
    const struct lb_profile_row *other = lb_profile_find(profile, row->column->name);
    if (other)
        return lb_fail_at(err, line->file, line->number, line->columns[0] + 1,
                          "%s is there twice: line %ld says it already", row->column->name, other->line);
    if (*line->heading && row->recast->fixed)
        return lb_fail_at(err, line->file, line->number, line->columns[1] + 1,
                          "a value that is fixed for every row has no heading");
    if (!*line->heading && !row->recast->fixed)
        return lb_fail_at(err, line->file, line->number, line->columns[1] + 1,
                          "%s needs the heading that it is under, or `fixed` with a value for every row",
                          row->column->name);
    return LB_OK;
}

static lb_status add_column(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    struct lb_profile_row row = {.column = find_column(line->field), .line = line->number};
    struct lb_error own = {0};
    if (!row.column)
        return fail_field(line, err);
    row.heading = lb_arena_text(&profile->texts, line->heading, strlen(line->heading));
    row.recast = calloc(1, sizeof *row.recast);
    lb_status status = row.recast && row.heading
                           ? lb_recast_parse(row.recast, line->convert, row.column, &own)
                           : lb_fail_nomem(&own);
    if (status)
        status = place(line, &own, err);
    else
        status = judge_row(profile, line, &row, err);
    if (!status && !LB_PUSH(&profile->rows, row))
        status = lb_fail_nomem(err);
    if (status && row.recast)
        lb_recast_free(row.recast);
    if (status)
        free(row.recast);
    return status;
}

/* `kind` is also a column of fastenings: without a heading it is the file's. */
static lb_status add_row(struct lb_profile *profile, const struct line *line, struct lb_error *err)
{
    if (!*line->field)
        return lb_fail_at(err, line->file, line->number, line->columns[0] + 1, "field must be stated");
    if (lb_text_equal_nocase(line->field, "ignore"))
        return add_ignored(profile, line, err);
    if (lb_text_equal_nocase(line->field, "packs"))
        return set_packs(profile, line, err);
    if (lb_text_equal_nocase(line->field, "separator"))
        return set_separator(profile, line, err);
    if (lb_text_equal_nocase(line->field, "encoding"))
        return set_encoding(profile, line, err);
    if (lb_text_equal_nocase(line->field, "kind") && !*line->heading)
        return set_kinds(profile, line, err);
    return add_column(profile, line, err);
}

static lb_status read_headings(struct line *line, const struct lb_csv_record *record, struct lb_error *err)
{
    if (record->line == 0 || record->fault)
        return lb_fail_at(err, line->file, record->line, 0, "this is no profile: %s",
                          record->fault ? record->fault : "the file is empty");
    for (int n = 0; n < 3; n++) {
        line->columns[n] = -1;
        for (int i = 0; i < record->count; i++)
            if (lb_text_equal_nocase(record->cells[i], names[n]))
                line->columns[n] = i;
    }
    if (line->columns[0] < 0 || (line->columns[1] < 0 && line->columns[2] < 0))
        return lb_fail_at(
            err, line->file, record->line, 0,
            "this is no profile: its first row must name the columns field, heading and convert");
    return LB_OK;
}

/* lb_cell_write put an apostrophe before what a spreadsheet would take for a formula. */
static const char *cell_of(const struct line *line, const struct lb_csv_record *record, int which)
{
    int column = line->columns[which];
    const char *cell = column >= 0 && column < record->count ? record->cells[column] : "";
    return cell[0] == '\'' && cell[1] && strchr("=+-@", cell[1]) ? cell + 1 : cell;
}

static lb_status read_rows(struct lb_profile *profile, struct lb_csv *csv, struct lb_error *err)
{
    struct lb_csv_record record;
    struct line line = {.file = profile->name};
    lb_status status = lb_csv_next(csv, &record, err);
    if (!status)
        status = read_headings(&line, &record, err);
    while (!status) {
        status = lb_csv_next(csv, &record, err);
        if (status || record.line == 0)
            break;
        if (record.fault)
            return lb_fail_at(err, line.file, record.line, record.column, "%s", record.fault);
        line.number = record.line;
        line.field = cell_of(&line, &record, 0);
        line.heading = cell_of(&line, &record, 1);
        line.convert = cell_of(&line, &record, 2);
        if (*line.field || *line.heading || *line.convert)
            status = add_row(profile, &line, err);
    }
    return status;
}

static lb_status judge_ignored(const struct lb_profile *profile, struct lb_error *err)
{
    for (size_t i = 0; i < profile->ignored.count; i++)
        for (size_t k = 0; k < profile->rows.count; k++)
            if (lb_text_same_words(profile->ignored.at[i], profile->rows.at[k].heading))
                return lb_fail_at(err, profile->name, profile->rows.at[k].line, 0,
                                  "the heading \"%.*s\" is used here, and ignored in another row",
                                  LB_FIT(profile->ignored.at[i], 60));
    return profile->rows.count ? LB_OK : lb_fail_at(err, profile->name, 0, 0, "this profile maps no column");
}

lb_status lb_profile_read(struct lb_profile **out, struct lb_bytes *bytes, const char *name,
                          struct lb_error *err)
{
    struct lb_csv *csv = NULL;
    struct lb_profile *profile = *out = calloc(1, sizeof *profile);
    if (!profile || !(profile->name = lb_arena_text(&profile->texts, name, strlen(name)))) {
        lb_profile_free(profile);
        *out = NULL;
        return lb_fail_nomem(err);
    }
    lb_status status = lb_csv_open(&csv, bytes, 0, err);
    if (!status)
        status = read_rows(profile, csv, err);
    if (!status)
        status = judge_ignored(profile, err);
    lb_csv_free(csv);
    if (status) {
        lb_profile_free(profile);
        *out = NULL;
    }
    return status;
}

lb_status lb_profile_load(struct lb_profile **out, const char *path, struct lb_error *err)
{
    struct lb_bytes *bytes;
    *out = NULL;
    lb_status status = lb_bytes_open_file(&bytes, path, err);
    if (!status)
        status = lb_profile_read(out, bytes, path, err);
    lb_bytes_close(bytes);
    return status;
}

const struct lb_profile_row *lb_profile_find(const struct lb_profile *profile, const char *field)
{
    for (size_t i = 0; i < profile->rows.count; i++)
        if (strcmp(profile->rows.at[i].column->name, field) == 0)
            return &profile->rows.at[i];
    return NULL;
}

void lb_profile_free(struct lb_profile *profile)
{
    if (!profile)
        return;
    for (size_t i = 0; i < profile->rows.count; i++) {
        lb_recast_free(profile->rows.at[i].recast);
        free(profile->rows.at[i].recast);
    }
    free(profile->rows.at);
    free(profile->ignored.at);
    lb_arena_free(&profile->texts);
    free(profile);
}
