#include "find/synonyms.h"

#include "base/arena.h"
#include "base/names.h"
#include "base/vec.h"
#include "base/words.h"
#include "catalog/spans.h"
#include "find/synonyms_table.h"
#include "importers/kinds.h"

#include <stdlib.h>
#include <string.h>

_Static_assert((int)LB_SYNONYM_WORDS == (int)LB_PHRASE_MAX, "what a row may state is what is looked up");

enum { JOINED_MAX = LB_PHRASE_MAX * (LB_WORD_MAX + 1) };

/* What the owner's rows say about one phrase; the list's own words are the table's. */
struct owned {
    struct lb_phrase phrase;
    uint32_t first, last, count; /* of `meanings`, from 1; 0: none */
};

struct meaning {
    uint32_t owned; /* the id of its phrase */
    uint32_t next;  /* from 1; 0: the end */
};

struct lb_synonyms {
    struct lb_phrase *listed; /* the entries of the table, as phrases, where `made` says so */
    bool *made;
    struct lb_names names; /* the owner's phrases, their words joined by blanks */
    LB_VEC(struct owned) owned;
    LB_VEC(struct meaning) meanings;
    struct lb_arena texts;
};

/* An entry of the table as a phrase, made when it is first told: most never are, and to touch the memory of
 * all takes longer than all else that opening does. */
static const struct lb_phrase *listed(const struct lb_synonyms *synonyms, uint32_t entry)
{
    struct lb_phrase *phrase = &synonyms->listed[entry];
    const char *word = lb_synonym_words + lb_synonym_entries[entry].at;
    if (synonyms->made[entry])
        return phrase;
    synonyms->made[entry] = true;
    phrase->count = 0;
    for (uint32_t left = lb_synonym_entries[entry].count; left; left--, word += strlen(word) + 1)
        phrase->words[phrase->count++] = word;
    return phrase;
}

/* The words of a text joined by blanks. False: there are none, or too many. */
static bool join_text(char joined[JOINED_MAX], const char *text)
{
    struct lb_words words = {.at = text};
    size_t length = 0;
    int count = 0;
    while (lb_words_next(&words)) {
        if (++count > LB_PHRASE_MAX)
            return false;
        memcpy(joined + length, words.text, words.length);
        length += words.length;
        joined[length++] = ' ';
    }
    if (count)
        joined[length - 1] = '\0';
    return count > 0;
}

/* The same of words that are folded. False: one is longer than any that is listed. */
static bool join_words(char joined[JOINED_MAX], const char *const *words, int count)
{
    size_t length = 0;
    for (int i = 0; i < count; i++) {
        size_t more = strlen(words[i]);
        if (more > LB_WORD_MAX)
            return false;
        memcpy(joined + length, words[i], more);
        length += more;
        joined[length++] = ' ';
    }
    joined[length - 1] = '\0';
    return true;
}

static bool add_phrase(struct lb_synonyms *synonyms, const char *joined, uint32_t *id)
{
    if (!lb_names_add(&synonyms->names, joined, id))
        return false;
    if (*id < synonyms->owned.count)
        return true;
    struct owned owned = {0};
    char *word = lb_arena_text(&synonyms->texts, joined, strlen(joined));
    while (word) {
        owned.phrase.words[owned.phrase.count++] = word;
        char *blank = strchr(word, ' ');
        if (!blank)
            break;
        *blank = '\0';
        word = blank + 1;
    }
    return word && LB_PUSH(&synonyms->owned, owned);
}

static bool means(const struct lb_synonyms *synonyms, uint32_t from, uint32_t to)
{
    for (uint32_t m = synonyms->owned.at[from].first; m; m = synonyms->meanings.at[m - 1].next)
        if (synonyms->meanings.at[m - 1].owned == to)
            return true;
    return false;
}

static bool add_meaning(struct lb_synonyms *synonyms, uint32_t from, uint32_t to)
{
    if (!LB_PUSH(&synonyms->meanings, (struct meaning){.owned = to}))
        return false;
    struct owned *owned = &synonyms->owned.at[from];
    uint32_t m = (uint32_t)synonyms->meanings.count;
    if (owned->last)
        synonyms->meanings.at[owned->last - 1].next = m;
    else
        owned->first = m;
    owned->last = m;
    owned->count++;
    return true;
}

/* Both ways, once. (Each is in the list of the other or in neither, so the shorter one tells.) */
static lb_status add_pair(struct lb_synonyms *synonyms, const char *term, const char *other,
                          struct lb_error *err)
{
    char a[JOINED_MAX], b[JOINED_MAX];
    uint32_t from, to;
    if (!join_text(a, term) || !join_text(b, other) || strcmp(a, b) == 0)
        return LB_OK; /* such a row is refused when it is imported */
    if (!add_phrase(synonyms, a, &from) || !add_phrase(synonyms, b, &to))
        return lb_fail_nomem(err);
    bool turn = synonyms->owned.at[from].count > synonyms->owned.at[to].count;
    if (turn ? means(synonyms, to, from) : means(synonyms, from, to))
        return LB_OK;
    return add_meaning(synonyms, from, to) && add_meaning(synonyms, to, from) ? LB_OK : lb_fail_nomem(err);
}

static lb_status read_owners(struct lb_synonyms *synonyms, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    int64_t any;
    lb_status status = lb_store_integer(store, "SELECT 1 FROM synonyms LIMIT 1", &any, err);
    if (status || !any)
        return status; /* most owners have none, and the short question is the quicker one */
    status = lb_store_prepare(store, &st, "SELECT r.term, r.means" LB_PLACED("synonyms") LB_IN_ORDER, err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row)
        if ((status = lb_need_texts(st, 0, 2, err)) ||
            (status = add_pair(synonyms, lb_text(st, 0), lb_text(st, 1), err)))
            break;
    lb_statement_free(st);
    return status;
}

lb_status lb_synonyms_open(struct lb_synonyms **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_synonyms *synonyms = *out = calloc(1, sizeof *synonyms);
    if (!synonyms)
        return lb_fail_nomem(err);
    synonyms->listed = malloc(lb_synonym_entry_count * sizeof *synonyms->listed);
    synonyms->made = calloc(lb_synonym_entry_count, sizeof *synonyms->made);
    bool roomy = synonyms->listed && synonyms->made;
    lb_status status = roomy ? read_owners(synonyms, store, err) : lb_fail_nomem(err);
    if (status) {
        lb_synonyms_close(synonyms);
        *out = NULL;
    }
    return status;
}

void lb_synonyms_close(struct lb_synonyms *synonyms)
{
    if (!synonyms)
        return;
    free(synonyms->listed);
    free(synonyms->made);
    lb_names_free(&synonyms->names);
    free(synonyms->owned.at);
    free(synonyms->meanings.at);
    lb_arena_free(&synonyms->texts);
    free(synonyms);
}

/* A joined phrase and the words of an entry, which have a NUL where the other has a blank. */
static int compare(const char *joined, const struct lb_synonym_entry *entry)
{
    const char *word = lb_synonym_words + entry->at;
    for (uint32_t left = entry->count; left;) {
        char c = *word++;
        if (!c && --left)
            c = ' ';
        if (*joined != c || !left)
            return (unsigned char)*joined - (unsigned char)c;
        joined++;
    }
    return 0;
}

static const struct lb_synonym_entry *find_listed(const char *joined)
{
    size_t low = 0, high = lb_synonym_entry_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = compare(joined, &lb_synonym_entries[middle]);
        if (order == 0)
            return &lb_synonym_entries[middle];
        if (order < 0)
            high = middle;
        else
            low = middle + 1;
    }
    return NULL;
}

static bool same_phrase(const struct lb_phrase *a, const struct lb_phrase *b)
{
    bool same = a->count == b->count;
    for (int i = 0; same && i < a->count; i++)
        same = strcmp(a->words[i], b->words[i]) == 0;
    return same;
}

/* Who is told of a phrase, and whether there was anything to tell. */
struct telling {
    const struct lb_synonyms *synonyms;
    lb_synonym_each *each;
    void *context;
    int taken;
    bool told, stopped;
};

static void tell(struct telling *telling, const struct lb_phrase *phrase)
{
    telling->told = true;
    telling->stopped = !telling->each(telling->context, telling->taken, phrase);
}

/* A meaning of the list that the owner's rows give as well. */
static bool is_owners(const struct lb_synonyms *synonyms, const struct owned *owned,
                      const struct lb_phrase *phrase)
{
    for (uint32_t m = owned ? owned->first : 0; m; m = synonyms->meanings.at[m - 1].next)
        if (same_phrase(&synonyms->owned.at[synonyms->meanings.at[m - 1].owned].phrase, phrase))
            return true;
    return false;
}

static void tell_all(struct telling *telling, const char *joined)
{
    const struct lb_synonyms *synonyms = telling->synonyms;
    uint32_t id = lb_names_find(&synonyms->names, joined);
    const struct owned *owned = id == LB_NO_NAME ? NULL : &synonyms->owned.at[id];
    for (uint32_t m = owned ? owned->first : 0; m && !telling->stopped; m = synonyms->meanings.at[m - 1].next)
        tell(telling, &synonyms->owned.at[synonyms->meanings.at[m - 1].owned].phrase);
    const struct lb_synonym_entry *entry = find_listed(joined);
    for (uint32_t m = entry ? entry->first : 0; entry && m < entry[1].first && !telling->stopped; m++) {
        const struct lb_phrase *phrase = listed(synonyms, lb_synonym_meanings[m]);
        if (!is_owners(synonyms, owned, phrase))
            tell(telling, phrase);
    }
}

/* Lists have the singular; people ask for gaskets and for switches. Words of one ending that is taken off,
 * then of two letters. */
static void tell_singular(struct telling *telling, char *joined)
{
    size_t length = strlen(joined);
    const char *blank = strrchr(joined, ' ');
    size_t word = blank ? (size_t)(joined + length - (blank + 1)) : length;
    if (word < 4 || joined[length - 1] != 's' || joined[length - 2] == 's')
        return;
    joined[length - 1] = '\0';
    tell_all(telling, joined);
    if (telling->told || word < 5 || joined[length - 2] != 'e')
        return;
    joined[length - 2] = '\0';
    tell_all(telling, joined);
}

void lb_synonyms_at(const struct lb_synonyms *synonyms, const char *const *words, int count, int at,
                    lb_synonym_each *each, void *context)
{
    char joined[JOINED_MAX];
    bool stopped = false;
    int taken = count - at < LB_PHRASE_MAX ? count - at : LB_PHRASE_MAX;
    for (; taken > 0 && !stopped; taken--) {
        struct telling telling = {synonyms, each, context, taken, false, false};
        if (!join_words(joined, words + at, taken))
            continue;
        tell_all(&telling, joined);
        if (!telling.told)
            tell_singular(&telling, joined);
        stopped = telling.stopped;
    }
}

void lb_synonyms_words(const struct lb_synonyms *synonyms, lb_synonym_word *each, void *context)
{
    for (size_t i = 0; i < lb_synonym_entry_count; i++)
        if (lb_synonym_entries[i].count == 1)
            each(context, lb_synonym_words + lb_synonym_entries[i].at);
    for (size_t i = 0; i < synonyms->owned.count; i++)
        if (synonyms->owned.at[i].phrase.count == 1)
            each(context, synonyms->owned.at[i].phrase.words[0]);
}
