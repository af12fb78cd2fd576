/* Every set of candidates is looked at, as bits: how many lines it leaves open, and the best way on from it
 * to a smallest set that leaves none. */
#include "plan/ask_first.h"

#include <string.h>

struct search {
    struct open_lines *lines;
    uint32_t *open;  /* by set: lines that it does not settle */
    uint32_t *local; /* by set of one line's facts: the same for the lines that hang on just these */
    uint64_t *sum;   /* by set: what the best way on comes to; NEVER: there is none */
    uint8_t *next;   /* by set: the fact that comes next on it */
    unsigned size;   /* of a smallest set that settles all */
};

#define NEVER UINT64_MAX

static size_t set_count(const struct open_lines *lines)
{
    return (size_t)1 << lines->fact_count;
}

/* Knowing more never unsettles, so a set above one that settles need not be looked at. */
static void judge_line(struct search *s, const struct open_line *line, bool *settled)
{
    for (size_t set = 0; set < (size_t)1 << line->fact_count; set++) {
        settled[set] = false;
        for (size_t left = set; left && !settled[set]; left &= left - 1)
            settled[set] = settled[set & ~(left & -left)];
        if (!settled[set])
            settled[set] = open_line_settled(s->lines, line, set);
        s->local[set] += settled[set] ? 0 : line->lines;
    }
}

/* Which of one line's facts are in a set of candidates: looked up by the set's lower and upper half. */
static void spread_half(const struct open_line *line, unsigned shift, uint16_t *places)
{
    for (unsigned half = 0; half < 256; half++) {
        places[half] = 0;
        for (uint32_t i = 0; i < line->fact_count; i++)
            if (line->facts[i] >= shift && line->facts[i] < shift + 8 && half >> (line->facts[i] - shift) & 1)
                places[half] |= (uint16_t)(1U << i);
    }
}

static void add_up(struct search *s, const struct open_line *line)
{
    uint16_t low[256], high[256];
    spread_half(line, 0, low);
    spread_half(line, 8, high);
    for (size_t set = 0; set < set_count(s->lines); set++)
        s->open[set] += s->local[low[set & 255] | high[set >> 8]];
    memset(s->local, 0, sizeof *s->local << line->fact_count);
}

static bool same_facts(const struct open_line *a, const struct open_line *b)
{
    return a->fact_count == b->fact_count &&
           memcmp(a->facts, b->facts, a->fact_count * sizeof *a->facts) == 0;
}

static void count_open(struct search *s, bool *settled)
{
    const struct open_lines *lines = s->lines;
    for (size_t i = 0; i < lines->count; i++) {
        judge_line(s, &lines->at[i], settled);
        if (i + 1 == lines->count || !same_facts(&lines->at[i], &lines->at[i + 1]))
            add_up(s, &lines->at[i]);
    }
}

static void find_size(struct search *s)
{
    s->size = (unsigned)s->lines->fact_count;
    for (size_t set = 0; set < set_count(s->lines); set++)
        if (!s->open[set] && (unsigned)__builtin_popcountll(set) < s->size)
            s->size = (unsigned)__builtin_popcountll(set);
}

/* Two ways on that come to the same sum, beginning with sets a and b: which leaves fewer lines open sooner?
 * Below 0: a. */
static int compare_on(const struct search *s, size_t a, size_t b)
{
    for (;;) {
        if (s->open[a] != s->open[b])
            return s->open[a] < s->open[b] ? -1 : 1;
        if ((unsigned)__builtin_popcountll(a) == s->size)
            return 0;
        a |= (size_t)1 << s->next[a];
        b |= (size_t)1 << s->next[b];
    }
}

/* Candidates stand by name, so of equals the first one found stays. */
static void find_next(struct search *s, size_t set)
{
    s->sum[set] = NEVER;
    for (uint8_t fact = 0; fact < s->lines->fact_count; fact++) {
        size_t then = set | (size_t)1 << fact;
        if (then == set || s->sum[then] == NEVER)
            continue;
        uint64_t sum = s->open[then] + s->sum[then];
        if (sum > s->sum[set] ||
            (sum == s->sum[set] && compare_on(s, then, set | (size_t)1 << s->next[set]) >= 0))
            continue;
        s->sum[set] = sum;
        s->next[set] = fact;
    }
}

static void find_orders(struct search *s)
{
    for (size_t set = set_count(s->lines); set-- > 0;) {
        unsigned size = (unsigned)__builtin_popcountll(set);
        if (size >= s->size)
            s->sum[set] = size == s->size && !s->open[set] ? 0 : NEVER;
        else
            find_next(s, set);
    }
}

size_t ask_first_exact(struct open_lines *lines, uint32_t *out)
{
    size_t sets = set_count(lines), set = 0;
    struct search s = {.lines = lines,
                       .open = lb_plan_alloc(lines->w, sets, sizeof *s.open),
                       .local = lb_plan_alloc(lines->w, sets, sizeof *s.local),
                       .sum = lb_plan_alloc(lines->w, sets, sizeof *s.sum),
                       .next = lb_plan_alloc(lines->w, sets, sizeof *s.next)};
    bool *settled = lb_plan_alloc(lines->w, sets, sizeof *settled);
    if (!s.open || !s.local || !s.sum || !s.next || !settled)
        return SIZE_MAX;
    count_open(&s, settled);
    find_size(&s);
    find_orders(&s);
    for (unsigned i = 0; i < s.size; i++) {
        out[i] = s.next[set];
        set |= (size_t)1 << s.next[set];
    }
    return s.size;
}
