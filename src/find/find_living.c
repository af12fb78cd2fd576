/* What became of a part: the living end of its supersessions, and what is the same by cross-reference. */
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "find/finder.h"

#include <string.h>

/* Of what the part counts for: behind it one after the other, on offer or not. */
static const double successor = 0.95, same_part = 0.90, instead_of = 0.86;

enum { STEPS_MAX = 32, ENDS_MAX = 16, FOLLOWED_MAX = 8 };

/* One part on the way; `from` is its place among those that were met. */
struct end {
    const char *key, *brand, *number, *group;
    int from, steps;
    bool followed;
};

struct chain {
    struct search *search;
    struct end ends[STEPS_MAX];
    int count;
};

static bool is_met(const struct chain *chain, const char *key)
{
    for (int i = 0; i < chain->count; i++)
        if (strcmp(chain->ends[i].key, key) == 0)
            return true;
    return false;
}

/* Columns of `successors`: new key, new_brand, new_number, group. */
static lb_status step(struct chain *chain, int at)
{
    struct search *search = chain->search;
    struct lb_statement *st = search->finder->successors;
    bool row;
    lb_status status;
    lb_bind_text(st, 1, chain->ends[at].key);
    while (!(status = lb_step(st, &row, search->err)) && row) {
        chain->ends[at].followed = true;
        if ((status = lb_need_texts(st, 0, 3, search->err)))
            break;
        if (chain->count == STEPS_MAX || is_met(chain, lb_text(st, 0)))
            continue;
        struct end *end = &chain->ends[chain->count];
        *end = (struct end){.from = at, .steps = chain->ends[at].steps + 1};
        status = find_keep(search, lb_text(st, 0), &end->key);
        if (!status)
            status = find_keep(search, lb_text(st, 1), &end->brand);
        if (!status)
            status = find_keep(search, lb_text(st, 2), &end->number);
        if (!status)
            status = find_keep(search, lb_text(st, 3), &end->group);
        if (status)
            break;
        chain->count++;
    }
    lb_statement_reset(st);
    return status;
}

static lb_status follow(struct chain *chain, struct search *search, const struct candidate *candidate)
{
    *chain = (struct chain){.search = search};
    chain->ends[chain->count++] =
        (struct end){.key = candidate->key, .brand = candidate->brand, .number = candidate->number};
    lb_status status = LB_OK;
    for (int i = 0; !status && i < chain->count; i++)
        status = step(chain, i);
    return status;
}

static void say_times(struct lb_buf *out, int times)
{
    static const char *const words[] = {"", "", "twice", "three times", "four times"};
    lb_buf_puts(out, "superseded");
    if (times > 1 && times < 5)
        lb_buf_printf(out, " %s", words[times]);
    else if (times >= 5)
        lb_buf_printf(out, " %d times", times);
}

/* "superseded twice; now Velmora 1140-0150", with "and" between parts of one group and "or" between others.
 */
static lb_status say_now(struct search *search, const struct chain *chain, const char **now)
{
    struct lb_buf text = {0};
    const struct end *before = NULL;
    int most = 0;
    for (int i = 1; i < chain->count; i++)
        most = chain->ends[i].steps > most ? chain->ends[i].steps : most;
    say_times(&text, most);
    for (int i = 1; i < chain->count; i++) {
        const struct end *end = &chain->ends[i];
        if (end->followed)
            continue;
        bool together = before && before->from == end->from && strcmp(before->group, end->group) == 0;
        lb_buf_printf(&text, "%s%s %s",
                      !before    ? "; now "
                      : together ? " and "
                                 : " or ",
                      end->brand, end->number);
        before = end;
    }
    if (!before)
        lb_buf_puts(&text, ", in a circle");
    lb_status status = text.failed ? lb_fail_nomem(search->err) : find_keep(search, text.text, now);
    lb_buf_free(&text);
    return status;
}

lb_status find_living(struct search *search, size_t index)
{
    struct chain chain;
    if (!search->finder->has_successors || search->list.at[index].living_known)
        return LB_OK;
    search->list.at[index].living_known = true;
    lb_status status = follow(&chain, search, &search->list.at[index]);
    if (status || !chain.ends[0].followed)
        return status;
    search->list.at[index].superseded = true;
    return say_now(search, &chain, &search->list.at[index].now);
}

/* A part that stands for the one at `index` comes just behind it. */
static lb_status stand_in(struct search *search, size_t index, const char *key, const char *brand,
                          const char *number, double times, const char *says)
{
    struct candidate *other;
    struct lb_buf note = {0};
    lb_status status = find_candidate(search, key, brand, number, &other);
    if (status)
        return status;
    const struct candidate *candidate = &search->list.at[index];
    if (other == candidate || other->extra >= candidate->extra)
        return LB_OK;
    lb_buf_printf(&note, "%s %s %s", says, candidate->brand, candidate->number);
    other->as |= FOUND_FOR_ANOTHER;
    other->behind = candidate->key;
    other->behind_by = times;
    other->extra = candidate->extra * times;
    status = note.failed ? lb_fail_nomem(search->err) : find_keep(search, note.text, &other->note);
    other->extra_reason = other->note;
    lb_buf_free(&note);
    return status;
}

/* Is another part needed together with the one at the end? */
static bool shares(const struct chain *chain, int at)
{
    const struct end *end = &chain->ends[at];
    for (int i = 1; i < chain->count; i++)
        if (i != at && chain->ends[i].from == end->from && strcmp(chain->ends[i].group, end->group) == 0)
            return true;
    return false;
}

static lb_status add_living(struct search *search, size_t index)
{
    struct chain chain;
    lb_status status = follow(&chain, search, &search->list.at[index]);
    for (int i = 1; !status && i < chain.count; i++)
        if (!chain.ends[i].followed)
            status = stand_in(search, index, chain.ends[i].key, chain.ends[i].brand, chain.ends[i].number,
                              successor,
                              shares(&chain, i) ? "with others takes the place of" : "takes the place of");
    return status;
}

/* Columns of `same` and `instead`: key, brand, number. */
static lb_status add_referred(struct search *search, size_t index, struct lb_statement *st, double times,
                              const char *says)
{
    bool row;
    lb_status status;
    int count = 0;
    lb_bind_text(st, 1, search->list.at[index].key);
    while (!(status = lb_step(st, &row, search->err)) && row && count++ < ENDS_MAX) {
        const char *key, *brand, *number;
        status = lb_need_texts(st, 0, 3, search->err);
        if (!status)
            status = find_keep(search, lb_text(st, 0), &key);
        if (!status)
            status = find_keep(search, lb_text(st, 1), &brand);
        if (!status)
            status = find_keep(search, lb_text(st, 2), &number);
        if (!status)
            status = stand_in(search, index, key, brand, number, times, says);
        if (status)
            break;
    }
    lb_statement_reset(st);
    return status;
}

/* Of the numbers that were found as typed; of the first few. */
lb_status find_follow(struct search *search)
{
    struct lb_finder *f = search->finder;
    lb_status status = LB_OK;
    size_t count = search->list.count, followed = 0;
    for (size_t i = 0; !status && i < count && followed < FOLLOWED_MAX; i++) {
        if (!(search->list.at[i].as & FOUND_BY_NUMBER))
            continue;
        followed++;
        if (f->has_successors)
            status = add_living(search, i);
        if (!status && f->has_references)
            status = add_referred(search, i, f->same, same_part, "the same as");
        if (!status && f->has_references)
            status = add_referred(search, i, f->instead, instead_of, "may be used instead of");
    }
    return status;
}
