/* A kind is possible when its required columns are all there. Of several, the one that knows the most columns
 * of the file: a file of one kind consists of that kind's columns, so no other can know more of them.
 * (Counting required columns alone would take every components file with `quantity` and `unit` for
 * consumables.) Then the file's name, then the most required columns; what is still level is an error. */
#include "importers/detect.h"

#include "base/buf.h"
#include "base/text.h"

#include <string.h>
#include <strings.h>

static bool is_fixed(const struct lb_column *column, const struct lb_read_options *options)
{
    return options && options->supplier && strcmp(column->name, "supplier") == 0;
}

static bool lacks(const struct lb_header *header, const struct lb_column *column,
                  const struct lb_read_options *options)
{
    return column->required && !is_fixed(column, options) && !lb_header_has(header, column->name);
}

static int missing(const struct lb_header *header, const struct lb_kind *kind,
                   const struct lb_read_options *options)
{
    int count = 0;
    for (int i = 0; i < kind->column_count; i++)
        count += lacks(header, &kind->columns[i], options);
    return count;
}

static int required(const struct lb_kind *kind)
{
    int count = 0;
    for (int i = 0; i < kind->column_count; i++)
        count += kind->columns[i].required;
    return count;
}

static bool is_named(const char *name, const struct lb_kind *kind)
{
    const char *slash = strrchr(name, '/');
    return strcasestr(slash ? slash + 1 : name, kind->name) != NULL;
}

/* The kinds that would be fed together, and what speaks for them. */
struct choice {
    const struct lb_kind *kinds[3];
    int count;
    int known, named, required;
};

static void add_kind(struct choice *choice, const struct lb_kind *kind)
{
    int at = choice->count++;
    for (; at > 0 && required(choice->kinds[at - 1]) < required(kind); at--)
        choice->kinds[at] = choice->kinds[at - 1];
    choice->kinds[at] = kind;
}

/* What a profile or a heading fixes for every row is known as well as a column is. */
static int fixed(const struct choice *choice, const struct lb_header *header)
{
    int count = 0;
    for (size_t e = 0; e < header->scheme.entries.count; e++) {
        const struct lb_scheme_entry *entry = &header->scheme.entries.at[e];
        bool known = false;
        for (int k = 0; k < choice->count; k++)
            known |= lb_scheme_is_fixed(entry) && lb_kind_column(choice->kinds[k], entry->map.field) >= 0;
        count += known;
    }
    return count;
}

static void weigh(struct choice *choice, const struct lb_header *header, const char *name)
{
    choice->known = fixed(choice, header);
    choice->named = 0;
    for (int c = 0; c < header->count; c++) {
        bool known = false;
        for (int k = 0; k < choice->count; k++)
            for (int i = 0; i < choice->kinds[k]->column_count; i++)
                known |= lb_header_is(header, c, choice->kinds[k]->columns[i].name);
        choice->known += known;
    }
    for (int k = 0; k < choice->count; k++)
        choice->named |= is_named(name, choice->kinds[k]);
    choice->required = choice->count > 0 ? required(choice->kinds[0]) : 0;
}

static int compare(const struct choice *a, const struct choice *b)
{
    if (a->known != b->known)
        return a->known - b->known;
    if (a->named != b->named)
        return a->named - b->named;
    return a->required - b->required;
}

static void append_missing(struct lb_buf *out, const struct lb_header *header, const struct lb_kind *kind,
                           const struct lb_read_options *options)
{
    int left = missing(header, kind, options);
    bool begun = false;
    for (int i = 0; i < kind->column_count; i++) {
        if (!lacks(header, &kind->columns[i], options))
            continue;
        left--;
        lb_buf_printf(out, "%s%s", !begun ? "" : left ? ", " : " and ", kind->columns[i].name);
        begun = true;
    }
}

/* The kind that was probably meant: the one of the file's name, else the one that knows most of the columns.
 */
static const struct lb_kind *nearest(const struct lb_header *header, const char *name,
                                     const struct lb_read_options *options)
{
    const struct lb_kind *best = NULL;
    struct choice best_choice = {0};
    int best_lack = 0;
    for (int k = 0; k < lb_kind_count; k++) {
        struct choice one = {.kinds = {&lb_kinds[k]}, .count = 1};
        weigh(&one, header, name);
        int lack = missing(header, &lb_kinds[k], options);
        int order = one.named - best_choice.named;
        order = order ? order : one.known - best_choice.known;
        order = order ? order : best_lack - lack;
        if (one.known == 0 || (best && order <= 0))
            continue;
        best = &lb_kinds[k];
        best_choice = one;
        best_lack = lack;
    }
    return best;
}

/* Where headings were mapped, those that were not may be what is missing. */
static void append_unused(struct lb_buf *out, const struct lb_header *header)
{
    for (int c = 0; header->scheme.entries.count && c < header->count; c++) {
        const char *why = NULL;
        bool used = header->names[c][0] == '\0';
        for (size_t i = 0; i < header->scheme.entries.count; i++)
            used |= header->scheme.entries.at[i].map.column == c;
        for (size_t i = 0; i < header->scheme.doubts.count; i++)
            if (header->scheme.doubts.at[i].column == c)
                why = header->scheme.doubts.at[i].why;
        if (!used)
            lb_buf_printf(out, "; \"%s\" %s", header->names[c], why ? why : "is not known");
    }
}

static lb_status fail_without(const struct lb_header *header, long line, const char *name,
                              const struct lb_read_options *options, struct lb_error *err)
{
    const struct lb_kind *kind = nearest(header, name, options);
    if (!kind)
        return lb_fail_at(
            err, name, line, 0,
            "the first row names no column of any kind of file; is the row of headings missing?");
    struct lb_buf lack = {0};
    append_missing(&lack, header, kind, options);
    append_unused(&lack, header);
    lb_status status = lack.failed
                           ? lb_fail_nomem(err)
                           : lb_fail_at(err, name, line, 0,
                                        "these columns make no kind of file; the nearest is %s, which also "
                                        "needs %s",
                                        kind->name, lb_buf_text(&lack));
    lb_buf_free(&lack);
    return status;
}

/* A file that one kind knows better than the chosen one, were it not for a single column, was meant to be of
 * that kind: taking its rows for something else would lose them without a word. Parts, offers and
 * applications may go without. */
static const struct lb_kind *one_short(const struct lb_header *header, const struct choice *best,
                                       const struct lb_read_options *options)
{
    const struct lb_kind *meant = NULL;
    int known = best->known;
    for (int k = 0; k < lb_kind_count; k++) {
        struct choice one = {.kinds = {&lb_kinds[k]}, .count = 1};
        if ((lb_kinds[k].shares && best->kinds[0]->shares) || missing(header, &lb_kinds[k], options) != 1)
            continue;
        weigh(&one, header, "");
        if (one.known > known) {
            meant = &lb_kinds[k];
            known = one.known;
        }
    }
    return meant;
}

static lb_status fail_one_short(const struct lb_header *header, long line, const char *name,
                                const struct lb_kind *meant, const struct lb_kind *other,
                                const struct lb_read_options *options, struct lb_error *err)
{
    struct lb_buf lack = {0}, unused = {0};
    append_missing(&lack, header, meant, options);
    append_unused(&unused, header);
    lb_status status =
        lack.failed || unused.failed
            ? lb_fail_nomem(err)
            : lb_fail_at(err, name, line, 0,
                         "these columns are those of %s, which also needs %s; if a file of %s is meant, "
                         "leave out the columns that it does not have%s",
                         meant->name, lb_buf_text(&lack), other->name, lb_buf_text(&unused));
    lb_buf_free(&lack);
    lb_buf_free(&unused);
    return status;
}

/* The profile says what the file is. */
static lb_status take_stated(struct lb_header *header, long line, const char *name,
                             const struct lb_read_options *options, struct lb_error *err)
{
    const struct lb_profile *profile = options->profile;
    for (int k = 0; k < profile->kind_count; k++) {
        if (missing(header, profile->kinds[k], options) == 0)
            continue;
        struct lb_buf lack = {0};
        append_missing(&lack, header, profile->kinds[k], options);
        lb_status status =
            lack.failed
                ? lb_fail_nomem(err)
                : lb_fail_at(err, name, line, 0, "the profile %s takes this file for %s, which also needs %s",
                             profile->name, profile->kinds[k]->name, lb_buf_text(&lack));
        lb_buf_free(&lack);
        return status;
    }
    memcpy(header->kinds, profile->kinds, sizeof profile->kinds);
    header->kind_count = profile->kind_count;
    return LB_OK;
}

lb_status lb_detect_kinds(struct lb_header *header, long line, const char *name,
                          const struct lb_read_options *options, struct lb_error *err)
{
    if (options && options->profile && options->profile->kind_count)
        return take_stated(header, line, name, options, err);
    struct choice best = {0}, rival = {0}, shared = {0};
    for (int k = 0; k <= lb_kind_count; k++) {
        struct choice one = {0};
        if (k == lb_kind_count)
            one = shared;
        else if (missing(header, &lb_kinds[k], options) == 0)
            add_kind(lb_kinds[k].shares ? &shared : &one, &lb_kinds[k]);
        if (one.count == 0)
            continue;
        weigh(&one, header, name);
        int order = best.count ? compare(&one, &best) : 1;
        if (order > 0)
            best = one;
        if (order >= 0)
            rival = order == 0 ? one : (struct choice){0};
    }
    if (best.count == 0)
        return fail_without(header, line, name, options, err);
    if (rival.count > 0)
        return lb_fail_at(err, name, line, 0,
                          "these columns make a file of %s as well as one of %s; put the kind into the "
                          "file's name",
                          best.kinds[0]->name, rival.kinds[0]->name);
    const struct lb_kind *meant = one_short(header, &best, options);
    if (meant)
        return fail_one_short(header, line, name, meant, best.kinds[0], options, err);
    memcpy(header->kinds, best.kinds, sizeof best.kinds);
    header->kind_count = best.count;
    return LB_OK;
}
