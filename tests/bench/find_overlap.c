#include "find_overlap.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool is_same(const struct lb_find_hit *a, const struct lb_find_hit *b)
{
    return strcmp(a->brand, b->brand) == 0 && strcmp(a->part_number, b->part_number) == 0;
}

static bool scores_same(double a, double b)
{
    return fabs(a - b) <= 1e-9;
}

static bool has(const struct lb_find_result *result, const struct lb_find_hit *hit)
{
    for (size_t i = 0; i < result->hit_count; i++)
        if (is_same(&result->hits[i], hit))
            return true;
    return false;
}

/* What scores more than the last exhaustive hit, or would still have had room there, was missed there. */
static size_t count_held(const struct lb_find_result *quick, const struct lb_find_result *full, int *beyond)
{
    size_t held = 0, count = full->hit_count;
    double border = count == SHOWN ? full->hits[count - 1].score : -INFINITY;
    for (size_t i = 0; i < quick->hit_count; i++) {
        const struct lb_find_hit *hit = &quick->hits[i];
        if (has(full, hit) || scores_same(hit->score, border))
            held++;
        else
            *beyond += hit->score > border;
    }
    return held < count ? held : count;
}

void overlap_add(struct overlap *sum, const struct lb_find_result *quick, const struct lb_find_result *full)
{
    size_t held = count_held(quick, full, &sum->beyond);
    if (!full->hit_count)
        return;
    sum->queries++;
    sum->share += (double)held / (double)full->hit_count;
    sum->alike += quick->hit_count &&
                  (is_same(quick->hits, full->hits) || scores_same(quick->hits->score, full->hits->score));
}

void overlap_join(struct overlap *sum, const struct overlap *more)
{
    sum->asked += more->asked;
    sum->queries += more->queries;
    sum->alike += more->alike;
    sum->beyond += more->beyond;
    sum->share += more->share;
    sum->slow += more->slow;
}

void overlap_print(const char *name, const struct overlap *sum)
{
    double queries = sum->queries ? sum->queries : 1, asked = sum->asked ? sum->asked : 1;
    printf("overlap %-16s %5d queries %.4f  first alike %.4f  beyond %d  exhaustive %.1f ms\n", name,
           sum->queries, sum->share / queries, sum->alike / queries, sum->beyond, sum->slow / asked);
}
