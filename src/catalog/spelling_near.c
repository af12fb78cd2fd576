/* Which words could have been meant by one that is misspelt. */
#include "catalog/spelling_pack.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* In edits of cost 1: a word that is twice as frequent may cost BONUS more, up to BONUS_TIMES doublings (a
 * million titles). A word two edits off costs SECOND more, so that it comes before one at a single edit only
 * when it is hundreds of times as frequent, mostly many thousand times. */
static const double BONUS = 0.08, BONUS_TIMES = 20, SECOND = 1;

/* The counts of no more words than these are looked up, of those that cost the least. */
enum { CANDIDATES_MAX = 500 };

struct search {
    struct lb_spelling *spelling;
    const char *typed;
    size_t length, letters;
    int32_t points[LB_WORD_MAX]; /* its letters */
    uint64_t places[128];        /* where in it each ASCII letter stands, a bit for each place */
    int edits;                   /* allowed */
    uint32_t signature;
    bool ascii;
};

static void read_typed(struct search *search)
{
    for (size_t i = 0; i < search->length; search->letters++) {
        int32_t *point = &search->points[search->letters];
        i += spelling_point(search->typed + i, search->length - i, point);
        if (*point < 0x80)
            search->places[*point] |= UINT64_C(1) << search->letters;
        else
            search->ascii = false;
    }
    search->signature = spelling_signature(search->typed, search->length);
    search->edits = search->letters < 3 ? 0 : search->letters < 6 ? 1 : 2;
}

static uint64_t places_of(const struct search *search, int32_t point)
{
    uint64_t places = 0;
    if (point < 0x80)
        return search->places[point];
    for (size_t i = 0; i < search->letters; i++)
        places |= (uint64_t)(search->points[i] == point) << i;
    return places;
}

/* The edits between the two, a column of the matrix at a time in the bits of a word: H. Hyyrö, A bit-vector
 * algorithm for computing Levenshtein and Damerau edit distances, Nordic Journal of Computing 10 (2003). It
 * takes a tenth of the time of lb_typing_cost, which is then asked about few words only. */
static int edits_to(const struct search *search, const char *word, size_t length)
{
    uint64_t up = ~UINT64_C(0), down = 0, diagonal = 0, before = 0,
             last = UINT64_C(1) << (search->letters - 1);
    int edits = (int)search->letters;
    int32_t point;
    for (size_t i = 0; i < length;) {
        i += spelling_point(word + i, length - i, &point);
        uint64_t same = places_of(search, point), swapped = ((~diagonal & same) << 1) & before;
        diagonal = (((same & up) + up) ^ up) | same | down | swapped;
        uint64_t right = down | ~(diagonal | up), left = diagonal & up;
        edits += ((right & last) != 0) - ((left & last) != 0);
        right = right << 1 | 1;
        up = left << 1 | ~(diagonal | right);
        down = right & diagonal;
        before = same;
    }
    return edits;
}

static int by_score(const void *left, const void *right)
{
    const struct spelling_near *a = left, *b = right;
    return a->score < b->score ? -1 : a->score > b->score ? 1 : strcmp(a->word.word, b->word.word);
}

/* Sorts, and leaves out what costs too much to be looked at. */
static void prune(struct lb_spelling *spelling)
{
    if (spelling->near.count)
        qsort(spelling->near.at, spelling->near.count, sizeof *spelling->near.at, by_score);
    if (spelling->near.count > CANDIDATES_MAX)
        spelling->near.count = CANDIDATES_MAX;
}

/* The frequency is still left out of the score. */
static lb_status weigh(const struct search *search, const char *word, size_t length, struct lb_error *err)
{
    struct lb_spelling *spelling = search->spelling;
    struct spelling_near near = {.word.length = length};
    int edits = edits_to(search, word, length);
    if (edits > search->edits)
        return LB_OK;
    near.word.cost = lb_typing_cost(search->typed, search->length, word, length, edits);
    near.score = near.word.cost + (edits > 1 ? SECOND : 0);
    memcpy(near.word.word, word, length);
    if (!LB_PUSH(&spelling->near, near))
        return lb_fail_nomem(err);
    if (spelling->near.count == 2 * CANDIDATES_MAX)
        prune(spelling);
    return LB_OK;
}

static uint32_t without_lowest(uint32_t bits)
{
    return bits & (bits - 1);
}

/* More letters than `most` (0 to 2). */
static bool are_more(uint32_t letters, int most)
{
    if (most > 0)
        letters = without_lowest(letters);
    if (most > 1)
        letters = without_lowest(letters);
    return letters != 0;
}

/* Each edit takes at most one letter away and brings at most one. Of two words of a letter a byte, the
 * longer one has as many letters put in as it is longer; what is left of the edits has to do for the letters
 * that it lacks. */
static lb_status look_through(const struct search *search, const unsigned char *blob, size_t count,
                              size_t length, struct lb_error *err)
{
    const char *words = (const char *)blob + count * SPELLING_SIGNATURE;
    const int apart = abs((int)length - (int)search->length), spare = search->edits - apart;
    const bool longer = length > search->length;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++) {
        const unsigned char *at = blob + i * SPELLING_SIGNATURE;
        uint32_t has = (uint32_t)at[0] | (uint32_t)at[1] << 8 | (uint32_t)at[2] << 16 | (uint32_t)at[3] << 24;
        uint32_t lost = search->signature & ~has, new = has & ~search->signature;
        if (are_more(lost, search->edits) || are_more(new, search->edits))
            continue;
        if (search->ascii && has >> 26 == 0 && (spare < 0 || are_more(longer ? lost : new, spare)))
            continue;
        status = weigh(search, words + i * length, length, err);
    }
    return status;
}

/* Letters of other scripts take two bytes or more: with them, two edits lead further. */
static lb_status collect(const struct search *search, struct lb_error *err)
{
    struct lb_statement *blobs = search->spelling->blobs;
    size_t reach = search->ascii ? 2 : 4;
    bool row;
    lb_status status;
    lb_bind_integer(blobs, 1, search->length < reach + 2 ? 2 : (int64_t)(search->length - reach));
    lb_bind_integer(blobs, 2, (int64_t)(search->length + reach));
    while (!(status = lb_step(blobs, &row, err)) && row) {
        size_t size, length = (size_t)lb_integer(blobs, 0), each = SPELLING_SIGNATURE + length;
        const unsigned char *blob = lb_blob(blobs, 1, &size);
        if (length > LB_WORD_MAX)
            continue;
        status = size % each ? lb_store_refuse_damaged(search->spelling->store, err)
                             : look_through(search, blob, size / each, length, err);
        if (status) {
            lb_statement_reset(blobs);
            return status;
        }
    }
    return status;
}

static lb_status look_up(struct lb_spelling *spelling, struct spelling_near *near, struct lb_error *err)
{
    lb_status status =
        lb_spelling_count(spelling, near->word.word, near->word.length, &near->word.titles, err);
    if (status)
        return status;
    if (near->word.titles < 1)
        return lb_store_refuse_damaged(spelling->store, err);
    near->score = near->word.cost == 0
                      ? -HUGE_VAL
                      : near->score - BONUS * fmin(log2(1 + (double)near->word.titles), BONUS_TIMES);
    return LB_OK;
}

/* The best come to the front in order. Candidates are sorted by cost, so there is an end once not even a
 * word that all titles have would be among them. */
static lb_status choose(struct lb_spelling *spelling, size_t most, size_t *count, struct lb_error *err)
{
    struct spelling_near *best = spelling->near.at;
    for (size_t i = 0; i < spelling->near.count; i++) {
        struct spelling_near near = best[i];
        if (*count == most && near.score - BONUS * BONUS_TIMES > best[most - 1].score)
            break;
        lb_status status = look_up(spelling, &near, err);
        if (status)
            return status;
        size_t at = *count;
        while (at > 0 && by_score(&near, &best[at - 1]) < 0)
            at--;
        if (at == most)
            continue;
        size_t kept = *count < most ? *count : most - 1;
        memmove(best + at + 1, best + at, (kept - at) * sizeof *best);
        best[at] = near;
        *count = kept + 1;
    }
    return LB_OK;
}

static lb_status find(const struct search *search, size_t most, size_t *count, struct lb_error *err)
{
    search->spelling->near.count = 0;
    lb_status status = collect(search, err);
    if (status)
        return status;
    prune(search->spelling);
    return choose(search->spelling, most, count, err);
}

lb_status lb_spelling_near(struct lb_spelling *spelling, const char *word, size_t length,
                           struct lb_spelling_word *out, size_t most, size_t *count, struct lb_error *err)
{
    struct search search = {.spelling = spelling, .typed = word, .length = length, .ascii = true};
    size_t found = 0;
    bool held;
    *count = 0;
    if (!most || length < 2 || length > LB_WORD_MAX)
        return LB_OK;
    read_typed(&search);
    lb_status status = lb_store_hold(spelling->store, &held, err);
    if (status)
        return status;
    status = find(&search, most, &found, err);
    lb_store_release(spelling->store, held);
    if (status)
        return status;
    for (; *count < found; ++*count)
        out[*count] = spelling->near.at[*count].word;
    return LB_OK;
}
