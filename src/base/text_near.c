/* How far two words are apart, and "did you mean". */
#include "base/text.h"

#include <limits.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

#define SHOWN 3

/* Folded text as code points; a byte that is no UTF-8 counts as one character. False: out of memory. */
static bool characters(const char *text, int32_t **out, size_t *count)
{
    struct lb_buf folded = {0};
    int32_t *points = NULL;
    bool ok = false;
    lb_text_fold(&folded, text);
    if (folded.failed || !(points = malloc((folded.length + 1) * sizeof *points)))
        goto out;
    *count = 0;
    for (size_t at = 0; at < folded.length;) {
        const utf8proc_uint8_t *p = (const utf8proc_uint8_t *)folded.text + at;
        utf8proc_ssize_t size = utf8proc_iterate(p, (utf8proc_ssize_t)(folded.length - at), &points[*count]);
        if (size <= 0) {
            points[*count] = INT32_MIN + *p;
            size = 1;
        }
        ++*count;
        at += (size_t)size;
    }
    *out = points;
    ok = true;
out:
    lb_buf_free(&folded);
    return ok;
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* The last row of the edit matrix of a[0..rows) against b, two rows kept behind it for the swap of
 * neighbours. `memory` holds three rows. Optimal string alignment: no piece is edited twice. */
static size_t edits(const int32_t *a, size_t rows, const int32_t *b, size_t width, size_t *memory)
{
    size_t *before = memory, *above = memory + width + 1, *row = above + width + 1;
    for (size_t j = 0; j <= width; j++)
        row[j] = j;
    for (size_t i = 1; i <= rows; i++) {
        size_t *oldest = before;
        before = above;
        above = row;
        row = oldest;
        row[0] = i;
        for (size_t j = 1; j <= width; j++) {
            row[j] = least(least(above[j], row[j - 1]) + 1, above[j - 1] + (a[i - 1] != b[j - 1]));
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = least(row[j], before[j - 2] + 1);
        }
    }
    return row[width];
}

int lb_text_distance(const char *a, const char *b, int limit)
{
    int32_t *left = NULL, *right = NULL;
    size_t *memory = NULL;
    size_t rows = 0, width = 0;
    size_t most = limit < 0 ? 0 : least((size_t)limit, INT_MAX - 1);
    size_t distance = most + 1;
    if (!characters(a, &left, &rows) || !characters(b, &right, &width))
        goto out;
    /* the lengths alone are that far apart: spares the matrix, whatever its size */
    if ((rows > width ? rows - width : width - rows) > most)
        goto out;
    memory = malloc(3 * (width + 1) * sizeof *memory);
    if (memory)
        distance = least(distance, edits(left, rows, right, width, memory));
out:
    free(memory);
    free(right);
    free(left);
    return (int)distance;
}

struct guess {
    const char *name;
    int distance;
};

static bool nearer(const struct guess *a, const struct guess *b)
{
    if (a->distance != b->distance)
        return a->distance < b->distance;
    int order = lb_text_compare_nocase(a->name, b->name);
    return order ? order < 0 : strcmp(a->name, b->name) < 0;
}

/* Keeps the nearest SHOWN in order; a name that is there already is not taken again. */
static void insert(struct guess *best, size_t *count, struct guess guess)
{
    size_t at = *count;
    for (size_t i = 0; i < *count; i++)
        if (!strcmp(best[i].name, guess.name))
            return;
    while (at > 0 && nearer(&guess, &best[at - 1]))
        at--;
    if (at == SHOWN)
        return;
    size_t kept = least(*count, SHOWN - 1);
    memmove(best + at + 1, best + at, (kept - at) * sizeof *best);
    best[at] = guess;
    *count = kept + 1;
}

/* Short words have too many neighbours: a slip in three letters is another word. */
static int near_enough(const char *wanted)
{
    size_t length = 0;
    for (; *wanted; wanted++)
        length += ((unsigned char)*wanted & 0xC0) != 0x80; /* characters, not their continuation bytes */
    return length < 2 ? 0 : length < 5 ? 1 : length < 9 ? 2 : 3;
}

bool lb_text_nearest(struct lb_buf *out, const char *wanted, const char *const *names, size_t count)
{
    struct guess best[SHOWN];
    size_t found = 0;
    int limit = near_enough(wanted);
    for (size_t i = 0; i < count; i++) {
        struct guess guess = {names[i], lb_text_distance(wanted, names[i], limit)};
        if (guess.distance <= limit)
            insert(best, &found, guess);
    }
    for (size_t i = 0; i < found; i++) {
        const char *before = i == 0 ? "" : i + 1 == found ? " or " : ", ";
        lb_buf_printf(out, "%s\"%s\"", before, best[i].name);
    }
    return found > 0;
}
