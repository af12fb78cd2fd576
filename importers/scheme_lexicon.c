/* What the lexicon surely knows. Every heading that might be a column's but is not sure is left out and
 * named. */
#include "importers/scheme.h"

#include "base/text.h"
#include "importers/lexicon.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A heading of the file, and what it is taken for. */
struct guess {
    const char *name;
    const struct lb_column *own; /* it is a column's own name */
    const struct lb_lexicon_entry *entry;
    char currency[4];  /* that the heading names */
    const char *doubt; /* the field that stands in the way, NULL: none */
    int rival, tie;    /* the other heading; -1: none */
};

struct guesses {
    struct lb_lexicon *lexicon;
    struct guess *at;
    int count;
    bool any; /* the lexicon knows one at least */
};

static bool is_field(const struct guess *guess, const char *field)
{
    if (guess->own)
        return strcmp(guess->own->name, field) == 0;
    size_t length = strlen(field);
    return guess->entry && strncmp(guess->entry->field, field, length) == 0 &&
           (!guess->entry->field[length] || guess->entry->field[length] == '?');
}

static int other_of(const struct guesses *guesses, int self, const char *field)
{
    for (int i = 0; i < guesses->count; i++)
        if (i != self && is_field(&guesses->at[i], field))
            return i;
    return -1;
}

static void try_rival(struct guesses *guesses, int self, const char *word)
{
    struct guess *guess = &guesses->at[self];
    bool pack = strcmp(word, "pack") == 0;
    int rival = other_of(guesses, self, pack ? "pack_quantity" : word);
    if (pack && other_of(guesses, self, "per") >= 0)
        rival = -1;
    if (rival >= 0 && !guess->doubt) {
        guess->doubt = pack ? "pack" : "";
        guess->rival = rival;
    }
}

static void weigh_unless(struct guesses *guesses, int self)
{
    const char *unless = guesses->at[self].entry->unless;
    for (size_t length; *unless; unless += length + (unless[length] == '|')) {
        char word[32];
        length = strcspn(unless, "|");
        if (length < sizeof word) {
            memcpy(word, unless, length);
            word[length] = '\0';
            try_rival(guesses, self, word);
        }
    }
}

/* Another heading for the same field: an own name, or one that is as sure; -1: none. */
static int rival_of(const struct guesses *guesses, int self)
{
    const struct guess *guess = &guesses->at[self];
    for (int i = 0; !guess->doubt && !strchr(guess->entry->field, '?') && i < guesses->count; i++) {
        const struct guess *other = &guesses->at[i];
        if (i != self && (other->own || (other->entry && !other->doubt)) &&
            is_field(other, guess->entry->field))
            return i;
    }
    return -1;
}

/* Two for one field: an own name has it, else nobody. */
static void weigh_rivals(struct guesses *guesses)
{
    for (int i = 0; i < guesses->count; i++)
        guesses->at[i].tie = guesses->at[i].entry ? rival_of(guesses, i) : -1;
    for (int i = 0; i < guesses->count; i++)
        if (guesses->at[i].tie >= 0) {
            guesses->at[i].doubt = "";
            guesses->at[i].rival = guesses->at[i].tie;
        }
}

static void weigh(struct guesses *guesses)
{
    for (int i = 0; i < guesses->count; i++)
        if (guesses->at[i].entry)
            weigh_unless(guesses, i);
    weigh_rivals(guesses);
    int per = other_of(guesses, -1, "per"), price = other_of(guesses, -1, "price");
    for (int i = 0; per >= 0 && price >= 0 && i < guesses->count;
         i++) /* a price per piece beside a price unit */
        if (guesses->at[i].entry && strcmp(guesses->at[i].entry->field, "price") == 0 &&
            strncmp(guesses->at[i].entry->convert, "per", 3) == 0) {
            guesses->at[i].doubt = "";
            guesses->at[i].rival = per;
        }
}

static lb_status say_doubt(struct lb_scheme *scheme, const struct guesses *guesses, int i,
                           struct lb_error *err)
{
    const struct guess *guess = &guesses->at[i];
    struct lb_buf why = {0};
    const char *rival = guess->doubt ? guesses->at[guess->rival].name : "";
    if (strchr(guess->entry->field, '?'))
        lb_buf_puts(&why,
                    "may be a gross or list price, or a discount from one; the price must be the net one");
    else if (guess->doubt && strcmp(guess->doubt, "pack") == 0)
        lb_buf_printf(
            &why, "may be %s of one piece or of the pack that \"%s\" states; a profile can say which (per 1)",
            guess->entry->field, rival);
    else if (guess->doubt && strcmp(guess->entry->field, "per") == 0)
        lb_buf_puts(&why, "may be the number of pieces that the price is for");
    else
        lb_buf_printf(&why, "may be %s, which is not sure beside \"%s\"; a profile can say so",
                      guess->entry->field, rival);
    lb_status status =
        why.failed ? lb_fail_nomem(err) : lb_scheme_doubt(scheme, guess->name, i, why.text, err);
    lb_buf_free(&why);
    return status;
}

static lb_status add_guess(struct lb_scheme *scheme, const struct guesses *guesses, int i,
                           struct lb_error *err)
{
    const struct guess *guess = &guesses->at[i];
    struct lb_mapping_column map = {.heading = guess->name, .column = i, .convert = ""};
    if (guess->own)
        return lb_scheme_add(scheme, guess->own, map, err);
    if (!guess->entry)
        return LB_OK;
    if (guess->doubt || strchr(guess->entry->field, '?'))
        return say_doubt(scheme, guesses, i, err);
    if (strcmp(guess->entry->field, "per") == 0)
        return LB_OK; /* the price's */
    map.convert = guess->entry->convert;
    map.by = LB_MAPPED_BY_LEXICON;
    return lb_scheme_add(scheme, lb_scheme_type(guess->entry->field), map, err);
}

/* The number of pieces that the price is for, in a column of its own. */
static lb_status add_per(struct lb_scheme *scheme, const struct guesses *guesses, struct lb_error *err)
{
    int per = other_of(guesses, -1, "per");
    struct lb_scheme_entry *price = lb_scheme_find(scheme, "price");
    if (per < 0 || guesses->at[per].own || guesses->at[per].doubt || !price)
        return LB_OK;
    struct lb_recast recast = {.per_heading = guesses->at[per].name};
    struct lb_buf convert = {0};
    lb_recast_write(&convert, &recast);
    price->map.by = LB_MAPPED_BY_LEXICON;
    lb_status status = convert.failed ? lb_fail_nomem(err)
                                      : lb_scheme_add_convert(scheme, price, lb_buf_text(&convert), err);
    lb_buf_free(&convert);
    return status;
}

/* "Preis EUR": the currency of every row, where no column says it and no other heading contradicts. */
static lb_status add_currency(struct lb_scheme *scheme, const struct guesses *guesses, struct lb_error *err)
{
    const char *code = NULL;
    for (int i = 0; i < guesses->count; i++) {
        const struct guess *guess = &guesses->at[i];
        if (!guess->currency[0] || guess->doubt || strchr(guess->entry->field, '?'))
            continue;
        if (code && strcmp(code, guess->currency) != 0)
            return LB_OK;
        code = guess->currency;
    }
    if (!code || lb_scheme_find(scheme, "currency"))
        return LB_OK;
    char convert[16];
    snprintf(convert, sizeof convert, "fixed %s", code);
    struct lb_mapping_column map = {
        .heading = "", .column = -1, .convert = convert, .by = LB_MAPPED_BY_LEXICON};
    return lb_scheme_add(scheme, lb_scheme_type("currency"), map, err);
}

static void look_up(struct guess *guess, const struct lb_lexicon *lexicon)
{
    struct lb_buf code = {0};
    guess->entry = lb_lexicon_find(lexicon, guess->name);
    if (!guess->entry) {
        guess->entry = lb_lexicon_find_priced(lexicon, guess->name, &code);
        if (guess->entry && code.length == 3)
            memcpy(guess->currency, code.text, 4);
    }
    lb_buf_free(&code);
}

static lb_status guess_all(struct guesses *guesses, const char *const *names, struct lb_error *err)
{
    lb_status status = lb_lexicon_open(&guesses->lexicon, err);
    for (int i = 0; !status && i < guesses->count; i++) {
        struct guess *guess = &guesses->at[i];
        guess->name = names[i];
        guess->own = lb_scheme_type(names[i]);
        if (!guess->own && *names[i])
            look_up(guess, guesses->lexicon);
        guesses->any |= guess->entry != NULL;
    }
    return status;
}

static bool all_own(const char *const *names, int count)
{
    for (int i = 0; i < count; i++)
        if (*names[i] && !lb_scheme_type(names[i]))
            return false;
    return true;
}

lb_status lb_scheme_by_lexicon(struct lb_scheme *scheme, const char *const *names, int count,
                               struct lb_error *err)
{
    if (all_own(names, count))
        return LB_OK;
    struct guesses guesses = {.at = calloc((size_t)count + 1, sizeof *guesses.at), .count = count};
    lb_status status = guesses.at ? guess_all(&guesses, names, err) : lb_fail_nomem(err);
    if (!status && guesses.any) {
        scheme->by_lexicon = true;
        weigh(&guesses);
        for (int i = 0; !status && i < count; i++)
            status = add_guess(scheme, &guesses, i, err);
        if (!status)
            status = add_per(scheme, &guesses, err);
        if (!status)
            status = add_currency(scheme, &guesses, err);
    }
    lb_lexicon_free(guesses.lexicon);
    free(guesses.at);
    return status;
}
