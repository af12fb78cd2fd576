/* How the plan's time grows with the service map: 5,000, 10,000 and 20,000 components, three fastenings and
 * two access rows each, one row in ten provisional, nearly all of it reached from one target. Prints seconds
 * and the ratio to the size before. Usage: plan_growth [REPEATS] */
#include "plan/plan.h"

#include "base/decimal.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { FACTS = 6, CIRCUITS = 3 };

static unsigned long long seed = 20261125;

/* SplitMix64: the same map on every machine. */
static unsigned draw(unsigned below)
{
    unsigned long long z = (seed += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (unsigned)((z ^ (z >> 31)) % below);
}

static const uint32_t facts[FACTS] = {0, 1, 2, 3, 4, 5};

static struct lb_row row(uint32_t line)
{
    struct lb_row r = {.line = line};
    if (draw(10) == 0) {
        r.condition = draw(FACTS);
        r.doubts = &facts[r.condition];
        r.doubt_count = 1;
    }
    return r;
}

static void *array(size_t count, size_t size)
{
    void *memory = calloc(count, size);
    if (!memory)
        abort();
    return memory;
}

static const char **names(const char *stem, size_t count)
{
    const char **at = array(count, sizeof *at);
    for (size_t i = 0; i < count; i++) {
        char text[32];
        snprintf(text, sizeof text, "%s-%zu", stem, i);
        at[i] = strdup(text);
    }
    return at;
}

static struct lb_article article(const char *type, const char *spec, int64_t quantity)
{
    return (struct lb_article){type, lb_spec_parse(spec), quantity * LB_MILLION, LB_COUNT, "each"};
}

/* Rows lean on later components only, so that access cannot go round in a circle. */
static uint32_t later(uint32_t i, uint32_t n)
{
    uint32_t reach = n - 1 - i < 60 ? n - 1 - i : 60;
    return i + 1 + draw(reach);
}

static void fill_components(struct lb_map *map, uint32_t n)
{
    struct lb_map_component *rows = array(n, sizeof *rows);
    for (uint32_t i = 0; i < n; i++)
        rows[i] = (struct lb_map_component){.row = row(i + 2),
                                            .component = i,
                                            .article = article("part", NULL, 1),
                                            .off = "remove",
                                            .back = "fit",
                                            .wear_months = draw(4) ? 0 : 60};
    map->component_rows = rows;
    map->component_row_count = n;
}

static void fill_fastenings(struct lb_map *map, uint32_t n)
{
    static const char *const specs[] = {"M6x1.0x20 8.8", "M8x1.25x30 10.9", "18.77x1.78", NULL};
    struct lb_map_fastening *rows = array(3 * (size_t)n, sizeof *rows);
    for (uint32_t i = 0; i < 3 * n; i++)
        rows[i] = (struct lb_map_fastening){.row = row(i + 2),
                                            .component = i / 3,
                                            .article = article("bolt", specs[draw(4)], 1 + draw(6)),
                                            .item = "bolt",
                                            .kind = "bolt",
                                            .reuse = (enum lb_reuse)draw(3),
                                            .at = LB_LOOSENED};
    map->fastenings = rows;
    map->fastening_count = 3 * (size_t)n;
}

static void fill_access(struct lb_map *map, uint32_t n)
{
    struct lb_map_access *rows = array(2 * (size_t)n, sizeof *rows);
    size_t count = 0;
    for (uint32_t i = 0; i + 1 < n; i++)
        for (int k = 0; k < 2; k++)
            rows[count++] = (struct lb_map_access){.row = row((uint32_t)count + 2),
                                                   .thing = {0, i},
                                                   .needs = k ? later(i, n) : i + 1,
                                                   .state = LB_REMOVED};
    map->access = rows;
    map->access_count = count;
}

static void fill_fluids(struct lb_map *map, uint32_t n)
{
    struct lb_map_circuit *circuits = array(CIRCUITS, sizeof *circuits);
    struct lb_map_opens *opens = array(n / 20 + 1, sizeof *opens);
    for (uint32_t c = 0; c < CIRCUITS; c++)
        circuits[c] = (struct lb_map_circuit){.circuit = c,
                                              .fluid = article("coolant", NULL, 7),
                                              .mix = 50 * LB_MILLION,
                                              .diluent = article("water", NULL, 0)};
    for (uint32_t i = 0; i < n / 20; i++)
        opens[i] = (struct lb_map_opens){row(i + 2), draw(n), draw(CIRCUITS),
                                         10 * LB_MILLION * (1 + draw(10)), LB_REMOVED};
    map->circuit_rows = circuits;
    map->circuit_row_count = CIRCUITS;
    map->opens = opens;
    map->opens_count = n / 20;
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static double time_plan(const struct lb_map *map, size_t *lines)
{
    const struct lb_target target = {.row = {.source = LB_NO_NAME}, .thing = {0, 0}};
    struct lb_error err = {0};
    struct lb_plan *plan;
    double begin = seconds();
    if (lb_plan_make(&plan, map, &target, 1, &err)) {
        fprintf(stderr, "%s\n", lb_error_text(&err));
        exit(1);
    }
    double took = seconds() - begin;
    *lines = plan->need_count;
    lb_plan_free(plan);
    return took;
}

/* The memory of a map is left to the end of the process: this is a benchmark. */
static double best_of(uint32_t n, int repeats, size_t *lines)
{
    struct lb_map map = {
        .component_count = n, .circuit_count = CIRCUITS, .fact_count = FACTS, .condition_count = FACTS};
    static const char *source[] = {"generated"};
    map.sources = source;
    map.components = names("component", n);
    map.circuits = names("circuit", CIRCUITS);
    map.facts = names("fact", FACTS);
    fill_components(&map, n);
    fill_fastenings(&map, n);
    fill_access(&map, n);
    fill_fluids(&map, n);
    double best = 1e9;
    for (int i = 0; i < repeats; i++) {
        double took = time_plan(&map, lines);
        best = took < best ? took : best;
    }
    return best;
}

int main(int argc, char **argv)
{
    int repeats = argc > 1 ? atoi(argv[1]) : 5;
    double before = 0;
    printf("components  fastenings  access  needs    seconds  ratio\n");
    for (uint32_t n = 5000; n <= 20000; n *= 2) {
        size_t lines;
        double took = best_of(n, repeats, &lines);
        printf("%10u  %10u  %6u  %5zu  %9.4f  %s%.2f\n", n, 3 * n, 2 * n, lines, took, before > 0 ? "" : "-",
               before > 0 ? took / before : 0.0);
        before = took;
    }
    return 0;
}
