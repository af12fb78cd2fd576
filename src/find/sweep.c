#include "find/sweep_lane.h"

#include <stdlib.h>
#include <string.h>

enum {
    FEW = 20000,      /* titles at the most: all are looked at, and counted */
    REMEMBERED = 10,  /* slots at the most: what each set of them can give is worked out once a class */
    WORK_MAX = 45000, /* steps; beyond them all but the shortest titles are left unseen */
    BLOCK_WORK = 40,  /* steps that take as long as reading a block */
};

struct walk {
    struct lb_sweep *sweep;
    const struct lb_ranker *ranker;
    size_t most;
    bool all; /* whatever its score */
    int64_t steps, blocks_before;
    struct lb_error *err;
    struct lane *lanes;
    size_t run_count;
    struct sweep_roster roster;
    struct lb_sighting sighting;
    int class;                     /* of titles, that `given` is about */
    double given[1 << REMEMBERED]; /* by which walkers (bits); below 0: not worked out yet */
};

/* The score that a title must pass. */
static double bar(const struct walk *walk)
{
    return !walk->all && walk->sweep->best.count >= walk->most ? walk->sweep->best.at[0].score : 0;
}

/* What a title of a class that has terms of the given walkers (bits) can get at the most. */
static double work_out(const struct walk *walk, uint32_t set, int class)
{
    int slots[LB_QUERY_WORDS], count = 0;
    for (int i = 0; i < walk->roster.walker_count; i++)
        if (set >> i & 1)
            slots[count++] = walk->roster.slots[i];
    return lb_rank_most(walk->ranker, slots, count, class >> 3, class & 7);
}

static double most_at(struct walk *walk, uint32_t set, int class)
{
    if (walk->roster.walker_count > REMEMBERED)
        return work_out(walk, set, class);
    if (walk->class != class) {
        walk->class = class;
        for (int i = 0; i < 1 << walk->roster.walker_count; i++)
            walk->given[i] = -1;
    }
    if (walk->given[set] < 0)
        walk->given[set] = work_out(walk, set, class);
    return walk->given[set];
}

/* The first walker, among those at titles of a class, at whose title the slots up to it could pass the bar
 * together; -1: none. */
static int find_pivot(struct walk *walk, const struct lane *lane, int class)
{
    double least = bar(walk);
    uint32_t set = 0;
    for (int p = 0; p < lane->open_count && lb_mark_class(lane->order[p]->title) == class; p++) {
        set |= UINT32_C(1) << (lane->order[p] - lane->walkers);
        if (least == 0 || most_at(walk, set, class) > least)
            return p;
    }
    return -1;
}

/* The first class from the given one on in which a title can pass the bar; LANE_CLASSES: none. */
static int find_class(struct walk *walk, int class)
{
    uint32_t all = (uint32_t)((UINT64_C(1) << walk->roster.walker_count) - 1);
    while (class < LANE_CLASSES && bar(walk) > 0 && most_at(walk, all, class) <= bar(walk))
        class ++;
    return class;
}

/* The worst one on top: less, or later among like ones. */
static bool is_worse(const struct lb_swept *a, const struct lb_swept *b)
{
    return a->score < b->score || (a->score == b->score && a->title > b->title);
}

static void sink(struct lb_swept *heap, size_t count, size_t at)
{
    for (size_t child; (child = 2 * at + 1) < count; at = child) {
        if (child + 1 < count && is_worse(&heap[child + 1], &heap[child]))
            child++;
        if (!is_worse(&heap[child], &heap[at]))
            return;
        struct lb_swept moved = heap[at];
        heap[at] = heap[child];
        heap[child] = moved;
    }
}

static lb_status keep(struct walk *walk, struct lb_swept found)
{
    struct lb_sweep *sweep = walk->sweep;
    if (sweep->best.count < walk->most) {
        if (!LB_PUSH(&sweep->best, found))
            return lb_fail_nomem(walk->err);
        if (sweep->best.count == walk->most)
            for (size_t i = sweep->best.count / 2 + 1; i-- > 0;)
                sink(sweep->best.at, sweep->best.count, i);
        return LB_OK;
    }
    sweep->best.at[0] = found;
    sink(sweep->best.at, sweep->best.count, 0);
    return LB_OK;
}

static lb_status judge(struct walk *walk, struct lane *lane, int64_t title)
{
    lane_sight(lane, &walk->sighting);
    walk->sweep->seen++;
    double score = lb_rank(walk->ranker, &walk->sighting, NULL);
    double least = walk->sweep->best.count >= walk->most ? walk->sweep->best.at[0].score : 0;
    if (score <= least || walk->ranker->query->opposite_from == walk->ranker->query->term_count)
        return score > least ? keep(walk, (struct lb_swept){score, title}) : LB_OK;
    lb_status status = lane_sight_opposites(lane, walk->ranker->query, title, &walk->sighting, walk->err);
    if (!status && walk->sighting.opposed)
        score = lb_rank(walk->ranker, &walk->sighting, NULL);
    return !status && score > least ? keep(walk, (struct lb_swept){score, title}) : status;
}

static bool has_worked_enough(const struct walk *walk)
{
    int64_t blocks = lb_pairs_blocks_read(walk->sweep->pairs) - walk->blocks_before;
    return !walk->all && walk->steps + BLOCK_WORK * blocks > WORK_MAX;
}

/* Titles of one class, until none of it can pass the bar any more. */
static lb_status walk_class(struct walk *walk, struct lane *lane, int class)
{
    lb_status status = LB_OK;
    for (int pivot; !status && (pivot = find_pivot(walk, lane, class)) >= 0; walk->steps++) {
        int64_t title = lane->order[pivot]->title;
        if (has_worked_enough(walk))
            break;
        if (lane->order[0]->title < title) {
            walk->sweep->cut = true;
            status = lane_catch_up(lane, title, walk->err);
            continue;
        }
        status = judge(walk, lane, title);
        if (!status)
            status = lane_advance(lane, title + 16, walk->err);
    }
    walk->sweep->cut |= lane_class(lane) == class;
    lane->from = class + 1;
    return status;
}

static int next_class(const struct walk *walk)
{
    int least = LANE_CLASSES;
    for (size_t run = 0; run < walk->run_count; run++) {
        int here = lane_class(&walk->lanes[run]);
        if (here < LANE_CLASSES && here < walk->lanes[run].from)
            here = walk->lanes[run].from;
        least = here < least ? here : least;
    }
    return least;
}

/* Class by class through all runs, so that the bar is as high as it can be before longer titles are met. */
static lb_status walk_lanes(struct walk *walk)
{
    lb_status status = LB_OK;
    for (int next; !status && (next = next_class(walk)) < LANE_CLASSES;) {
        int class = find_class(walk, next);
        walk->sweep->cut |= class > next;
        if (class >= LANE_CLASSES || has_worked_enough(walk)) {
            walk->sweep->cut = true;
            break;
        }
        for (size_t run = 0; !status && run < walk->run_count; run++) {
            struct lane *lane = &walk->lanes[run];
            if (lane_class(lane) < class)
                status = lane_advance(lane, (int64_t) class << 44, walk->err);
            if (!status && lane_class(lane) == class)
                status = walk_class(walk, lane, class);
        }
    }
    return status;
}

static int best_first(const void *left, const void *right)
{
    const struct lb_swept *a = left, *b = right;
    if (a->score != b->score)
        return a->score < b->score ? 1 : -1;
    return (a->title > b->title) - (a->title < b->title);
}

static bool are_few(const struct lb_query *q)
{
    int64_t titles = 0;
    for (int t = 0; t < q->opposite_from; t++)
        titles += q->terms[t].titles;
    return titles <= FEW;
}

lb_status lb_sweep_run(struct lb_sweep *sweep, const struct lb_ranker *ranker, size_t most, bool exhaustive,
                       struct lb_error *err)
{
    struct walk walk = {.sweep = sweep, .ranker = ranker, .most = most, .err = err, .class = -1};
    walk.run_count = lb_pairs_run_count(sweep->pairs);
    walk.blocks_before = lb_pairs_blocks_read(sweep->pairs);
    walk.lanes = malloc((walk.run_count + 1) * sizeof *walk.lanes);
    lb_status status = walk.lanes ? LB_OK : lb_fail_nomem(err);
    sweep->best.count = 0;
    sweep->seen = 0;
    sweep->cut = false;
    memset(walk.sighting.places, LB_NO_PLACE, sizeof walk.sighting.places);
    walk.all = exhaustive || are_few(ranker->query);
    sweep_roster(&walk.roster, ranker->query);
    for (size_t run = 0; !status && run < walk.run_count; run++)
        status = lane_open(&walk.lanes[run], sweep, ranker->query, &walk.roster, run, err);
    sweep->walked = true;
    if (!status)
        status = walk_lanes(&walk);
    if (!status && sweep->best.count > 1)
        qsort(sweep->best.at, sweep->best.count, sizeof *sweep->best.at, best_first);
    free(walk.lanes);
    return status;
}

void lb_sweep_free(struct lb_sweep *sweep)
{
    free(sweep->best.at);
    *sweep = (struct lb_sweep){0};
}
