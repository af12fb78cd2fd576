/* A vehicle in the making: which values of each fact conditions can tell apart. Of words those that are
 * named, and one more; of numbers and days those at a border and beside it. */
#include "base/decimal.h"
#include "base/text.h"
#include "garage/condition_parts.h"
#include "garage/variants.h"

#include <stdlib.h>
#include <string.h>

/* What nobody names. */
static const char another[] = "another";

struct maker {
    struct lb_guess *guess;
    const struct lb_variants *v;
    bool failed;
};

enum { VALUES_MOST = 256 }; /* of one fact; who names more gets no more told apart */

static bool is_built(const char *key)
{
    return strcmp(key, "built") == 0;
}

static struct lb_guess_fact *find_fact(const struct lb_guess *guess, const char *key)
{
    uint32_t id = lb_names_find(&guess->keys, key);
    return id == LB_NO_NAME ? NULL : &guess->facts.at[id];
}

static void add_text(struct maker *m, struct lb_guess_fact *fact, const char *text)
{
    for (size_t i = 0; i < fact->values.count; i++)
        if (lb_text_equal_nocase(fact->values.at[i].text, text))
            return;
    if (fact->values.count == VALUES_MOST)
        return;
    char *kept = lb_arena_text(&m->guess->arena, text, strlen(text));
    m->failed |= !kept || !LB_PUSH(&fact->values, ((struct lb_variant_value){.text = kept}));
}

static void add_day(struct maker *m, struct lb_guess_fact *fact, int64_t day)
{
    bool possible = !m->v->built.count;
    if (day <= LB_DATE_MIN || day >= LB_DATE_MAX || fact->values.count == VALUES_MOST)
        return;
    for (size_t i = 0; i < m->v->built.count; i++)
        possible |= m->v->built.at[i].first <= day && day <= m->v->built.at[i].last;
    for (size_t i = 0; possible && i < fact->values.count; i++)
        possible = fact->values.at[i].day != day;
    if (possible)
        m->failed |= !LB_PUSH(&fact->values, ((struct lb_variant_value){.text = "", .day = (int32_t)day}));
}

static void add_number(struct maker *m, struct lb_guess_fact *fact, int64_t number)
{
    struct lb_buf text = {0};
    lb_decimal_print(&text, number);
    m->failed |= text.failed;
    add_text(m, fact, lb_buf_text(&text));
    lb_buf_free(&text);
}

static void add_date(struct maker *m, struct lb_guess_fact *fact, int64_t day)
{
    struct lb_buf text = {0};
    if (day <= LB_DATE_MIN || day >= LB_DATE_MAX)
        return;
    lb_date_print(&text, (int32_t)day);
    m->failed |= text.failed;
    add_text(m, fact, lb_buf_text(&text));
    lb_buf_free(&text);
}

/* The value itself, and what lies just below and above it. A whole number is tried first, as it reads better;
 * a year is nothing else. */
static void add_borders(struct maker *m, struct lb_guess_fact *fact, const struct value *value)
{
    if (fact->dated || !value->is_number) {
        const int64_t days[] = {(int64_t)value->date.first - 1, value->date.first, value->date.last,
                                (int64_t)value->date.last + 1};
        for (size_t i = 0; value->is_date && i < 4; i++)
            (fact->dated ? add_day : add_date)(m, fact, days[i]);
        return;
    }
    const int64_t steps[] = {0, LB_MILLION, -LB_MILLION, 1, -1};
    size_t count = strcmp(fact->key, "year") == 0 ? 3 : 5;
    for (size_t i = 0; i < count; i++)
        add_number(m, fact, value->number + steps[i]);
}

static const struct lb_variant_fact *known_fact(const struct lb_variants *v, const char *key)
{
    uint32_t id = lb_names_find(&v->keys, key);
    return id == LB_NO_NAME ? NULL : &v->facts.at[id];
}

static void add_clause(struct maker *m, struct lb_guess_fact *fact, const struct clause *clause)
{
    const struct lb_variant_fact *known = known_fact(m->v, clause->key);
    if (known && known->whole && !fact->dated)
        return; /* the words that are listed are all there are */
    for (const struct value *value = clause->values; value; value = value->next) {
        if (fact->dated || clause->relation >= IS_BELOW)
            add_borders(m, fact, value);
        else
            add_text(m, fact, value->text);
    }
}

static struct lb_guess_fact *new_fact(struct maker *m, const char *key)
{
    const struct lb_variant_fact *known = known_fact(m->v, key);
    uint32_t id;
    if (!LB_PUSH(&m->guess->facts, ((struct lb_guess_fact){.chosen = -1, .dated = is_built(key)})) ||
        !lb_names_add(&m->guess->keys, key, &id)) {
        m->failed = true;
        return NULL;
    }
    struct lb_guess_fact *fact = &m->guess->facts.at[m->guess->facts.count - 1];
    fact->key = m->guess->keys.at[id];
    for (size_t i = 0; known && !fact->dated && i < known->words.count; i++)
        add_text(m, fact, known->words.at[i]);
    for (size_t i = 0; fact->dated && i < m->v->built.count; i++)
        add_day(m, fact, m->v->built.at[i].first);
    for (size_t i = 0; fact->dated && i < m->v->built.count; i++)
        add_day(m, fact, m->v->built.at[i].last);
    return fact;
}

static void add_condition(struct maker *m, const struct lb_condition *condition)
{
    for (const struct clause *c = condition ? condition->clauses : NULL; c && !m->failed; c = c->next) {
        struct lb_guess_fact *fact = find_fact(m->guess, c->key);
        if (!fact)
            fact = new_fact(m, c->key);
        if (fact && !m->failed)
            add_clause(m, fact, c);
    }
}

lb_status lb_guess_make(struct lb_guess *guess, const struct lb_variants *v,
                        const struct lb_condition *const *conditions, size_t count, bool others,
                        struct lb_error *err)
{
    struct maker m = {.guess = guess, .v = v};
    *guess = (struct lb_guess){0};
    for (size_t i = 0; i < count; i++)
        add_condition(&m, conditions[i]);
    for (size_t i = 0; i < guess->facts.count && !m.failed; i++) {
        struct lb_guess_fact *fact = &guess->facts.at[i];
        const struct lb_variant_fact *known = known_fact(v, fact->key);
        bool whole = known && known->whole;
        if (!fact->dated && !whole && (others || fact->values.count < 2))
            add_text(&m, fact, another);
    }
    if (m.failed)
        lb_guess_free(guess);
    return m.failed ? lb_fail_nomem(err) : LB_OK;
}

static const char *look_up(void *context, const char *key)
{
    struct lb_guess_fact *fact = find_fact(context, key);
    return fact && fact->chosen >= 0 ? fact->values.at[fact->chosen].text : NULL;
}

struct lb_guess_fact *lb_guess_nth(const struct lb_guess *guess, size_t n)
{
    uint32_t built = lb_names_find(&guess->keys, "built");
    if (built == LB_NO_NAME || n < built)
        return &guess->facts.at[n];
    return &guess->facts.at[n + 1 < guess->facts.count ? n + 1 : built];
}

struct lb_facts lb_guess_facts(struct lb_guess *guess)
{
    struct lb_facts facts = {.fact = look_up, .context = guess, .built = {LB_DATE_MIN, LB_DATE_MAX}};
    struct lb_guess_fact *built = find_fact(guess, "built");
    if (built && built->chosen >= 0)
        facts.built.first = facts.built.last = built->values.at[built->chosen].day;
    return facts;
}

void lb_guess_say(struct lb_buf *out, const struct lb_guess *guess)
{
    const char *between = "";
    for (size_t i = 0; i < guess->facts.count; i++) {
        const struct lb_guess_fact *fact = lb_guess_nth(guess, i);
        if (fact->chosen < 0)
            continue;
        lb_buf_printf(out, "%s%s = ", between, fact->key);
        if (fact->dated)
            lb_date_print(out, fact->values.at[fact->chosen].day);
        else
            lb_buf_puts(out, fact->values.at[fact->chosen].text);
        between = " ; ";
    }
}

int lb_guess_open(const struct lb_guess *guess, const struct lb_condition *condition)
{
    for (const struct clause *c = condition ? condition->clauses : NULL; c; c = c->next) {
        uint32_t id = lb_names_find(&guess->keys, c->key);
        if (id != LB_NO_NAME && guess->facts.at[id].chosen < 0)
            return (int)id;
    }
    return -1;
}

void lb_guess_first(struct lb_guess *guess)
{
    for (size_t i = 0; i < guess->facts.count; i++)
        guess->facts.at[i].chosen = guess->facts.at[i].values.count ? 0 : -1;
}

bool lb_guess_next(struct lb_guess *guess)
{
    for (size_t i = 0; i < guess->facts.count; i++) {
        struct lb_guess_fact *fact = &guess->facts.at[i];
        if (fact->values.count && ++fact->chosen < (int)fact->values.count)
            return true;
        fact->chosen = fact->values.count ? 0 : -1;
    }
    return false;
}

size_t lb_guess_count(const struct lb_guess *guess, size_t most)
{
    size_t count = 1;
    for (size_t i = 0; i < guess->facts.count && count < most; i++)
        count *= guess->facts.at[i].values.count ? guess->facts.at[i].values.count : 1;
    return count < most ? count : most;
}

void lb_guess_free(struct lb_guess *guess)
{
    for (size_t i = 0; i < guess->facts.count; i++)
        free(guess->facts.at[i].values.at);
    free(guess->facts.at);
    lb_names_free(&guess->keys);
    lb_arena_free(&guess->arena);
    *guess = (struct lb_guess){0};
}
