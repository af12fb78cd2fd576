/* Tools: those that rows name, sockets for threads of which no row names one, torque wrenches, the angle
 * gauge. */
#include "report/sheet_page.h"

#include "base/decimal.h"
#include "plan/wrenches.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

static bool is_disturbed(const struct sheet *sheet, const struct lb_map_fastening *row)
{
    return row->component != LB_NO_NAME && sheet->plan->levels[row->component] >= row->at;
}

/* What has a hexagon, as a rule; studs and pins have none. */
static bool has_head(const char *kind)
{
    return strcmp(kind, "bolt") == 0 || strcmp(kind, "nut") == 0 || strcmp(kind, "screw") == 0;
}

static size_t put_named(struct sheet *sheet)
{
    for (size_t i = 0; i < sheet->plan->tool_count; i++)
        sheet_tick_item(sheet, "tool", i + 1, sheet->plan->tools[i]);
    return sheet->plan->tool_count;
}

enum { LARGEST_FLATS = 100 };

/* By width across flats, so that each socket is named once: the thread that asks for it, 0: none does. */
static void find_sockets(const struct sheet *sheet, int32_t diameters[LARGEST_FLATS])
{
    for (size_t i = 0; i < sheet->map->fastening_count; i++) {
        const struct lb_map_fastening *row = &sheet->map->fastenings[i];
        if (row->tool || !is_disturbed(sheet, row) || !has_head(row->kind) ||
            row->article.spec.kind != LB_SPEC_THREAD)
            continue;
        int flats = lb_thread_across_flats(row->article.spec.diameter);
        if (flats > 0 && flats < LARGEST_FLATS)
            diameters[flats] = row->article.spec.diameter;
    }
}

static size_t put_sockets(struct sheet *sheet, size_t number)
{
    int32_t diameters[LARGEST_FLATS] = {0};
    find_sockets(sheet, diameters);
    for (int flats = 0; flats < LARGEST_FLATS; flats++) {
        if (!diameters[flats])
            continue;
        lb_buf_printf(&sheet->words, "%d mm socket for M", flats);
        lb_decimal_print(&sheet->words, (int64_t)diameters[flats] * 1000);
        lb_buf_puts(&sheet->words, ": by ISO 272 for a hexagon head; the bolt at hand decides");
        sheet_tick_item(sheet, "tool", ++number, lb_buf_text(&sheet->words));
        lb_buf_clear(&sheet->words);
    }
    return number;
}

static bool has_angle(const struct sheet *sheet)
{
    for (size_t i = 0; i < sheet->map->fastening_count; i++)
        if (sheet->map->fastenings[i].angle && is_disturbed(sheet, &sheet->map->fastenings[i]))
            return true;
    return false;
}

/* Of the wrenches that are good for all values of a group, where the range may end. */
static void put_range(struct sheet *sheet, const struct lb_wrench *wrench)
{
    int64_t furthest = lb_decimal_muldiv(wrench->least, LB_WRENCH_SPAN, 1);
    lb_buf_puts(&sheet->words, furthest > wrench->most ? "between " : "at ");
    sheet_put_newton_metres(&sheet->words, wrench->most);
    if (furthest > wrench->most) {
        lb_buf_puts(&sheet->words, " and ");
        sheet_put_newton_metres(&sheet->words, furthest);
    }
    lb_buf_puts(&sheet->words, " N·m");
}

static void put_wrench(struct sheet *sheet, const struct lb_wrench *wrench, size_t number)
{
    lb_buf_puts(&sheet->words, "Torque wrench for ");
    lb_report_torque(&sheet->words, wrench->least, 0);
    if (wrench->most > wrench->least) {
        lb_buf_puts(&sheet->words, " to ");
        lb_report_torque(&sheet->words, wrench->most, 0);
    }
    lb_buf_printf(&sheet->words, ", %zu catalogue value%s: one whose range ends ", wrench->count,
                  lb_page_plural(wrench->count));
    put_range(sheet, wrench);
    sheet_tick_item(sheet, "tool", number, lb_buf_text(&sheet->words));
    lb_buf_clear(&sheet->words);
}

static size_t put_wrenches(struct sheet *sheet, size_t number)
{
    size_t count = 0, room = sheet->map->fastening_count + 1;
    int64_t *torques = calloc(room, sizeof *torques);
    struct lb_wrench *wrenches = calloc(room, sizeof *wrenches);
    sheet->html.out->failed = sheet->html.out->failed || !torques || !wrenches;
    for (size_t i = 0; torques && wrenches && i < sheet->map->fastening_count; i++)
        if (sheet->map->fastenings[i].torque > 0 && is_disturbed(sheet, &sheet->map->fastenings[i]))
            torques[count++] = sheet->map->fastenings[i].torque;
    size_t groups = count ? lb_wrenches(torques, count, wrenches) : 0;
    for (size_t i = 0; i < groups; i++)
        put_wrench(sheet, &wrenches[i], ++number);
    free(torques);
    free(wrenches);
    return number;
}

static bool any_tool(const struct sheet *sheet)
{
    int32_t diameters[LARGEST_FLATS] = {0};
    find_sockets(sheet, diameters);
    for (int i = 0; i < LARGEST_FLATS; i++)
        if (diameters[i])
            return true;
    for (size_t i = 0; i < sheet->map->fastening_count; i++)
        if (sheet->map->fastenings[i].torque && is_disturbed(sheet, &sheet->map->fastenings[i]))
            return true;
    return sheet->plan->tool_count || has_angle(sheet);
}

void sheet_tools(struct sheet *sheet)
{
    if (!any_tool(sheet))
        return;
    sheet_section(sheet, "tools", "Tools");
    lb_html_open_class(&sheet->html, "ul", "ticks short");
    size_t number = put_named(sheet);
    lb_html_close(&sheet->html);
    lb_html_open_class(&sheet->html, "ul", "ticks");
    number = put_sockets(sheet, number);
    number = put_wrenches(sheet, number);
    if (has_angle(sheet))
        sheet_tick_item(sheet, "tool", number + 1, "Angle gauge: some catalogue values are angles");
    lb_html_close(&sheet->html);
    lb_html_element(
        &sheet->html, "p", "hint",
        "A torque wrench is best between a fifth and the whole of its range; that is how the values are "
        "grouped.");
    lb_html_close(&sheet->html);
}
