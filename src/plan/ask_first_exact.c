/* Every set of candidates is looked at, as bits: how many lines it leaves open, and the best way on from it
 * to a smallest set that leaves none. */
#include "plan/ask_first.h"

struct search {
    struct open_lines *lines;
    uint32_t *open; /* by set: lines that it does not settle; until all are counted, those that it does */
    uint64_t *sum;  /* by set: what the best way on comes to; NEVER: there is none */
    uint8_t *next;  /* by set: the fact that comes next on it */
    uint64_t *core; /* by line: facts without which it is not settled, whatever else is known */
    bool *by_core;  /* by line: they are enough */
    bool *settled;  /* by set of one line's free facts */
    unsigned size;  /* of a smallest set that settles all */
};

#define NEVER UINT64_MAX

static size_t set_count(const struct open_lines *lines)
{
    return (size_t)1 << lines->fact_count;
}

static uint64_t find_core(struct search *s, const struct open_line *line)
{
    uint64_t all = ((uint64_t)1 << line->fact_count) - 1, core = 0;
    for (uint32_t fact = 0; fact < line->fact_count; fact++)
        if (!open_line_settled(s->lines, line, all & ~((uint64_t)1 << fact)))
            core |= (uint64_t)1 << fact;
    return core;
}

/* The line's facts of a set as candidates. */
static size_t as_candidates(const struct open_line *line, uint64_t facts)
{
    size_t set = 0;
    for (; facts; facts &= facts - 1)
        set |= (size_t)1 << line->facts[__builtin_ctzll(facts)];
    return set;
}

/* Bits of `packed`, put where `places` has its bits. */
static uint64_t unpack(size_t packed, uint64_t places)
{
    uint64_t set = 0;
    for (; packed; packed >>= 1, places &= places - 1)
        set |= packed & 1 ? places & -places : 0;
    return set;
}

/* Knowing more never unsettles, so a set above one that settles need not be looked at. */
static void judge_free(struct search *s, const struct open_line *line, uint64_t core, uint64_t free)
{
    for (size_t set = 0; set < (size_t)1 << __builtin_popcountll(free); set++) {
        s->settled[set] = false;
        for (size_t left = set; left && !s->settled[set]; left &= left - 1)
            s->settled[set] = s->settled[set & ~(left & -left)];
        if (!s->settled[set])
            s->settled[set] = open_line_settled(s->lines, line, core | unpack(set, free));
    }
}

/* For eight of the candidates: which of a line's free facts are in each set of them, packed. */
static void pack_eight(size_t free, unsigned shift, uint16_t *packed)
{
    for (size_t eight = 0; eight < 256; eight++) {
        packed[eight] = 0;
        unsigned place = 0;
        for (size_t left = free; left; left &= left - 1, place++)
            packed[eight] |= (uint16_t)((eight << shift & left & -left ? 1U : 0U) << place);
    }
}

/* The sets that hold the core and settle with what they have of the free facts. */
static void count_free(struct search *s, const struct open_line *line, uint64_t core)
{
    uint64_t all = ((uint64_t)1 << line->fact_count) - 1;
    size_t base = as_candidates(line, core), rest = (set_count(s->lines) - 1) & ~base, more = 0;
    uint16_t low[256], high[256];
    judge_free(s, line, core, all & ~core);
    pack_eight(as_candidates(line, all & ~core), 0, low);
    pack_eight(as_candidates(line, all & ~core), 8, high);
    do {
        if (s->settled[low[more & 255] | high[more >> 8]])
            s->open[base | more] += line->lines;
        more = (more - rest) & rest; /* the next set within rest */
    } while (more);
}

/* Lines that their core settles are noted at it, and carried up to all sets above it. */
static void carry_up(struct search *s)
{
    for (size_t bit = 1; bit < set_count(s->lines); bit <<= 1)
        for (size_t set = 0; set < set_count(s->lines); set++)
            if (set & bit)
                s->open[set] += s->open[set & ~bit];
}

static void count_open(struct search *s)
{
    struct open_lines *lines = s->lines;
    uint32_t total = 0;
    for (size_t i = 0; i < lines->count; i++) {
        const struct open_line *line = &lines->at[i];
        total += line->lines;
        s->core[i] = find_core(s, line);
        s->by_core[i] = open_line_settled(lines, line, s->core[i]);
        if (s->by_core[i])
            s->open[as_candidates(line, s->core[i])] += line->lines;
    }
    carry_up(s);
    for (size_t i = 0; i < lines->count; i++)
        if (!s->by_core[i])
            count_free(s, &lines->at[i], s->core[i]);
    for (size_t set = 0; set < set_count(lines); set++)
        s->open[set] = total - s->open[set];
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
                       .sum = lb_plan_alloc(lines->w, sets, sizeof *s.sum),
                       .next = lb_plan_alloc(lines->w, sets, sizeof *s.next),
                       .core = lb_plan_alloc(lines->w, lines->count + 1, sizeof *s.core),
                       .by_core = lb_plan_alloc(lines->w, lines->count + 1, sizeof *s.by_core),
                       .settled = lb_plan_alloc(lines->w, sets, sizeof *s.settled)};
    if (!s.open || !s.sum || !s.next || !s.core || !s.by_core || !s.settled)
        return SIZE_MAX;
    count_open(&s);
    find_size(&s);
    find_orders(&s);
    for (unsigned i = 0; i < s.size; i++) {
        out[i] = s.next[set];
        set |= (size_t)1 << s.next[set];
    }
    return s.size;
}
