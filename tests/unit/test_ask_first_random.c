/* Random kits against brute force: all sets of facts by size, all their orders, every answer to every fact
 * put to the conditions themselves. */
#include "ask_help.h"

#define COUNT(table) (sizeof(table) / sizeof(table)[0])

#ifdef __SANITIZE_ADDRESS__ /* several times as slow */
enum { KITS = 100 };
#else
enum { KITS = 500 };
#endif
enum { POOL = 10, ANSWERS = 10, MOST_ANSWERS = 1000, BUILT = 8, YEAR = 9 };

/* What conditions ask, and answers of every kind that these values tell apart. The last sign is the first one
 * not used. */
static const struct {
    const char *key;
    unsigned first_sign, last_sign;
    const char *values[4], *answers[ANSWERS];
} pool[POOL] = {
    {"engine", 0, 2, {"k20", "K24", "k20"}, {"k20", "k24", "b16"}},
    {"gearbox", 0, 2, {"auto", "man"}, {"auto", "man", "cvt"}},
    {"ac", 0, 2, {"yes", "no"}, {"yes", "no", "maybe"}},
    {"trim", 0, 2, {"s", "lx"}, {"s", "LX", "ex"}},
    {"abs", 0, 2, {"yes"}, {"yes", "no"}},
    {"doors", 0, 6, {"3", "4", "4.0"}, {"2", "3", "3.5", "4", "5"}},
    {"power", 2, 6, {"80", "90.5"}, {"70", "80", "85", "90.5", "100"}},
    {"since",
     2,
     6,
     {"2003-06", "2004"},
     {"2003-05-31", "2003-06-10", "2003-12-31", "2004-07-01", "2005-01-01"}},
    {"built",
     0,
     6,
     {"2003-06", "2004", "2004-03-15", "2005-01"},
     {"2002-06-01", "2003-03-01", "2003-06-15", "2003-09-01", "2004-01-15", "2004-03-15", "2004-06-01",
      "2005-01-15", "2005-06-01", "2006-06-01"}},
    {"year", 0, 6, {"2003", "2004", "2005"}, {"2002", "2003", "2004", "2005", "2006"}},
};
static const char *const signs[] = {"=", "!=", "<", "<=", ">", ">="};

static unsigned state;

static unsigned pick(unsigned below)
{
    state = state * 1664525U + 1013904223U;
    return (state >> 8) % below;
}

static unsigned answer_count(unsigned fact)
{
    unsigned count = 0;
    while (count < ANSWERS && pool[fact].answers[count])
        count++;
    return count;
}

static const char *pick_value(unsigned fact)
{
    unsigned count = 0;
    while (count < COUNT(pool[fact].values) && pool[fact].values[count])
        count++;
    return pool[fact].values[pick(count)];
}

/* A random kit, and which facts of the pool each condition names. */
struct drawn {
    struct ask_kit kit;
    unsigned facts[POOL], fact_count;
    unsigned names[ASK_CONDITIONS];
    struct ask_known known;
};

static void draw_condition(struct drawn *d)
{
    struct ask_kit *kit = &d->kit;
    unsigned c = kit->condition_count++;
    char *text = kit->texts[c];
    for (unsigned clauses = 1 + pick(5) / 2, i = 0; i < clauses; i++) {
        unsigned fact = d->facts[pick(d->fact_count)];
        unsigned sign = pool[fact].first_sign + pick(pool[fact].last_sign - pool[fact].first_sign);
        size_t at = strlen(text);
        at += (size_t)snprintf(text + at, sizeof kit->texts[0] - at, "%s%s %s %s", i ? " ; " : "",
                               pool[fact].key, signs[sign], pick_value(fact));
        if (sign < 2 && pick(4) == 0)
            snprintf(text + at, sizeof kit->texts[0] - at, "|%s", pick_value(fact));
        d->names[c] |= 1U << fact;
    }
    kit->conditions[c].when = text;
    if (d->facts[0] != BUILT || pick(4))
        return;
    kit->conditions[c].built_from = pick(3) ? pick_value(BUILT) : NULL;
    kit->conditions[c].built_to = pick(3) ? pick_value(BUILT) : NULL;
    d->names[c] |= 1U << BUILT;
}

static unsigned facts_of_line(const struct drawn *d, const struct ask_line *line)
{
    unsigned facts = 0;
    for (unsigned i = 0; i < line->count; i++)
        for (unsigned k = 0; k < line->ways[i].count; k++)
            facts |= d->names[line->ways[i].conditions[k]];
    return facts;
}

static unsigned assignments(unsigned facts)
{
    unsigned product = 1;
    for (unsigned f = 0; f < POOL; f++)
        product *= facts >> f & 1 && !(f == YEAR && facts >> BUILT & 1) ? answer_count(f) : 1;
    return product;
}

static void draw_line(struct drawn *d)
{
    struct ask_line *line = &d->kit.lines[d->kit.line_count];
    do {
        line->count = 1 + pick(4);
        for (unsigned i = 0; i < line->count; i++) {
            struct ask_way *way = &line->ways[i];
            way->count = 1 + pick(ASK_LONG - 1);
            for (unsigned k = 0; k < way->count; k++)
                way->conditions[k] = pick(d->kit.condition_count);
        }
    } while (assignments(facts_of_line(d, line)) > MOST_ANSWERS);
    d->kit.line_count++;
}

static void draw(struct drawn *d)
{
    unsigned order[POOL];
    memset(d, 0, sizeof *d);
    d->known = ask_nothing;
    d->fact_count = 1 + pick(POOL);
    for (unsigned i = 0; i < POOL; i++) {
        unsigned at = pick(i + 1);
        order[i] = order[at];
        order[at] = i;
    }
    for (unsigned i = 0; i < d->fact_count; i++)
        d->facts[i] = order[i];
    for (unsigned n = 2 + pick(10); n > 0; n--)
        draw_condition(d);
    for (unsigned n = 1 + pick(8); n > 0; n--)
        draw_line(d);
    for (unsigned i = 1; i < d->fact_count; i++) { /* now and then something is known already */
        unsigned fact = d->facts[i];
        if (fact == BUILT || pick(8))
            continue;
        d->known.keys[d->known.count] = pool[fact].key;
        d->known.values[d->known.count++] = pool[fact].answers[pick(answer_count(fact))];
    }
}

/* --- brute force --- */

struct brute {
    const struct drawn *d;
    signed char settled[ASK_LINES][1U << POOL]; /* by line and set of its facts; 0: not looked at yet */
    unsigned open;                              /* facts that some line hangs on: only these are asked */
    unsigned best[POOL], best_left[POOL], best_count;
    unsigned way[POOL], left[POOL]; /* the order being tried, and how many lines each step leaves */
    bool found;
};

/* Kleene: some way true is true, all ways false is false. */
static enum lb_truth line_truth(const struct ask_kit *kit, const struct ask_line *line,
                                const struct ask_known *known)
{
    enum lb_truth any = LB_FALSE;
    for (unsigned i = 0; i < line->count; i++) {
        enum lb_truth all = LB_TRUE;
        for (unsigned k = 0; k < line->ways[i].count; k++) {
            enum lb_truth one = ask_truth(&kit->conditions[line->ways[i].conditions[k]], known);
            all = one < all ? one : all;
        }
        any = all > any ? all : any;
    }
    return any;
}

static void answer(struct ask_known *known, unsigned fact, unsigned which)
{
    if (fact == BUILT) {
        cr_assert_null(lb_date_parse(pool[fact].answers[which], &known->built));
        return;
    }
    known->keys[known->count] = pool[fact].key;
    known->values[known->count++] = pool[fact].answers[which];
}

/* The n-th of all answers to the facts of a set; a year comes with the build date. */
static struct ask_known assignment(const struct drawn *d, unsigned set, unsigned n)
{
    struct ask_known known = d->known;
    for (unsigned f = 0; f < POOL; f++) {
        if (!(set >> f & 1) || (f == YEAR && set >> BUILT & 1))
            continue;
        answer(&known, f, n % answer_count(f));
        n /= answer_count(f);
    }
    return known;
}

static bool settles(struct brute *b, unsigned line, unsigned set)
{
    const struct ask_line *l = &b->d->kit.lines[line];
    unsigned facts = facts_of_line(b->d, l);
    facts |= facts >> YEAR & 1 ? 1U << BUILT : 0;
    signed char *known = &b->settled[line][set &= facts];
    if (*known)
        return *known > 0;
    *known = 1;
    for (unsigned n = 0; n < assignments(set) && *known > 0; n++) {
        struct ask_known answers = assignment(b->d, set, n);
        if (line_truth(&b->d->kit, l, &answers) == LB_UNKNOWN)
            *known = -1;
    }
    return *known > 0;
}

static unsigned lines_left(struct brute *b, unsigned set)
{
    unsigned left = 0;
    for (unsigned line = 0; line < b->d->kit.line_count; line++)
        left += !settles(b, line, set);
    return left;
}

static int by_key(const void *a, const void *b)
{
    return strcmp(pool[*(const unsigned *)a].key, pool[*(const unsigned *)b].key);
}

static unsigned sum_of(const unsigned *left, unsigned count)
{
    unsigned sum = 0;
    for (unsigned i = 0; i < count; i++)
        sum += left[i];
    return sum;
}

static bool is_better(const struct brute *b, unsigned count)
{
    unsigned new = sum_of(b->left, count), old = sum_of(b->best_left, count);
    if (!b->found || new != old)
        return !b->found || new < old;
    for (unsigned i = 0; i < count; i++)
        if (b->left[i] != b->best_left[i])
            return b->left[i] < b->best_left[i];
    for (unsigned i = 0; i < count; i++) {
        int order = by_key(&b->way[i], &b->best[i]);
        if (order)
            return order < 0;
    }
    return false;
}

/* Every order of `size` facts that ends with nothing left. */
static void try_orders(struct brute *b, unsigned set, unsigned depth, unsigned size)
{
    if (depth == size) {
        if (lines_left(b, set) || !is_better(b, size))
            return;
        memcpy(b->best, b->way, sizeof b->best);
        memcpy(b->best_left, b->left, sizeof b->left);
        b->best_count = size;
        b->found = true;
        return;
    }
    if (b->found && sum_of(b->left, depth) > sum_of(b->best_left, size))
        return;
    for (unsigned f = 0; f < POOL; f++) {
        if (!(b->open >> f & 1) || set >> f & 1)
            continue;
        b->way[depth] = f;
        b->left[depth] = lines_left(b, set | 1U << f);
        try_orders(b, set | 1U << f, depth + 1, size);
    }
}

static void solve(struct brute *b)
{
    unsigned size = POOL;
    for (unsigned set = 0; set < 1U << POOL; set++)
        if ((unsigned)__builtin_popcount(set) < size && !lines_left(b, set))
            size = (unsigned)__builtin_popcount(set);
    try_orders(b, 0, 0, size);
}

/* --- the comparison --- */

static unsigned fact_number(const struct ask_map *made, uint32_t fact)
{
    unsigned f = 0;
    while (strcmp(pool[f].key, made->map.facts[fact]) != 0)
        f++;
    return f;
}

/* Whatever is answered to what was asked, the plan made again asks about no line. */
static void expect_settled(const struct drawn *d, const struct ask_map *made, int number)
{
    unsigned set = 0;
    for (size_t i = 0; i < made->plan->ask_first_count; i++)
        set |= 1U << fact_number(made, made->plan->ask_first[i]);
    for (int times = 0; times < 4; times++) {
        struct ask_known known = assignment(d, set, pick(assignments(set)));
        struct ask_map *after = ask_make(&d->kit, &known);
        for (size_t i = 0; i < after->plan->need_count; i++)
            cr_assert(after->plan->needs[i].sure, "kit %d, line %zu still asks", number, i);
        ask_free(after);
    }
}

Test(ask_first_random, equals_brute_force)
{
    unsigned seen[POOL + 1] = {0}, fewer = 0;
    state = 20260611;
    for (int n = 0; n < KITS; n++) {
        struct drawn d;
        draw(&d);
        struct brute *b = calloc(1, sizeof *b);
        struct ask_map *made = ask_make(&d.kit, &d.known);
        cr_assert_not_null(b);
        b->d = &d;
        size_t hang = 0;
        for (size_t q = 0; q < made->plan->question_count; q++) {
            bool open = made->plan->questions[q].settle_count > 0;
            hang += open;
            b->open |= (unsigned)open << fact_number(made, made->plan->questions[q].fact);
        }
        solve(b);
        cr_assert(made->plan->ask_first_exact, "kit %d", n);
        cr_assert_eq(made->plan->ask_first_count, b->best_count, "kit %d: %zu asked, %u would do", n,
                     made->plan->ask_first_count, b->best_count);
        for (unsigned i = 0; i < b->best_count; i++)
            cr_assert_eq(fact_number(made, made->plan->ask_first[i]), b->best[i],
                         "kit %d, fact %u: %s, not %s", n, i, made->map.facts[made->plan->ask_first[i]],
                         pool[b->best[i]].key);
        expect_settled(&d, made, n);
        seen[b->best_count]++;
        fewer += hang > b->best_count;
        ask_free(made);
        free(b);
    }
    /* The kits say something only if many facts come up, and some that need not be asked. */
    for (unsigned size = 1; size <= 6; size++)
        cr_expect_gt(seen[size], KITS / 100, "%u of size %u", seen[size], size);
    cr_expect_gt(fewer, KITS / 10, "%u", fewer);
}
