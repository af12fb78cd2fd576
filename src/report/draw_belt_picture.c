/* The picture of a run: pulleys to scale, the belt, which way everything turns, names where there is room. */
#include "report/draw_belt.h"
#include "report/svg.h"

#include <math.h>

enum { LABEL = 92, WAYS = 16 };

struct rectangle {
    double left, top, right, bottom;
};

struct picture {
    struct lb_buf *out;
    const struct belt_view *view;
    double scale, x0, y0;    /* px = x0 + scale × x, y0 - scale × y */
    struct rectangle within; /* where labels may stand */
    struct rectangle labels[LB_BELT_MOST];
    size_t label_count;
};

static const struct lb_map_pulley *row_of(const struct belt_view *view, size_t i)
{
    return &view->kit->plan->map->pulleys[view->mapped.rows[i]];
}

static double radius_of(const struct picture *p, size_t i)
{
    return (double)row_of(p->view, i)->diameter / 2e6 * p->scale;
}

static struct lb_belt_point centre_of(const struct picture *p, size_t i)
{
    const struct lb_map_pulley *row = row_of(p->view, i);
    return (struct lb_belt_point){p->x0 + p->scale * (double)row->x / 1e6,
                                  p->y0 - p->scale * (double)row->y / 1e6};
}

static struct lb_belt_point place(const struct picture *p, struct lb_belt_point mm)
{
    return (struct lb_belt_point){p->x0 + p->scale * mm.x, p->y0 - p->scale * mm.y};
}

/* The scale at which all circles fit, and where the origin comes to stand. Returns the picture's height. */
static double set_scale(struct picture *p, double y)
{
    struct rectangle mm = {1e9, -1e9, -1e9, 1e9};
    for (size_t i = 0; i < p->view->run.count; i++) {
        const struct lb_map_pulley *row = row_of(p->view, i);
        double radius = (double)row->diameter / 2e6, x = (double)row->x / 1e6, up = (double)row->y / 1e6;
        mm.left = fmin(mm.left, x - radius);
        mm.right = fmax(mm.right, x + radius);
        mm.top = fmax(mm.top, up + radius);
        mm.bottom = fmin(mm.bottom, up - radius);
    }
    double wide = mm.right - mm.left, tall = mm.top - mm.bottom;
    p->scale = fmin((BELT_WIDTH - 2 * BELT_SIDE) / wide, BELT_TALL / tall);
    p->x0 = BELT_WIDTH / 2.0 - p->scale * (mm.left + mm.right) / 2;
    p->y0 = y + BELT_ABOVE + p->scale * mm.top;
    double height = tall * p->scale + 2 * BELT_ABOVE;
    p->within = (struct rectangle){2, y, BELT_WIDTH - 2, y + height};
    return height;
}

static void put_pair(struct lb_buf *out, const char *command, struct lb_belt_point point)
{
    lb_buf_puts(out, command);
    lb_svg_number(out, point.x);
    lb_buf_putc(out, ' ');
    lb_svg_number(out, point.y);
}

static void put_arc(struct lb_buf *out, double radius, bool large, bool clockwise, struct lb_belt_point to)
{
    lb_buf_putc(out, 'A');
    lb_svg_number(out, radius);
    lb_buf_putc(out, ' ');
    lb_svg_number(out, radius);
    lb_buf_printf(out, " 0 %d %d", large, clockwise);
    put_pair(out, " ", to);
}

static void put_belt(const struct picture *p)
{
    const struct lb_belt *run = &p->view->run;
    put_pair(p->out, "<path d=\"M", place(p, run->turns[0].on));
    for (size_t i = 0; i < run->count; i++) {
        const struct lb_belt_turn *turn = &run->turns[i];
        put_arc(p->out, radius_of(p, i), turn->wrap > M_PI, turn->clockwise, place(p, turn->off));
        put_pair(p->out, "L", place(p, run->turns[i + 1 < run->count ? i + 1 : 0].on));
    }
    lb_buf_puts(p->out, "Z\" fill=\"none\" stroke=\"#333\" stroke-width=\"3\"/>\n");
    for (size_t i = 0; i < run->count; i++) {
        struct lb_belt_point from = place(p, run->turns[i].off),
                             to = place(p, run->turns[i + 1 < run->count ? i + 1 : 0].on);
        double x = (from.x + to.x) / 2, y = (from.y + to.y) / 2, length = hypot(to.x - from.x, to.y - from.y);
        if (length > 24)
            lb_svg_head(p->out, from.x, from.y, x + (to.x - from.x) / length * 7,
                        y + (to.y - from.y) / length * 7, 14);
    }
}

/* An arrow inside the circle, over its top. */
static void put_rotation(const struct picture *p, size_t i)
{
    struct lb_belt_point at = centre_of(p, i);
    bool clockwise = p->view->run.turns[i].clockwise;
    double radius = radius_of(p, i) - 5, way = clockwise ? 1 : -1, side = radius * sin(M_PI / 3),
           up = radius * cos(M_PI / 3);
    if (radius < 8)
        return;
    put_pair(p->out, "<path d=\"M", (struct lb_belt_point){at.x - way * side, at.y - up});
    put_arc(p->out, radius, false, clockwise, (struct lb_belt_point){at.x + way * side, at.y - up});
    lb_buf_puts(p->out, "\" fill=\"none\" stroke=\"#333\" stroke-width=\"1.2\"/>\n");
    /* The head follows the circle at the end of the arc. */
    lb_svg_head(p->out, at.x + way * side - way * 8 * cos(M_PI / 3), at.y - up - 8 * sin(M_PI / 3),
                at.x + way * side, at.y - up, 8);
}

static void put_circle(const struct picture *p, struct lb_belt_point at, double radius, const char *look)
{
    lb_buf_puts(p->out, "<circle cx=\"");
    lb_svg_number(p->out, at.x);
    lb_buf_puts(p->out, "\" cy=\"");
    lb_svg_number(p->out, at.y);
    lb_buf_puts(p->out, "\" r=\"");
    lb_svg_number(p->out, radius);
    lb_buf_printf(p->out, "\" %s/>\n", look);
}

static void put_pulley(const struct picture *p, size_t i)
{
    const struct lb_map_pulley *row = row_of(p->view, i);
    struct lb_belt_point at = centre_of(p, i);
    double radius = radius_of(p, i);
    struct lb_buf number = {0};
    put_circle(p, at, radius,
               row->back ? "fill=\"#fff\" stroke=\"#333\" stroke-width=\"1.5\" stroke-dasharray=\"4 3\""
                         : "fill=\"#e4ebf3\" stroke=\"#333\"");
    if (row->slack >= 0 && radius > 10)
        put_circle(p, at, radius * .42, "fill=\"none\" stroke=\"#333\" stroke-width=\"1.5\"");
    put_rotation(p, i);
    lb_buf_printf(&number, "%zu", i + 1);
    int size = radius < 13 ? 11 : LB_SVG_SIZE;
    lb_svg_text(p->out,
                &(struct lb_svg_words){
                    .x = at.x, .y = at.y + size * .36, .size = size, .anchor = LB_SVG_MIDDLE, .bold = true},
                lb_buf_text(&number));
    p->out->failed = p->out->failed || number.failed;
    lb_buf_free(&number);
}

static bool meet(const struct rectangle *a, const struct rectangle *b)
{
    return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}

static double clamp(double value, double low, double high)
{
    return value < low ? low : value > high ? high : value;
}

/* The distance of a point from a rectangle; 0 inside. */
static double away(const struct rectangle *box, struct lb_belt_point point)
{
    return hypot(point.x - clamp(point.x, box->left, box->right),
                 point.y - clamp(point.y, box->top, box->bottom));
}

static bool free_for(const struct picture *p, const struct rectangle *box)
{
    const struct lb_belt *run = &p->view->run;
    enum { PIECES = 40 };
    if (box->left < p->within.left || box->right > p->within.right || box->top < p->within.top ||
        box->bottom > p->within.bottom)
        return false;
    for (size_t i = 0; i < p->label_count; i++)
        if (meet(box, &p->labels[i]))
            return false;
    for (size_t i = 0; i < run->count; i++) {
        struct lb_belt_point from = place(p, run->turns[i].off),
                             to = place(p, run->turns[i + 1 < run->count ? i + 1 : 0].on);
        if (away(box, centre_of(p, i)) < radius_of(p, i) + 4)
            return false;
        for (int k = 0; k <= PIECES; k++)
            if (away(box, (struct lb_belt_point){from.x + (to.x - from.x) * k / PIECES,
                                                 from.y + (to.y - from.y) * k / PIECES}) < 7)
                return false;
    }
    return true;
}

static int widest_line(const char *text)
{
    int widest = 0;
    size_t next;
    struct lb_buf part = {0};
    for (; *text; text += next) {
        size_t length = lb_svg_break(text, LB_SVG_SIZE, LABEL, &next);
        lb_buf_clear(&part);
        lb_buf_append(&part, text, length);
        int width = lb_svg_width(lb_buf_text(&part), LB_SVG_SIZE);
        widest = width > widest ? width : widest;
        if (!next)
            break;
    }
    lb_buf_free(&part);
    return widest;
}

/* The name beside its pulley, outwards first, then all round it and farther away; the list below the picture
 * has it in any case. */
static void put_label(struct picture *p, size_t i, struct lb_belt_point middle)
{
    const char *name = p->view->names[i];
    struct lb_belt_point at = centre_of(p, i);
    double wide = widest_line(name), tall = lb_svg_lines(name, LB_SVG_SIZE, LABEL) * (LB_SVG_SIZE + 3),
           outwards = atan2(at.y - middle.y, at.x - middle.x);
    for (int gap = 6; gap <= 22; gap += 8) {
        for (int way = 0; way < WAYS; way++) {
            double angle = outwards + (way % 2 ? -1 : 1) * ((way + 1) / 2) * 2 * M_PI / WAYS;
            double reach =
                radius_of(p, i) + gap +
                fmin(wide / 2 / fmax(fabs(cos(angle)), 1e-9), tall / 2 / fmax(fabs(sin(angle)), 1e-9));
            double x = at.x + reach * cos(angle), y = at.y + reach * sin(angle);
            struct rectangle box = {x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2};
            if (!free_for(p, &box))
                continue;
            lb_svg_paragraph(
                p->out,
                &(struct lb_svg_words){.x = x, .y = box.top + LB_SVG_SIZE - 1, .anchor = LB_SVG_MIDDLE},
                LABEL, name);
            p->labels[p->label_count++] = box;
            return;
        }
    }
}

double belt_put_picture(struct lb_buf *out, const struct belt_view *view, double y)
{
    struct picture p = {.out = out, .view = view};
    struct lb_belt_point middle = {0, 0};
    double height = set_scale(&p, y);
    for (size_t i = 0; i < view->run.count; i++)
        put_pulley(&p, i);
    put_belt(&p);
    for (size_t i = 0; i < view->run.count; i++) {
        middle.x += centre_of(&p, i).x / (double)view->run.count;
        middle.y += centre_of(&p, i).y / (double)view->run.count;
    }
    for (size_t i = 0; i < view->run.count; i++)
        put_label(&p, i, middle);
    return y + height;
}
