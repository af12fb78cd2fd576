#include "importers/scheme.h"

#include "base/text.h"

#include <string.h>

/* The 0-based column under a heading; -1: not there, -2: there twice. */
static int find_heading(const char *const *names, int count, const char *heading)
{
    int found = -1;
    for (int i = 0; i < count; i++)
        if (lb_text_same_words(names[i], heading))
            found = found == -1 ? i : -2;
    return found;
}

/* Would the file, with all of the profile's headings in it, be one of this kind? */
static bool is_for(const struct lb_profile *profile, const struct lb_kind *kind)
{
    for (int i = 0; i < kind->column_count; i++)
        if (kind->columns[i].required && strcmp(kind->columns[i].name, "supplier") != 0 &&
            !lb_profile_find(profile, kind->columns[i].name))
            return false;
    return true;
}

/* A column that a kind of this profile requires; all others the file may go without. */
static bool is_required(const struct lb_profile *profile, const char *field)
{
    for (int k = 0; k < lb_kind_count; k++) {
        int column = lb_kind_column(&lb_kinds[k], field);
        if (column >= 0 && lb_kinds[k].columns[column].required && is_for(profile, &lb_kinds[k]))
            return true;
    }
    return false;
}

static lb_status add_row(struct lb_scheme *scheme, const struct lb_profile_row *row, int column,
                         struct lb_error *err)
{
    struct lb_buf convert = {0};
    lb_recast_write(&convert, row->recast);
    struct lb_mapping_column map = {.heading = row->heading,
                                    .column = column,
                                    .convert = lb_buf_text(&convert),
                                    .by = LB_MAPPED_BY_PROFILE};
    lb_status status = convert.failed ? lb_fail_nomem(err) : lb_scheme_add(scheme, row->column, map, err);
    lb_buf_free(&convert);
    return status;
}

static void note_lack(struct lb_buf *lack, const char *heading, const char *field)
{
    lb_buf_printf(lack, "%s\"%.*s\" (%s)", lack->length ? ", " : "", LB_FIT(heading, 60), field);
}

static lb_status take_row(struct lb_scheme *scheme, const char *const *names, int count,
                          const struct lb_profile *profile, const struct lb_profile_row *row,
                          struct lb_buf *lack, struct lb_error *err)
{
    if (row->recast->per_heading && find_heading(names, count, row->recast->per_heading) < 0)
        note_lack(lack, row->recast->per_heading, "what the price is for");
    if (row->recast->fixed)
        return add_row(scheme, row, -1, err);
    int column = find_heading(names, count, row->heading);
    if (column >= 0)
        return add_row(scheme, row, column, err);
    if (column == -2)
        return lb_fail(err, LB_DATA, "the heading \"%.*s\", which the profile gives to %s, is there twice",
                       LB_FIT(row->heading, 60), row->column->name);
    if (is_required(profile, row->column->name))
        note_lack(lack, row->heading, row->column->name);
    else if (!LB_PUSH(&scheme->absent, row->heading))
        return lb_fail_nomem(err);
    return LB_OK;
}

static bool is_spoken_for(const struct lb_profile *profile, const char *name)
{
    for (size_t i = 0; i < profile->ignored.count; i++)
        if (lb_text_same_words(profile->ignored.at[i], name))
            return true;
    for (size_t i = 0; i < profile->rows.count; i++) {
        const struct lb_profile_row *row = &profile->rows.at[i];
        if (lb_text_same_words(row->heading, name) || lb_text_equal_nocase(row->column->name, name) ||
            (row->recast->per_heading && lb_text_same_words(row->recast->per_heading, name)))
            return true;
    }
    return false;
}

/* Headings that need no row: a column's own name. */
static lb_status add_own(struct lb_scheme *scheme, const char *const *names, int count,
                         const struct lb_profile *profile, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < count; i++) {
        const struct lb_column *type = *names[i] ? lb_scheme_type(names[i]) : NULL;
        if (!type || is_spoken_for(profile, names[i]))
            continue;
        struct lb_mapping_column map = {.heading = names[i], .column = i, .convert = ""};
        status = lb_scheme_add(scheme, type, map, err);
    }
    return status;
}

lb_status lb_scheme_by_profile(struct lb_scheme *scheme, const char *const *names, int count,
                               const struct lb_profile *profile, struct lb_error *err)
{
    struct lb_buf lack = {0};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < profile->rows.count; i++)
        status = take_row(scheme, names, count, profile, &profile->rows.at[i], &lack, err);
    if (!status && lack.length)
        status = lb_fail(err, LB_DATA, "the profile %s names headings that this file does not have: %s",
                         profile->name, lb_buf_text(&lack));
    if (!status)
        status = lack.failed ? lb_fail_nomem(err) : add_own(scheme, names, count, profile, err);
    lb_buf_free(&lack);
    return status;
}
