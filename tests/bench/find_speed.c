/* How long one find takes inside a process that stays: the index is opened once, all queries are asked once
 * to warm up, then timed one by one. Then, when wished, whether the quick answers are the exhaustive ones.
 *
 *     find_speed INDEX QUERIES [--passes N] [--exhaustive N]
 *
 * QUERIES: a line each, kind<TAB>text (find_queries.py). --exhaustive N: for the first N queries of each
 * kind, the share of the exhaustive ten that the quick ten have, and how often the first is the same; parts
 * of equal score are equal. Milliseconds throughout. find_speed.py reads the lines of the tables. */
#include "find_overlap.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { KINDS = 64, QUERIES = 100000, SLOWEST = 5, PASSES_MAX = 100 };

struct query {
    int kind;
    char *text;
    bool found;
    double best;
};

static char *kinds[KINDS];
static int kind_count;
static struct query queries[QUERIES];
static int query_count;
static int refused;
static int32_t today;

static void fail(const char *what, const char *why)
{
    fprintf(stderr, "find_speed: %s: %s\n", what, why);
    exit(1);
}

static double now(void)
{
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return 1e3 * (double)at.tv_sec + 1e-6 * (double)at.tv_nsec;
}

static int kind_of(const char *name)
{
    for (int i = 0; i < kind_count; i++)
        if (strcmp(kinds[i], name) == 0)
            return i;
    if (kind_count == KINDS)
        fail(name, "one kind too many");
    kinds[kind_count] = strdup(name);
    return kind_count++;
}

static void read_queries(const char *path)
{
    FILE *file = fopen(path, "r");
    char line[4096];
    if (!file)
        fail(path, "cannot be read");
    while (fgets(line, sizeof line, file)) {
        char *tab = strchr(line, '\t');
        line[strcspn(line, "\n")] = '\0';
        if (!tab || query_count == QUERIES)
            fail(path, tab ? "too many lines" : "a line without a tab");
        *tab = '\0';
        queries[query_count++] =
            (struct query){.kind = kind_of(line), .text = strdup(tab + 1), .best = INFINITY};
    }
    fclose(file);
    if (!query_count)
        fail(path, "no queries");
}

/* NULL: refused, as words that nothing can have. The caller frees the answer. */
static struct lb_find_result *find(struct lb_finder *finder, const char *text, bool exhaustive)
{
    struct lb_find_request request = {.text = text, .limit = SHOWN, .today = today, .exhaustive = exhaustive};
    struct lb_find_result *result;
    struct lb_error err = {0};
    lb_status status = lb_find(finder, &request, &result, &err);
    if (status && status != LB_USAGE)
        fail(text, lb_error_text(&err));
    lb_error_free(&err);
    return status ? NULL : result;
}

static void warm_up(struct lb_finder *finder)
{
    double begin = now();
    int found = 0;
    for (int i = 0; i < query_count; i++) {
        struct lb_find_result *result = find(finder, queries[i].text, false);
        if (i == 0)
            printf("first query %.3f\n", now() - begin);
        refused += !result;
        queries[i].found = result && result->hit_count > 0;
        found += queries[i].found;
        lb_find_free(result);
    }
    printf("%d queries, %d found, %d refused\n", query_count, found, refused);
}

/* Pass after pass, so that a disturbance does not meet all timings of one query. */
static double *time_all(struct lb_finder *finder, int passes)
{
    double *took = calloc((size_t)query_count * (size_t)passes, sizeof *took);
    if (!took)
        fail("timings", "out of memory");
    for (int at = 0; at < query_count * passes; at++) {
        struct query *query = &queries[at % query_count];
        double begin = now();
        lb_find_free(find(finder, query->text, false));
        took[at] = now() - begin;
        query->best = fmin(query->best, took[at]);
    }
    return took;
}

static int compare_times(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The least time that `share` of all do not exceed. */
static double percentile(const double *sorted, int count, double share)
{
    int rank = (int)ceil(share * count);
    return sorted[rank < 1 ? 0 : rank - 1];
}

static void print_times(const char *name, double *times, int count)
{
    qsort(times, (size_t)count, sizeof *times, compare_times);
    printf("%-16s %7d %9.3f %9.3f %9.3f %9.3f\n", name, count, percentile(times, count, 0.5),
           percentile(times, count, 0.9), percentile(times, count, 0.99), times[count - 1]);
}

/* All kinds, and `all`, over every timing; `quiet`: over the least time of each query, so without what else
 * the machine did. */
static void print_all_times(const double *took, int passes)
{
    int all = query_count * passes;
    double *some = malloc((size_t)all * sizeof *some);
    if (!some)
        fail("timings", "out of memory");
    printf("%-16s %7s %9s %9s %9s %9s\n", "ms", "timings", "p50", "p90", "p99", "max");
    for (int kind = 0; kind < kind_count; kind++) {
        int count = 0;
        for (int at = 0; at < all; at++)
            if (queries[at % query_count].kind == kind)
                some[count++] = took[at];
        print_times(kinds[kind], some, count);
    }
    memcpy(some, took, (size_t)all * sizeof *some);
    print_times("all", some, all);
    for (int i = 0; i < query_count; i++)
        some[i] = queries[i].best;
    print_times("quiet", some, query_count);
    free(some);
}

/* Quick because nothing is found is no merit: which kinds have queries without a hit, with the first of them.
 */
static void print_unfound(void)
{
    for (int kind = 0; kind < kind_count; kind++) {
        int unfound = 0, first = 0;
        for (int i = 0; i < query_count; i++)
            if (queries[i].kind == kind && !queries[i].found && unfound++ == 0)
                first = i;
        if (unfound)
            printf("unfound %5d of %-16s such as: %s\n", unfound, kinds[kind], queries[first].text);
    }
}

/* What this process itself took: getrusage begins with what its parent had. */
static double memory_at_most(void)
{
    FILE *file = fopen("/proc/self/status", "r");
    char line[256];
    long kib = 0;
    while (file && fgets(line, sizeof line, file))
        if (strncmp(line, "VmHWM:", 6) == 0)
            kib = strtol(line + 6, NULL, 10);
    if (file)
        fclose(file);
    return (double)kib / 1024;
}

/* By the least time of each, so that a slow query is shown and not a disturbed one. */
static void print_slowest(void)
{
    bool shown[QUERIES] = {false};
    for (int n = 0; n < SLOWEST && n < query_count; n++) {
        int slowest = -1;
        for (int i = 0; i < query_count; i++)
            if (!shown[i] && (slowest < 0 || queries[i].best > queries[slowest].best))
                slowest = i;
        shown[slowest] = true;
        printf("slow %9.3f  %-16s %s\n", queries[slowest].best, kinds[queries[slowest].kind],
               queries[slowest].text);
    }
}

static void compare_query(struct lb_finder *finder, const char *text, struct overlap *sum)
{
    struct lb_find_result *quick = find(finder, text, false);
    double begin = now();
    struct lb_find_result *full = find(finder, text, true);
    sum->slow += now() - begin;
    sum->asked++;
    if (quick && full)
        overlap_add(sum, quick, full);
    lb_find_free(quick);
    lb_find_free(full);
}

static void compare_all(struct lb_finder *finder, int each)
{
    struct overlap all = {0};
    for (int kind = 0; kind < kind_count; kind++) {
        struct overlap sum = {0};
        for (int i = 0; i < query_count && sum.asked < each; i++)
            if (queries[i].kind == kind)
                compare_query(finder, queries[i].text, &sum);
        overlap_print(kinds[kind], &sum);
        overlap_join(&all, &sum);
    }
    overlap_print("all", &all);
}

static void run(const char *index, int passes, int exhaustive)
{
    struct lb_error err = {0};
    struct lb_store *store;
    struct lb_finder *finder;
    double begin = now();
    if (lb_store_open(&store, index, LB_STORE_READ, &err) || lb_find_open(&finder, store, &err))
        fail(index, lb_error_text(&err));
    printf("opened in %.3f\n", now() - begin);
    warm_up(finder);
    double *took = time_all(finder, passes);
    double memory = memory_at_most();
    print_all_times(took, passes);
    print_slowest();
    print_unfound();
    printf("memory %.1f MiB at most\n", memory);
    if (exhaustive)
        compare_all(finder, exhaustive);
    free(took);
    lb_find_close(finder);
    lb_store_close(store);
}

/* A count behind an option; 0 when it is none. */
static int count_of(const char *text)
{
    char *end;
    long count = strtol(text, &end, 10);
    return *end || end == text || count < 1 || count > QUERIES ? 0 : (int)count;
}

int main(int argc, char **argv)
{
    int passes = 2, exhaustive = 0;
    bool good = argc >= 3 && argc % 2 == 1;
    for (int i = 3; good && i < argc; i += 2) {
        int *to = strcmp(argv[i], "--passes") == 0       ? &passes
                  : strcmp(argv[i], "--exhaustive") == 0 ? &exhaustive
                                                         : NULL;
        good = to && (*to = count_of(argv[i + 1])) > 0 && passes <= PASSES_MAX;
    }
    if (!good) {
        fputs("use it so: find_speed INDEX QUERIES [--passes N] [--exhaustive N]\n", stderr);
        return 2;
    }
    today = (int32_t)(time(NULL) / 86400);
    read_queries(argv[2]);
    run(argv[1], passes, exhaustive);
    for (int i = 0; i < query_count; i++)
        free(queries[i].text);
    for (int i = 0; i < kind_count; i++)
        free(kinds[i]);
    return 0;
}
