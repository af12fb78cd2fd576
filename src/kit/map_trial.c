/* One kind of vehicle after another: which are tried, and what contradicts itself there. How far that goes is
 * told in map_check.h. */
#include "kit/map_trial.h"

#include <stdlib.h>
#include <string.h>

enum {
    TRIED_ALL = 64,        /* kinds of vehicle that are all tried */
    TRIED_MOST = 40000000, /* rows and names that go into trials in all: some seconds */
    FOUND_MOST = 4,        /* contradictions of one job; the author mends those first */
};

/* The first fact that a row of the contradiction hangs on and that is not chosen yet; -1: none, some vehicle
 * has all of these rows; -2: one of them applies to no vehicle that we can make. */
static int open_fact(const struct trial *t)
{
    bool unsure = false;
    for (size_t i = 0; i < t->clash.rows.count; i++) {
        uint32_t condition = t->clash.rows.at[i]->condition;
        if (condition == LB_NO_NAME || t->truth[condition] == LB_TRUE)
            continue;
        int fact = lb_guess_open(&t->guess, t->c->conditions[condition]);
        if (fact >= 0)
            return fact;
        unsure = true;
    }
    return unsure ? -2 : -1;
}

static const char *keep_words(struct checker *c, const char *words)
{
    char *kept = lb_arena_text(&c->arena, words, strlen(words));
    c->failed |= !kept;
    return kept ? kept : "";
}

static int by_place(const void *left, const void *right)
{
    const struct lb_row *const *a = left, *const *b = right;
    if ((*a)->source != (*b)->source)
        return (*a)->source < (*b)->source ? -1 : 1;
    return (*a)->line < (*b)->line ? -1 : (*a)->line > (*b)->line;
}

/* Rows that contradict each other are one fault, from wherever a job comes upon them. */
static uint32_t number_clash(struct trial *t)
{
    struct lb_buf key = {0};
    uint32_t id = 0;
    qsort(t->clash.rows.at, t->clash.rows.count, sizeof *t->clash.rows.at, by_place);
    for (size_t i = 0; i < t->clash.rows.count; i++)
        lb_buf_printf(&key, "%u:%u ", t->clash.rows.at[i]->source, t->clash.rows.at[i]->line);
    t->c->failed |= key.failed || !lb_names_add(&t->clashes, lb_buf_text(&key), &id);
    lb_buf_free(&key);
    return id;
}

static void keep_found(struct trial *t, const char *words)
{
    struct checker *c = t->c;
    uint32_t id = number_clash(t);
    if (id < t->found.count) {
        bool again = t->found.at[id].last_job == t->number;
        t->found.at[id].count += !again;
        t->found_here += !again;
        t->found.at[id].last_job = t->number;
        return;
    }
    t->found_here++;
    struct lb_buf who = {0};
    lb_guess_say(&who, &t->guess);
    struct lb_row *row = check_alloc(c, 1, sizeof *row);
    struct found found = {.row = row,
                          .code = t->clash.kind == LB_CLASH_ACCESS ? "access-loop" : "contradiction",
                          .words = keep_words(c, words),
                          .who = keep_words(c, lb_buf_text(&who)),
                          .where = keep_words(c, t->name),
                          .count = 1,
                          .last_job = t->number};
    if (row)
        *row = *t->clash.rows.at[0];
    c->failed |= who.failed || !LB_PUSH(&t->found, found);
    lb_buf_free(&who);
}

/* The order of work for the guess as it stands. *fact: what to choose next, or below 0. */
static lb_status try_guess(struct trial *t, int *fact)
{
    struct lb_error why = {0};
    *fact = -1;
    trial_filter(t);
    if (t->c->failed)
        return LB_OK;
    lb_status status = lb_plan_try(&t->some.map, t->some.targets.at, t->some.targets.count, &t->clash, &why);
    if (status == LB_DATA && t->clash.kind != LB_CLASH_NONE) {
        *fact = open_fact(t);
        if (*fact == -1 && t->name)
            keep_found(t, lb_error_text(&why));
        status = LB_OK;
    } else if (status) {
        status = lb_fail(t->c->err, status, "%s", lb_error_text(&why));
    }
    lb_error_free(&why);
    return status;
}

static int next_fact(const struct trial *t)
{
    for (size_t i = 0; i < t->guess.facts.count; i++)
        if (t->guess.facts.at[i].chosen < 0 && t->guess.facts.at[i].values.count)
            return (int)i;
    return -1;
}

/* As deep as there are facts. */
static lb_status try_from(struct trial *t)
{
    int fact = t->every ? next_fact(t) : -1;
    lb_status status = LB_OK;
    t->stopped |= t->c->tried > TRIED_MOST;
    if (t->stopped || t->found_here == FOUND_MOST)
        return LB_OK;
    if (fact < 0)
        status = try_guess(t, &fact);
    if (status || fact < 0)
        return status;
    struct lb_guess_fact *chosen = &t->guess.facts.at[fact];
    for (chosen->chosen = 0; !status && chosen->chosen < (int)chosen->values.count; chosen->chosen++)
        status = try_from(t);
    chosen->chosen = -1;
    return status;
}

lb_status trial_run(struct trial *t, const char *name)
{
    struct checker *c = t->c;
    t->name = name;
    t->number++;
    t->found_here = 0;
    lb_status status = trial_gather(t);
    if (!status && !c->failed) {
        trial_note_conditions(t);
        status = lb_guess_make(&t->guess, &c->variants, t->asked, t->asked_count, false, c->err);
    }
    if (!status && !c->failed) {
        t->every = lb_guess_count(&t->guess, TRIED_ALL + 1) <= TRIED_ALL;
        status = try_from(t);
    }
    for (size_t i = 0; i < t->asked_count; i++)
        t->is_asked[t->asked_ids[i]] = false;
    t->asked_count = 0;
    lb_guess_free(&t->guess);
    trial_clear_rows(t);
    return status;
}

lb_status trial_run_all(struct trial *t, bool *clash)
{
    int fact;
    for (size_t i = 0; i < t->c->survey->conditions.count; i++)
        t->truth[i] = LB_UNKNOWN;
    t->name = NULL;
    lb_status status = trial_gather(t);
    if (!status)
        status = try_guess(t, &fact);
    *clash = t->clash.kind != LB_CLASH_NONE;
    trial_clear_rows(t);
    return status;
}

lb_status trial_begin(struct trial *t, struct checker *c)
{
    size_t conditions = c->survey->conditions.count + 1;
    *t = (struct trial){.c = c};
    t->asked = check_alloc(c, conditions, sizeof *t->asked);
    t->asked_ids = check_alloc(c, conditions, sizeof *t->asked_ids);
    t->is_asked = check_alloc(c, conditions, sizeof *t->is_asked);
    t->truth = check_alloc(c, conditions, sizeof *t->truth);
    return c->failed ? lb_fail_nomem(c->err) : LB_OK;
}

void trial_end(struct trial *t)
{
    trial_free_rows(t);
    lb_clash_free(&t->clash);
    lb_names_free(&t->clashes);
    free(t->found.at);
}
