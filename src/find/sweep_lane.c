#include "find/sweep_lane.h"

#include <string.h>

static struct lb_cursor *cursor_of(const struct lane *lane, int term)
{
    return &lane->cursors[(size_t)term * lane->stride];
}

static int64_t title_of(int64_t mark)
{
    return mark & ~(int64_t)15;
}

static void look(struct walker *walker)
{
    int64_t least = LB_CURSOR_END;
    for (int i = 0; i < walker->term_count; i++)
        least = walker->ids[i] < least ? walker->ids[i] : least;
    walker->title = least == LB_CURSOR_END ? least : title_of(least);
}

static lb_status go_to(const struct lane *lane, struct walker *walker, int64_t title, struct lb_error *err)
{
    for (int i = 0; i < walker->term_count; i++) {
        if (walker->ids[i] >= title)
            continue;
        struct lb_cursor *cursor = cursor_of(lane, walker->terms[i]);
        lb_status status = lb_cursor_seek(cursor, title, err);
        if (status)
            return status;
        walker->ids[i] = cursor->id;
    }
    look(walker);
    return LB_OK;
}

static bool has_term(const struct sweep_roster *roster, int from, int term)
{
    for (int i = from; i < roster->term_count; i++)
        if (roster->terms[i] == term)
            return true;
    return false;
}

/* A way that stands for several slots is its first one's. */
void sweep_roster(struct sweep_roster *roster, const struct lb_query *q)
{
    roster->term_count = roster->walker_count = 0;
    for (int s = 0; s < q->slot_count; s++) {
        int from = roster->term_from[roster->walker_count] = roster->term_count;
        for (int w = q->slots[s].way_from; w < q->slots[s].way_from + q->slots[s].way_count; w++)
            for (int t = 0; t < q->ways[w].count && roster->term_count < LB_QUERY_WAYS; t++)
                if (!has_term(roster, from, q->ways[w].terms[t]))
                    roster->terms[roster->term_count++] = q->ways[w].terms[t];
        if (roster->term_count > from)
            roster->slots[roster->walker_count++] = s;
    }
    roster->term_from[roster->walker_count] = roster->term_count;
}

static void sort_walkers(struct lane *lane)
{
    for (int i = 1; i < lane->open_count; i++) {
        struct walker *moved = lane->order[i];
        int to = i;
        for (; to > 0 && lane->order[to - 1]->title > moved->title; to--)
            lane->order[to] = lane->order[to - 1];
        lane->order[to] = moved;
    }
    while (lane->open_count && lane->order[lane->open_count - 1]->title == LB_CURSOR_END)
        lane->open_count--;
}

static lb_status reopen_cursors(const struct lane *lane, const struct lb_sweep *sweep,
                                const struct lb_query *q, size_t run, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int term = 0; !status && sweep->walked && term < q->term_count; term++)
        status = lb_cursor_open(cursor_of(lane, term), sweep->pairs, run, q->terms[term].key,
                                q->terms[term].length, err);
    return status;
}

lb_status lane_open(struct lane *lane, const struct lb_sweep *sweep, const struct lb_query *query,
                    const struct sweep_roster *roster, size_t run, struct lb_error *err)
{
    lane->cursors = sweep->cursors + run;
    lane->stride = lb_pairs_run_count(sweep->pairs);
    lane->open_count = roster->walker_count;
    lane->from = 0;
    lb_status status = reopen_cursors(lane, sweep, query, run, err);
    for (int i = 0; !status && i < roster->walker_count; i++) {
        struct walker *walker = lane->order[i] = &lane->walkers[i];
        int from = roster->term_from[i];
        *walker = (struct walker){.slot = roster->slots[i],
                                  .term_count = roster->term_from[i + 1] - from,
                                  .terms = roster->terms + from,
                                  .ids = lane->ids + from};
        for (int t = 0; t < walker->term_count; t++) {
            walker->ids[t] = cursor_of(lane, walker->terms[t])->id;
            walker->titles += query->terms[walker->terms[t]].titles;
        }
        look(walker);
    }
    sort_walkers(lane);
    return status;
}

int lane_class(const struct lane *lane)
{
    return lane->open_count ? lb_mark_class(lane->order[0]->title) : LANE_CLASSES;
}

lb_status lane_advance(struct lane *lane, int64_t title, struct lb_error *err)
{
    lb_status status = LB_OK;
    for (int i = 0; !status && i < lane->open_count && lane->order[i]->title < title; i++)
        status = go_to(lane, lane->order[i], title, err);
    sort_walkers(lane);
    return status;
}

lb_status lane_catch_up(struct lane *lane, int64_t title, struct lb_error *err)
{
    struct walker *rarest = lane->order[0];
    for (int i = 1; i < lane->open_count && lane->order[i]->title < title; i++)
        if (lane->order[i]->titles < rarest->titles)
            rarest = lane->order[i];
    lb_status status = go_to(lane, rarest, title, err);
    sort_walkers(lane);
    return status;
}

void lane_sight(const struct lane *lane, struct lb_sighting *sighting)
{
    int64_t title = lane->order[0]->title;
    for (int i = 0; i < sighting->seen_count; i++)
        sighting->places[sighting->seen[i]] = LB_NO_PLACE;
    sighting->seen_count = 0;
    sighting->opposed = false;
    sighting->length = lb_mark_length(title);
    sighting->type_words = lb_mark_type_words(title);
    for (int i = 0; i < lane->open_count && lane->order[i]->title == title; i++)
        for (int t = 0; t < lane->order[i]->term_count; t++) {
            int term = lane->order[i]->terms[t];
            int64_t mark = lane->order[i]->ids[t];
            if (title_of(mark) != title || sighting->places[term] != LB_NO_PLACE)
                continue;
            sighting->places[term] = (unsigned char)lb_mark_place(mark);
            sighting->seen[sighting->seen_count++] = term;
        }
}

lb_status lane_sight_opposites(struct lane *lane, const struct lb_query *query, int64_t title,
                               struct lb_sighting *sighting, struct lb_error *err)
{
    for (int term = query->opposite_from; term < query->term_count; term++) {
        struct lb_cursor *cursor = cursor_of(lane, term);
        lb_status status = lb_cursor_seek(cursor, title, err);
        if (status)
            return status;
        sighting->opposed |= cursor->id != LB_CURSOR_END && title_of(cursor->id) == title;
    }
    return LB_OK;
}
