/* Nothing was found: what comes nearest, and what to try. */
#include "find/finder.h"

#include <string.h>

enum { NEAR = 5, LEAST_BEGINNING = 2 };

static lb_status advise_words(struct search *search)
{
    const struct lb_query *q = search->query;
    struct lb_spelling_word found[NEAR];
    lb_status status = LB_OK;
    for (int s = 0; !status && s < q->slot_count; s++) {
        const struct lb_query_word *word = &q->words[q->slots[s].word];
        size_t count = 0, length = word->length;
        if (word->digits)
            continue;
        while (!status && !count && --length >= LEAST_BEGINNING && length < word->length)
            status = lb_spelling_completions(search->finder->tools.spelling, word->text, length, found, NEAR,
                                             &count, search->err);
        struct lb_buf list = {0};
        for (size_t i = 0; i < count; i++)
            lb_buf_printf(&list, "%s\"%s\"", i ? ", " : "", found[i].word);
        if (!status && list.failed)
            status = lb_fail_nomem(search->err);
        if (!status && count)
            status =
                find_say(search, &search->advice, "words that begin like \"%s\": %s", word->text, list.text);
        lb_buf_free(&list);
    }
    return status;
}

/* Shorter and shorter beginnings of what was typed, until numbers begin so. */
static lb_status advise_numbers(struct search *search)
{
    const struct lb_query *q = search->query;
    struct lb_number_finds finds = {0};
    struct lb_buf typed = {0}, list = {0};
    lb_status status = LB_OK;
    bool digits = false;
    for (int i = 0; i < q->word_count; i++) {
        lb_buf_append(&typed, q->words[i].text, q->words[i].length);
        digits |= q->words[i].digits;
    }
    while (!status && digits && !typed.failed && !finds.list.count && typed.length > LEAST_BEGINNING) {
        typed.text[--typed.length] = '\0';
        status =
            lb_numbers_find(search->finder->numbers, typed.text, LB_NUMBER_BEGINS, NEAR, &finds, search->err);
    }
    for (size_t i = 0; i < finds.list.count && i < NEAR; i++)
        lb_buf_printf(&list, "%s%s %s", i ? ", " : "", finds.list.at[i].brand, finds.list.at[i].number);
    if (!status && (list.failed || typed.failed))
        status = lb_fail_nomem(search->err);
    if (!status && finds.list.count)
        status = find_say(search, &search->advice, "nearest numbers: %s", list.text);
    lb_number_finds_free(&finds);
    lb_buf_free(&typed);
    lb_buf_free(&list);
    return status;
}

lb_status find_advise(struct search *search)
{
    if (search->list.count)
        return LB_OK;
    if (!search->finder->tools.title_count)
        return find_say(search, &search->advice, "no list of parts was imported yet: lastbolt import FILE");
    if (search->others)
        return find_say(search, &search->advice,
                        "what was found is listed for other vehicles alone: --all shows it");
    lb_status status = advise_words(search);
    if (!status)
        status = advise_numbers(search);
    if (!status && search->request->shortlist && !search->request->all)
        status = find_say(search, &search->advice, "parts for other vehicles: add --all");
    if (!status)
        status = find_say(search, &search->advice,
                          "try fewer words, the name of the part, or the first characters of its number");
    return status;
}
