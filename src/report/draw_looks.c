/* What happens to a node of a teardown: in words, and told apart by outline, corners and fill. */
#include "report/draw_graph.h"

enum { LINE = LB_SVG_SIZE + 3 };

const char *draw_what_words(enum draw_what what)
{
    static const char *const words[] = {"RENEW",  "off and back on", "drain and fill",
                                        "remove", "set aside",       "loosen only"};
    return words[what];
}

const char *draw_what_heading(enum draw_what what)
{
    static const char *const words[] = {"What the job is about: to be renewed",
                                        "What the job is about: off and back on",
                                        "Drained and filled",
                                        "Only in the way: removed",
                                        "Only in the way: set aside, lines stay on",
                                        "Only in the way: loosened"};
    return words[what];
}

static const struct {
    enum lb_svg_line line;
    double round;
    const char *fill;
} looks[DRAW_KINDS] = {
    [DRAW_RENEW] = {LB_SVG_THICK, 0, "#fff0b8"},  [DRAW_REFIT] = {LB_SVG_THICK, 0, NULL},
    [DRAW_DRAIN] = {LB_SVG_SOLID, 18, "#e0f0ff"}, [DRAW_REMOVE] = {LB_SVG_SOLID, 0, NULL},
    [DRAW_ASIDE] = {LB_SVG_DASHED, 6, NULL},      [DRAW_LOOSEN] = {LB_SVG_DOTTED, 12, "#f2f2f2"},
};

struct lb_svg_box draw_box_of(enum draw_what what, double x, double y, double width, double height)
{
    return (struct lb_svg_box){x, y, width, height, looks[what].round, looks[what].line, looks[what].fill};
}

struct lb_svg_box draw_key_of(enum draw_what what, double x, double y)
{
    struct lb_svg_box box = draw_box_of(what, x, y, DRAW_KEY, 16);
    box.round = box.round > 8 ? 8 : box.round;
    return box;
}

size_t draw_count_of(const struct draw_graph *graph, enum draw_what what)
{
    size_t count = 0;
    for (size_t i = 0; i < graph->node_count; i++)
        count += graph->nodes[i].what == what;
    return count;
}

void draw_node_words(struct lb_buf *out, const struct draw_node *node)
{
    lb_buf_printf(out, "%s%s", node->verb, node->sure ? "" : " (ask)");
    if (node->shown)
        lb_buf_printf(out, "; see drawing %zu", node->shown);
    else if (node->more)
        lb_buf_puts(out, "; more follows");
}

void draw_node_size(struct draw_node *node)
{
    struct lb_buf words = {0};
    draw_node_words(&words, node);
    int lines = lb_svg_lines(node->name, LB_SVG_SIZE, DRAW_WORDS) +
                lb_svg_lines(lb_buf_text(&words), LB_SVG_SIZE, DRAW_WORDS);
    node->width = DRAW_NODE;
    node->height = lines * LINE + 2 * DRAW_PAD;
    lb_buf_free(&words);
}
