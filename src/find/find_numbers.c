/* By number: which of the typed words could be one, and what they lead to. */
#include "find/finder.h"

#include <math.h>
#include <string.h>

enum { RUN_MAX = 6, SHORT = 4, LETTER_WORDS = 4, NUMBER_MAX = 128 };

/* Typed words that stand one behind the other. */
struct run {
    int at, count;
};

/* What a find counts for, in words that a single title has: a number that is there beats all words about
 * other parts; what comes near is one find among others. */
static const double by_match[] = {[LB_NUMBER_EXACT] = 3.0,
                                  [LB_NUMBER_ALIKE] = 2.9,
                                  [LB_NUMBER_BEGINS] = 1.9,
                                  [LB_NUMBER_INSIDE] = 1.5,
                                  [LB_NUMBER_EDIT] = 1.4};
static const double doubt = 0.2; /* of that, when it is a word as well */

static const char *say_match(enum lb_number_match match)
{
    static const char *const words[] = {[LB_NUMBER_EXACT] = "the number, as typed",
                                        [LB_NUMBER_ALIKE] = "the number, but for O and 0 or I and 1",
                                        [LB_NUMBER_BEGINS] = "the number begins as typed",
                                        [LB_NUMBER_INSIDE] = "the number has what was typed inside",
                                        [LB_NUMBER_EDIT] = "the number, but for one character"};
    return words[match];
}

static double points_of(const struct lb_number_find *find, size_t typed)
{
    double base = by_match[find->match];
    if (find->match == LB_NUMBER_EDIT)
        return base - 0.1 * fmin(find->cost, 3);
    double more = (double)find->more / (double)((size_t)find->more + typed);
    return base - 0.3 * more;
}

static lb_status take_number(struct search *search, const struct lb_number_find *find, size_t typed,
                             double times)
{
    struct candidate *candidate;
    lb_status status = find_candidate(search, find->key, find->brand, find->number, &candidate);
    double points = points_of(find, typed) * times * search->unique;
    if (status)
        return status;
    candidate->as |= FOUND_BY_NUMBER;
    search->number_found = true;
    if (points <= candidate->extra)
        return LB_OK;
    candidate->extra = points;
    candidate->extra_reason = say_match(find->match);
    candidate->note = find->match == LB_NUMBER_EXACT ? NULL : candidate->extra_reason;
    return LB_OK;
}

/* Does some title have the word as it was typed? */
static bool in_titles(const struct lb_query *q, int word)
{
    for (int s = 0; s < q->slot_count; s++)
        if (q->slots[s].word == word)
            return q->slots[s].way_count && q->ways[q->slots[s].way_from].kind == LB_WAY_TYPED;
    return true; /* it says nothing */
}

static bool all_in_titles(const struct lb_query *q, struct run run)
{
    for (int i = run.at; i < run.at + run.count; i++)
        if (!in_titles(q, i))
            return false;
    return true;
}

/* A run of words as one number, which has a digit somewhere. */
static bool join_run(const struct lb_query *q, struct run run, char *out)
{
    size_t length = 0;
    bool digits = false;
    out[0] = '\0';
    for (int i = run.at; i < run.at + run.count; i++) {
        if (length + q->words[i].length >= NUMBER_MAX)
            return false;
        strcpy(out + length, q->words[i].text);
        length += q->words[i].length;
        digits |= q->words[i].digits;
    }
    return digits && length >= 2;
}

/* Takes what a typing of a number leads to; *count is how many parts. */
static lb_status look_up(struct search *search, const char *typed, enum lb_number_match widest, double times,
                         size_t *count)
{
    struct lb_number_finds finds = {0};
    lb_status status = lb_numbers_find(search->finder->numbers, typed, widest, (size_t)search->request->limit,
                                       &finds, search->err);
    for (size_t i = 0; !status && i < finds.list.count; i++)
        status = take_number(search, &finds.list.at[i], strlen(typed), times);
    *count = finds.list.count;
    lb_number_finds_free(&finds);
    return status;
}

/* The longest runs first; words of one that is there are not looked at again. A short one that titles have as
 * a word, among other words, is more likely meant as that. */
static lb_status find_exact(struct search *search, bool *found)
{
    const struct lb_query *q = search->query;
    char number[NUMBER_MAX + 1];
    lb_status status = LB_OK;
    uint64_t spent = 0;
    struct run run;
    for (run.count = q->word_count < RUN_MAX ? q->word_count : RUN_MAX; !status && run.count > 0; run.count--)
        for (run.at = 0; !status && run.at + run.count <= q->word_count; run.at++) {
            uint64_t words = ((UINT64_C(1) << run.count) - 1) << run.at;
            size_t parts = 0;
            if ((spent & words) || !join_run(q, run, number))
                continue;
            bool doubtful = strlen(number) <= SHORT && run.count < q->word_count && all_in_titles(q, run);
            status = look_up(search, number, LB_NUMBER_ALIKE, doubtful ? doubt : 1, &parts);
            if (parts) {
                *found |= !doubtful;
                spent |= words;
            }
        }
    return status;
}

static bool is_code_like(const struct lb_query *q, struct run run)
{
    for (int i = run.at; i < run.at + run.count; i++)
        if (!q->words[i].digits && q->words[i].length > SHORT && in_titles(q, i))
            return false;
    return true;
}

/* The longest run that could be a number. */
static struct run find_run(const struct lb_query *q)
{
    char number[NUMBER_MAX + 1];
    struct run best = {0, 0}, run;
    for (run.at = 0; run.at < q->word_count; run.at++)
        for (run.count = 1; run.at + run.count <= q->word_count && run.count <= RUN_MAX; run.count++)
            if (run.count > best.count && is_code_like(q, run) && join_run(q, run, number))
                best = run;
    return best;
}

/* Without the words at its ends that titles have: these may be just words. */
static struct run trim(const struct lb_query *q, struct run run)
{
    for (; run.count > 1 && !q->words[run.at].digits && in_titles(q, run.at); run.count--)
        run.at++;
    while (run.count > 1 && !q->words[run.at + run.count - 1].digits && in_titles(q, run.at + run.count - 1))
        run.count--;
    return run;
}

/* Letters alone can be a number too. */
static lb_status find_letters(struct search *search)
{
    const struct lb_query *q = search->query;
    const struct run run = {0, q->word_count};
    char number[NUMBER_MAX + 1];
    size_t parts;
    bool words = all_in_titles(q, run);
    if (q->word_count > (words ? LETTER_WORDS / 2 : LETTER_WORDS))
        return LB_OK;
    join_run(q, run, number);
    enum lb_number_match widest = words ? LB_NUMBER_ALIKE : LB_NUMBER_BEGINS;
    return strlen(number) < 2 ? LB_OK : look_up(search, number, widest, 1, &parts);
}

lb_status find_by_number(struct search *search)
{
    const struct lb_query *q = search->query;
    char number[NUMBER_MAX + 1];
    bool exact = false;
    size_t parts = 0;
    lb_status status = find_exact(search, &exact);
    struct run run = find_run(q), inner = trim(q, run);
    if (status || !run.count)
        return status ? status : find_letters(search);
    bool alone = run.count == q->word_count;
    if (search->spent_count) /* it is a dimension, and perhaps a number as well */
        return LB_OK;
    if (exact ? !alone : !alone && all_in_titles(q, run))
        return LB_OK;
    enum lb_number_match widest = exact ? LB_NUMBER_BEGINS : LB_NUMBER_EDIT;
    double times = all_in_titles(q, run) && !exact ? doubt : 1;
    join_run(q, run, number);
    status = look_up(search, number, widest, times, &parts);
    search->number_whole = alone && parts && (exact || !all_in_titles(q, run));
    if (status || parts || inner.count == run.count)
        return status;
    join_run(q, inner, number);
    return look_up(search, number, widest, times, &parts);
}
