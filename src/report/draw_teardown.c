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

/* A drawing as a file of its own. `described` is what its words tell of. */
static void put_svg(struct lb_buf *out, const struct lb_buf *body, int width, int height,
                    const struct draw_graph *described, const char *kit_name)
{
    struct lb_buf words = {0}, title = {0};
    describe(&words, described);
    lb_buf_printf(&title, "Teardown of the kit %s", kit_name);
    if (described->number)
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
    int height = draw_put_list(&body, graph, next, most);
    put_svg(out, &body, DRAW_LIST, height, graph, kit_name);
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

static bool hand_out(lb_draw_page *page, void *context, struct lb_buf *svg)
{
    bool failed = svg->failed;
    if (!failed)
        page(context, svg);
    lb_buf_free(svg);
    return !failed;
}

lb_status lb_draw_teardown_pages(const struct lb_kit *kit, lb_draw_page *page, void *context,
                                 struct lb_error *err)
{
    struct draw_graph graph;
    struct draw_pieces pieces;
    struct lb_buf svg = {0};
    bool well = true;
    size_t next = 0;
    lb_status status = make(&graph, &pieces, kit, err);
    for (size_t i = 0; !status && well && i < pieces.count; i++) {
        struct lb_buf body = {0};
        int width, height = draw_put_teardown(&body, &pieces.at[i], pieces.count, &width);
        put_svg(&svg, &body, width, height, &pieces.at[i], kit->name);
        lb_buf_free(&body);
        well = hand_out(page, context, &svg);
    }
    for (bool more = !pieces.count; !status && well && more; more = next > 0) {
        put_list(&svg, &graph, &next, DRAW_HEIGHT, kit->name);
        well = hand_out(page, context, &svg);
    }
    draw_pieces_free(&pieces);
    draw_graph_free(&graph);
    return status || well ? status : lb_fail_nomem(err);
}
