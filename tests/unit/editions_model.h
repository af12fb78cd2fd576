/* What an index must have after any sequence of editions, told from the rules alone, by brute force.
 *
 *  1. A row's text is the row as it stands in the file, in UTF-8, without its line end. A new row with the
 * text of an old one is that row, wherever it stands: it keeps its identity. Each old row is met once; of
 * several with that text it is the one behind the last that was met, if that has it, else the oldest.
 *  2. When the file is read in another way than last time (columns elsewhere), texts say nothing.
 *  3. Of the others each, in the order of lines, takes the place of the oldest old row that nothing met and
 * that has the same key columns (of the first kind that the file feeds: in one of parts and offers those of
 * the offers). It is `changed` when any value differs, of any kind; else `unchanged` (only written
 * differently). What an offer has cost goes over to it, and with another price or currency what it did cost
 * is added.
 *  4. What is left of the new rows is added, and the source's former rows of that part and kind are forgotten
 *     (what is not about a part: of that kind and key columns). What is left of the old ones is gone:
 * removed, and former, one a kind.
 *  5. Each row that went or was replaced is stale. With more than 1000 of them and more than a quarter of the
 *     rows that are there, all are taken out for good.
 */
#ifndef LB_TESTS_EDITIONS_MODEL_H
#define LB_TESTS_EDITIONS_MODEL_H

#include "base/vec.h"

#include <stdbool.h>
#include <stdint.h>

enum form { FORM_PARTS, FORM_OFFERS, FORM_STOCK /* offers and parts in one file */, FORM_COMPONENTS, FORMS };
enum field { BRAND, NUMBER, TYPE, DESCRIPTION, SUPPLIER, PRICE, CODE, FIELDS };

/* A row of a file before it is written: numbers of words. */
struct item {
    int fields[FIELDS];
    bool quoted, bad;
    int blanks; /* blank lines before it */
};

/* A row that is there. */
struct model_row {
    struct item item;
    char *text;
    long line;
    bool met;
    LB_VEC(int) prices; /* what it did cost, oldest first */
};

struct model_former {
    struct item item;
    long line;
    int kind; /* 0: the first of its form */
};

struct layout {
    int turn;        /* columns are turned by so many places */
    bool extra, dos; /* one more column that nobody knows; CRLF */
};

struct model {
    enum form form;
    const char *file;
    struct layout layout;
    char headings[200]; /* of the columns that the index keeps, in the edition that it has */
    LB_VEC(struct item) items;
    LB_VEC(struct model_row) rows; /* by id */
    LB_VEC(struct model_former) former;
    long read, accepted, rejected, added, changed, unchanged, removed;
};

static inline bool model_is_key(enum form form, enum field field)
{
    static const bool keys[FORMS][FIELDS] = {
        [FORM_PARTS] = {[BRAND] = true, [NUMBER] = true},
        [FORM_OFFERS] = {[SUPPLIER] = true, [BRAND] = true, [NUMBER] = true, [CODE] = true},
        [FORM_STOCK] = {[SUPPLIER] = true, [BRAND] = true, [NUMBER] = true, [CODE] = true},
        [FORM_COMPONENTS] = {[BRAND] = true, [NUMBER] = true, [TYPE] = true},
    };
    return keys[form][field];
}

static inline bool model_has(enum form form, enum field field)
{
    static const bool has[FORMS][FIELDS] = {
        [FORM_PARTS] = {true, true, true, true, false, false, false},
        [FORM_OFFERS] = {true, true, false, false, true, true, true},
        [FORM_STOCK] = {true, true, true, true, true, true, true},
        [FORM_COMPONENTS] = {true, true, true, true, false, false, false},
    };
    return has[form][field];
}

static inline bool model_same(enum form form, const struct item *a, const struct item *b, bool keys_only)
{
    for (int f = 0; f < FIELDS; f++)
        if (model_has(form, (enum field)f) && (!keys_only || model_is_key(form, (enum field)f)) &&
            a->fields[f] != b->fields[f])
            return false;
    return true;
}

/* The words. Numbers 2n and 2n + 1 are two ways to write one part number, brands 0 and 1 one brand. */
static inline const char *model_word(char *out, size_t room, enum form form, const struct item *item,
                                     enum field field)
{
    static const char *const brands[] = {"Halvane", "HALVANE", "Orlop", "Tessaly", "Quillon"};
    int n = item->fields[field];
    bool map = form == FORM_COMPONENTS;
    if (field == BRAND && map)
        snprintf(out, room, "platform-%d", n);
    else if (field == BRAND)
        snprintf(out, room, "%s", brands[n % 5]);
    if (field == NUMBER)
        snprintf(out, room, map ? "component-%d" : n % 2 ? "K-%d/Z" : "K %dZ", map ? n : 1000 + n / 2);
    if (field == TYPE)
        snprintf(out, room, "type-%d", n);
    if (field == DESCRIPTION)
        snprintf(out, room, n % 7 == 3 ? "wide, \"%d\" mm" : n % 7 == 5 ? "two\nlines %d" : "plain %d", n);
    if (field == SUPPLIER)
        snprintf(out, room, "supplier %d", n);
    if (field == PRICE)
        snprintf(out, room, "%d.%02d", n / 100, n % 100);
    if (field == CODE)
        snprintf(out, room, n ? "c%d" : "", n);
    return out;
}

static inline int model_kinds(enum form form)
{
    return form == FORM_STOCK ? 2 : 1;
}

/* The i-th kind that a form feeds, the one whose key counts first. */
static inline const char *model_kind(enum form form, int i)
{
    static const char *const kinds[FORMS][2] = {
        {"parts", NULL}, {"offers", NULL}, {"offers", "parts"}, {"components", NULL}};
    return kinds[form][i];
}

static inline bool model_same_part(enum form form, const struct item *a, const struct item *b)
{
    int one = a->fields[BRAND] < 2 ? 0 : a->fields[BRAND],
        other = b->fields[BRAND] < 2 ? 0 : b->fields[BRAND];
    return form == FORM_COMPONENTS ? model_same(form, a, b, true)
                                   : one == other && a->fields[NUMBER] / 2 == b->fields[NUMBER] / 2;
}

#endif
