/* Which numbers are one mistake away from what was typed, told from their beginnings: while a number is read
 * character by character, at most five readings of it are open. Where they all end, the least beginning is
 * known with which one of them would go on, and all numbers up to there are passed over. (The idea of a
 * Levenshtein automaton: K. U. Schulz, S. Mihov, "Fast String Correction with Levenshtein Automata",
 * IJDAR 5, 2002.) */
#include "find/numbers_private.h"

#include <string.h>

#define SYMBOL(byte) ((symbol)(byte) << 24)
#define END          SYMBOL(0x1f) /* what follows a number in its key */

/* What may have been read of what was typed after `depth` characters of a number. */
struct readings {
    bool exact;   /* as many, without a mistake */
    bool changed; /* as many, one of them another, or two swapped */
    bool extra;   /* one less: the number has one more */
    bool missing; /* one more: the number has one less */
    bool swap;    /* the second one of two that are swapped, but not yet the first */
};

struct typed {
    const symbol *at;
    size_t count;
};

static bool is_at(const struct typed *t, size_t place, symbol s)
{
    return place < t->count && t->at[place] == s;
}

static struct readings read_on(const struct typed *t, struct readings r, size_t depth, symbol s)
{
    bool second = is_at(t, depth + 1, s);
    return (struct readings){
        .exact = r.exact && is_at(t, depth, s),
        .changed = (r.changed && is_at(t, depth, s)) || (r.exact && depth < t->count) ||
                   (r.swap && is_at(t, depth - 1, s)),
        .extra = r.exact || (r.extra && is_at(t, depth - 1, s)),
        .missing = (r.exact || r.missing) && second,
        .swap = r.exact && second,
    };
}

static bool is_open(const struct readings *r)
{
    return r->exact || r->changed || r->extra || r->missing || r->swap;
}

static bool may_end(const struct typed *t, const struct readings *r, size_t depth)
{
    return (r->exact && (depth == t->count || depth + 1 == t->count)) || (r->changed && depth == t->count) ||
           (r->extra && depth == t->count + 1) || (r->missing && depth + 1 == t->count);
}

static bool is_plain(symbol s)
{
    return (s >= SYMBOL('0') && s <= SYMBOL('9')) || (s >= SYMBOL('A') && s <= SYMBOL('Z')) ||
           s >= SYMBOL(0x80);
}

/* The next character that a number may have, or a byte below it. A number of letters and digits has nothing
 * else; it has no O and no I, as it is folded. 0: there is none. */
static symbol successor(symbol s, bool plain)
{
    symbol step = s & 0xff ? 1 : s & 0xff00 ? 1 << 8 : s & 0xff0000 ? 1 << 16 : 1 << 24;
    symbol next = s > UINT32_MAX - step ? 0 : s + step;
    if (!plain || !next)
        return next;
    if (next <= SYMBOL('0'))
        return SYMBOL('0');
    if (next > SYMBOL('9') && next < SYMBOL('A'))
        return SYMBOL('A');
    if (next > SYMBOL('Z') && next < SYMBOL(0x80))
        return SYMBOL(0x80);
    return next == SYMBOL('I') || next == SYMBOL('O') ? next + SYMBOL(1) : next;
}

static void take_less(symbol *least, symbol after, bool possible, symbol s)
{
    if (possible && s > after && (!*least || s < *least))
        *least = s;
}

/* The least character above `after` with which a reading goes on; 0: there is none. */
static symbol next_symbol(const struct typed *t, const struct readings *r, size_t depth, symbol after)
{
    symbol least = r->exact ? successor(after, t->count && is_plain(t->at[0])) : 0;
    bool before = depth > 0 && depth - 1 < t->count;
    take_less(&least, after, may_end(t, r, depth), END);
    take_less(&least, after, r->changed && depth < t->count, depth < t->count ? t->at[depth] : 0);
    take_less(&least, after, (r->extra || r->swap) && before, before ? t->at[depth - 1] : 0);
    take_less(&least, after, r->missing && depth + 1 < t->count, depth + 1 < t->count ? t->at[depth + 1] : 0);
    return least;
}

static void put(struct lb_buf *out, symbol s)
{
    for (; s; s <<= 8)
        lb_buf_putc(out, (char)(s >> 24));
}

/* As long as every reading has made its mistake, what must follow is known. */
static void put_rest(struct lb_buf *out, const struct typed *t, struct readings r, size_t depth, symbol s)
{
    while (s) {
        put(out, s);
        if (s == END)
            return;
        r = read_on(t, r, depth++, s);
        s = r.exact ? 0 : next_symbol(t, &r, depth, 0);
    }
}

enum edit_step numbers_edit_step(const struct wanted *wanted, size_t sure, const struct symbols *number,
                                 bool whole, struct lb_buf *next)
{
    const struct typed t = {wanted->symbols.list.at, wanted->symbols.list.count};
    struct readings readings[LB_TERM_NUMBER_MAX + 2] = {{.exact = true}};
    const symbol *at = number->list.at;
    size_t count = number->list.count, depth = 0;
    for (; depth < count && depth <= LB_TERM_NUMBER_MAX; depth++) {
        readings[depth + 1] = read_on(&t, readings[depth], depth, at[depth]);
        if (!is_open(&readings[depth + 1]))
            break;
    }
    if (depth == count && (!whole || may_end(&t, &readings[depth], depth)))
        return EDIT_MEETS;
    if (depth < sure)
        return EDIT_OVER;
    lb_buf_clear(next);
    for (size_t d = depth + 1; d-- > sure;) {
        symbol s = next_symbol(&t, &readings[d], d, d < count ? at[d] : END);
        if (!s)
            continue;
        for (size_t i = 0; i < d; i++)
            put(next, at[i]);
        put_rest(next, &t, readings[d], d, s);
        return EDIT_SKIPS;
    }
    return EDIT_OVER;
}
