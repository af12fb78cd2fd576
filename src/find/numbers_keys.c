/* The ways that go over the keys of numbers, in their order. */
#include "catalog/partkey.h"
#include "find/numbers_private.h"

#include <string.h>

/* Keys that are looked at in one go, beside those that are asked for. A short beginning may have hundreds of
 * thousands that go on from it. */
enum { LONGER_MAX = 256, EDITED_MAX = 2048, ROUNDS_MAX = 8 };
enum { BEHIND = 6, LONG_MIN_LENGTH = 8 }; /* characters */

/* The key at hand with its first rows; the walk goes on to the next key. */
static lb_status take_key(struct lb_numbers *n, struct candidate *c, struct lb_error *err)
{
    const struct lb_pair *pair = n->walk->pair;
    unsigned char after[LB_PAIRS_KEY_MAX + 1];
    size_t length = pair->length;
    memcpy(after, pair->key, length);
    after[length] = 0;
    *c = (struct candidate){.kept = n->kept.length, .length = length};
    if (length == LB_PAIRS_KEY_MAX) /* no number has so long a key */
        return lb_store_refuse_damaged(n->store, err);
    lb_buf_append(&n->kept, (const char *)pair->key, length);
    lb_status status = n->kept.failed ? lb_fail_nomem(err) : LB_OK;
    while (!status && !n->walk->over && !c->further && n->walk->pair->length == length &&
           memcmp(n->walk->pair->key, after, length) == 0) {
        int64_t id = n->walk->pair->id;
        if (c->id_count == CANDIDATE_IDS)
            c->further = true;
        else if (!c->id_count || c->ids[c->id_count - 1] != id)
            c->ids[c->id_count++] = id;
        if (!c->further)
            status = lb_walk_next(n->walk, err);
    }
    return status || !c->further ? status : lb_walk_seek(n->walk, after, length + 1, err);
}

/* What the key says: the number, the brand, and what that is to what was typed; *meant false: nothing. */
static lb_status read_key(struct lb_numbers *n, struct candidate *c, bool *meant, struct lb_error *err)
{
    struct lb_number_term term;
    *meant = lb_term_read_number(&term, n->kept.text + c->kept, c->length);
    if (!*meant)
        return lb_store_refuse_damaged(n->store, err);
    c->brand = term.brand;
    c->whole = term.whole;
    lb_status status = numbers_brand(n, term.brand, &c->brand_key, err);
    if (status || !term.whole)
        return status;
    lb_buf_clear(&n->text);
    lb_term_write(&n->text, &term);
    if (n->text.failed || !numbers_read(&n->symbols, term.folded, term.length))
        return lb_fail_nomem(err);
    *meant = numbers_classify(&n->wanted, lb_buf_text(&n->text), &n->symbols, &c->class) &&
             c->class.match <= n->widest;
    lb_buf_append(&n->kept, lb_buf_text(&n->text), n->text.length + 1);
    return n->kept.failed ? lb_fail_nomem(err) : LB_OK;
}

static lb_status take_candidate(struct lb_numbers *n, struct lb_error *err)
{
    struct candidate c;
    bool meant;
    lb_status status = take_key(n, &c, err);
    if (!status)
        status = read_key(n, &c, &meant, err);
    if (status || !meant) {
        n->kept.length = status ? n->kept.length : c.kept;
        return status;
    }
    return LB_PUSH(&n->candidates, c) ? LB_OK : lb_fail_nomem(err);
}

static bool begins(const struct lb_numbers *n, const struct lb_buf *with)
{
    return !n->walk->over && n->walk->pair->length >= with->length &&
           memcmp(n->walk->pair->key, with->text, with->length) == 0;
}

/* `n` and the number as far as keys have it. */
static lb_status begin_with(struct lb_numbers *n, const char *end, struct lb_error *err)
{
    const struct lb_buf *folded = &n->wanted.folded;
    lb_buf_clear(&n->next);
    lb_buf_putc(&n->next, 'n');
    lb_buf_append(&n->next, lb_buf_text(folded),
                  folded->length < LB_TERM_NUMBER_MAX ? folded->length : LB_TERM_NUMBER_MAX);
    lb_buf_puts(&n->next, end);
    return n->next.failed ? lb_fail_nomem(err) : lb_walk_begin(n->walk, n->next.text, n->next.length, err);
}

lb_status numbers_find_same(struct lb_numbers *n, struct lb_error *err)
{
    lb_status status = begin_with(n, "\x1f", err);
    while (!status && begins(n, &n->next))
        status = take_candidate(n, err);
    return status ? status : numbers_settle(n, err);
}

/* The shortest ones first among those that are looked at; further ones when too many of those are gone. */
lb_status numbers_find_longer(struct lb_numbers *n, struct lb_error *err)
{
    lb_status status = begin_with(n, "", err);
    for (int round = 0; !status && begins(n, &n->next) && n->finds->list.count < n->most; round++) {
        if (round == ROUNDS_MAX)
            break;
        size_t limit = numbers_bound(n, LONGER_MAX, 1);
        for (size_t i = 0; !status && i < limit && begins(n, &n->next); i++)
            status = take_candidate(n, err);
        if (!status)
            status = numbers_settle(n, err);
    }
    if (!status)
        n->finds->cut |= begins(n, &n->next);
    return status;
}

/* To the number that `text` begins with, or on by one key when that would be no step forward. */
static lb_status skip_to(struct lb_numbers *n, const struct lb_buf *text, struct lb_error *err)
{
    const struct lb_pair *pair = n->walk->pair;
    lb_buf_clear(&n->key);
    lb_buf_putc(&n->key, 'n');
    lb_buf_append(&n->key, lb_buf_text(text), text->length);
    if (n->key.failed)
        return lb_fail_nomem(err);
    size_t common = n->key.length < pair->length ? n->key.length : pair->length;
    int order = memcmp(n->key.text, pair->key, common);
    if (order < 0 || (order == 0 && n->key.length <= pair->length))
        return lb_walk_next(n->walk, err);
    return lb_walk_seek(n->walk, n->key.text, n->key.length, err);
}

/* Over the keys that begin with the first `sure` characters as typed. */
static lb_status walk_edited(struct lb_numbers *n, size_t sure, struct lb_error *err)
{
    struct lb_number_term term;
    size_t limit = numbers_bound(n, EDITED_MAX, 4), taken = 0;
    lb_buf_clear(&n->key);
    lb_buf_putc(&n->key, 'n');
    lb_buf_append(&n->key, n->wanted.folded.text, sure);
    lb_status status =
        n->key.failed ? lb_fail_nomem(err) : lb_walk_begin(n->walk, n->key.text, n->key.length, err);
    while (!status && !n->walk->over && taken < limit &&
           lb_term_read_number(&term, n->walk->pair->key, n->walk->pair->length)) {
        if (!numbers_read(&n->symbols, term.folded, term.length))
            return lb_fail_nomem(err);
        enum edit_step step = numbers_edit_step(&n->wanted, sure, &n->symbols, term.whole, &n->next);
        if (step == EDIT_OVER)
            break;
        if (step == EDIT_SKIPS) {
            status = skip_to(n, &n->next, err);
            continue;
        }
        status = take_candidate(n, err);
        taken++;
    }
    n->finds->cut |= taken == limit;
    return status ? status : numbers_settle(n, err);
}

/* A mistake in the first characters of a number leads to keys far apart, a hundred or two of them in each
 * run. In longer numbers it leaves the last six as they were, which few others have. The two overlap by one
 * character, so that two that are swapped lie on one side of it. */
lb_status numbers_find_edited(struct lb_numbers *n, struct lb_error *err)
{
    size_t length = n->wanted.folded.length, sure = 0;
    bool ascii = length == n->wanted.symbols.list.count, all = false;
    lb_status status = LB_OK;
    if (ascii && length >= LONG_MIN_LENGTH && length < LB_TERM_NUMBER_MAX)
        status = numbers_find_behind(n, length - BEHIND, &all, err);
    if (all)
        sure = length - BEHIND - 1;
    return status ? status : walk_edited(n, sure, err);
}
