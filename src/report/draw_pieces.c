/* A teardown as drawings that can be read. A set of nodes that comes out too small is parted in two, and each
 * of these again; both have fewer nodes than it, so that ends. What is in both stands in both drawings. */
#include "report/draw_graph.h"

#include <stdlib.h>
#include <string.h>

enum {
    TRY_MOST = 48,  /* nodes: more never fit on a page */
    ALONE_MOST = 50 /* nodes of a drawing without edges: ten rows */
};

struct splitter {
    const struct draw_graph *whole;
    struct draw_pieces *pieces;
    size_t *shown; /* by node: the drawing that had it first, from 1 on */
    bool placed;   /* Graphviz did its work so far, and the drawings are not too many */
    bool crowded;  /* they are */
    struct lb_error *err;
};

/* Two sets of nodes that together are the one that was parted; `larger` is the count of the larger. */
struct parting {
    bool *one, *other;
    size_t larger;
};

static size_t count_in(const struct splitter *s, const bool *in)
{
    size_t count = 0;
    for (size_t i = 0; i < s->whole->node_count; i++)
        count += in[i];
    return count;
}

static bool *no_nodes(const struct splitter *s)
{
    return calloc(s->whole->node_count + 1, sizeof(bool));
}

/* Adds what the nodes of `set` wait for, inside `in` and not through `but`; edges come by no order. */
static void add_needs(const struct splitter *s, const bool *in, size_t but, bool *set)
{
    const struct draw_graph *whole = s->whole;
    for (bool more = true; more;) {
        more = false;
        for (size_t e = 0; e < whole->edge_count; e++) {
            size_t from = whole->edges[e].from, to = whole->edges[e].to;
            if (set[to] && in[from] && !set[from] && from != but && to != but)
                set[from] = more = true;
        }
    }
}

/* Nothing of `in` waits for it. */
static bool is_last(const struct splitter *s, const bool *in, size_t node)
{
    for (size_t e = 0; e < s->whole->edge_count; e++)
        if (s->whole->edges[e].from == node && in[s->whole->edges[e].to])
            return false;
    return in[node];
}

static lb_status make_piece(struct splitter *s, struct draw_graph *piece, const bool *in)
{
    bool all = count_in(s, in) == s->whole->node_count;
    const struct draw_graph *whole = s->whole;
    size_t *at = calloc(whole->node_count + 1, sizeof *at);
    *piece = (struct draw_graph){.number = all ? 0 : s->pieces->count + 1};
    piece->nodes = lb_arena_alloc(&piece->arena, (whole->node_count + 1) * sizeof *piece->nodes);
    piece->edges = lb_arena_alloc(&piece->arena, (whole->edge_count + 1) * sizeof *piece->edges);
    if (!at || !piece->nodes || !piece->edges) {
        free(at);
        return lb_fail_nomem(s->err);
    }
    for (size_t i = 0; i < whole->node_count; i++) {
        if (!in[i])
            continue;
        at[i] = piece->node_count;
        piece->nodes[piece->node_count] = whole->nodes[i];
        piece->nodes[piece->node_count].origin = i;
        piece->nodes[piece->node_count++].shown = s->shown[i];
    }
    for (size_t e = 0; e < whole->edge_count; e++) {
        const struct draw_edge *edge = &whole->edges[e];
        if (in[edge->from] && in[edge->to])
            piece->edges[piece->edge_count++] =
                (struct draw_edge){at[edge->from], at[edge->to], edge->sure, NULL, 0};
        else if (in[edge->to] && !s->shown[edge->from])
            piece->nodes[at[edge->to]].more = true;
    }
    for (size_t i = 0; i < piece->node_count; i++)
        draw_node_size(&piece->nodes[i]);
    piece->room = DRAW_HEIGHT - draw_teardown_frame(piece);
    free(at);
    return LB_OK;
}

/* The piece becomes a drawing. */
static void keep_piece(struct splitter *s, struct draw_graph *piece)
{
    if (s->pieces->count == DRAW_PIECES_MOST) {
        s->crowded = true;
        s->placed = false;
        draw_graph_free(piece);
        return;
    }
    s->pieces->at[s->pieces->count++] = *piece;
    for (size_t i = 0; i < piece->node_count; i++)
        if (!s->shown[piece->nodes[i].origin])
            s->shown[piece->nodes[i].origin] = s->pieces->count;
}

static bool readable(const struct draw_graph *piece)
{
    double wide = piece->width + 2 * DRAW_MARGIN, tall = piece->height + DRAW_HEIGHT - piece->room;
    return wide <= DRAW_WIDEST && tall * (wide > DRAW_WIDTH ? DRAW_WIDTH / wide : 1) <= DRAW_HEIGHT;
}

/* *kept: it was small enough, or `anyway`. */
static lb_status try_piece(struct splitter *s, const bool *in, bool anyway, bool *kept)
{
    struct draw_graph piece;
    bool done = true;
    *kept = false;
    lb_status status = make_piece(s, &piece, in);
    if (!status && piece.edge_count)
        status = draw_graph_lay_out(&piece, &done, s->err);
    if (!status && !done)
        s->placed = false;
    if (!status && done)
        *kept = anyway || readable(&piece);
    if (*kept)
        keep_piece(s, &piece);
    else
        draw_graph_free(&piece);
    return status;
}

/* Takes the parting over when its larger half is the smallest yet. */
static void offer(const struct splitter *s, struct parting *best, const bool *one, const bool *other)
{
    size_t a = count_in(s, one), b = count_in(s, other), larger = a > b ? a : b, room = s->whole->node_count;
    if (!a || !b || larger >= best->larger)
        return;
    best->larger = larger;
    memcpy(best->one, one, room);
    memcpy(best->other, other, room);
}

/* A node with all that it waits for, and the rest with that node as if it waited for nothing of its own. */
static void offer_node(const struct splitter *s, const bool *in, size_t node, bool *one, bool *other,
                       struct parting *best)
{
    size_t count = s->whole->node_count;
    memset(one, 0, count);
    memset(other, 0, count);
    one[node] = true;
    for (size_t i = 0; i < count; i++)
        other[i] = i != node && is_last(s, in, i);
    add_needs(s, in, count, one);
    add_needs(s, in, node, other);
    for (size_t e = 0; e < s->whole->edge_count; e++)
        if (s->whole->edges[e].from == node && other[s->whole->edges[e].to])
            other[node] = true;
    offer(s, best, one, other);
}

/* The first of `seeds` with what they wait for, and the others with what those do; `last` (or past the end)
 * stands in both. */
static void offer_seeds(const struct splitter *s, const bool *in, const bool *seeds, size_t last, bool *one,
                        bool *other, struct parting *best)
{
    size_t count = s->whole->node_count;
    for (size_t until = 0; until < count; until++) {
        if (!seeds[until])
            continue;
        for (size_t i = 0; i < count; i++) {
            one[i] = seeds[i] && i <= until;
            other[i] = seeds[i] && i > until;
        }
        add_needs(s, in, count, one);
        add_needs(s, in, count, other);
        if (last < count)
            one[last] = other[last] = true;
        offer(s, best, one, other);
    }
}

/* The best way to part a set of nodes; larger as it was: there is none. */
static void part(const struct splitter *s, const bool *in, bool *one, bool *other, bool *seeds,
                 struct parting *best)
{
    size_t count = s->whole->node_count, lasts = 0, last = 0;
    for (size_t i = 0; i < count; i++) {
        seeds[i] = is_last(s, in, i);
        last = seeds[i] ? i : last;
        lasts += seeds[i];
    }
    if (lasts > 1)
        offer_seeds(s, in, seeds, count, one, other, best);
    for (size_t i = 0; i < count; i++)
        if (in[i] && (lasts > 1 || i != last))
            offer_node(s, in, i, one, other, best);
    if (lasts > 1 || best->larger * 4 <= count_in(s, in) * 3)
        return;
    memset(seeds, 0, count);
    for (size_t e = 0; e < s->whole->edge_count; e++)
        seeds[s->whole->edges[e].from] |= s->whole->edges[e].to == last && in[s->whole->edges[e].from];
    offer_seeds(s, in, seeds, last, one, other, best);
}

/* As deep as there are nodes. */
static lb_status split(struct splitter *s, const bool *in)
{
    size_t count = count_in(s, in);
    bool kept = false;
    lb_status status = count <= TRY_MOST ? try_piece(s, in, false, &kept) : LB_OK;
    if (status || kept || !s->placed)
        return status;
    bool *one = no_nodes(s), *other = no_nodes(s), *seeds = no_nodes(s);
    struct parting best = {no_nodes(s), no_nodes(s), count};
    if (one && other && seeds && best.one && best.other) {
        part(s, in, one, other, seeds, &best);
        status = best.larger == count ? try_piece(s, in, true, &kept) : split(s, best.one);
        if (!status && best.larger < count && s->placed)
            status = split(s, best.other);
    } else {
        status = lb_fail_nomem(s->err);
    }
    free(one);
    free(other);
    free(seeds);
    free(best.one);
    free(best.other);
    return status;
}

/* What hangs together with nothing, some rows a drawing. */
static lb_status add_alone(struct splitter *s, bool *in)
{
    lb_status status = LB_OK;
    bool kept;
    for (size_t i = 0; !status && s->placed && i < s->whole->node_count;) {
        size_t taken = 0;
        memset(in, 0, s->whole->node_count);
        for (; i < s->whole->node_count && taken < ALONE_MOST; i++) {
            in[i] = s->whole->nodes[i].alone;
            taken += in[i];
        }
        if (taken)
            status = try_piece(s, in, true, &kept);
    }
    return status;
}

static lb_status make_pieces(struct splitter *s, bool *in)
{
    size_t count = s->whole->node_count;
    bool kept = false;
    memset(in, 1, count); /* all in one, if that can be */
    lb_status status = count <= TRY_MOST || !s->whole->edge_count ? try_piece(s, in, !count, &kept) : LB_OK;
    if (status || kept || !s->placed)
        return status;
    for (size_t i = 0; i < count; i++)
        in[i] = !s->whole->nodes[i].alone;
    status = s->whole->edge_count ? split(s, in) : LB_OK;
    return status ? status : add_alone(s, in);
}

lb_status draw_pieces_make(struct draw_pieces *pieces, struct draw_graph *graph, struct lb_error *err)
{
    struct splitter s = {.whole = graph, .pieces = pieces, .placed = true, .err = err};
    *pieces = (struct draw_pieces){0};
    pieces->at = calloc(DRAW_PIECES_MOST, sizeof *pieces->at);
    s.shown = calloc(graph->node_count + 1, sizeof *s.shown);
    bool *in = no_nodes(&s);
    lb_status status = pieces->at && s.shown && in ? make_pieces(&s, in) : lb_fail_nomem(err);
    graph->crowded = graph->crowded || s.crowded;
    free(s.shown);
    free(in);
    if (status || !s.placed)
        draw_pieces_free(pieces);
    return status;
}

void draw_pieces_free(struct draw_pieces *pieces)
{
    for (size_t i = 0; i < pieces->count; i++)
        draw_graph_free(&pieces->at[i]);
    free(pieces->at);
    *pieces = (struct draw_pieces){0};
}
