/* Which answers to a fact there are: one of every kind is tried, and those that meet the same clauses are
 * one. */
#include "base/decimal.h"
#include "garage/outcomes_parts.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The outcomes of one fact while they are found. */
struct trial {
    open_clauses *clauses;
    uint32_t key, year; /* year: LB_NO_NAME, or the key whose clauses `built` decides too */
    struct lb_names tried;
    uint32_t count;
    bool spoilt, failed; /* spoilt: cannot be told apart in so many outcomes */
};

static bool orders(const struct clause *clause)
{
    return clause->relation != IS_ONE_OF && clause->relation != IS_NONE_OF;
}

/* `year < 2004-03`: a year cannot always tell. */
static bool is_finer_than_years(const struct clause *clause)
{
    return strcmp(clause->key, "year") == 0 && orders(clause) && !clause->values->is_number;
}

static uint64_t *mask_of(const struct trial *t, struct open_clause *open)
{
    if (open->key == t->key)
        return &open->met;
    return open->key == t->year && !is_finer_than_years(open->clause) ? &open->met_by_built : NULL;
}

/* Is there an outcome that meets just the same clauses? The answer stands as the outcome numbered count. */
static bool is_known(const struct trial *t)
{
    for (uint32_t o = 0; o < t->count; o++) {
        size_t i = 0;
        for (; i < t->clauses->count; i++) {
            const uint64_t *mask = mask_of(t, &t->clauses->at[i]);
            if (mask && (*mask >> o & 1) != (*mask >> t->count & 1))
                break;
        }
        if (i == t->clauses->count)
            return true;
    }
    return false;
}

static void forget_last(const struct trial *t)
{
    for (size_t i = 0; i < t->clauses->count; i++) {
        uint64_t *mask = mask_of(t, &t->clauses->at[i]);
        if (mask)
            *mask &= ~((uint64_t)1 << t->count);
    }
}

/* An answer that leaves a clause open is no outcome; when a condition names it, the fact cannot be told
 * apart. The bit after the last outcome is where a new one is tried. */
static void judge(struct trial *t, const struct lb_facts *answer, bool named)
{
    enum lb_truth least = LB_TRUE;
    for (size_t i = 0; i < t->clauses->count; i++) {
        struct open_clause *open = &t->clauses->at[i];
        uint64_t *mask = mask_of(t, open);
        if (!mask)
            continue;
        enum lb_truth truth = lb_condition_ask_clause(open->clause, answer);
        *mask |= (uint64_t)(truth == LB_TRUE) << t->count;
        least = truth == LB_UNKNOWN ? LB_UNKNOWN : least;
    }
    t->spoilt |= least == LB_UNKNOWN && named;
    if (least == LB_UNKNOWN || is_known(t))
        forget_last(t);
    else if (t->count < LB_OUTCOMES_MOST)
        t->count++;
    else
        t->spoilt = true;
}

static const char *stated(void *context, const char *key)
{
    (void)key;
    return context;
}

static void try_text(struct trial *t, const char *text, bool named)
{
    uint32_t id;
    size_t before = t->tried.count;
    if (t->spoilt || t->failed)
        return;
    if (!lb_names_add(&t->tried, text, &id)) {
        t->failed = true;
    } else if (t->tried.count > before || named) { /* once more when now it must be told apart */
        struct lb_facts answer = {stated, (void *)text, {LB_DATE_MIN, LB_DATE_MAX}};
        judge(t, &answer, named);
    }
}

static void try_number(struct trial *t, int64_t number)
{
    struct lb_buf text = {0};
    lb_decimal_print(&text, number);
    t->failed |= text.failed;
    try_text(t, lb_buf_text(&text), false);
    lb_buf_free(&text);
}

static void try_day(struct trial *t, int32_t day)
{
    struct lb_buf text = {0};
    lb_date_print(&text, day);
    t->failed |= text.failed;
    try_text(t, lb_buf_text(&text), false);
    lb_buf_free(&text);
}

static bool is_year(const struct clause *clause)
{
    return strcmp(clause->key, "year") == 0;
}

static int64_t whole_below(int64_t number)
{
    return number - (number % LB_MILLION + LB_MILLION) % LB_MILLION;
}

/* The number, what is just below and what is just above; years are whole. */
static void try_around(struct trial *t, const struct clause *clause, int64_t number)
{
    if (is_year(clause)) {
        for (int64_t year = -1; year <= 2; year++)
            try_number(t, whole_below(number) + year * LB_MILLION);
        return;
    }
    for (int64_t step = -1; step <= 1; step++)
        try_number(t, number + step);
}

static void try_value(struct trial *t, const struct clause *clause, const struct value *value)
{
    if (!orders(clause))
        try_text(t, value->text, true);
    if (value->is_number)
        try_around(t, clause, value->number);
    if (!value->is_date || is_year(clause))
        return;
    const int32_t days[] = {value->date.first - 1, value->date.first, value->date.last, value->date.last + 1};
    for (size_t i = 0; i < sizeof days / sizeof *days; i++)
        try_day(t, days[i]);
}

static bool end_trial(struct trial *t, uint32_t *count)
{
    *count = t->spoilt ? 0 : t->count;
    lb_names_free(&t->tried);
    return !t->failed;
}

bool outcomes_of_fact(open_clauses *clauses, uint32_t key, uint32_t *count)
{
    struct trial t = {.clauses = clauses, .key = key, .year = LB_NO_NAME};
    for (size_t i = 0; i < clauses->count; i++) {
        const struct clause *clause = clauses->at[i].clause;
        if (clauses->at[i].key != key)
            continue;
        t.spoilt |= is_finer_than_years(clause);
        for (const struct value *value = clause->values; value; value = value->next)
            try_value(&t, clause, value);
    }
    try_text(&t, "\x01", false); /* a word that no condition names */
    return end_trial(&t, count);
}

static void try_built(struct trial *t, struct lb_interval known, int64_t day)
{
    if (t->spoilt || day < known.first || day > known.last)
        return;
    struct lb_facts answer = {.built = {(int32_t)day, (int32_t)day}};
    judge(t, &answer, false);
}

/* The days beside a bound: the last one before it and the first one from it on. */
static void try_bound(struct trial *t, struct lb_interval known, int64_t day)
{
    try_built(t, known, day - 1);
    try_built(t, known, day);
}

static void try_years(struct trial *t, struct lb_interval known, int64_t number)
{
    struct lb_interval year;
    char text[32];
    for (int64_t i = 0; i <= 1; i++) {
        snprintf(text, sizeof text, "%04lld", (long long)(whole_below(number) / LB_MILLION + i));
        if (lb_date_parse(text, &year))
            continue;
        try_bound(t, known, year.first);
        try_bound(t, known, (int64_t)year.last + 1);
    }
}

bool outcomes_of_built(open_clauses *clauses, uint32_t built, uint32_t year, struct lb_interval known,
                       uint32_t *count)
{
    struct trial t = {.clauses = clauses, .key = built, .year = year};
    for (size_t i = 0; i < clauses->count; i++) {
        const struct clause *clause = clauses->at[i].clause;
        if (clauses->at[i].key != built && clauses->at[i].key != year)
            continue;
        for (const struct value *value = clause->values; value; value = value->next) {
            if (clauses->at[i].key == year) {
                if (value->is_number)
                    try_years(&t, known, value->number);
                continue;
            }
            try_bound(&t, known, value->date.first);
            try_bound(&t, known, (int64_t)value->date.last + 1);
        }
    }
    if (!t.count && !t.spoilt) /* nothing that has a bound */
        try_built(&t, known,
                  known.first > LB_DATE_MIN  ? known.first
                  : known.last < LB_DATE_MAX ? known.last
                                             : 0);
    return end_trial(&t, count);
}
