/* Too many candidates to look at every set: what is not needed is left out one by one, and what settles most
 * lines next is asked next. */
#include "plan/ask_first.h"

#include <stdlib.h>

/* The state of the choice: which candidates are in, and what each is worth. */
struct choice {
    struct open_lines *lines;
    bool *in;
    uint32_t *worth; /* by candidate: lines that hang on it */
};

static bool is_settled(const struct choice *c, const struct open_line *line)
{
    uint64_t known = 0;
    uint32_t count = 0;
    for (uint32_t i = 0; i < line->fact_count; i++) {
        count += c->in[line->facts[i]];
        known |= line->fact_count <= 64 ? (uint64_t)c->in[line->facts[i]] << i : 0;
    }
    return count == line->fact_count || (line->fact_count <= 64 && open_line_settled(c->lines, line, known));
}

static bool hangs_on(const struct open_line *line, uint32_t candidate)
{
    for (uint32_t i = 0; i < line->fact_count; i++)
        if (line->facts[i] == candidate)
            return true;
    return false;
}

static bool can_do_without(struct choice *c, uint32_t candidate)
{
    c->in[candidate] = false;
    for (size_t i = 0; i < c->lines->count; i++) {
        if (hangs_on(&c->lines->at[i], candidate) && !is_settled(c, &c->lines->at[i])) {
            c->in[candidate] = true;
            return false;
        }
    }
    return true;
}

/* What settles least goes first, then by name from the end. */
static int by_least_worth(const void *a, const void *b, void *context)
{
    const struct choice *c = context;
    uint32_t p = *(const uint32_t *)a, q = *(const uint32_t *)b;
    if (c->worth[p] != c->worth[q])
        return c->worth[p] < c->worth[q] ? -1 : 1;
    return p > q ? -1 : p < q;
}

/* Leaves in `out` what is needed, what hangs on it least first. */
static size_t leave_out(struct choice *c, uint32_t *out)
{
    size_t count = 0;
    for (size_t i = 0; i < c->lines->count; i++)
        for (uint32_t f = 0; f < c->lines->at[i].fact_count; f++)
            c->worth[c->lines->at[i].facts[f]] += c->lines->at[i].lines;
    for (uint32_t i = 0; i < c->lines->fact_count; i++) {
        c->in[i] = true;
        out[i] = i;
    }
    qsort_r(out, c->lines->fact_count, sizeof *out, by_least_worth, c);
    for (size_t i = 0; i < c->lines->fact_count; i++)
        if (!can_do_without(c, out[i]))
            out[count++] = out[i];
    return count;
}

/* How many lines get settled when this one becomes known as well. */
static uint64_t gain(struct choice *c, uint32_t candidate)
{
    uint64_t lines = 0;
    for (size_t i = 0; i < c->lines->count; i++) {
        const struct open_line *line = &c->lines->at[i];
        if (!hangs_on(line, candidate) || is_settled(c, line))
            continue;
        c->in[candidate] = true;
        lines += is_settled(c, line) ? line->lines : 0;
        c->in[candidate] = false;
    }
    return lines;
}

/* Where equally many get settled, what more lines hang on goes first, then by name: `out` comes sorted the
 * other way round. */
static void order(struct choice *c, uint32_t *out, size_t count)
{
    for (size_t i = 0; i < count; i++)
        c->in[out[i]] = false;
    for (size_t done = 0; done < count; done++) {
        size_t best = done;
        uint64_t most = 0;
        for (size_t i = done; i < count; i++) {
            uint64_t lines = gain(c, out[i]);
            if (i > done && (lines < most || (lines == most && by_least_worth(&out[i], &out[best], c) < 0)))
                continue;
            best = i;
            most = lines;
        }
        uint32_t chosen = out[best];
        out[best] = out[done];
        out[done] = chosen;
        c->in[chosen] = true;
    }
}

size_t ask_first_greedy(struct open_lines *lines, uint32_t *out)
{
    struct choice c = {.lines = lines,
                       .in = lb_plan_alloc(lines->w, lines->fact_count + 1, sizeof *c.in),
                       .worth = lb_plan_alloc(lines->w, lines->fact_count + 1, sizeof *c.worth)};
    if (!c.in || !c.worth)
        return SIZE_MAX;
    size_t count = leave_out(&c, out);
    order(&c, out, count);
    return count;
}
