/* Conditions: `engine = k20|k24 ; built >= 2004-03`, parsed once and asked in three values (Kleene).
 *
 * Contract: formats.md, "Conditions". A fact that is not stated makes its clause unknown; a false clause
 * makes the whole false; otherwise any unknown makes it unknown; an empty condition is true.
 *
 *     struct lb_condition *c;
 *     if (lb_condition_parse(&c, "ac = yes", &err) != LB_OK) …
 *     enum lb_truth t = lb_condition_ask(c, &facts, note_unknown, list);
 *     lb_condition_free(c);
 */
#ifndef LB_GARAGE_CONDITION_H
#define LB_GARAGE_CONDITION_H

#include "base/date.h"
#include "base/error.h"

enum lb_truth { LB_FALSE, LB_UNKNOWN, LB_TRUE };

struct lb_condition;

/* Parses; the words of an error (LB_DATA) say what is wrong at which character and what a clause looks like.
 * `text` NULL or blank gives *out = NULL with LB_OK: the empty condition, which is true. On failure *out is
 * NULL. One `;` at the end is let pass; an empty clause is not. `<` and its kin take one value, a number or a
 * date; `built` is compared with dates only. */
LB_CHECK lb_status lb_condition_parse(struct lb_condition **out, const char *text, struct lb_error *err);
void lb_condition_free(struct lb_condition *condition);

/* What is known of one vehicle. `fact` returns the stated value of a key (lower case; the keys compare
 * without case) or NULL; NULL and blank are not stated. `built` is given apart, as an interval
 * (LB_DATE_MIN..LB_DATE_MAX: not stated), and is never asked of `fact`; `year` is derived from it unless
 * stated, when all of it lies in one year. */
struct lb_facts {
    const char *(*fact)(void *context, const char *key);
    void *context;
    struct lb_interval built;
};

/* Told of a fact that is not known but decides; `turns_on` says between what, in words. */
typedef void lb_unknown_fact(void *context, const char *key, const char *turns_on);

/* Evaluates. When the result is unknown, `unknown` (may be NULL) is called once per clause that is unknown,
 * with the key of the fact that would decide it and what it turns on, in words for the owner ("before or
 * after 2004-03", "manual or automatic"; borrowed until the call returns), in the order of the clauses; so a
 * key comes twice when two clauses name it. Two numbers compare as numbers (4 = 4.0); order on a fact that is
 * neither number nor date is unknown. An interval: `built < 2004-03` is true when it ends before March, false
 * when it begins in March or later; `<=` looks at the last day of the value; `=` is true inside any of the
 * values, false outside all;
 * `!=`, `>=`, `>` are the negations. */
enum lb_truth lb_condition_ask(const struct lb_condition *condition, const struct lb_facts *facts,
                               lb_unknown_fact *unknown, void *context);
/* built_from/built_to: inclusive; wholly inside is true, disjoint false, overlap unknown. Open ends:
 * LB_DATE_MIN/MAX. from > to contains no day: false. */
enum lb_truth lb_built_within(struct lb_interval built, int32_t from, int32_t to);

#endif
