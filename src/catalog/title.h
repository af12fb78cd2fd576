/* A part's title as search knows it: the different words of type, description, spec (when it is no dimension)
 * and brand, stemmed, each with its place. Made the same way when a row is taken in and when a hit is looked
 * at.
 *
 *     lb_titles_open(&titles, store, &err);
 *     lb_title_read(titles, "radiator-hose", "HOSE RAD UPR", NULL, "Velmora", &title, &err);
 *         // radiat 0, hose 1, rad 2, upr 3, velmora LB_PLACE_BRAND; length 4, of them 2 in the type
 *     int64_t mark = lb_title_mark(&title, row, place);
 *
 * A mark is what the lookup keeps under a word: the title's length, how many of its words are in the type,
 * the row, and the place of the word. Marks sort by length first, so that short titles are met before long
 * ones.
 */
#ifndef LB_CATALOG_TITLE_H
#define LB_CATALOG_TITLE_H

#include "base/buf.h"
#include "store/store.h"

enum {
    LB_TITLE_MAX = 64,        /* words; further ones are not found by */
    LB_TITLE_LENGTH_MAX = 31, /* longer titles count as this long */
    LB_TITLE_TYPE_MAX = 7,
    LB_PLACE_LATE = 14,  /* the fifteenth word, or a later one */
    LB_PLACE_BRAND = 15, /* in the brand alone */
};

struct lb_title_word {
    const char *stem; /* borrowed until the next title is read; not NUL-terminated */
    uint8_t length;
    uint8_t place; /* 0 to LB_PLACE_BRAND */
    bool fresh;    /* in a part type, and no type that was read before had it (words with digits: always) */
};

struct lb_title {
    struct lb_title_word words[LB_TITLE_MAX];
    int count;
    int length;     /* words without those of the brand alone, 1 to LB_TITLE_LENGTH_MAX */
    int type_words; /* how many of them are in the part type; 0 to LB_TITLE_TYPE_MAX */
};

struct lb_titles;
LB_CHECK lb_status lb_titles_open(struct lb_titles **out, struct lb_store *store, struct lb_error *err);
void lb_titles_close(struct lb_titles *titles);
/* Texts may be NULL. `spec` counts when lb_spec_parse takes it for a text. */
LB_CHECK lb_status lb_title_read(struct lb_titles *titles, const char *part_type, const char *description,
                                 const char *spec, const char *brand, struct lb_title *out,
                                 struct lb_error *err);
/* Adds the words of a text that is no title, such as a row's of a service map, to `out` (its count alone; 0
 * at first), without counting them as those of one: `place` is a set of bits, and a word that is there
 * already gets further ones. */
LB_CHECK lb_status lb_title_add(struct lb_titles *titles, const char *text, int place, struct lb_title *out,
                                struct lb_error *err);
/* The stem of one folded word (base/words.h), as titles have it; borrowed until the next call. Words with
 * digits are their own stems. */
LB_CHECK lb_status lb_title_stem(struct lb_titles *titles, const char *word, size_t length, const char **stem,
                                 size_t *stem_length, struct lb_error *err);

/* Counts into the index what was read since it was opened or last saved: titles, their words, and how often
 * each was met. Inside a transaction. */
LB_CHECK lb_status lb_titles_save(struct lb_titles *titles, struct lb_store *store, struct lb_error *err);

/* Rows fit in 40 bits. */
static inline int64_t lb_title_mark(const struct lb_title *title, int64_t row, int place)
{
    return (int64_t)title->length << 47 | (int64_t)title->type_words << 44 | row << 4 | place;
}
static inline int lb_mark_length(int64_t mark)
{
    return (int)(mark >> 47);
}
static inline int lb_mark_type_words(int64_t mark)
{
    return (int)(mark >> 44) & 7;
}
/* Length and type words together: 0 to 255. */
static inline int lb_mark_class(int64_t mark)
{
    return (int)(mark >> 44);
}
static inline int64_t lb_mark_row(int64_t mark)
{
    return mark >> 4 & ((INT64_C(1) << 40) - 1);
}
static inline int lb_mark_place(int64_t mark)
{
    return (int)mark & 15;
}

#endif
