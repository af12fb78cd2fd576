/* What a vehicle costs or saves inside a process that stays: every query is asked without and with the list
 * of the vehicle, in turn, so that what else the machine does meets both alike. find_vehicle.py makes the
 * index and the queries.
 *
 *     find_vehicle INDEX VEHICLE QUERIES [PASSES]
 *
 * QUERIES: a line each, kind<TAB>text (find_queries.py). Milliseconds: of each query the least of its passes.
 * `filled`: queries whose page the vehicle's parts fill. */
#include "find/find.h"
#include "garage/fitting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { QUERIES = 20000, SHOWN = 10, PASSES = 5, PASSES_MAX = 1000 };

struct query {
    char *kind, *text;
    double plain, vehicle;
    bool filled;
};

static struct query queries[QUERIES];
static int query_count;

static void fail(const char *what, const char *why)
{
    fprintf(stderr, "find_vehicle: %s: %s\n", what, why);
    exit(1);
}

static double now(void)
{
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return 1e3 * (double)at.tv_sec + 1e-6 * (double)at.tv_nsec;
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
        queries[query_count++] = (struct query){
            .kind = strdup(line), .text = strdup(tab + 1), .plain = INFINITY, .vehicle = INFINITY};
    }
    fclose(file);
    if (!query_count)
        fail(path, "no queries");
}

static bool is_filled(const struct lb_find_result *result)
{
    size_t own = 0;
    for (size_t i = 0; i < result->hit_count; i++)
        own += result->hits[i].fit == LB_FIND_FITS || result->hits[i].asks;
    return own >= SHOWN;
}

static double ask(struct lb_finder *finder, struct query *query, const struct lb_shortlist *shortlist)
{
    struct lb_find_request request = {
        .text = query->text, .limit = SHOWN, .today = (int32_t)(time(NULL) / 86400), .shortlist = shortlist};
    struct lb_find_result *result;
    struct lb_error err = {0};
    double begin = now();
    if (lb_find(finder, &request, &result, &err))
        fail(query->text, lb_error_text(&err));
    double took = now() - begin;
    if (shortlist)
        query->filled = is_filled(result);
    lb_find_free(result);
    return took;
}

/* The first pass warms up and does not count. */
static void time_all(struct lb_finder *finder, const struct lb_shortlist *shortlist, int passes)
{
    for (int pass = 0; pass <= passes; pass++)
        for (int i = 0; i < query_count; i++) {
            double plain = ask(finder, &queries[i], NULL), vehicle = ask(finder, &queries[i], shortlist);
            if (!pass)
                continue;
            queries[i].plain = fmin(queries[i].plain, plain);
            queries[i].vehicle = fmin(queries[i].vehicle, vehicle);
        }
}

static int compare_times(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double percentile(const double *sorted, int count, double share)
{
    int rank = (int)ceil(share * count);
    return sorted[rank < 1 ? 0 : rank - 1];
}

/* `kind` NULL: all of them. */
static void print_kind(const char *kind)
{
    static double plain[QUERIES], vehicle[QUERIES];
    int count = 0, filled = 0, quicker = 0;
    for (int i = 0; i < query_count; i++) {
        if (kind && strcmp(queries[i].kind, kind) != 0)
            continue;
        plain[count] = queries[i].plain;
        vehicle[count++] = queries[i].vehicle;
        filled += queries[i].filled;
        quicker += queries[i].vehicle < queries[i].plain;
    }
    qsort(plain, (size_t)count, sizeof *plain, compare_times);
    qsort(vehicle, (size_t)count, sizeof *vehicle, compare_times);
    printf("%-14s %7d %7d %8d %9.3f %9.3f %9.3f %9.3f\n", kind ? kind : "all", count, filled, quicker,
           percentile(plain, count, 0.5), percentile(vehicle, count, 0.5), percentile(plain, count, 0.99),
           percentile(vehicle, count, 0.99));
}

static bool is_first_of_kind(int index)
{
    for (int i = 0; i < index; i++)
        if (strcmp(queries[i].kind, queries[index].kind) == 0)
            return false;
    return true;
}

static void print_all(void)
{
    printf("%-14s %7s %7s %8s %9s %9s %9s %9s\n", "kind", "queries", "filled", "quicker", "p50", "p50 veh.",
           "p99", "p99 veh.");
    for (int i = 0; i < query_count; i++)
        if (is_first_of_kind(i))
            print_kind(queries[i].kind);
    print_kind(NULL);
}

/* Which query the vehicle costs most. */
static void print_dearest(void)
{
    const struct query *dearest = &queries[0];
    for (int i = 1; i < query_count; i++)
        if (queries[i].vehicle - queries[i].plain > dearest->vehicle - dearest->plain)
            dearest = &queries[i];
    printf("dearest: %.3f for %.3f: %s\n", dearest->vehicle, dearest->plain, dearest->text);
}

static void run(const char *index, const char *vehicle, int passes)
{
    struct lb_error err = {0};
    struct lb_store *store;
    struct lb_finder *finder;
    struct lb_fitting *fitting;
    if (lb_store_open(&store, index, LB_STORE_READ, &err) || lb_find_open(&finder, store, &err))
        fail(index, lb_error_text(&err));
    double begin = now();
    if (lb_fitting_load(&fitting, store, vehicle, &err))
        fail(vehicle, lb_error_text(&err));
    double took = now() - begin;
    const struct lb_shortlist *shortlist = lb_fitting_shortlist(fitting);
    printf("%zu parts for the vehicle, loaded in %.3f ms\n", shortlist->count, took);
    time_all(finder, shortlist, passes);
    print_dearest();
    print_all();
    lb_fitting_free(fitting);
    lb_find_close(finder);
    lb_store_close(store);
}

int main(int argc, char **argv)
{
    int passes = argc == 5 ? atoi(argv[4]) : PASSES;
    if (argc < 4 || argc > 5 || passes < 1 || passes > PASSES_MAX) {
        fputs("use it so: find_vehicle INDEX VEHICLE QUERIES [PASSES]\n", stderr);
        return 2;
    }
    read_queries(argv[3]);
    run(argv[1], argv[2], passes);
    for (int i = 0; i < query_count; i++) {
        free(queries[i].kind);
        free(queries[i].text);
    }
    return 0;
}
