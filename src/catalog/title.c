#include "catalog/title.h"

#include "base/arena.h"
#include "base/ascii.h"
#include "base/fingerprint.h"
#include "base/spec.h"
#include "base/vec.h"
#include "base/words.h"
#include "catalog/spelling.h"
#include "store/stem.h"

#include <stdlib.h>
#include <string.h>

enum {
    KNOWN_MAX = 1 << 20,              /* different words that are remembered, some 80 MB */
    BRAND_FROM = LB_TITLE_MAX - 8,    /* the last places are the brand's */
    SCRATCH_COUNT = LB_TITLE_MAX + 1, /* one for lb_title_stem */
};

/* A word that was met, its stem, and how many titles had it since it was last asked. */
struct known {
    const char *word, *stem;
    uint32_t hash;
    uint32_t titles;
    uint8_t length, stem_length;
    bool of_type; /* some part type had it */
};

struct lb_titles {
    struct lb_stemmer *stemmer;
    LB_VEC(struct known) known;
    uint32_t *slots; /* index + 1; 0: free */
    size_t slot_count;
    struct lb_arena texts;
    int64_t title_count, word_count;
    char scratch[SCRATCH_COUNT][LB_WORD_MAX]; /* stems of words that are not remembered */
};

lb_status lb_titles_open(struct lb_titles **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_titles *titles = *out = calloc(1, sizeof *titles);
    if (!titles)
        return lb_fail_nomem(err);
    lb_status status = lb_stemmer_open(&titles->stemmer, store, err);
    if (status) {
        lb_titles_close(titles);
        *out = NULL;
    }
    return status;
}

void lb_titles_close(struct lb_titles *titles)
{
    if (!titles)
        return;
    lb_stemmer_close(titles->stemmer);
    lb_arena_free(&titles->texts);
    free(titles->known.at);
    free(titles->slots);
    free(titles);
}

static bool grow_slots(struct lb_titles *titles)
{
    if (titles->known.count * 2 < titles->slot_count)
        return true;
    size_t count = titles->slot_count ? titles->slot_count * 2 : 1024, mask = count - 1;
    uint32_t *slots = calloc(count, sizeof *slots);
    if (!slots)
        return false;
    for (size_t i = 0; i < titles->known.count; i++) {
        size_t slot = titles->known.at[i].hash & mask;
        while (slots[slot])
            slot = (slot + 1) & mask;
        slots[slot] = (uint32_t)i + 1;
    }
    free(titles->slots);
    titles->slots = slots;
    titles->slot_count = count;
    return true;
}

static lb_status remember(struct lb_titles *titles, size_t slot, struct known word, const char *text,
                          struct lb_error *err)
{
    const char *stem;
    size_t length;
    lb_status status = lb_stem(titles->stemmer, text, word.length, &stem, &length, err);
    if (status)
        return status;
    word.stem_length = (uint8_t)(length < LB_WORD_MAX ? length : LB_WORD_MAX);
    word.word = lb_arena_text(&titles->texts, text, word.length);
    bool begins = word.stem_length <= word.length && memcmp(text, stem, word.stem_length) == 0;
    word.stem = begins ? word.word : lb_arena_text(&titles->texts, stem, word.stem_length);
    if (!word.word || !word.stem || !LB_PUSH(&titles->known, word))
        return lb_fail_nomem(err);
    titles->slots[slot] = (uint32_t)titles->known.count;
    return LB_OK;
}

/* NULL in *out: there are too many already. */
static lb_status know(struct lb_titles *titles, const char *text, size_t length, struct known **out,
                      struct lb_error *err)
{
    struct known word = {.hash = (uint32_t)lb_fingerprint_of(text, length), .length = (uint8_t)length};
    *out = NULL;
    if (!grow_slots(titles))
        return lb_fail_nomem(err);
    size_t mask = titles->slot_count - 1, slot = word.hash & mask;
    for (uint32_t index; (index = titles->slots[slot]); slot = (slot + 1) & mask) {
        struct known *known = &titles->known.at[index - 1];
        if (known->hash == word.hash && known->length == length && memcmp(known->word, text, length) == 0) {
            *out = known;
            return LB_OK;
        }
    }
    if (titles->known.count >= KNOWN_MAX)
        return LB_OK;
    lb_status status = remember(titles, slot, word, text, err);
    if (!status)
        *out = &titles->known.at[titles->known.count - 1];
    return status;
}

static bool has_digit(const char *word, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (lb_ascii_digit(word[i]))
            return true;
    return false;
}

/* `scratch` is where a stem goes that is not remembered. */
static lb_status find_stem(struct lb_titles *titles, const char *word, size_t length, char *scratch,
                           struct lb_title_word *out, struct known **known, struct lb_error *err)
{
    const char *stem = word;
    size_t stem_length = length;
    *known = NULL;
    if (!has_digit(word, length)) {
        lb_status status = know(titles, word, length, known, err);
        if (!status && !*known)
            status = lb_stem(titles->stemmer, word, length, &stem, &stem_length, err);
        if (status)
            return status;
    }
    if (*known) {
        out->stem = (*known)->stem;
        out->length = (*known)->stem_length;
        return LB_OK;
    }
    out->length = (uint8_t)(stem_length < LB_WORD_MAX ? stem_length : LB_WORD_MAX);
    memcpy(scratch, stem, out->length);
    out->stem = scratch;
    return LB_OK;
}

/* The count: it is not there. */
static int index_of(const struct lb_title *title, const struct lb_title_word *word)
{
    int i = 0;
    while (i < title->count && (title->words[i].length != word->length ||
                                memcmp(title->words[i].stem, word->stem, word->length) != 0))
        i++;
    return i;
}

/* Words of one text, as long as there are fewer than `most`. `place` -1: each where it stands. */
static lb_status add_words(struct lb_titles *titles, const char *text, int most, int place,
                           struct lb_title *title, struct lb_error *err)
{
    struct lb_words words = {.at = text};
    struct known *known;
    while (text && title->count < most && lb_words_next(&words)) {
        struct lb_title_word *word = &title->words[title->count];
        lb_status status =
            find_stem(titles, words.text, words.length, titles->scratch[title->count], word, &known, err);
        if (status)
            return status;
        if (index_of(title, word) < title->count)
            continue;
        if (known)
            known->titles++;
        if (title->type_words < 0) { /* it is the type that is read */
            word->fresh = !known || !known->of_type;
            if (known)
                known->of_type = true;
        }
        word->place = (uint8_t)(place >= 0                     ? place
                                : title->count < LB_PLACE_LATE ? title->count
                                                               : LB_PLACE_LATE);
        title->count++;
    }
    return LB_OK;
}

lb_status lb_title_read(struct lb_titles *titles, const char *part_type, const char *description,
                        const char *spec, const char *brand, struct lb_title *out, struct lb_error *err)
{
    out->count = 0;
    out->type_words = -1;
    lb_status status = add_words(titles, part_type, BRAND_FROM, -1, out, err);
    out->type_words = out->count < LB_TITLE_TYPE_MAX ? out->count : LB_TITLE_TYPE_MAX;
    if (!status)
        status = add_words(titles, description, BRAND_FROM, -1, out, err);
    if (!status && spec && lb_spec_parse(spec).kind == LB_SPEC_TEXT)
        status = add_words(titles, spec, BRAND_FROM, -1, out, err);
    out->length = out->count < 1 ? 1 : out->count < LB_TITLE_LENGTH_MAX ? out->count : LB_TITLE_LENGTH_MAX;
    titles->title_count++;
    titles->word_count += out->length;
    return status ? status : add_words(titles, brand, LB_TITLE_MAX, LB_PLACE_BRAND, out, err);
}

lb_status lb_title_add(struct lb_titles *titles, const char *text, int place, struct lb_title *out,
                       struct lb_error *err)
{
    struct lb_words words = {.at = text};
    struct known *known;
    while (text && out->count < LB_TITLE_MAX && lb_words_next(&words)) {
        struct lb_title_word *word = &out->words[out->count];
        lb_status status =
            find_stem(titles, words.text, words.length, titles->scratch[out->count], word, &known, err);
        if (status)
            return status;
        int at = index_of(out, word);
        out->words[at].place = (uint8_t)(at < out->count ? out->words[at].place | place : place);
        out->count += at == out->count;
    }
    return LB_OK;
}

lb_status lb_title_stem(struct lb_titles *titles, const char *word, size_t length, const char **stem,
                        size_t *stem_length, struct lb_error *err)
{
    struct lb_title_word found;
    struct known *known;
    lb_status status = find_stem(titles, word, length < LB_WORD_MAX ? length : LB_WORD_MAX,
                                 titles->scratch[SCRATCH_COUNT - 1], &found, &known, err);
    if (!status) {
        *stem = found.stem;
        *stem_length = found.length;
    }
    return status;
}

static lb_status save_counts(struct lb_titles *titles, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(
        store, &st, "UPDATE state SET titles = titles + ?1, title_words = title_words + ?2", err);
    if (status)
        return status;
    lb_bind_integer(st, 1, titles->title_count);
    lb_bind_integer(st, 2, titles->word_count);
    status = lb_run(st, err);
    lb_statement_free(st);
    return status;
}

lb_status lb_titles_save(struct lb_titles *titles, struct lb_store *store, struct lb_error *err)
{
    LB_VEC(struct lb_spelt) spelt = {0};
    lb_status status = save_counts(titles, store, err);
    for (size_t i = 0; !status && i < titles->known.count; i++) {
        const struct known *known = &titles->known.at[i];
        if (known->titles && known->length > 1 &&
            !LB_PUSH(&spelt, (struct lb_spelt){known->word, known->length, known->titles}))
            status = lb_fail_nomem(err);
    }
    if (!status && spelt.count)
        status = lb_spelling_save(store, spelt.at, spelt.count, err);
    for (size_t i = 0; !status && i < titles->known.count; i++)
        titles->known.at[i].titles = 0;
    titles->title_count = titles->word_count = 0;
    free(spelt.at);
    return status;
}
