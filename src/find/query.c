#include "find/query_private.h"

#include "base/ascii.h"
#include "base/hash.h"
#include "find/position_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LARGE = 100000 /* titles */, COUNTS_MAX = 1 << 16 };

/* Words that say nothing about a part, unless they are all that was typed or part of a phrase. */
static bool says_nothing(const char *word)
{
    static const char *const empty[] = {"a",  "an", "and", "for",  "from", "i",   "is", "it",  "me",
                                        "my", "of", "or",  "some", "that", "the", "to", "with"};
    for (size_t i = 0; i < sizeof empty / sizeof *empty; i++)
        if (strcmp(word, empty[i]) == 0)
            return true;
    return false;
}

static lb_status read_words(struct query_maker *maker, const char *text)
{
    struct lb_query *q = maker->query;
    struct lb_words words = {.at = text};
    while (lb_words_next(&words)) {
        if (q->word_count == LB_QUERY_WORDS) {
            q->cut = true;
            return LB_OK;
        }
        struct lb_query_word *word = &q->words[q->word_count];
        word->text = lb_arena_text(&q->texts, words.text, words.length);
        word->length = words.length;
        if (!word->text)
            return lb_fail_nomem(maker->err);
        for (size_t i = 0; i < words.length; i++)
            word->digits |= lb_ascii_digit(words.text[i]);
        word->empty = word->skipped = says_nothing(word->text);
        maker->texts[q->word_count++] = word->text;
    }
    return LB_OK;
}

/* The logarithm of BM25 (Robertson and Zaragoza, eq. 3.15) with 1 added inside, so that a word which most
 * titles of a small catalogue have still says something. */
static double idf_of(int64_t titles, int64_t with_term)
{
    double with = (double)with_term < (double)titles ? (double)with_term : (double)titles;
    return log1p(((double)titles - with + 0.5) / (with + 0.5));
}

int lb_query_term_of(const struct lb_query *query, const char *stem, size_t length)
{
    uint32_t hash = (uint32_t)lb_hash(LB_HASH_START, stem, length);
    for (int t = 0; t < query->term_count; t++)
        if (query->terms[t].hash == hash && query->terms[t].length == length + 1 &&
            memcmp(query->terms[t].key + 1, stem, length) == 0)
            return t;
    return -1;
}

static bool is_type_stem(const struct lb_type_stems *stems, uint32_t hash)
{
    size_t low = 0, high = stems->list.count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (stems->list.at[middle] < hash)
            low = middle + 1;
        else
            high = middle;
    }
    return stems->all || (low < stems->list.count && stems->list.at[low] == hash);
}

/* Counting takes as long as opening: it is done once. */
static lb_status open_term(struct query_maker *maker, const char *key, size_t length, int64_t *titles)
{
    const struct lb_query_tools *tools = maker->tools;
    struct lb_term_counts *counts = tools->counts;
    size_t runs = lb_pairs_run_count(tools->pairs);
    uint32_t id = lb_names_find(&counts->stems, key);
    bool known = id != LB_NO_NAME;
    lb_status status = lb_cursors_open(tools->cursors + (size_t)maker->query->term_count * runs, tools->pairs,
                                       key, length, known ? NULL : titles, maker->err);
    if (known)
        *titles = counts->titles.at[id];
    else if (!status && counts->titles.count < COUNTS_MAX &&
             !(lb_names_add(&counts->stems, key, &id) && LB_PUSH(&counts->titles, *titles)))
        status = lb_fail_nomem(maker->err);
    return status;
}

static lb_status new_term(struct query_maker *maker, const char *stem, size_t length, int *term)
{
    struct lb_query *q = maker->query;
    struct lb_query_term new = {.length = length + 1, .hash = (uint32_t)lb_hash(LB_HASH_START, stem, length)};
    char *key = lb_arena_alloc(&q->texts, length + 2);
    if (!key)
        return lb_fail_nomem(maker->err);
    key[0] = 'w';
    memcpy(key + 1, stem, length);
    new.key = key;
    lb_status status = open_term(maker, key, length + 1, &new.titles);
    new.in_type = is_type_stem(maker->tools->type_stems, new.hash);
    new.idf = idf_of(maker->tools->title_count, new.titles);
    *term = q->term_count;
    q->terms[q->term_count++] = new;
    return status;
}

lb_status query_term(struct query_maker *maker, const char *word, size_t length, int *term)
{
    const char *stem;
    size_t stem_length;
    lb_status status = lb_title_stem(maker->tools->titles, word, length, &stem, &stem_length, maker->err);
    if (status)
        return status;
    *term = lb_query_term_of(maker->query, stem, stem_length);
    if (*term >= 0 || maker->query->term_count == LB_QUERY_TERMS)
        return LB_OK;
    return new_term(maker, stem, stem_length, term);
}

static lb_status join_words(struct query_maker *maker, const char *const *words, int count, const char **out)
{
    struct lb_buf text = {0};
    for (int i = 0; i < count; i++)
        lb_buf_printf(&text, "%s%s", i ? " " : "", words[i]);
    *out = text.failed ? NULL : lb_arena_text(&maker->query->texts, text.text, text.length);
    lb_buf_free(&text);
    return *out ? LB_OK : lb_fail_nomem(maker->err);
}

/* In a large catalogue a word of letters that nobody wrote is told from the list of words, which is a tenth
 * of the work; in a small one its stem may still be there. */
static lb_status may_have(struct query_maker *maker, const char *word, bool *may)
{
    int64_t titles = 1;
    size_t length = strlen(word), digits = strcspn(word, "0123456789");
    lb_status status = LB_OK;
    if (maker->tools->title_count >= LARGE && digits == length && length > 1)
        status = lb_spelling_count(maker->tools->spelling, word, length, &titles, maker->err);
    *may = titles > 0;
    return status;
}

lb_status query_way(struct query_maker *maker, enum lb_way_kind kind, double weight, double most,
                    const char *const *words, int count, struct lb_query_way **out)
{
    struct lb_query *q = maker->query;
    struct lb_query_way way = {
        .kind = kind, .weight = weight, .slot = q->slot_count, .slots = 1, .whole = true};
    lb_status status = LB_OK;
    double sum = 0;
    *out = NULL;
    for (int i = 0; !status && i < count; i++) {
        int term;
        bool may = true;
        if (kind != LB_WAY_TYPED)
            status = may_have(maker, words[i], &may);
        if (!status && may)
            status = query_term(maker, words[i], strlen(words[i]), &term);
        if (status || !may || term < 0 || !q->terms[term].titles)
            return status;
        way.terms[way.count] = term;
        way.idf[way.count++] = q->terms[term].idf;
        sum += q->terms[term].idf;
    }
    for (int t = 0; t < way.count && sum > most; t++)
        way.idf[t] *= most / sum;
    if (status || q->way_count == LB_QUERY_WAYS)
        return status;
    status = join_words(maker, words, count, &way.words);
    *out = &q->ways[q->way_count];
    q->ways[q->way_count++] = way;
    return status;
}

/* What a title lacks when it has nothing of the slot: what its best way counts for. */
static double slot_idf(const struct query_maker *maker, const struct lb_query_slot *slot)
{
    double best = 0;
    for (int w = slot->way_from; w < slot->way_from + slot->way_count; w++) {
        const struct lb_query_way *way = &maker->query->ways[w];
        double sum = 0;
        for (int t = 0; t < way->count; t++)
            sum += way->idf[t];
        if (way->slots == 1)
            best = fmax(best, sum);
    }
    return best;
}

static lb_status make_slots(struct query_maker *maker, int spent_from, int spent_count)
{
    struct lb_query *q = maker->query;
    bool all_skipped = true;
    lb_status status = LB_OK;
    for (int i = 0; i < q->word_count; i++)
        all_skipped &= q->words[i].skipped;
    for (int at = 0; !status && at < q->word_count; at++) {
        struct lb_query_slot *slot = &q->slots[q->slot_count];
        q->words[at].skipped &= !all_skipped;
        q->words[at].skipped |= at >= spent_from && at < spent_from + spent_count;
        if (q->words[at].skipped)
            continue;
        slot->word = at;
        slot->way_from = q->way_count;
        status = query_slot(maker, at);
        slot->way_count = q->way_count - slot->way_from;
        slot->known = slot->way_count > 0;
        slot->idf = slot_idf(maker, slot);
        q->slot_count++;
    }
    return status;
}

/* Terms behind all others: words that say the opposite of a position that was typed. */
static lb_status add_opposites(struct query_maker *maker)
{
    struct lb_query *q = maker->query;
    const char *words[32];
    lb_status status = LB_OK;
    for (int i = 0, taken; i < q->word_count; i++)
        q->wanted |= lb_position_words(maker->texts, q->word_count, i, &taken);
    for (int t = 0; t < q->term_count; t++)
        q->terms[t].position =
            (lb_position_word(q->terms[t].key + 1, q->terms[t].length - 1) & q->wanted) != 0;
    q->opposite_from = q->term_count;
    size_t count = lb_position_opposites(q->wanted, words, sizeof words / sizeof *words);
    for (size_t i = 0; !status && i < count; i++) {
        int term;
        status = query_term(maker, words[i], strlen(words[i]), &term);
        if (!status && term >= q->opposite_from && !q->terms[term].titles)
            q->term_count--;
    }
    return status;
}

lb_status lb_query_make(struct lb_query **out, const struct lb_query_tools *tools, const char *text,
                        int spent_from, int spent_count, struct lb_error *err)
{
    struct lb_query *q = *out = calloc(1, sizeof *q);
    if (!q)
        return lb_fail_nomem(err);
    struct query_maker maker = {.query = q, .tools = tools, .err = err};
    q->average = tools->average;
    lb_status status = read_words(&maker, text);
    if (!status)
        status = make_slots(&maker, spent_from, spent_count);
    if (!status)
        status = add_opposites(&maker);
    if (status) {
        lb_query_free(q);
        *out = NULL;
    }
    return status;
}

void lb_query_free(struct lb_query *query)
{
    if (!query)
        return;
    lb_arena_free(&query->texts);
    free(query);
}
