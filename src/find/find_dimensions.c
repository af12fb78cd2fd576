/* By dimension: belts, threads, O-rings. */
#include "find/finder.h"

#include <math.h>
#include <string.h>

enum {
    FINDS = 20,        /* beyond what is shown */
    FINDS_AMONG = 160, /* when further words say which of them */
    TYPED_WORDS = 64,
    TYPED_MAX = 4000,
};

static const double meets = 2.0, near = 1.2; /* in words that a single title has */

/* The typed text cut at blanks, in place. */
static int cut_words(char *text, const char **words)
{
    int count = 0;
    char *rest = NULL;
    for (char *word = strtok_r(text, " \t\r\n", &rest); word && count < TYPED_WORDS;
         word = strtok_r(NULL, " \t\r\n", &rest))
        words[count++] = word;
    return count;
}

static lb_status take_dimension(struct search *search, const struct lb_dimension *wanted,
                                const struct lb_dimension_find *find)
{
    struct candidate *candidate;
    struct lb_buf note = {0};
    lb_status status = find_row(search, find->row, &candidate);
    if (status || !candidate)
        return status;
    double points = find->difference ? near - fmin(find->distance, 1) : meets;
    candidate->as |= FOUND_BY_DIMENSION;
    search->number_found = true;
    if (points * search->unique <= candidate->extra)
        return LB_OK;
    candidate->extra = points * search->unique;
    candidate->extra_reason = find->difference ? "near the dimension" : "the dimension";
    if (find->difference) {
        lb_buf_printf(&note, "%s: %s than %s", find->spec, find->difference, wanted->text);
        status = note.failed ? lb_fail_nomem(search->err) : find_keep(search, note.text, &candidate->note);
    }
    lb_buf_free(&note);
    return status;
}

/* Which words of the query the typed ones are: those that a dimension took are not looked for in titles. */
static void spend(struct search *search, const char *const *words, const struct lb_dimension *wanted)
{
    search->spent_from = search->spent_count = 0;
    for (int i = 0; i < wanted->at + wanted->taken; i++) {
        struct lb_words cut = {.at = words[i]};
        while (lb_words_next(&cut))
            (*(i < wanted->at ? &search->spent_from : &search->spent_count))++;
    }
}

lb_status find_by_dimension(struct search *search)
{
    const char *words[TYPED_WORDS];
    struct lb_dimension wanted;
    struct lb_dimension_finds finds = {0};
    char *text =
        lb_arena_text(search->arena, search->request->text, strnlen(search->request->text, TYPED_MAX));
    if (!text)
        return lb_fail_nomem(search->err);
    int count = cut_words(text, words);
    if (!lb_dimension_read(words, count, &wanted))
        return LB_OK;
    size_t most = (size_t)search->request->limit + (wanted.taken < count ? FINDS_AMONG : FINDS);
    lb_status status = lb_dimensions_find(search->finder->dimensions, &wanted, most, &finds, search->err);
    for (size_t i = 0; !status && i < finds.list.count; i++)
        status = take_dimension(search, &wanted, &finds.list.at[i]);
    if (finds.list.count)
        spend(search, words, &wanted);
    lb_dimension_finds_free(&finds);
    return status;
}
