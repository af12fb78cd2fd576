/* Headings of price lists in nine languages -> lastbolt's columns: lexicon.csv, embedded at build time.
 *
 * Its columns: language, heading, field, convert (as in a profile), unless. `field` is a column of some kind;
 * `per` is the number of pieces that the price is for; `price?` is a heading that is no price to reckon with
 * (gross, list, a discount) and makes others doubtful. `unless` names what another heading of the file must
 * not be: the field itself (then the more exact heading has it), another field, or `pack`: there is a
 * pack_quantity and no `per`, so nobody knows what the price is the price of.
 *
 *     if (lb_lexicon_open(&lexicon, &err) == LB_OK)
 *         if ((entry = lb_lexicon_find(lexicon, "Artikel-Nr."))) … entry->field is "part_number"
 *     lb_lexicon_free(lexicon);
 */
#ifndef LB_IMPORTERS_LEXICON_H
#define LB_IMPORTERS_LEXICON_H

#include "base/buf.h"
#include "base/error.h"

#include <stddef.h>

struct lb_lexicon_entry {
    const char *key; /* of the heading: what compares */
    const char *language, *heading, *field, *convert, *unless;
    long line;
};

struct lb_lexicon;

extern const char lb_lexicon_text[]; /* lexicon.csv */

LB_CHECK lb_status lb_lexicon_open(struct lb_lexicon **out, struct lb_error *err);
/* Compared without case, blanks and punctuation; NULL: not known. */
const struct lb_lexicon_entry *lb_lexicon_find(const struct lb_lexicon *lexicon, const char *heading);
/* "Preis EUR", "Price (GBP)", "Prix €": the entry of the heading without its currency, the code appended to
 * `code`; NULL: no such heading, or not one of money. */
const struct lb_lexicon_entry *lb_lexicon_find_priced(const struct lb_lexicon *lexicon, const char *heading,
                                                      struct lb_buf *code);
/* All of them, by key. */
const struct lb_lexicon_entry *lb_lexicon_at(const struct lb_lexicon *lexicon,
                                             size_t index); /* NULL: the end */
void lb_lexicon_free(struct lb_lexicon *lexicon);

/* Appends what headings are compared by: folded, letters and digits only. */
void lb_lexicon_key(struct lb_buf *out, const char *heading);

#endif
