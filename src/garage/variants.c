/* What values facts may have, as conditions and facts rows name them. */
#include "garage/variants.h"
#include "base/decimal.h"
#include "base/text.h"
#include "garage/condition_parts.h"

#include <stdlib.h>
#include <string.h>

enum { STEPS_MOST = 100000 };

static struct lb_variant_fact *fact_of(struct lb_variants *v, const char *key)
{
    uint32_t id;
    if (!lb_names_add(&v->keys, key, &id))
        return NULL;
    if (id == v->facts.count && !LB_PUSH(&v->facts, ((struct lb_variant_fact){0})))
        return NULL;
    return id < v->facts.count ? &v->facts.at[id] : NULL;
}

static bool add_word(struct lb_variant_fact *fact, const char *text)
{
    struct lb_buf folded = {0};
    uint32_t id;
    lb_text_fold(&folded, text);
    bool added = !folded.failed && (!folded.length || lb_names_add(&fact->words, folded.text, &id));
    lb_buf_free(&folded);
    return added;
}

static bool is_order(const struct clause *clause)
{
    return clause->relation >= IS_BELOW;
}

bool lb_variants_learn(struct lb_variants *v, const struct lb_condition *condition)
{
    for (const struct clause *c = condition ? condition->clauses : NULL; c; c = c->next) {
        struct lb_variant_fact *fact = fact_of(v, c->key);
        if (!fact)
            return false;
        if (fact->whole || is_order(c) || strcmp(c->key, "built") == 0)
            continue;
        for (const struct value *value = c->values; value; value = value->next) {
            bool switch_like =
                lb_text_equal_nocase(value->text, "yes") || lb_text_equal_nocase(value->text, "no");
            if (!add_word(fact, value->text) ||
                (switch_like && !(add_word(fact, "yes") && add_word(fact, "no"))))
                return false;
            fact->whole |= switch_like;
        }
    }
    return true;
}

bool lb_variants_list(struct lb_variants *v, const char *key, const char *values)
{
    struct lb_variant_fact *fact = fact_of(v, key);
    bool ok = fact != NULL;
    while (ok && *values) {
        size_t length = strcspn(values, "|");
        char *word = strndup(values, length);
        ok = word && add_word(fact, word);
        free(word);
        values += length + (values[length] == '|');
    }
    if (ok)
        fact->whole = fact->words.count > 0;
    return ok;
}

bool lb_variants_built(struct lb_variants *v, struct lb_interval days)
{
    return LB_PUSH(&v->built, days);
}

void lb_variants_free(struct lb_variants *v)
{
    for (size_t i = 0; i < v->facts.count; i++)
        lb_names_free(&v->facts.at[i].words);
    lb_names_free(&v->keys);
    free(v->facts.at);
    free(v->built.at);
    memset(v, 0, sizeof *v);
}

/* One step: choose the next fact, and see whether it can still come true. */
struct search {
    struct lb_guess *guess;
    const struct lb_variant_question *question;
    struct lb_facts facts;
    size_t steps;
};

/* LB_TRUE: this is such a vehicle, LB_FALSE: it never becomes one. */
static enum lb_truth judge(const struct search *s)
{
    enum lb_truth all = LB_TRUE;
    for (size_t i = 0; i < s->question->hold_count && all != LB_FALSE; i++) {
        enum lb_truth one = lb_condition_ask(s->question->holds[i], &s->facts, NULL, NULL);
        all = one < all ? one : all;
    }
    for (size_t i = 0; i < s->question->fail_count && all != LB_FALSE; i++) {
        enum lb_truth one = lb_condition_ask(s->question->fails[i], &s->facts, NULL, NULL);
        one = one == LB_TRUE ? LB_FALSE : one == LB_FALSE ? LB_TRUE : one;
        all = one < all ? one : all;
    }
    return all;
}

static bool search(struct search *s, size_t at)
{
    s->facts = lb_guess_facts(s->guess);
    enum lb_truth truth = judge(s);
    if (truth != LB_UNKNOWN)
        return truth == LB_TRUE;
    if (at == s->guess->facts.count || ++s->steps > STEPS_MOST)
        return false;
    struct lb_guess_fact *fact = lb_guess_nth(s->guess, at);
    for (fact->chosen = 0; fact->chosen < (int)fact->values.count; fact->chosen++)
        if (search(s, at + 1))
            return true;
    fact->chosen = -1;
    return false;
}

lb_status lb_variants_find(const struct lb_variants *v, const struct lb_variant_question *question,
                           bool *found, struct lb_buf *who, struct lb_error *err)
{
    struct lb_guess guess = {0};
    size_t count = question->hold_count + question->fail_count;
    const struct lb_condition **all = calloc(count + 1, sizeof *all);
    *found = false;
    if (!all)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < count; i++)
        all[i] = i < question->hold_count ? question->holds[i] : question->fails[i - question->hold_count];
    lb_status status = lb_guess_make(&guess, v, all, count, question->others, err);
    if (!status) {
        struct search s = {.guess = &guess, .question = question};
        *found = search(&s, 0);
    }
    if (*found && who)
        lb_guess_say(who, &guess);
    lb_guess_free(&guess);
    free(all);
    return status;
}
