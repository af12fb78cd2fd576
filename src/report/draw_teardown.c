/* The teardown: a graph when it was placed, else a list. */
#include "base/vec.h"
#include "report/draw.h"
#include "report/draw_graph.h"
#include "report/svg.h"

#include <string.h>

enum { MARGIN = 10, LINE = LB_SVG_SIZE + 3, LIST_WIDTH = 400, KEY = 34 };

static const struct {
    enum lb_svg_line line;
    double round;
    const char *fill;
} looks[DRAW_KINDS] = {
    [DRAW_RENEW] = {LB_SVG_THICK, 0, "#fff0b8"},  [DRAW_REFIT] = {LB_SVG_THICK, 0, NULL},
    [DRAW_DRAIN] = {LB_SVG_SOLID, 18, "#e0f0ff"}, [DRAW_REMOVE] = {LB_SVG_SOLID, 0, NULL},
    [DRAW_ASIDE] = {LB_SVG_DASHED, 6, NULL},      [DRAW_LOOSEN] = {LB_SVG_DOTTED, 12, "#f2f2f2"},
};

static struct lb_svg_box box_of(enum draw_what what, double x, double y, double width, double height)
{
    return (struct lb_svg_box){x, y, width, height, looks[what].round, looks[what].line, looks[what].fill};
}

static size_t count_of(const struct draw_graph *graph, enum draw_what what)
{
    size_t count = 0;
    for (size_t i = 0; i < graph->node_count; i++)
        count += graph->nodes[i].what == what;
    return count;
}

/* "Set aside, lines stay on: condenser, fuel rail. Before radiator: condenser, …" for those who cannot see.
 */
static void describe(struct lb_buf *words, const struct draw_graph *graph)
{
    for (enum draw_what what = 0; what < DRAW_KINDS; what++) {
        const char *between = ": ";
        if (!count_of(graph, what))
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

/* The kinds that there are, as boxes with their words; returns the y below. */
static double put_legend(struct lb_buf *out, const struct draw_graph *graph, int width)
{
    double x = MARGIN, y = MARGIN;
    for (enum draw_what what = 0; what < DRAW_KINDS; what++) {
        const char *heading = draw_what_heading(what);
        double wide = KEY + 6 + lb_svg_width(heading, LB_SVG_SIZE) + 18;
        if (!count_of(graph, what))
            continue;
        if (x > MARGIN && x + wide > width) {
            x = MARGIN;
            y += 22;
        }
        struct lb_svg_box box = box_of(what, x, y, KEY, 16);
        box.round = box.round > 8 ? 8 : box.round;
        lb_svg_box(out, &box);
        lb_svg_text(out, &(struct lb_svg_words){.x = x + KEY + 6, .y = y + 12}, heading);
        x += wide;
    }
    return y + 22;
}

static void put_node(struct lb_buf *out, const struct draw_node *node)
{
    struct lb_svg_box box =
        box_of(node->what, node->x - node->width / 2, node->y - node->height / 2, node->width, node->height);
    struct lb_svg_words words = {.x = node->x,
                                 .y = box.y + DRAW_PAD + LB_SVG_SIZE - 1,
                                 .anchor = LB_SVG_MIDDLE,
                                 .bold = node->what == DRAW_RENEW || node->what == DRAW_REFIT};
    lb_svg_box(out, &box);
    words.y = lb_svg_paragraph(out, &words, DRAW_WORDS, node->name);
    words.bold = false;
    words.dim = true;
    struct lb_buf what = {0};
    lb_buf_printf(&what, "%s%s", node->verb, node->sure ? "" : " (ask)");
    lb_svg_text(out, &words, lb_buf_text(&what));
    out->failed = out->failed || what.failed;
    lb_buf_free(&what);
}

static void put_edge(struct lb_buf *out, const struct draw_edge *edge)
{
    if (!edge->curve_count)
        return;
    const struct draw_curve *last = &edge->curves[edge->curve_count - 1];
    lb_buf_puts(out, "<path d=\"");
    for (size_t i = 0; i < edge->curve_count; i++) {
        for (int k = i ? 1 : 0; k < 4; k++) {
            lb_buf_puts(out, k == 0 ? "M" : k == 1 ? "C" : " ");
            lb_svg_number(out, edge->curves[i].x[k]);
            lb_buf_putc(out, ' ');
            lb_svg_number(out, edge->curves[i].y[k]);
        }
    }
    lb_buf_printf(out, "\" fill=\"none\" stroke=\"#555\"%s/>\n",
                  edge->sure ? "" : " stroke-dasharray=\"4 3\"");
    lb_svg_head(out, last->x[0], last->y[0], last->x[3], last->y[3], 8);
}

/* What needs nothing out of the way and is in nobody's: rows below the graph, from y on; NULL out places it
 * only. Returns the y below. */
static double place_alone(struct draw_graph *graph, double y)
{
    double x = MARGIN, tall = 0;
    for (size_t i = 0; i < graph->node_count; i++) {
        struct draw_node *node = &graph->nodes[i];
        if (!node->alone)
            continue;
        if (x + node->width > DRAW_WIDTH + 2 * MARGIN) {
            x = MARGIN;
            y += tall + DRAW_GAP;
            tall = 0;
        }
        node->x = x + node->width / 2;
        node->y = y + node->height / 2;
        x += node->width + DRAW_GAP;
        tall = node->height > tall ? node->height : tall;
    }
    return y + tall;
}

static size_t count_alone(const struct draw_graph *graph)
{
    size_t count = 0;
    for (size_t i = 0; i < graph->node_count; i++)
        count += graph->nodes[i].alone;
    return count;
}

static bool doubtful(const struct draw_graph *graph)
{
    bool doubt = false;
    for (size_t i = 0; i < graph->node_count; i++)
        doubt = doubt || !graph->nodes[i].sure;
    for (size_t i = 0; i < graph->edge_count; i++)
        doubt = doubt || !graph->edges[i].sure;
    return doubt;
}

static void put_graph(struct lb_buf *body, struct draw_graph *graph, double y, double shift)
{
    lb_svg_group(body, shift, y);
    for (size_t i = 0; i < graph->edge_count; i++)
        put_edge(body, &graph->edges[i]);
    for (size_t i = 0; i < graph->node_count; i++)
        if (!graph->nodes[i].alone)
            put_node(body, &graph->nodes[i]);
    lb_svg_group_end(body);
}

/* Returns the height of the whole; *width is its width. */
static int put_all(struct lb_buf *body, struct draw_graph *graph, int *width)
{
    struct lb_svg_words words = {.x = MARGIN};
    double wide = graph->width > DRAW_WIDTH ? graph->width : DRAW_WIDTH;
    *width = (int)wide + 2 * MARGIN;
    double y = put_legend(body, graph, *width);
    if (graph->edge_count) {
        words.y = y + LINE;
        lb_svg_text(body, &words,
                    "What an arrow comes from must be out of the way before what it points to.");
        y += LINE;
        if (doubtful(graph)) {
            words.y = y + LINE;
            lb_svg_text(body, &words,
                        "(ask) and broken arrows: only with certain facts that are not known yet.");
            y += LINE;
        }
        put_graph(body, graph, y + LINE, MARGIN + (wide - graph->width) / 2);
        y += LINE + graph->height;
    }
    if (count_alone(graph)) {
        words.y = y + LINE + 6;
        lb_svg_text(body, &words,
                    graph->edge_count ? "Needs nothing else out of the way, and is in nothing's way:"
                                      : "Nothing is in the way of anything:");
        y = place_alone(graph, y + 2 * LINE);
        for (size_t i = 0; i < graph->node_count; i++)
            if (graph->nodes[i].alone)
                put_node(body, &graph->nodes[i]);
    }
    return (int)y + MARGIN + 1;
}

static double put_group(struct lb_buf *body, const struct draw_graph *graph, enum draw_what what, double y)
{
    struct lb_svg_box box = box_of(what, MARGIN, y + 4, KEY, 16);
    box.round = box.round > 8 ? 8 : box.round;
    lb_svg_box(body, &box);
    struct lb_svg_words words = {.x = MARGIN + KEY + 6, .y = y + 16, .bold = true};
    y = lb_svg_paragraph(body, &words, LIST_WIDTH - 2 * MARGIN - KEY - 6, draw_what_heading(what));
    words.bold = false;
    for (size_t i = 0; i < graph->node_count; i++) {
        const struct draw_node *node = &graph->nodes[i];
        struct lb_buf name = {0};
        if (node->what != what)
            continue;
        lb_buf_printf(&name, "%s%s", node->name, node->sure ? "" : " (to be asked)");
        words.y = y;
        y = lb_svg_paragraph(body, &words, LIST_WIDTH - 2 * MARGIN - KEY - 6, lb_buf_text(&name));
        body->failed = body->failed || name.failed;
        lb_buf_free(&name);
    }
    return y - LINE + 10;
}

static int put_list(struct lb_buf *body, const struct draw_graph *graph, int *width)
{
    const char *why =
        graph->node_count > DRAW_NODES_MOST
            ? "This is too much for a drawing of what waits for what, so here it is as a list, in "
              "the order in which it comes apart."
            : "Graphviz is not built in or not installed, so here is a list, in the order in "
              "which it comes apart, and no drawing of what waits for what.";
    struct lb_svg_words words = {.x = MARGIN, .y = MARGIN + LB_SVG_SIZE, .dim = true};
    *width = LIST_WIDTH;
    double y = lb_svg_paragraph(body, &words, LIST_WIDTH - 2 * MARGIN, why);
    for (enum draw_what what = 0; what < DRAW_KINDS; what++)
        if (count_of(graph, what))
            y = put_group(body, graph, what, y);
    return (int)y + MARGIN;
}

static void put_drawing(struct lb_buf *out, struct draw_graph *graph, bool placed, const char *kit_name)
{
    struct lb_buf body = {0}, words = {0}, title = {0};
    int width, height = placed ? put_all(&body, graph, &width) : put_list(&body, graph, &width);
    describe(&words, graph);
    lb_buf_printf(&title, "Teardown of the kit %s", kit_name);
    lb_svg_begin(out, width, height, lb_buf_text(&title), lb_buf_text(&words));
    lb_buf_append(out, lb_buf_text(&body), body.length);
    lb_svg_end(out);
    out->failed = out->failed || body.failed || words.failed || title.failed;
    lb_buf_free(&body);
    lb_buf_free(&words);
    lb_buf_free(&title);
}

lb_status lb_draw_teardown(struct lb_buf *out, const struct lb_kit *kit, struct lb_error *err)
{
    struct draw_graph graph;
    bool placed = false;
    lb_status status = draw_graph_make(&graph, kit, err);
    if (!status && !graph.crowded)
        status = draw_graph_lay_out(&graph, &placed, err);
    graph.crowded = graph.crowded || graph.width > DRAW_WIDEST;
    placed = placed && !graph.crowded;
    if (!status)
        put_drawing(out, &graph, placed, kit->name);
    draw_graph_free(&graph);
    return status || !out->failed ? status : lb_fail_nomem(err);
}
