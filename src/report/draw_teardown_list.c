/* The teardown as a list, page by page. */
#include "report/draw_graph.h"

enum {
    MARGIN = DRAW_MARGIN,
    LINE = LB_SVG_SIZE + 3,
    INSET = MARGIN + DRAW_KEY + 6,
    WIDE = DRAW_LIST - MARGIN - INSET
};

/* Where the list has got to. */
struct list {
    struct lb_buf *body;
    const struct draw_graph *graph;
    double y;
    size_t from, at; /* entries below `from` stand on an earlier page */
    int most;
    bool full;
};

static void put_heading(struct list *list, enum draw_what what)
{
    struct lb_svg_box box = draw_key_of(what, MARGIN, list->y + 4);
    lb_svg_box(list->body, &box);
    struct lb_svg_words words = {.x = INSET, .y = list->y + 16, .bold = true};
    list->y = lb_svg_paragraph(list->body, &words, WIDE, draw_what_heading(what));
}

static void put_entry(struct list *list, const struct draw_node *node)
{
    struct lb_buf name = {0};
    lb_buf_printf(&name, "%s%s", node->name, node->sure ? "" : " (to be asked)");
    struct lb_svg_words words = {.x = INSET, .y = list->y};
    list->y = lb_svg_paragraph(list->body, &words, WIDE, lb_buf_text(&name));
    list->body->failed = list->body->failed || name.failed;
    lb_buf_free(&name);
}

static void put_group(struct list *list, enum draw_what what)
{
    bool begun = false;
    for (size_t i = 0; i < list->graph->node_count && !list->full; i++) {
        const struct draw_node *node = &list->graph->nodes[i];
        if (node->what != what)
            continue;
        if (list->at++ < list->from)
            continue;
        if (!begun)
            put_heading(list, what);
        begun = true;
        put_entry(list, node);
        list->full = list->y > list->most - 4 * LINE;
    }
    if (begun)
        list->y += 10 - LINE;
}

int draw_put_list(struct lb_buf *body, const struct draw_graph *graph, size_t *next, int most)
{
    const char *why =
        *next          ? "The list goes on:"
        : graph->large ? "The drawings of what waits for what would make this page too large (lastbolt draw "
                         "NAME teardown "
                         "has them), so here is a list, in the order in which it comes apart."
        : graph->crowded
            ? "This is too much for a drawing of what waits for what, so here it is as a list, in "
              "the order in which it comes apart."
            : "Graphviz is not built in or not installed, so here is a list, in the order in "
              "which it comes apart, and no drawing of what waits for what.";
    struct list list = {body, graph, .from = *next, .most = most};
    struct lb_svg_words words = {.x = MARGIN, .y = MARGIN + LB_SVG_SIZE, .dim = true};
    list.y = lb_svg_paragraph(body, &words, DRAW_LIST - 2 * MARGIN, why);
    for (enum draw_what what = 0; what < DRAW_KINDS; what++)
        put_group(&list, what);
    *next = list.at < graph->node_count ? list.at : 0;
    return (int)list.y + MARGIN;
}
