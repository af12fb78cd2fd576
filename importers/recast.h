/* How a supplier writes a cell -> the text that convert.c reads. A recast is what the third column of a
 * profile says; the words are a closed set, joined with `;`, and a cell that they do not understand refuses
 * its row.
 *
 *     decimal comma | decimal point          12,50                  (`12,-` is 12)
 *     thousands . | , | ' | space            1.234,50               only in threes
 *     date D.M.Y                             31.12.2026             letters D, M, Y once each, anything
 * between pivot NN                               31.12.26               00 to NN-1 are 20.., the others 19..
 *     currency symbol | S=CODE|S=CODE        € 12.50, 12,50 EUR     $, kr and ¥ must be told, or fit the
 * row's currency per N | per column HEADING | per text  12,50 / 100 St.        what the price is for: see
 * lb_recast_per on-request TEXT|TEXT                   auf Anfrage            refuses the row: it is no offer
 *     pack text                              10 pcs, VE 10          pack_quantity
 *     pieces                                 250                    stock and minimum_packs count pieces, not
 * packs unit text                              Stk                    each strip TEXT, prefix TEXT, upper,
 * lower-words, map A=B|C=D|*=E  in the order written, before all others empty VALUE an empty cell is read as
 * VALUE fixed VALUE                            every row: no heading; takes all that follows, so it stands
 * alone
 *
 * A backslash takes the next character as it is (`;`, `|`, `=`). Knows no files and no rows but the one at
 * hand.
 *
 *     if (lb_recast_parse(&recast, "decimal comma; currency symbol", column, &err) == LB_OK)
 *         if (!lb_recast_cell(&recast, column, "12,50 €", "EUR", &cell)) … refused, because of cell.reason
 *     lb_recast_free(&recast);
 */
#ifndef LB_IMPORTERS_RECAST_H
#define LB_IMPORTERS_RECAST_H

#include "base/arena.h"
#include "base/buf.h"
#include "importers/kinds.h"

#include <stddef.h>
#include <stdint.h>

struct lb_pair {
    const char *from, *to;
};

enum lb_recast_verb {
    LB_RECAST_STRIP,
    LB_RECAST_PREFIX,
    LB_RECAST_UPPER,
    LB_RECAST_LOWER_WORDS,
    LB_RECAST_MAP
};

/* One change of words; `pairs` for map, `text` for strip and prefix. */
struct lb_recast_step {
    enum lb_recast_verb verb;
    const char *text;
    const struct lb_pair *pairs;
    size_t count;
};

enum { LB_RECAST_STEPS_MAX = 8, LB_RECAST_WORDS_MAX = 64 };

struct lb_recast {
    struct lb_arena texts;
    struct lb_recast_step steps[LB_RECAST_STEPS_MAX];
    size_t step_count;
    char decimal;   /* ',' or '.'; 0: not stated, which is '.' */
    char thousands; /* '.' ',' '\'' ' '; 0: none */
    int pivot;      /* 1 to 100; 0: years have four digits */
    const char *date;
    bool currency, per_text, pack_text, pieces, unit_text;
    int64_t per; /* whole pieces; 0: none */
    const char *per_heading;
    const struct lb_pair *signs; /* currency signs that the profile explains */
    size_t sign_count;
    const char **on_request;
    size_t on_request_count;
    const char *empty, *fixed; /* NULL: none */
};

/* The text of one cell; begin with zeros, use again, free once. */
struct lb_recast_cell {
    struct lb_buf text, work, reason;
    int64_t per; /* what `per text` found in the cell, millionths; 0: nothing */
};

/* `column` is what the cell will be read as: a conversion that makes no sense there is refused. LB_DATA, in
 * words without a place. Free it in any case. */
LB_CHECK lb_status lb_recast_parse(struct lb_recast *recast, const char *convert,
                                   const struct lb_column *column, struct lb_error *err);
/* Appends it in the one order and spelling that means the same; "" for nothing. */
void lb_recast_write(struct lb_buf *out, const struct lb_recast *recast);
void lb_recast_free(struct lb_recast *recast);

/* cell->text becomes what convert.c reads, or cell->reason says why not (false). `currency` is the row's, or
 * NULL where it is not known. Out of memory sets failed in one of the buffers. */
bool lb_recast_cell(const struct lb_recast *recast, const struct lb_column *column, const char *text,
                    const char *currency, struct lb_recast_cell *cell);
/* Do the recast's own words for "price on request" cover the cell? */
bool lb_recast_is_on_request(const struct lb_recast *recast, const char *text);
void lb_recast_cell_free(struct lb_recast_cell *cell);

/* The conversions one by one. Each appends to `out` and returns NULL, or why not in words (static text). */

/* The number at the start of `text`; *rest is what follows it, blanks skipped. */
const char *lb_recast_number(struct lb_buf *out, const char *text, char decimal, char thousands,
                             const char **rest);
/* `pattern`: D, M and Y (M and Y may do) and what stands between them. */
const char *lb_recast_date(struct lb_buf *out, const char *text, const char *pattern, int pivot);
/* Sure cases only: a number, with a word for pieces behind it or a word for a pack before it, or with a unit
 * that is known. */
const char *lb_recast_pack(struct lb_buf *out, const char *text, char decimal, char thousands);
/* Splits `12,50 / 100 St.`: *length is that of the amount, *per the pieces in millionths (0: none are named).
 */
const char *lb_recast_split_per(const char *text, size_t *length, int64_t *per);
/* Appends the ISO code of the sign or code at either end of `text` (nothing when there is none), and makes
 * *from and *length what is left. A sign of several currencies is one of theirs only when `currency` is. */
const char *lb_recast_currency(struct lb_buf *out, const char *text, size_t *from, size_t *length,
                               const struct lb_pair *signs, size_t sign_count, const char *currency);
/* A word for pieces in one of the lexicon's languages, such as `Stk.`: without case, dots and blanks. */
bool lb_recast_is_piece(const char *word);
/* Lower case, whatever is neither letter nor digit as one `-`. */
void lb_recast_lower_words(struct lb_buf *out, const char *text);
/* Full-width letters, digits and signs as the narrow ones. */
void lb_recast_narrow(struct lb_buf *out, const char *text);

/* The price of `pack` pieces when `price` is that of `per` (all in canonical text but per, which is in
 * millionths): exact to the minor unit of `currency`, else refused. An empty pack is `per` pieces, and the
 * price stays: nobody's money is rounded. Appends the price; *pack_out is the pack, appended to `pack_text`.
 */
bool lb_recast_per(const char *price, int64_t per, const char *pack, const char *currency,
                   struct lb_buf *price_out, struct lb_buf *pack_out, struct lb_buf *reason);
/* Pieces in whole packs: rounded up for a minimum, down for a stock. */
bool lb_recast_pieces(const char *pieces, const char *pack, bool up, struct lb_buf *out,
                      struct lb_buf *reason);

#endif
