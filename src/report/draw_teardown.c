/* The teardown: drawings of what waits for what, or a list. */
#include "report/draw.h"
#include "report/draw_graph.h"

#include <limits.h>

/* "Set aside, lines stay on: condenser, fuel rail. Before radiator: condenser, …" for those who cannot see.
 */
static void describe(struct lb_buf *words, const struct draw_graph *graph)
{
    for (enum draw_what what = 0; what < DRAW_KINDS; what++) {
        const char *between = ": ";
        if (!draw_count_of(graph, what))
            continue;
        lb_buf_puts(words, draw_what_heading(what));
        for (size_t i = 0; i < graph->node_count; i++) {
            if (graph->nodes[i].what != what)
                continue;
            lb_buf_printf(words, "%s%s%s", between, graph->nodes[i].name,
                          graph->nodes[i].sure ? "" : " (to be asked)");
            between = ", ";
        }
        lb_buf_puts(words, ". ");
    }
    for (size_t i = 0; i < graph->node_count; i++) {
        bool first = true;
        for (size_t e = 0; e < graph->edge_count; e++) {
            if (graph->edges[e].to != i)
                continue;
            if (first)
                lb_buf_printf(words, "Before %s: ", graph->nodes[i].name);
            lb_buf_printf(words, "%s%s", first ? "" : ", ", graph->nodes[graph->edges[e].from].name);
            first = false;
        }
        lb_buf_puts(words, first ? "" : ". ");
    }
}

/* A drawing as a file of its own. `described` is what its words tell of; NULL: they were told before. */
static void put_svg(struct lb_buf *out, const struct lb_buf *body, int width, int height,
                    const struct draw_graph *described, const char *kit_name)
{
    struct lb_buf words = {0}, title = {0};
    if (described)
        describe(&words, described);
    else
        lb_buf_puts(&words, "The list goes on.");
    lb_buf_printf(&title, "Teardown of the kit %s", kit_name);
    if (described && described->number)
        lb_buf_printf(&title, ", drawing %zu", described->number);
    lb_svg_begin(out, width, height, lb_buf_text(&title), lb_buf_text(&words));
    lb_buf_append(out, lb_buf_text(body), body->length);
    lb_svg_end(out);
    out->failed = out->failed || body->failed || words.failed || title.failed;
    lb_buf_free(&words);
    lb_buf_free(&title);
}

/* All of them below one another. */
static void put_together(struct lb_buf *out, const struct draw_pieces *pieces, const struct draw_graph *whole,
                         const char *kit_name)
{
    struct lb_buf body = {0};
    int widest = 0, y = 0;
    for (size_t i = 0; i < pieces->count; i++) {
        int width;
        if (y)
            lb_svg_group(&body, 0, y);
        int height = draw_put_teardown(&body, &pieces->at[i], pieces->count, &width);
        if (y)
            lb_svg_group_end(&body);
        y += height;
        widest = width > widest ? width : widest;
    }
    put_svg(out, &body, widest, y, whole, kit_name);
    lb_buf_free(&body);
}

static void put_list(struct lb_buf *out, const struct draw_graph *graph, size_t *next, int most,
                     const char *kit_name)
{
    struct lb_buf body = {0};
    const struct draw_graph *described = *next ? NULL : graph;
    int height = draw_put_list(&body, graph, next, most);
    put_svg(out, &body, DRAW_LIST, height, described, kit_name);
    lb_buf_free(&body);
}

static lb_status make(struct draw_graph *graph, struct draw_pieces *pieces, const struct lb_kit *kit,
                      struct lb_error *err)
{
    *pieces = (struct draw_pieces){0};
    lb_status status = draw_graph_make(graph, kit, err);
    return status || graph->crowded ? status : draw_pieces_make(pieces, graph, err);
}

lb_status lb_draw_teardown(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err)
{
    struct draw_graph graph;
    struct draw_pieces pieces;
    size_t next = 0;
    lb_status status = make(&graph, &pieces, kit, err);
    if (!status && pieces.count)
        put_together(out, &pieces, &graph, kit->name);
    else if (!status)
        put_list(out, &graph, &next, INT_MAX, kit->name);
    draw_pieces_free(&pieces);
    draw_graph_free(&graph);
    return status || !out->failed ? status : lb_fail_nomem(err);
}

/* Every drawing in a buffer of its own; false: together they are more than `most` bytes. */
static bool put_pages(struct lb_buf *pages, const struct draw_pieces *pieces, size_t most,
                      const char *kit_name)
{
    size_t bytes = 0;
    for (size_t i = 0; i < pieces->count; i++) {
        struct lb_buf body = {0};
        int width, height = draw_put_teardown(&body, &pieces->at[i], pieces->count, &width);
        put_svg(&pages[i], &body, width, height, &pieces->at[i], kit_name);
        lb_buf_free(&body);
        bytes += pages[i].length;
    }
    return bytes <= most;
}

static bool hand_out(lb_draw_page *page, void *context, const struct lb_buf *svg)
{
    if (!svg->failed)
        page(context, svg);
    return !svg->failed;
}

static bool hand_out_list(const struct draw_graph *graph, const char *kit_name, lb_draw_page *page,
                          void *context)
{
    bool well = true;
    size_t next = 0;
    do {
        struct lb_buf svg = {0};
        put_list(&svg, graph, &next, DRAW_HEIGHT, kit_name);
        well = hand_out(page, context, &svg);
        lb_buf_free(&svg);
    } while (well && next);
    return well;
}

lb_status lb_draw_teardown_pages(const struct lb_kit *kit, size_t most, lb_draw_page *page, void *context,
                                 struct lb_error *err)
{
    struct draw_graph graph;
    struct draw_pieces pieces;
    struct lb_buf pages[DRAW_PIECES_MOST] = {0};
    lb_status status = make(&graph, &pieces, kit, err);
    bool well = true;
    graph.large = !status && !put_pages(pages, &pieces, most, kit->name);
    for (size_t i = 0; !status && well && i < pieces.count && !graph.large; i++)
        well = hand_out(page, context, &pages[i]);
    if (!status && (graph.large || !pieces.count))
        well = hand_out_list(&graph, kit->name, page, context);
    for (size_t i = 0; i < DRAW_PIECES_MOST; i++)
        lb_buf_free(&pages[i]);
    draw_pieces_free(&pieces);
    draw_graph_free(&graph);
    return status || well ? status : lb_fail_nomem(err);
}
