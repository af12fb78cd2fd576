/* Numbers compared, character by character. */
#include "find/numbers_private.h"

#include <string.h>

enum { BEGINS_MIN = 2, INSIDE_MIN = 4, EDIT_MIN = 4 };

/* Of mistakes; a character too much, one that is missing, or any other instead: 1. */
static const double cost_alike = 0.5, cost_neighbour = 0.7, cost_swap = 0.7;

static bool continues(char c)
{
    return ((unsigned char)c & 0xc0) == 0x80;
}

/* A byte that is no UTF-8 stands for itself. */
static size_t symbol_length(const char *at, size_t left)
{
    unsigned char lead = (unsigned char)*at;
    size_t length = lead < 0xc0 ? 1 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4, have = 1;
    while (have < length && have < left && continues(at[have]))
        have++;
    return have == length ? length : 1;
}

bool numbers_read(struct symbols *out, const char *text, size_t length)
{
    out->list.count = 0;
    for (size_t at = 0, size; at < length; at += size) {
        symbol s = 0;
        size = symbol_length(text + at, length - at);
        for (size_t i = 0; i < size; i++)
            s |= (symbol)(unsigned char)text[at + i] << (24 - 8 * i);
        if (!LB_PUSH(&out->list, s))
            return false;
    }
    return true;
}

static bool side_by_side(const char *row, char a, char b)
{
    const char *at = strchr(row, a);
    return at && b && (at[1] == b || (at > row && at[-1] == b));
}

/* As folded: the O of the keyboard is the nought, its I the one. */
static double cost_of(symbol typed, symbol meant)
{
    static const char *const alike[] = {"8B", "5S", "2Z", "6G"};
    static const char *const rows[] = {"1234567890", "QWERTYU", "0P", "ASDFGHJKL", "ZXCVBNM"};
    char a = (char)(typed >> 24), b = (char)(meant >> 24);
    if (!a || !b || (typed & 0xffffff) || (meant & 0xffffff))
        return 1;
    for (size_t i = 0; i < sizeof alike / sizeof *alike; i++)
        if (side_by_side(alike[i], a, b))
            return cost_alike;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (side_by_side(rows[i], a, b))
            return cost_neighbour;
    return 1;
}

static bool same(const symbol *a, const symbol *b, size_t count)
{
    return count == 0 || memcmp(a, b, count * sizeof *a) == 0;
}

/* One mistake between two numbers that differ; *cost is what it costs. */
static bool is_edit(const symbol *a, size_t a_count, const symbol *b, size_t b_count, double *cost)
{
    size_t at = 0;
    while (at < a_count && at < b_count && a[at] == b[at])
        at++;
    *cost = 1;
    if (a_count == b_count + 1)
        return same(a + at + 1, b + at, b_count - at);
    if (a_count + 1 == b_count)
        return same(a + at, b + at + 1, a_count - at);
    if (a_count != b_count || at == a_count)
        return false;
    *cost = cost_of(a[at], b[at]);
    if (same(a + at + 1, b + at + 1, a_count - at - 1))
        return true;
    *cost = cost_swap;
    return at + 1 < a_count && a[at] == b[at + 1] && a[at + 1] == b[at] &&
           same(a + at + 2, b + at + 2, a_count - at - 2);
}

/* Where `a` lies in `b`; -1: nowhere. Linear, since both may be long. */
static long place_in(const symbol *a, size_t a_count, const symbol *b, size_t b_count)
{
    const char *begin = (const char *)b, *at = begin, *end = (const char *)(b + b_count), *found;
    while (a_count && at && (found = memmem(at, (size_t)(end - at), a, a_count * sizeof *a))) {
        if ((size_t)(found - begin) % sizeof *b == 0)
            return (long)((size_t)(found - begin) / sizeof *b);
        at = found + 1; /* between two characters */
    }
    return -1;
}

bool numbers_classify(const struct wanted *wanted, const char *number_key, const struct symbols *folded,
                      struct class *out)
{
    const symbol *a = wanted->symbols.list.at, *b = folded->list.at;
    size_t a_count = wanted->symbols.list.count, b_count = folded->list.count;
    *out = (struct class){.more = b_count > a_count ? (int)(b_count - a_count) : 0};
    long place = a_count >= BEGINS_MIN || a_count == b_count ? place_in(a, a_count, b, b_count) : -1;
    if (place == 0 && a_count == b_count)
        out->match = strcmp(lb_buf_text(&wanted->key), number_key) == 0 ? LB_NUMBER_EXACT : LB_NUMBER_ALIKE;
    else if (place == 0)
        out->match = LB_NUMBER_BEGINS;
    else if (place > 0 && a_count >= INSIDE_MIN)
        out->match = LB_NUMBER_INSIDE;
    else if (a_count < EDIT_MIN || !is_edit(a, a_count, b, b_count, &out->cost))
        return false;
    else {
        out->match = LB_NUMBER_EDIT;
        out->more = 0;
    }
    return true;
}

int numbers_compare_class(const struct class *a, const struct class *b)
{
    if (a->match != b->match)
        return a->match < b->match ? -1 : 1;
    if (a->more != b->more)
        return a->more < b->more ? -1 : 1;
    return (a->cost > b->cost) - (a->cost < b->cost);
}
