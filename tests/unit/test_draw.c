/* Drawings: what is escaped, what is grouped, what adds up, and what cannot be drawn. */
#include "shop_help.h"

#include "report/draw.h"
#include "report/draw_cost.h"
#include "report/html.h"
#include "report/svg.h"

#include <criterion/criterion.h>

static const char hostile[] = "</text><script>alert(1)</script> & \"=cmd()' \x01\xff\xef\xbf\xbf";

Test(draw, texts_stay_texts)
{
    static const struct {
        const char *text, *want;
    } cases[] = {
        {"", ""},
        {"radiator", "radiator"},
        {"<a href='x'>&amp;\"", "&lt;a href=&#39;x&#39;&gt;&amp;amp;&quot;"},
        {"]]>", "]]&gt;"},
        {"\x01\x1f\x7f\xc2\x85\tx\ny", " x y"},
        {"\xef\xbf\xbe\xef\xbf\xbf", ""},
        {"\xff\xc0\x80\xed\xa0\x80",
         "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd"},
        {"\xc3\xa4 \xf0\x9f\x94\xa7", "\xc3\xa4 \xf0\x9f\x94\xa7"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_buf out = {0};
        lb_html_escape(&out, cases[i].text);
        cr_expect_str_eq(lb_buf_text(&out), cases[i].want, "%zu: %s", i, lb_buf_text(&out));
        lb_buf_free(&out);
    }
}

Test(draw, numbers_to_a_tenth)
{
    static const struct {
        double number;
        const char *want;
    } cases[] = {{0, "0"}, {12, "12"}, {12.55, "12.6"}, {-0.3, "-0.3"}, {-0.04, "0"}, {-12.51, "-12.5"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_buf out = {0};
        lb_svg_number(&out, cases[i].number);
        cr_expect_str_eq(lb_buf_text(&out), cases[i].want, "%s", lb_buf_text(&out));
        lb_buf_free(&out);
    }
}

/* Whatever is broken into lines comes back whole, blanks between lines apart, and no line is empty. */
Test(draw, lines_lose_nothing)
{
    static const char *const texts[] = {
        "",
        " ",
        "   a  b ",
        "radiator fan with shroud",
        "Accessory belt",
        "donaudampfschifffahrtsgesellschaftskapitaen",
        "\xe5\x86\xb7\xe5\x8d\xb4\xe6\xb0\xb4\xe5\x86\xb7\xe5\x8d\xb4\xe6\xb0\xb4",
        hostile};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        for (int width = 1; width < 300; width += 13) {
            struct lb_buf seen = {0}, want = {0};
            size_t next;
            int lines = 0;
            for (const char *at = texts[i]; *at; at += next, lines++) {
                size_t length = lb_svg_break(at, LB_SVG_SIZE, width, &next);
                cr_assert(next, "stands still at \"%s\"", at);
                for (size_t k = 0; k < length; k++)
                    if (at[k] != ' ')
                        lb_buf_putc(&seen, at[k]);
            }
            for (const char *at = texts[i]; *at; at++)
                if (*at != ' ')
                    lb_buf_putc(&want, *at);
            cr_expect_str_eq(lb_buf_text(&seen), lb_buf_text(&want), "%s, %d", texts[i], width);
            cr_expect_eq(lines, lb_svg_lines(texts[i], LB_SVG_SIZE, width));
            lb_buf_free(&seen);
            lb_buf_free(&want);
        }
    }
}

/* Goods of the parcels, added up once more. */
Test(draw, purposes_add_up_to_the_goods)
{
    struct shop shop = shop_open();
    int64_t sums[DRAW_PURPOSES], whole = 0;
    /* One kind of bolt for three lines, each for another purpose: 8 and 5 pieces, and a washer that is a
     * seal. */
    shop_import(&shop, "fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse,spec\n"
                "p1,pump,pump bolt,bolt,flange-bolt,8,never,M6x1.0x25 8.8\n"
                "p1,pump,pump seal,seal,flange-bolt,5,never,M6x1.0x25\n"
                "p1,pump,pump gasket,gasket,pump-gasket,1,never,\n");
    struct lb_kit *kit = shop_open_kit(&shop, "sun");
    cr_assert_eq(kit->basket->total_count, 1);
    draw_cost_purposes(kit, "EUR", sums);
    for (size_t i = 0; i < DRAW_PURPOSES; i++)
        whole += sums[i];
    cr_expect_eq(whole, kit->basket->totals[0].goods);
    cr_expect_eq(sums[LB_TARGET], 4800 + 9000);
    cr_expect_eq(sums[LB_FLUID], 750);
    cr_expect_gt(sums[LB_SINGLE_USE], 0);
    cr_expect_gt(sums[LB_SEALING], 320, "the gasket and a share of the bolts");
    draw_cost_purposes(kit, "GBP", sums);
    for (size_t i = 0; i < DRAW_PURPOSES; i++)
        cr_expect_eq(sums[i], 0);
    lb_kit_free(kit);
    shop_close(&shop);
}

static struct lb_buf draw(struct shop *shop, const char *name,
                          lb_status (*drawing)(struct lb_buf *, const struct lb_kit *, struct lb_error *))
{
    struct lb_buf out = {0};
    struct lb_kit *kit = shop_open_kit(shop, name);
    expect_ok(drawing(&out, kit, &err));
    lb_kit_free(kit);
    return out;
}

static void expect_text(const struct lb_buf *drawing, const char *words, bool there)
{
    cr_expect_eq(strstr(lb_buf_text(drawing), words) != NULL, there, "%s: %s", words, lb_buf_text(drawing));
}

Test(draw, what_has_no_price_is_named)
{
    struct shop shop = shop_open();
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency,pack_quantity\nquay,Orlop,100-01,48.00,EUR,1\n");
    struct lb_buf out = draw(&shop, "sat", lb_draw_cost);
    expect_text(&out, "Without a price, and in none of these sums", true);
    expect_text(&out, "flange-bolt", true);
    expect_text(&out, "48.00 EUR", true);
    lb_buf_free(&out);
    shop_close(&shop);
}

Test(draw, hostile_names_are_inert)
{
    struct shop shop = shop_open();
    shop_import(
        &shop, "components.csv",
        "platform,component,part_type,quantity,name\n"
        "p1,pump,water-pump,1,</text><script>alert(1)</script>\np1,starter,starter-motor,1,&lt;b&gt;\n");
    shop_import(&shop, "access.csv", "platform,component,needs,state\np1,pump,starter,removed\n");
    shop_import(&shop, "suppliers.csv", "supplier,currency,name\nquay,EUR,\"<b onload='x'>\"\n");
    struct lb_buf graph = draw(&shop, "sat", lb_draw_teardown), cost = draw(&shop, "sat", lb_draw_cost);
    expect_text(&graph, "<script", false);
    expect_text(&graph, "&lt;script&gt;", true);
    expect_text(&graph, "&amp;lt;b&amp;gt;", true);
    expect_text(&cost, "<b", false);
    expect_text(&cost, "&lt;b onload=&#39;x&#39;&gt;", true);
    lb_buf_free(&graph);
    lb_buf_free(&cost);
    shop_close(&shop);
}

Test(draw, what_happens_to_each)
{
    struct shop shop = shop_open();
    shop_import(&shop, "components.csv",
                "platform,component,part_type,quantity\np1,pump,water-pump,1\np1,starter,starter-motor,1\n"
                "p1,cover,cover,1\np1,pipe,pipe,1\np1,strap,strap,1\n");
    shop_import(&shop, "access.csv",
                "platform,component,needs,state\np1,pump,starter,removed\np1,pump,pipe,aside\n"
                "p1,starter,strap,loosened\np1,pump,strap,loosened\n");
    shop_import(&shop, "jobs.csv", "platform,job,component,action\np1,pump,pump,\np1,pump,cover,refit\n");
    struct lb_buf out = draw(&shop, "sat", lb_draw_teardown);
    expect_text(&out, "to be renewed: pump.", true);
    expect_text(&out, "off and back on: cover.", true);
    expect_text(&out, "Only in the way: removed: starter.", true);
    expect_text(&out, "Only in the way: set aside, lines stay on: pipe.", true);
    expect_text(&out, "Only in the way: loosened: strap.", true);
    expect_text(&out, "Drained and filled: coolant.", true);
    /* The strap is in the pump's way through the starter already. */
    expect_text(&out, "Before pump: pipe, starter.", true);
    expect_text(&out, "Before starter: strap.", true);
    lb_buf_free(&out);
    shop_close(&shop);
}

Test(draw, too_much_for_a_drawing_is_a_list)
{
    struct shop shop = shop_open();
    struct lb_buf components = {0}, access = {0};
    lb_buf_puts(&components, "platform,component,part_type,quantity\np1,pump,water-pump,1\n");
    lb_buf_puts(&access, "platform,component,needs,state\n");
    for (int i = 0; i < 300; i++) {
        lb_buf_printf(&components, "p1,cover-%03d,cover,1\n", i);
        lb_buf_printf(&access, "p1,pump,cover-%03d,removed\n", i);
    }
    shop_import(&shop, "components.csv", lb_buf_text(&components));
    shop_import(&shop, "access.csv", lb_buf_text(&access));
    struct lb_buf out = draw(&shop, "sat", lb_draw_teardown);
    expect_text(&out, "here it is as a list", true);
    expect_text(&out, "too much for a drawing", true);
    expect_text(&out, ">cover 299<", true);
    lb_buf_free(&out);
    lb_buf_free(&components);
    lb_buf_free(&access);
    shop_close(&shop);
}

/* What the pages of a teardown are, as the sheet takes them. */
struct pages {
    size_t count;
    int widest, highest;
    struct lb_buf all;
};

static void take_page(void *context, const struct lb_buf *svg)
{
    struct pages *pages = context;
    int width = 0, height = 0;
    cr_assert_eq(sscanf(strstr(lb_buf_text(svg), " width="), " width=\"%d\" height=\"%d\"", &width, &height),
                 2);
    pages->count++;
    pages->widest = width > pages->widest ? width : pages->widest;
    pages->highest = height > pages->highest ? height : pages->highest;
    lb_buf_puts(&pages->all, lb_buf_text(svg));
}

static struct pages draw_pages(struct shop *shop, size_t most)
{
    struct pages pages = {0};
    struct lb_kit *kit = shop_open_kit(shop, "sat");
    expect_ok(lb_draw_teardown_pages(kit, most, take_page, &pages, &err));
    lb_kit_free(kit);
    return pages;
}

enum {
    PAGE_WIDTH = 755,
    PAGE_HEIGHT = 1026
}; /* px: a page of 755 px is shrunk to 680, so it may be 1/0.9 higher */

/* Components of which each needs some of those after it. Seeds that are fixed make it the same every time. */
static void random_map(struct shop *shop, unsigned seed, int count, int needs)
{
    struct lb_buf components = {0}, access = {0};
    lb_buf_puts(&components, "platform,component,part_type,quantity\np1,pump,water-pump,1\n");
    lb_buf_puts(&access, "platform,component,needs,state\np1,pump,c000,removed\np1,pump,c001,removed\n");
    for (int i = 0; i < count; i++) {
        lb_buf_printf(&components, "p1,c%03d,cover,1\n", i);
        for (int k = 0; k < needs && i + 1 < count; k++) {
            seed = seed * 1103515245u + 12345u;
            int other = i + 1 + (int)((seed >> 16) % (unsigned)(count - i - 1));
            lb_buf_printf(&access, "p1,c%03d,c%03d,removed\n", i, k ? other : i + 1);
        }
    }
    shop_import(shop, "components.csv", lb_buf_text(&components));
    shop_import(shop, "access.csv", lb_buf_text(&access));
    lb_buf_free(&components);
    lb_buf_free(&access);
}

/* What the whole says of "Before X: a, b. " is said by the pages together. */
static void expect_arrows(const char *whole, const char *pages)
{
    char *words = strdup(whole), *mark = words;
    size_t arrows = 0;
    for (char *at; (at = strstr(mark, "Before ")); arrows++) {
        char *end = strstr(at, ". "), *colon = strstr(at, ": ");
        cr_assert(end && colon && colon < end);
        *end = *colon = '\0';
        for (char *rest = colon + 2, *name; (name = strsep(&rest, ","));) {
            bool found = false;
            name += *name == ' ';
            for (const char *p = pages; !found && (p = strstr(p, at)); p++) {
                const char *last = strstr(p, ". "), *from = strstr(p, name);
                size_t after = from ? strlen(name) : 0;
                found = p[strlen(at)] == ':' && from && last && from < last &&
                        (from[after] == ',' || from[after] == '.');
            }
            cr_expect(found, "%s: %s is on no page", at, name);
        }
        mark = end + 1;
    }
    cr_expect_gt(arrows, 3);
    free(words);
}

Test(draw, every_page_can_be_read_and_has_its_arrows)
{
    static const struct {
        int count, needs;
        size_t least;
    } cases[] = {{8, 1, 1}, {30, 2, 2}, {60, 2, 3}, {45, 6, 2}, {70, 1, 4}};
    struct shop shop = shop_open();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        random_map(&shop, (unsigned)i + 7, cases[i].count, cases[i].needs);
        struct pages pages = draw_pages(&shop, SIZE_MAX);
        struct lb_buf whole = draw(&shop, "sat", lb_draw_teardown);
        cr_expect_leq(pages.widest, PAGE_WIDTH, "%zu", i);
        cr_expect_leq(pages.highest, PAGE_HEIGHT, "%zu", i);
        if (!strstr(lb_buf_text(&whole), "here is a list") &&
            !strstr(lb_buf_text(&whole), "here it is as a list"))
            cr_expect_geq(pages.count, cases[i].least, "%zu: %zu pages", i, pages.count);
        expect_arrows(lb_buf_text(&whole), lb_buf_text(&pages.all));
        lb_buf_free(&pages.all);
        lb_buf_free(&whole);
    }
    shop_close(&shop);
}

Test(draw, drawings_that_are_too_large_are_a_list)
{
    struct shop shop = shop_open();
    random_map(&shop, 3, 60, 2);
    struct pages drawn = draw_pages(&shop, SIZE_MAX), fits = draw_pages(&shop, drawn.all.length),
                 list = draw_pages(&shop, drawn.all.length - 1);
    cr_expect_str_eq(lb_buf_text(&fits.all), lb_buf_text(&drawn.all));
    if (!strstr(lb_buf_text(&drawn.all), "here is a list")) {
        expect_text(&drawn.all, "<path", true);
        expect_text(&list.all, "page too large", true);
        expect_text(&list.all, "<path", false);
    }
    expect_text(&list.all, ">c059<", true);
    lb_buf_free(&drawn.all);
    lb_buf_free(&fits.all);
    lb_buf_free(&list.all);
    shop_close(&shop);
}

Test(draw, a_long_list_goes_on_over_the_page)
{
    struct shop shop = shop_open();
    random_map(&shop, 1, 250, 1);
    struct pages pages = draw_pages(&shop, SIZE_MAX);
    cr_expect_geq(pages.count, 4);
    cr_expect_leq(pages.highest, 920);
    for (int i = 0; i < 250; i++) {
        char name[16];
        snprintf(name, sizeof name, ">c%03d<", i);
        const char *at = strstr(lb_buf_text(&pages.all), name);
        cr_expect(at && !strstr(at + 1, name), "%s is not there once", name);
    }
    lb_buf_free(&pages.all);
    shop_close(&shop);
}

#define BELT_HEAD "platform,belt,order,component,x,y,diameter,side,slack_mm,when\n"

static void belt_map(struct shop *shop, const char *pulleys, const char *spec)
{
    struct lb_buf rows = {0};
    lb_buf_printf(&rows,
                  "platform,component,part_type,quantity,spec\np1,pump,water-pump,1,\np1,crank,pulley,1,\n"
                  "p1,fan-belt,fan-belt,1,%s\n",
                  spec);
    shop_import(shop, "components.csv", lb_buf_text(&rows));
    shop_import(shop, "access.csv", "platform,component,needs,state\np1,pump,fan-belt,removed\n");
    lb_buf_clear(&rows);
    lb_buf_printf(&rows, BELT_HEAD "%s", pulleys);
    shop_import(shop, "pulleys.csv", lb_buf_text(&rows));
    lb_buf_free(&rows);
}

/* Draws the belts of "sat", or fills err. */
static struct lb_buf draw_belts(struct shop *shop, lb_status want, size_t count)
{
    struct lb_buf out = {0};
    size_t drawn = 99;
    struct lb_kit *kit = shop_open_kit(shop, "sat");
    lb_status status = lb_draw_belts(&out, kit, &drawn, &err);
    cr_expect_eq(status, want, "%s", lb_error_text(&err));
    cr_expect_eq(drawn, count);
    cr_expect_eq(out.length > 0, count > 0);
    lb_kit_free(kit);
    return out;
}

/* Two pulleys of 100 mm, 500 mm apart: 1314.159 mm (test_belt_run.c). */
Test(draw, whether_the_belt_fits)
{
    static const struct {
        const char *slack, *spec, *words;
    } cases[] = {
        {"10", "6PK1318", "3.8 mm longer than"},
        {"10", "6PK1318", "within its range"},
        {"10", "6PK1305", "9.2 mm shorter than"},
        {"10", "6PK1305", ": within"},
        {"10", "6PK1325", "NOT within"},
        {"10", "6PK1304", "NOT within"},
        {"", "6PK1318", "must be asked"},
        {"10", "", "neither its part nor the map"},
        {"10", "long", "neither its part nor the map"},
    };
    struct shop shop = shop_open();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_buf rows = {0};
        lb_buf_printf(&rows, "p1,fan-belt,1,crank,0,0,100,ribs,,\np1,fan-belt,2,pump,500,0,100,ribs,%s,\n",
                      cases[i].slack);
        belt_map(&shop, lb_buf_text(&rows), cases[i].spec);
        struct lb_buf out = draw_belts(&shop, LB_OK, 1);
        const char *desc = strstr(lb_buf_text(&out), "<desc>"), *end = strstr(lb_buf_text(&out), "</desc>");
        cr_assert(desc && end);
        out.text[end - out.text] = '\0';
        cr_expect(strstr(desc, cases[i].words), "%s: %s", cases[i].words, desc);
        cr_expect(strstr(desc, "1314.2 mm long"), "%s", desc);
        lb_buf_free(&out);
        lb_buf_free(&rows);
    }
    shop_close(&shop);
}

Test(draw, belts_that_cannot_run)
{
    static const struct {
        const char *rows, *words;
        long line;
    } cases[] = {
        {"p1,fan-belt,1,crank,0,0,100,ribs,,\n", "two pulleys at the least", 2},
        {"p1,fan-belt,1,crank,0,0,100,ribs,,\np1,fan-belt,2,pump,60,0,100,ribs,,\n", "overlap", 2},
        {"p1,fan-belt,2,crank,0,0,100,ribs,,\np1,fan-belt,2,pump,600,0,100,ribs,,\n",
         "same place in the order", 3},
        {"p1,fan-belt,1,crank,0,0,100,ribs,,\np1,fan-belt,2,pump,9000000,0,100,ribs,,\n", "is more than", 3},
        {"p1,fan-belt,1,crank,-300,0,100,ribs,,\np1,fan-belt,2,pump,300,0,100,ribs,,\n"
         "p1,fan-belt,3,idler,0,0,100,ribs,,\n",
         "would not touch idler", 4},
    };
    struct shop shop = shop_open();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        belt_map(&shop, cases[i].rows, "6PK1318");
        struct lb_buf out = draw_belts(&shop, LB_DATA, 1);
        cr_expect(strstr(lb_error_text(&err), cases[i].words), "%s", lb_error_text(&err));
        expect_text(&out, "NOT DRAWN: ", true);
        expect_text(&out, "<circle", false);
        cr_expect_eq(err.row, cases[i].line, "line %ld: %s", err.row, lb_error_text(&err));
        cr_expect(err.file && strstr(err.file, "pulleys.csv"));
        lb_buf_free(&out);
    }
    shop_close(&shop);
}

Test(draw, one_bad_belt_does_not_stop_the_others)
{
    static const struct {
        const char *rows, *says, *says_not;
        size_t pictures;
    } cases[] = {
        {"p1,second,1,crank,0,0,100,ribs,,\np1,second,2,pump,500,0,100,ribs,,\n", "", "", 2},
        {"p1,second,1,crank,0,0,100,ribs,,\np1,second,2,pump,50,0,100,ribs,,\n", "other belts are drawn",
         "cannot be drawn either", 1},
        {"p1,second,1,crank,0,0,100,ribs,,\np1,third,1,pump,50,0,100,ribs,,\n",
         "1 more cannot be drawn either; the drawing says why. The kit's other belts are drawn.", "2 more",
         1},
    };
    struct shop shop = shop_open();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_buf rows = {0};
        lb_buf_printf(&rows, "p1,fan-belt,1,crank,0,0,100,ribs,,\np1,fan-belt,2,pump,500,0,100,ribs,9,\n%s",
                      cases[i].rows);
        belt_map(&shop, lb_buf_text(&rows), "6PK1318");
        shop_import(&shop, "access.csv",
                    "platform,component,needs,state\np1,pump,fan-belt,removed\np1,pump,second,removed\n"
                    "p1,pump,third,removed\n");
        bool bad = cases[i].pictures < 2;
        struct lb_buf out = draw_belts(&shop, bad ? LB_DATA : LB_OK, 2 + (i == 2));
        expect_text(&out, "within its range", true);
        expect_text(&out, "NOT DRAWN: second: ", bad);
        expect_text(&out, "NOT DRAWN: third: ", i == 2);
        size_t pictures = 0;
        for (const char *at = lb_buf_text(&out); (at = strstr(at, "<circle")); at++)
            pictures++;
        cr_expect_eq(pictures, cases[i].pictures * 2 + 1, "%zu circles", pictures); /* a tensioner has two */
        cr_expect(!bad || strstr(lb_error_text(&err), cases[i].says), "%s", lb_error_text(&err));
        cr_expect(!bad || !strstr(lb_error_text(&err), cases[i].says_not), "%s", lb_error_text(&err));
        lb_buf_free(&out);
        lb_buf_free(&rows);
    }
    shop_close(&shop);
}

Test(draw, belts_that_hang_on_facts)
{
    struct shop shop = shop_open();
    belt_map(&shop,
             "p1,fan-belt,1,crank,0,0,100,ribs,,ac = yes\np1,fan-belt,2,pump,500,0,100,ribs,,ac = yes\n",
             "6PK1318");
    struct lb_buf out = draw_belts(&shop, LB_OK, 1);
    expect_text(&out, "(ask)", true);
    expect_text(&out, "not known: ac.", true);
    expect_text(&out, "<circle", true);
    lb_buf_free(&out);
    belt_map(&shop,
             "p1,fan-belt,1,crank,0,0,100,ribs,,ac = yes\np1,fan-belt,2,pump,500,0,100,ribs,,ac = yes\n"
             "p1,fan-belt,1,crank,0,0,100,ribs,,ac = no\np1,fan-belt,2,pump,600,0,100,ribs,,ac = no\n",
             "6PK1318");
    out = draw_belts(&shop, LB_OK, 1);
    expect_text(&out, "several runs for this belt", true);
    expect_text(&out, "<circle", false);
    lb_buf_free(&out);
    shop_close(&shop);
}

Test(draw, no_belt_no_drawing)
{
    struct shop shop = shop_open();
    struct lb_buf out = draw_belts(&shop, LB_OK, 0);
    lb_buf_free(&out);
    shop_close(&shop);
}
