/* The vehicles that conditions tell apart: for each fact that they ask for, a value of every kind. With it
 * one can ask what no single vehicle answers: can these conditions hold together, is there a vehicle for
 * which none of those does. Not the owner's vehicles (vehicle.h).
 *
 *     struct lb_variants v = {0};
 *     lb_variants_learn(&v, condition);                            // every condition of the map
 *     struct lb_variant_question q = {.holds = &opens, .hold_count = 1, .fails = fills, .fail_count = n};
 *     status = lb_variants_find(&v, &q, &found, &who, &err);       // who: "engine = tq23 ; built =
 * 2004-03-01" lb_variants_free(&v);
 *
 * Facts are taken as independent of one another, also `year` of `built`. */
#ifndef LB_GARAGE_VARIANTS_H
#define LB_GARAGE_VARIANTS_H

#include "base/buf.h"
#include "base/names.h"
#include "base/vec.h"
#include "garage/condition.h"

/* What is known of one fact's values, over all conditions. */
struct lb_variant_fact {
    struct lb_names words; /* folded */
    bool whole;            /* there are no others */
};

struct lb_variants {
    struct lb_names keys;
    LB_VEC(struct lb_variant_fact) facts; /* by key */
    LB_VEC(struct lb_interval) built;     /* days on which such vehicles were built; none: any day */
};

/* The values that a condition names exist. False: out of memory. */
bool lb_variants_learn(struct lb_variants *v, const struct lb_condition *condition);
/* The fact has these values (`tq20|tq23`) and no others. False: out of memory. */
bool lb_variants_list(struct lb_variants *v, const char *key, const char *values);
bool lb_variants_built(struct lb_variants *v, struct lb_interval days);
void lb_variants_free(struct lb_variants *v);

/* One value that a fact may have. */
struct lb_variant_value {
    const char *text;
    int32_t day; /* of `built` */
};

struct lb_guess_fact {
    const char *key;
    LB_VEC(struct lb_variant_value) values;
    int chosen; /* -1: not stated */
    bool dated; /* `built` */
};

/* A vehicle in the making: facts chosen one by one. */
struct lb_guess {
    struct lb_arena arena;
    struct lb_names keys;
    LB_VEC(struct lb_guess_fact) facts; /* by key */
};

/* What the conditions (NULL ones are passed over) ask for, nothing chosen yet. `others`: facts whose values
 * are not listed may have one that nobody names; without it, only facts of which a single value is named. Up
 * to 256 values a fact are told apart. */
LB_CHECK lb_status lb_guess_make(struct lb_guess *guess, const struct lb_variants *v,
                                 const struct lb_condition *const *conditions, size_t count, bool others,
                                 struct lb_error *err);
/* The fact to be chosen as the nth: `built` comes last, so that a stated year counts and not the day's. */
struct lb_guess_fact *lb_guess_nth(const struct lb_guess *guess, size_t n);
struct lb_facts lb_guess_facts(struct lb_guess *guess);
/* Appends what was chosen: "engine = tq23 ; built = 2004-03-01". */
void lb_guess_say(struct lb_buf *out, const struct lb_guess *guess);
/* Which of its facts the condition asks for and the guess has not chosen; -1: none. */
int lb_guess_open(const struct lb_guess *guess, const struct lb_condition *condition);
/* One vehicle after another, each fact that has values with one of them: the first, and the next; false: that
 * was the last. */
void lb_guess_first(struct lb_guess *guess);
bool lb_guess_next(struct lb_guess *guess);
/* How many vehicles it can become, `most` at the most. */
size_t lb_guess_count(const struct lb_guess *guess, size_t most);
void lb_guess_free(struct lb_guess *guess);

struct lb_variant_question {
    const struct lb_condition *const *holds, *const *fails; /* NULL ones are true */
    size_t hold_count, fail_count;
    bool others;
};

/* Is there a vehicle for which every one of `holds` is true and every one of `fails` false? `who` (may be
 * NULL) gets its facts. After 100,000 guesses the answer is no. */
LB_CHECK lb_status lb_variants_find(const struct lb_variants *v, const struct lb_variant_question *question,
                                    bool *found, struct lb_buf *who, struct lb_error *err);

#endif
