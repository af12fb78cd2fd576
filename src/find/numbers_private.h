/* What the files of numbers share. A number is found in one of two ways: by its key in the lookup, which says
 * all of it but how a catalogue writes it, so that only what is shown has to be read from the tables; or
 * (pieces) by a row. */
#ifndef LB_FIND_NUMBERS_PRIVATE_H
#define LB_FIND_NUMBERS_PRIVATE_H

#include "catalog/terms.h"
#include "find/numbers.h"
#include "store/pairs_walk.h"

/* A character as its bytes from the highest on, so that characters compare as the bytes of keys do. */
typedef uint32_t symbol;
struct symbols {
    LB_VEC(symbol) list;
};

/* What was typed. */
struct wanted {
    struct lb_buf key;      /* letters and digits (catalog/partkey.h) */
    struct lb_buf folded;   /* the same, as the lookup has it */
    struct symbols symbols; /* of `folded` */
};

struct class
{
    enum lb_number_match match;
    int more;
    double cost;
};

/* numbers_text.c */
/* False: out of memory. Replaces what is in `out`. */
bool numbers_read(struct symbols *out, const char *text, size_t length);
/* How far a number is from what was typed; false: it is something else. `folded` are its characters. */
bool numbers_classify(const struct wanted *wanted, const char *number_key, const struct symbols *folded,
                      struct class *out);
int numbers_compare_class(const struct class *a, const struct class *b);

/* numbers_edit.c: the keys that are one mistake away, found by skipping over the others. */
enum edit_step { EDIT_MEETS, EDIT_SKIPS, EDIT_OVER };
/* What to do with a number in the order of the lookup: it may be meant; or the least number that may be is
 * `next` (its beginning, or all of it and a separator); or none that follows may be. `whole`: false for the
 * beginning of a longer number. Only numbers that begin with the first `sure` characters as typed. */
enum edit_step numbers_edit_step(const struct wanted *wanted, size_t sure, const struct symbols *number,
                                 bool whole, struct lb_buf *next);

/* numbers_rows.c: which part a row is about. Kinds in the order in which their writing is preferred. */
enum row_kind { ROW_PARTS, ROW_OFFERS, ROW_CROSSREFS, ROW_SUPERSESSIONS, ROW_APPLICATIONS, ROW_KINDS };
struct sides {
    int count; /* 0: the row is not there */
    const char *brand[2], *number[2];
};
struct rows;
LB_CHECK lb_status numbers_rows_open(struct rows **out, struct lb_store *store, struct lb_error *err);
void numbers_rows_close(struct rows *rows);
/* At the end of a question: nothing is held, nothing kept. */
void numbers_rows_rest(struct rows *rows);
/* The first kind that the row's file has, ROW_KINDS: the row is gone. */
LB_CHECK lb_status numbers_rows_kind(struct rows *rows, int64_t row, enum row_kind *kind,
                                     struct lb_error *err);
/* Borrowed until the next of that kind. */
LB_CHECK lb_status numbers_rows_read(struct rows *rows, int64_t row, enum row_kind kind, struct sides *sides,
                                     struct lb_error *err);

/* A key of the lookup that may be meant. */
enum { CANDIDATE_IDS = 8 };
struct candidate {
    size_t kept;        /* where in `kept` the key lies; behind it the number key, NUL-terminated */
    const char *term;   /* the key; this and the next are set when all candidates are there */
    const char *number; /* the number key; NULL: only its beginning is known */
    size_t length;
    bool whole;
    uint32_t brand;
    const char *brand_key;
    struct class class;
    int64_t ids[CANDIDATE_IDS];
    int id_count;
    bool further; /* there are more ids */
};

struct lb_numbers {
    struct lb_store *store;
    struct lb_pairs *pairs;
    struct lb_walk *walk;
    struct rows *rows;
    struct lb_statement *brand;
    LB_VEC(const char *) brands; /* their keys, by number; NULL: not asked for yet */
    struct lb_arena brand_texts;
    struct wanted wanted;
    struct symbols symbols; /* of the number at hand */
    struct lb_buf text, folded, next, key;
    struct lb_ids ids, other_ids;
    /* Of one question. */
    enum lb_number_match widest;
    size_t most;
    LB_VEC(struct candidate) candidates;
    struct lb_buf kept;
    LB_VEC(enum row_kind) written; /* where each find's writing is from */
    uint32_t *slots;               /* finds by their part keys, open addressing: place + 1; 0: free */
    size_t slot_count;
    struct lb_number_finds *finds;
};

/* numbers_found.c */
/* The place of a part among the finds; their number: it is not there. */
size_t numbers_place(const struct lb_numbers *n, const char *key);
/* The characters of a number key, as the lookup has them, into n->symbols; false: out of memory. */
bool numbers_fold(struct lb_numbers *n, const char *number_key);
/* Takes a part into the finds, or a better writing of one that is there. */
LB_CHECK lb_status numbers_add(struct lb_numbers *n, const char *key, const char *brand, const char *number,
                               enum row_kind kind, const struct class *class, struct lb_error *err);
/* Takes in the candidates, best first, as many as are asked for and one more; empties them. */
LB_CHECK lb_status numbers_settle(struct lb_numbers *n, struct lb_error *err);
LB_CHECK lb_status numbers_brand(struct lb_numbers *n, uint32_t brand, const char **key,
                                 struct lb_error *err);

/* numbers_keys.c, numbers_inside.c: the ways. */
LB_CHECK lb_status numbers_find_same(struct lb_numbers *n, struct lb_error *err);
LB_CHECK lb_status numbers_find_longer(struct lb_numbers *n, struct lb_error *err);
LB_CHECK lb_status numbers_find_edited(struct lb_numbers *n, struct lb_error *err);
LB_CHECK lb_status numbers_find_inside(struct lb_numbers *n, struct lb_error *err);
/* Takes in the parts (but those that are only listed for a vehicle) in whose numbers the bytes from `from` on
 * are as they were typed, and what is before them with at most one mistake. *all false: they are too many,
 * and none was taken in. */
LB_CHECK lb_status numbers_find_behind(struct lb_numbers *n, size_t from, bool *all, struct lb_error *err);

/* `base`, and as many more as are asked for. */
static inline size_t numbers_bound(const struct lb_numbers *n, size_t base, size_t each)
{
    size_t most = n->most < 1 << 20 ? n->most : 1 << 20;
    return base + most * each;
}

#endif
