/* What a slip of the fingers, the ear or the memory costs. Optimal string alignment: the restricted distance
 * of Damerau and Levenshtein, in which no piece is edited twice. */
#include "catalog/spelling.h"
#include "catalog/spelling_pack.h"

#include <math.h>
#include <string.h>

/* Thousandths. What people do often costs less: letters are doubled or undoubled, swapped and heard alike
 * more often than any letter is taken for any other, more are left out than put in, and the first letter is
 * mostly right. */
enum {
    ACCENT = 300,
    DOUBLED = 500,
    SWAPPED = 600,
    VOWEL = 600,
    SILENT = 650,
    ALIKE = 700,
    NEIGHBOUR = 700,
    BRUSHED = 800, /* a neighbouring key struck as well */
    LEFT_OUT = 850,
    PUT_IN = 950,
    OTHER = 1000,
    FIRST = 400, /* more, for the first letter */
};

/* Edits before cost: few dear edits come before many cheap ones. 64 characters of two edits each fit. */
enum { EDIT = 1 << 20, COST_MASK = EDIT - 1, TOO_FAR = 1 << 30 };

struct letters {
    int32_t at[LB_WORD_MAX + 2]; /* from 1 on, 0 at both ends */
    size_t count;
};

static void read_letters(struct letters *letters, const char *word, size_t length)
{
    letters->at[0] = 0;
    letters->count = 0;
    for (size_t i = 0; i < length;)
        i += spelling_point(word + i, length - i, &letters->at[++letters->count]);
    letters->at[letters->count + 1] = 0;
}

/* The letter without its accents, as Unicode takes it apart. */
static int32_t bare(int32_t point)
{
    int32_t parts[8];
    int boundary = 0;
    if (point < 0x80 || point >= 0x110000)
        return point;
    utf8proc_ssize_t count = utf8proc_decompose_char(point, parts, 8, UTF8PROC_DECOMPOSE, &boundary);
    return count > 0 ? parts[0] : point;
}

static bool is_latin(int32_t point)
{
    return point >= 'a' && point <= 'z';
}

static bool is_vowel(int32_t point)
{
    return point > 0 && point < 0x80 && strchr("aeiouy", point);
}

/* Consonants that are heard as one another, and the f of ph. */
static bool sound_alike(int32_t a, int32_t b)
{
    static const char pairs[] = "ck cs ks kq sz gj fv vw dt bp fp";
    for (const char *p = pairs; *p; p += p[2] ? 3 : 2)
        if ((p[0] == a && p[1] == b) || (p[0] == b && p[1] == a))
            return true;
    return false;
}

/* Keys that touch, on a QWERTY board: where each of a to z lies, in quarters of a key from the left. */
static bool are_neighbours(int32_t a, int32_t b)
{
    static const char row[] = "12210111011122000010020202";
    static const char column[] = {1,  19, 11, 9, 8,  13, 17, 21, 28, 25, 29, 33, 27,
                                  23, 32, 36, 0, 12, 5,  16, 24, 15, 4,  7,  20, 3};
    if (!is_latin(a) || !is_latin(b))
        return false;
    int down = row[a - 'a'] - row[b - 'a'], across = column[a - 'a'] - column[b - 'a'];
    return down >= -1 && down <= 1 && across >= -4 && across <= 4;
}

static int replacing(int32_t typed, int32_t meant)
{
    if (typed == meant)
        return 0;
    int32_t a = bare(typed), b = bare(meant);
    if (a == b)
        return ACCENT;
    if (is_vowel(a) && is_vowel(b))
        return VOWEL;
    return sound_alike(a, b) ? ALIKE : are_neighbours(a, b) ? NEIGHBOUR : OTHER;
}

/* `at` points into the word that was meant, at what was not typed. */
static int leaving_out(const int32_t *at)
{
    return *at == at[-1] || *at == at[1] ? DOUBLED : *at == 'h' ? SILENT : LEFT_OUT;
}

/* `at` points into what was typed, at what was not meant. */
static int putting_in(const int32_t *at)
{
    if (*at == at[-1] || *at == at[1])
        return DOUBLED;
    return are_neighbours(*at, at[-1]) || are_neighbours(*at, at[1]) ? BRUSHED : PUT_IN;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* One cell of the matrix, from the row it is in and the two above; i letters typed, j meant, both at least 1.
 */
static int cell(int *const rows[3], const struct letters *typed, const struct letters *meant, size_t i,
                size_t j)
{
    const int32_t *t = &typed->at[i], *m = &meant->at[j];
    int best = rows[1][j - 1];
    if (*t != *m)
        best += EDIT + replacing(*t, *m) + (i == 1 || j == 1 ? FIRST : 0);
    if (rows[0][j - 1] + EDIT < best)
        best = least(best, rows[0][j - 1] + EDIT + leaving_out(m) + (j == 1 ? FIRST : 0));
    if (rows[1][j] + EDIT < best)
        best = least(best, rows[1][j] + EDIT + putting_in(t) + (i == 1 ? FIRST : 0));
    if (i > 1 && j > 1 && *t == m[-1] && t[-1] == *m)
        best = least(best, rows[2][j - 2] + EDIT + SWAPPED + (i == 2 || j == 2 ? FIRST : 0));
    return best;
}

/* The rows move up by one, and the topmost is taken for the next. */
static void turn(int *rows[3])
{
    int *oldest = rows[2];
    rows[2] = rows[1];
    rows[1] = rows[0];
    rows[0] = oldest;
}

static void first_row(int *row, const struct letters *meant, size_t most)
{
    row[0] = 0;
    for (size_t j = 1; j <= meant->count && j <= most; j++)
        row[j] = row[j - 1] + EDIT + leaving_out(&meant->at[j]) + (j == 1 ? FIRST : 0);
}

/* The last cell of the matrix, of which nothing further from the diagonal than `most` letters is filled: that
 * is TOO_FAR. It ends early after a row that has nothing near enough: a swap passes over a row, but wherever
 * one lands, the row between could be had for as many edits. */
static int align(const struct letters *typed, const struct letters *meant, size_t most)
{
    int memory[3][LB_WORD_MAX + 2], *rows[3] = {memory[0], memory[1], memory[2]};
    const int limit = (int)(most + 1) * EDIT;
    for (size_t j = 0; j <= meant->count + 1; j++)
        memory[0][j] = memory[1][j] = memory[2][j] = TOO_FAR;
    first_row(rows[0], meant, most);
    for (size_t i = 1; i <= typed->count; i++) {
        size_t first = i > most ? i - most : 0, last = i + most < meant->count ? i + most : meant->count;
        int nearest = TOO_FAR;
        turn(rows);
        if (first == 0)
            nearest = rows[0][0] = rows[1][0] + EDIT + putting_in(&typed->at[i]) + (i == 1 ? FIRST : 0);
        else
            rows[0][first - 1] = TOO_FAR;
        for (size_t j = first ? first : 1; j <= last; j++)
            nearest = least(nearest, rows[0][j] = cell(rows, typed, meant, i, j));
        if (nearest >= limit)
            return TOO_FAR;
    }
    return rows[0][meant->count];
}

double lb_typing_cost(const char *typed, size_t typed_length, const char *meant, size_t meant_length,
                      int most_edits)
{
    struct letters left, right;
    if (typed_length > LB_WORD_MAX || meant_length > LB_WORD_MAX || most_edits < 0)
        return HUGE_VAL;
    read_letters(&left, typed, typed_length);
    read_letters(&right, meant, meant_length);
    size_t apart = left.count > right.count ? left.count - right.count : right.count - left.count;
    size_t most = most_edits < LB_WORD_MAX ? (size_t)most_edits : LB_WORD_MAX;
    if (apart > most)
        return HUGE_VAL;
    int cost = align(&left, &right, most);
    return cost < (int)(most + 1) * EDIT ? (cost & COST_MASK) / 1000.0 : HUGE_VAL;
}
