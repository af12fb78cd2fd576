/* One drawing of a teardown: heading, legend, the graph, what hangs together with nothing. */
#include "report/draw_graph.h"

enum { MARGIN = DRAW_MARGIN, LINE = LB_SVG_SIZE + 3, KEY = DRAW_KEY };

/* The kinds that there are, as boxes with their words; from y on; returns the y below. */
static double put_legend(struct lb_buf *out, const struct draw_graph *graph, double y, int width)
{
    double x = MARGIN;
    for (enum draw_what what = 0; what < DRAW_KINDS; what++) {
        const char *heading = draw_what_heading(what);
        double wide = KEY + 6 + lb_svg_width(heading, LB_SVG_SIZE) + 18;
        if (!draw_count_of(graph, what))
            continue;
        if (x > MARGIN && x + wide > width) {
            x = MARGIN;
            y += 22;
        }
        struct lb_svg_box box = draw_key_of(what, x, y);
        lb_svg_box(out, &box);
        lb_svg_text(out, &(struct lb_svg_words){.x = x + KEY + 6, .y = y + 12}, heading);
        x += wide;
    }
    return y + 22;
}

static void put_node(struct lb_buf *out, const struct draw_node *node)
{
    struct lb_svg_box box = draw_box_of(node->what, node->x - node->width / 2, node->y - node->height / 2,
                                        node->width, node->height);
    struct lb_svg_words words = {.x = node->x,
                                 .y = box.y + DRAW_PAD + LB_SVG_SIZE - 1,
                                 .anchor = LB_SVG_MIDDLE,
                                 .bold = node->what == DRAW_RENEW || node->what == DRAW_REFIT};
    lb_svg_box(out, &box);
    words.y = lb_svg_paragraph(out, &words, DRAW_WORDS, node->name);
    words.bold = false;
    words.dim = true;
    struct lb_buf what = {0};
    draw_node_words(&what, node);
    lb_svg_paragraph(out, &words, DRAW_WORDS, lb_buf_text(&what));
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

/* "Drawing 1 of 3: radiator, hoses": which it is, and what it leads to. */
static void put_heading(struct lb_buf *out, const struct draw_graph *graph, size_t count)
{
    const char *between = ": what is in the way of ";
    lb_buf_printf(out, "Drawing %zu of %zu", graph->number, count);
    for (size_t i = 0; i < graph->node_count && graph->edge_count; i++) {
        bool last = true;
        for (size_t e = 0; e < graph->edge_count; e++)
            last = last && graph->edges[e].from != i;
        if (!last)
            continue;
        lb_buf_printf(out, "%s%s", between, graph->nodes[i].name);
        between = ", ";
    }
}

/* What stands over the graph; returns the y below. */
static double put_head(struct lb_buf *body, const struct draw_graph *graph, size_t count, int width)
{
    struct lb_svg_words words = {.x = MARGIN, .y = MARGIN};
    if (graph->number) {
        struct lb_buf heading = {0};
        put_heading(&heading, graph, count);
        words.y += LB_SVG_SIZE;
        words.bold = true;
        words.y = lb_svg_paragraph(body, &words, width - 2 * MARGIN, lb_buf_text(&heading));
        words.bold = false;
        body->failed = body->failed || heading.failed;
        lb_buf_free(&heading);
    }
    words.y = put_legend(body, graph, words.y, width);
    if (!graph->edge_count)
        return words.y;
    words.y += LINE;
    lb_svg_text(body, &words, "What an arrow comes from must be out of the way before what it points to.");
    if (doubtful(graph)) {
        words.y += LINE;
        lb_svg_text(body, &words, "(ask) and broken arrows: only with certain facts that are not known yet.");
    }
    return words.y;
}

static double put_alone(struct lb_buf *body, struct draw_graph *graph, double y)
{
    struct lb_svg_words words = {.x = MARGIN, .y = y + LINE + 6};
    lb_svg_text(body, &words,
                graph->edge_count || graph->number
                    ? "Needs nothing else out of the way, and is in nothing's way:"
                    : "Nothing is in the way of anything:");
    y = place_alone(graph, y + 2 * LINE);
    for (size_t i = 0; i < graph->node_count; i++)
        if (graph->nodes[i].alone)
            put_node(body, &graph->nodes[i]);
    return y;
}

int draw_put_teardown(struct lb_buf *body, struct draw_graph *graph, size_t count, int *width)
{
    double wide = graph->width > DRAW_WIDTH ? graph->width : DRAW_WIDTH;
    *width = (int)wide + 2 * MARGIN;
    double y = put_head(body, graph, count, *width);
    if (graph->edge_count) {
        put_graph(body, graph, y + LINE, MARGIN + (wide - graph->width) / 2);
        y += LINE + graph->height;
    }
    if (count_alone(graph))
        y = put_alone(body, graph, y);
    return (int)y + MARGIN + 1;
}

double draw_teardown_frame(const struct draw_graph *graph)
{
    struct draw_graph bare = *graph;
    struct lb_buf body = {0};
    int width;
    bare.width = bare.height = 0;
    double height = draw_put_teardown(&body, &bare, DRAW_PIECES_MOST, &width);
    lb_buf_free(&body);
    return height;
}
