/* The words of a profile's third column -> a recast. */
#include "importers/recast_private.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

static const struct lb_conversion *find(const char *word, size_t length)
{
    for (size_t i = 0; i < lb_conversion_count; i++)
        if (strlen(lb_conversions[i].name) == length && strncmp(lb_conversions[i].name, word, length) == 0)
            return &lb_conversions[i];
    return NULL;
}

static lb_status fail_unknown(const char *text, struct lb_error *err)
{
    const char *names[32];
    size_t count = 0;
    struct lb_buf guess = {0};
    for (; count < lb_conversion_count && count < 31; count++)
        names[count] = lb_conversions[count].name;
    names[count++] = "fixed";
    char *word = strndup(text, strcspn(text, " "));
    bool near = word && lb_text_nearest(&guess, word, names, count);
    lb_status status =
        lb_fail(err, LB_DATA, "\"%.*s\" is no conversion%s%s%s", LB_FIT(text, 100),
                near ? "; did you mean " : "", near ? lb_buf_text(&guess) : "", near ? "?" : "");
    lb_buf_free(&guess);
    free(word);
    return status;
}

static lb_status read_one(struct lb_recast *recast, char *text, const struct lb_column *column,
                          struct lb_error *err)
{
    size_t length = strcspn(text, " ");
    const struct lb_conversion *conversion = find(text, length);
    if (!conversion)
        return fail_unknown(text, err);
    if (conversion->fits && !conversion->fits(column))
        return lb_fail(err, LB_DATA, "`%s` makes no sense for %s: it is for %s", conversion->name,
                       column->name, conversion->where);
    char *whole = strdup(text);
    const char *why = whole ? conversion->read(recast, lb_recast_trim(text + length)) : lb_recast_no_memory;
    lb_status status = !why                         ? LB_OK
                       : why == lb_recast_no_memory ? lb_fail_nomem(err)
                                                    : lb_fail(err, LB_DATA, "\"%.*s\": `%s` %s",
                                                              LB_FIT(whole, 100), conversion->name, why);
    free(whole);
    return status;
}

static lb_status judge(const struct lb_recast *recast, struct lb_error *err)
{
    int pers = (recast->per > 0) + recast->per_text + (recast->per_heading != NULL);
    char decimal = recast->decimal ? recast->decimal : '.';
    if (recast->thousands == decimal)
        return lb_fail(err, LB_DATA, "thousands and decimals cannot both be marked with \"%c\"%s", decimal,
                       recast->decimal ? "" : "; is `decimal comma` missing?");
    if (pers > 1)
        return lb_fail(err, LB_DATA, "`per` stands here twice");
    if (recast->pivot && !recast->date)
        return lb_fail(err, LB_DATA, "`pivot` stands beside a `date`");
    return LB_OK;
}

lb_status lb_recast_parse(struct lb_recast *recast, const char *convert, const struct lb_column *column,
                          struct lb_error *err)
{
    *recast = (struct lb_recast){0};
    char *copy = lb_arena_text(&recast->texts, convert, strlen(convert));
    if (!copy)
        return lb_fail_nomem(err);
    copy = lb_recast_trim(copy);
    if (strncmp(copy, "fixed ", 6) == 0 || strcmp(copy, "fixed") == 0) {
        recast->fixed = lb_recast_trim(copy + 5);
        return *recast->fixed ? LB_OK : lb_fail(err, LB_DATA, "`fixed` wants a value behind it");
    }
    for (char *next; copy; copy = next) {
        next = lb_recast_cut(copy, ';');
        lb_status status =
            *lb_recast_trim(copy) ? read_one(recast, lb_recast_trim(copy), column, err) : LB_OK;
        if (status)
            return status;
    }
    return judge(recast, err);
}

void lb_recast_free(struct lb_recast *recast)
{
    lb_arena_free(&recast->texts);
    *recast = (struct lb_recast){0};
}
