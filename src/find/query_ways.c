/* The ways in which a title may have what was typed. */
#include "base/ascii.h"
#include "find/query_private.h"

#include <math.h>
#include <string.h>

static const double synonym_weight = 0.9, split_weight = 0.9, joined_weight = 0.95;
static const double completed_weight = 0.6, completed_unknown_weight = 0.9;
static const double repaired_weight = 0.95, repaired_slope = 0.5; /* falls with what the edits cost more */
static const double begun_cost = 0.3, worse_name = 0.5;
enum { COMPLETIONS_MAX = 24, REPAIRS_MAX = 4, COMPLETED_FROM = 2, PART_FROM = 3 };

static int64_t titles_of(const struct query_maker *maker, int term)
{
    return term < 0 ? 0 : maker->query->terms[term].titles;
}

/* As typed; *idf HUGE_VAL: no title has it. */
static lb_status add_typed(struct query_maker *maker, const struct lb_query_word *word, double *idf)
{
    struct lb_query *q = maker->query;
    struct lb_query_way *way;
    *idf = HUGE_VAL;
    lb_status status = query_way(maker, LB_WAY_TYPED, 1, HUGE_VAL, &word->text, 1, &way);
    if (!status && way) {
        *idf = q->terms[way->terms[0]].idf;
        way->whole = false;
    }
    return status;
}

/* How many slots a run of words takes: those that say nothing have none. */
static int slots_of(const struct lb_query *q, int at, int taken)
{
    int slots = 0;
    for (int i = at; i < at + taken; i++)
        slots += !q->words[i].skipped;
    return slots;
}

/* What typed words count for together; HUGE_VAL: titles do not have all of them. */
static lb_status sum_typed(struct query_maker *maker, int at, int taken, double *sum)
{
    *sum = 0;
    for (int i = at; i < at + taken; i++) {
        const struct lb_query_word *word = &maker->query->words[i];
        int term;
        lb_status status = query_term(maker, word->text, word->length, &term);
        if (status)
            return status;
        *sum += titles_of(maker, term) ? maker->query->terms[term].idf : HUGE_VAL;
    }
    return LB_OK;
}

struct phrases {
    struct query_maker *maker;
    int at;
    lb_status status;
};

static bool add_synonym(void *context, int taken, const struct lb_phrase *phrase)
{
    struct phrases *p = context;
    struct lb_query_way *way;
    double most;
    if ((p->status = sum_typed(p->maker, p->at, taken, &most)))
        return false;
    p->status = query_way(p->maker, LB_WAY_SYNONYM, synonym_weight, most, phrase->words, phrase->count, &way);
    if (!p->status && way)
        way->slots = slots_of(p->maker->query, p->at, taken);
    return !p->status;
}

static lb_status add_synonyms(struct query_maker *maker, int at)
{
    struct phrases phrases = {maker, at, LB_OK};
    lb_synonyms_at(maker->tools->synonyms, maker->texts, maker->query->word_count, at, add_synonym, &phrases);
    return phrases.status;
}

/* Two typed words that titles write as one. */
static lb_status add_joined(struct query_maker *maker, int at)
{
    const struct lb_query *q = maker->query;
    char joined[2 * LB_WORD_MAX + 1];
    const char *const words[] = {joined};
    struct lb_query_way *way;
    double most;
    if (at + 1 >= q->word_count || q->words[at + 1].skipped ||
        q->words[at].length + q->words[at + 1].length > LB_WORD_MAX)
        return LB_OK;
    strcpy(stpcpy(joined, q->words[at].text), q->words[at + 1].text);
    lb_status status = sum_typed(maker, at, 2, &most);
    if (!status)
        status = query_way(maker, LB_WAY_JOINED, joined_weight, most, words, 1, &way);
    if (!status && way)
        way->slots = 2;
    return status;
}

/* How many titles have a word of letters, or it without its plural's s. */
static lb_status count_word(struct query_maker *maker, const char *word, size_t length, int64_t *titles)
{
    lb_status status = lb_spelling_count(maker->tools->spelling, word, length, titles, maker->err);
    if (!status && !*titles && word[length - 1] == 's')
        status = lb_spelling_count(maker->tools->spelling, word, length - 1, titles, maker->err);
    return status;
}

/* Where a word of letters falls into two that titles have; the pair whose rarer word is the most frequent. */
static lb_status find_split(struct query_maker *maker, const struct lb_query_word *word, size_t *best)
{
    int64_t most = 0;
    *best = 0;
    for (size_t i = PART_FROM; i + PART_FROM <= word->length; i++) {
        int64_t left, right = 0;
        lb_status status = lb_spelling_count(maker->tools->spelling, word->text, i, &left, maker->err);
        if (!status && left)
            status = count_word(maker, word->text + i, word->length - i, &right);
        if (status)
            return status;
        int64_t lesser = right < left ? right : left;
        if (lesser > most) {
            most = lesser;
            *best = i;
        }
    }
    return LB_OK;
}

/* Cuts a word where digits and letters meet; how many pieces there are, at most LB_PHRASE_MAX + 1. */
static int cut_at_digits(const struct lb_query_word *word, char pieces[LB_PHRASE_MAX][LB_WORD_MAX + 1])
{
    int count = 0;
    size_t from = 0;
    for (size_t i = 1; i <= word->length; i++) {
        if (i < word->length && lb_ascii_digit(word->text[i - 1]) == lb_ascii_digit(word->text[i]))
            continue;
        if (count == LB_PHRASE_MAX)
            return LB_PHRASE_MAX + 1;
        memcpy(pieces[count], word->text + from, i - from);
        pieces[count++][i - from] = '\0';
        from = i;
    }
    return count;
}

static lb_status add_pieces(struct query_maker *maker, const char *const *words, int count, double most)
{
    struct lb_query_way *way;
    lb_status status = query_way(maker, LB_WAY_SPLIT, split_weight, most, words, count, &way);
    if (way)
        way->adjacent = count == 2;
    return status;
}

/* 4ft is 4 ft; 2x4 is 2, x and 4, where other words may stand between; 5w40 is 5w 40 as well. */
static lb_status add_cut(struct query_maker *maker, const struct lb_query_word *word, double most)
{
    char pieces[LB_PHRASE_MAX][LB_WORD_MAX + 1] = {""}, head[LB_WORD_MAX + 1] = "";
    int count = cut_at_digits(word, pieces);
    if (count < 2 || count > LB_PHRASE_MAX)
        return LB_OK;
    const char *const words[LB_PHRASE_MAX] = {pieces[0], pieces[1], pieces[2], pieces[3]};
    lb_status status = add_pieces(maker, words, count, most);
    if (status || count == 2)
        return status;
    memcpy(head, word->text, word->length - strlen(pieces[count - 1]));
    return add_pieces(maker, (const char *const[]){head, pieces[count - 1]}, 2, most);
}

/* Typed as one word, two or more in titles: `crankshaft`, `4ft`. */
static lb_status add_split(struct query_maker *maker, const struct lb_query_word *word, double most)
{
    char left[LB_WORD_MAX + 1] = "";
    size_t cut = 0;
    if (word->digits)
        return add_cut(maker, word, most);
    lb_status status = find_split(maker, word, &cut);
    if (status || !cut)
        return status;
    memcpy(left, word->text, cut);
    return add_pieces(maker, (const char *const[]){left, word->text + cut}, 2, most);
}

/* Is a word that the list gives one that this slot has already, stems apart? */
static bool slot_has(const struct query_maker *maker, int from, int term)
{
    for (int w = from; w < maker->query->way_count; w++)
        if (maker->query->ways[w].count == 1 && maker->query->ways[w].terms[0] == term)
            return true;
    return false;
}

static lb_status add_word(struct query_maker *maker, int from, enum lb_way_kind kind, double weight,
                          double most, const struct lb_spelling_word *found)
{
    const char *const words[] = {found->word};
    struct lb_query_way *way;
    int term;
    lb_status status = query_term(maker, found->word, found->length, &term);
    if (status || term < 0 || slot_has(maker, from, term))
        return status;
    return query_way(maker, kind, weight, most, words, 1, &way);
}

/* Words that may have been meant; none counts for more than the first, for being rare says nothing when it
 * was not typed. */
static lb_status add_meant(struct query_maker *maker, int from, enum lb_way_kind kind, double weight,
                           double most, const struct lb_spelling_word *found, size_t count)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++) {
        int last = maker->query->way_count;
        double more = found[i].cost > found[0].cost ? found[i].cost - found[0].cost : 0;
        status = add_word(maker, from, kind, weight * exp(-repaired_slope * more), most, &found[i]);
        if (!status && most == HUGE_VAL && maker->query->way_count > last)
            most = maker->query->ways[last].idf[0];
    }
    return status;
}

static lb_status add_completions(struct query_maker *maker, int at, int from, double most, bool known)
{
    const struct lb_query_word *word = &maker->query->words[at];
    struct lb_spelling_word found[COMPLETIONS_MAX];
    size_t count = 0;
    lb_status status = LB_OK;
    if (word->length >= COMPLETED_FROM && !word->digits)
        status = lb_spelling_completions(maker->tools->spelling, word->text, word->length, found,
                                         COMPLETIONS_MAX, &count, maker->err);
    return status ? status
                  : add_meant(maker, from, LB_WAY_COMPLETED,
                              known ? completed_weight : completed_unknown_weight, most, found, count);
}

/* A word of the trade that may have been meant, and that titles have under another name. */
struct near_word {
    const struct lb_query_word *typed;
    bool last; /* it may go on */
    const char *word;
    double cost;
};

static void look_near(void *context, const char *word)
{
    struct near_word *near = context;
    size_t length = strlen(word), typed = near->typed->length;
    int edits = typed < 3 ? 0 : typed < 6 ? 1 : 2;
    double cost = HUGE_VAL;
    if (near->last && typed > 2 && length > typed && memcmp(word, near->typed->text, typed) == 0)
        cost = begun_cost;
    else if (length + 2 >= typed && typed + 2 >= length && length > 2)
        cost = lb_typing_cost(near->typed->text, typed, word, length, edits);
    if (cost < near->cost) {
        near->cost = cost;
        near->word = word;
    }
}

/* The other names of what was meant, as ways to have it. */
struct other_names {
    struct query_maker *maker;
    double weight;
    lb_status status;
    const char *meant;
};

static bool add_other_name(void *context, int taken, const struct lb_phrase *phrase)
{
    struct other_names *names = context;
    struct lb_query_way *way;
    (void)taken;
    names->status =
        query_way(names->maker, LB_WAY_REPAIRED, names->weight, HUGE_VAL, phrase->words, phrase->count, &way);
    if (!names->status && way)
        way->words = names->meant;
    return !names->status;
}

static lb_status add_near_names(struct query_maker *maker, int at, double best)
{
    const struct lb_query *q = maker->query;
    struct near_word near = {.typed = &q->words[at], .last = at == q->word_count - 1, .cost = HUGE_VAL};
    lb_synonyms_words(maker->tools->synonyms, look_near, &near);
    if (near.cost == HUGE_VAL || near.cost > best + worse_name)
        return LB_OK;
    double more = near.cost > best ? near.cost - best : 0;
    struct other_names names = {maker, synonym_weight * repaired_weight * exp(-repaired_slope * more), LB_OK,
                                lb_arena_text(&maker->query->texts, near.word, strlen(near.word))};
    if (!names.meant)
        return lb_fail_nomem(maker->err);
    lb_synonyms_at(maker->tools->synonyms, &near.word, 1, 0, add_other_name, &names);
    return names.status;
}

static lb_status add_repairs(struct query_maker *maker, int at, int from)
{
    const struct lb_query_word *word = &maker->query->words[at];
    struct lb_spelling_word found[REPAIRS_MAX];
    size_t count = 0;
    lb_status status = LB_OK;
    if (word->digits)
        return LB_OK;
    status = lb_spelling_near(maker->tools->spelling, word->text, word->length, found, REPAIRS_MAX, &count,
                              maker->err);
    if (!status)
        status = add_meant(maker, from, LB_WAY_REPAIRED, repaired_weight, HUGE_VAL, found, count);
    return status ? status : add_near_names(maker, at, count ? found[0].cost : HUGE_VAL);
}

/* What no title has in any other way is repaired; what says nothing is let be. */
lb_status query_slot(struct query_maker *maker, int at)
{
    const struct lb_query *q = maker->query;
    const struct lb_query_word *word = &q->words[at];
    double idf;
    int from = q->way_count;
    lb_status status = add_typed(maker, word, &idf);
    bool known = q->way_count > from;
    if (!status)
        status = add_synonyms(maker, at);
    if (!status)
        status = add_joined(maker, at);
    if (!status)
        status = add_split(maker, word, idf);
    if (!status)
        status = query_measure(maker, at, idf);
    bool repairable = q->way_count == from && !word->empty;
    if (!status && at == q->word_count - 1)
        status = add_completions(maker, at, from, idf, known);
    if (!status && repairable)
        status = add_repairs(maker, at, from);
    return status;
}
