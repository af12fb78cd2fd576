/* The job sheet of a kit: every section, every step once, what must not go back where it comes off, and
 * nothing of a catalogue as markup. */
#include "purchase_help.h"

#include "report/sheet.h"

#include <criterion/criterion.h>

static void map_day(struct shop *shop)
{
    shop_import(
        shop, "components.csv",
        "platform,component,part_type,quantity,name,inspect,steps\n"
        "p1,pump,water-pump,1,Coolant pump,weep hole,\np1,starter,starter-motor,1,,,\n"
        "p1,cover,cover,1,Belt cover,,\np1,pulley,pulley,1,Pump pulley,,\np1,belt,accessory-belt,1,,,\n"
        "p1,lead,earth-lead,1,Earth lead,yes,disconnect connect\n");
    shop_import(shop, "fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse,spec,torque,angle,tool,note,joint\n"
                "p1,pump,pump bolts,bolt,flange-bolt,8,never,M6x1.0x25 8.8,10,,,into the water jacket,\n"
                "p1,pump,pump seal,gasket,pump-gasket,1,never,,,,,,\n"
                "p1,pump,shared clip,clip,hose-clip,1,never,,,,,,hose\n"
                "p1,cover,shared clip too,clip,hose-clip,1,check,,,,,,hose\n"
                "p1,cover,cover bolts,bolt,flange-bolt,4,check,M8x1.25x25 8.8,22,,13 mm socket,,\n"
                "p1,pulley,pulley nuts,nut,flange-nut,3,always,M10,110,90,,,\n"
                "p1,lead,clamp nut,nut,nut,1,always,M6,6,,10 mm spanner,,\n");
    shop_import(shop, "access.csv",
                "platform,component,needs,state\np1,pump,pulley,removed\np1,pulley,belt,removed\np1,pump,"
                "cover,removed\n"
                "p1,cover,lead,removed\n");
    shop_import(shop, "sequence.csv",
                "platform,first,then,note\np1,loosen pulley,remove belt,the belt holds the pulley\n"
                "p1,fit belt,tighten pulley,\n");
    shop_import(
        shop, "circuits.csv",
        "platform,circuit,capacity,fluid_type,mix_percent,diluent_type\np1,coolant,7.2,coolant,50,water\n");
    shop_import(shop, "cautions.csv",
                "platform,component,text\np1,cover,The cover is sharp.\n"
                "p1,pump,Hot coolant is under pressure and scalds. Open the cooling system only when the "
                "engine is cold.\n");
    shop_import(
        shop, "consumables.csv",
        "platform,component,part_type,quantity,unit,note\np1,pump,thread-locker,1,mL,blind holes only\n");
}

/* The sheet of a kit; the caller's to free. */
static char *sheet_of(struct shop *shop, const char *name)
{
    struct lb_kit *kit = shop_open_kit(shop, name);
    struct lb_buf out = {0};
    expect_ok(lb_report_sheet(&out, kit, SHOP_TODAY, &err));
    lb_kit_free(kit);
    cr_assert(out.text);
    return out.text;
}

static struct shop open_day(void)
{
    struct shop shop = shop_open();
    map_day(&shop);
    shop_kit(&shop, "day", "pump");
    return shop;
}

static size_t count_of(const char *text, const char *wanted)
{
    size_t count = 0;
    for (const char *at = strstr(text, wanted); at; at = strstr(at + 1, wanted))
        count++;
    return count;
}

#define has(text, wanted) cr_expect(strstr(text, wanted), "not there: %s", wanted)

/* What stands at one step; the caller's to free. */
static char *step_text(const char *page, uint32_t step)
{
    char mark[32];
    snprintf(mark, sizeof mark, "id=\"step-%u\"", step + 1);
    const char *from = strstr(page, mark);
    cr_assert(from, "no step %u", step + 1);
    const char *to = strstr(from + 1, "id=\"step-");
    if (!to)
        to = strstr(from, "</section>");
    return strndup(from, (size_t)(to - from));
}

Test(sheet, sections_stand_in_their_order_and_cautions_before_anything_to_be_done)
{
    static const char *const order[] = {"<header>",
                                        "<h1>Job sheet: day",
                                        "Orlop Finch",
                                        "</header>",
                                        "<main>",
                                        "id=\"cautions\"",
                                        "local codes and licensed practice decide",
                                        "The cover is sharp.",
                                        "Lifting points",
                                        "id=\"bench\"",
                                        "Hardware that must not go back",
                                        "id=\"spares\"",
                                        "id=\"tools\"",
                                        "id=\"steps\"",
                                        "Taking apart",
                                        "Putting together",
                                        "id=\"fluids\"",
                                        "Containers to open",
                                        "id=\"afterwards\"",
                                        "Next morning",
                                        "id=\"disposal\"",
                                        "Old coolant",
                                        "id=\"missed\"",
                                        "</main>"};
    struct shop shop = open_day();
    shop_import(&shop, "components.csv",
                "platform,component,part_type,quantity\np1,pump,water-pump,1\np1,cover,undertray,1\n");
    char *page = sheet_of(&shop, "day");
    const char *at = page;
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        const char *next = strstr(at, order[i]);
        cr_expect(next, "%s is not there, or too early", order[i]);
        at = next ? next : at;
    }
    cr_expect_lt(strstr(page, "id=\"cautions\"") - page, strstr(page, "<input") - page);
    free(page);
    shop_close(&shop);
}

/* What the catalogue says word for word is not said again as a usual caution. */
Test(sheet, a_caution_is_shown_once)
{
    struct shop shop = open_day();
    char *page = sheet_of(&shop, "day");
    const char *bench = strstr(page, "id=\"bench\"");
    char *cautions = strndup(page, (size_t)(bench - page));
    cr_expect_eq(count_of(cautions, "Hot coolant is under pressure and scalds."), 1);
    cr_expect_eq(count_of(cautions, "Glycol tastes sweet"), 1);
    cr_expect_eq(count_of(cautions, "Fuel and its vapour"), 0);
    free(cautions);
    free(page);
    shop_close(&shop);
}

Test(sheet, every_step_is_there_once_in_its_order)
{
    struct shop shop = open_day();
    struct lb_kit *kit = shop_open_kit(&shop, "day");
    char *page = sheet_of(&shop, "day"), mark[64];
    const char *last = page;
    cr_assert_gt(kit->plan->step_count, 10);
    for (uint32_t i = 0; i < kit->plan->step_count; i++) {
        snprintf(mark, sizeof mark, "id=\"step-%u\"", i + 1);
        cr_expect_eq(count_of(page, mark), 1);
        const char *at = strstr(page, mark);
        cr_expect_gt(at, last);
        last = at;
        char *step = step_text(page, i);
        const char *name = kit->plan->steps[i].thing.is_circuit
                               ? kit->plan->map->circuits[kit->plan->steps[i].thing.id]
                               : kit->component_names[kit->plan->steps[i].thing.id];
        has(step, name);
        free(step);
    }
    snprintf(mark, sizeof mark, "id=\"step-%zu\"", kit->plan->step_count + 1);
    cr_expect_eq(count_of(page, mark), 0);
    free(page);
    lb_kit_free(kit);
    shop_close(&shop);
}

static uint32_t named_step(const struct lb_kit *kit, const char *verb, const char *component)
{
    for (uint32_t i = 0; i < kit->plan->step_count; i++)
        if (strcmp(kit->plan->steps[i].verb, verb) == 0 && !kit->plan->steps[i].thing.is_circuit &&
            strcmp(kit->plan->map->components[kit->plan->steps[i].thing.id], component) == 0)
            return i;
    cr_assert_fail("no step %s %s", verb, component);
    return 0;
}

Test(sheet, what_must_not_go_back_stands_where_its_component_comes_off)
{
    static const struct {
        const char *component, *words;
    } never[] = {
        {"pump", "Not back</strong> 8 × pump bolts (flange-bolt M6x1.0x25 8.8)"},
        {"pump", "Not back</strong> 1 × pump seal (pump-gasket)"},
        {"cover", "Not back</strong> 1 × shared clip too (hose-clip)"}}; /* the joint, off with the cover */
    struct shop shop = open_day();
    struct lb_kit *kit = shop_open_kit(&shop, "day");
    char *page = sheet_of(&shop, "day");
    for (size_t i = 0; i < sizeof never / sizeof *never; i++) {
        char *step = step_text(page, named_step(kit, "remove", never[i].component));
        has(step, never[i].words);
        cr_expect_eq(count_of(page, never[i].words), 1, "%s", never[i].words);
        free(step);
    }
    cr_expect_eq(count_of(page, "Not back</strong>"), 4); /* and the pump itself */
    char *step = step_text(page, named_step(kit, "remove", "cover"));
    has(step, "one joint with shared clip of Coolant pump");
    has(step, "Check</strong> 4 × cover bolts (flange-bolt M8x1.25x25 8.8), 13 mm socket");
    has(step, "Caution</strong> The cover is sharp.");
    free(step);
    free(page);
    lb_kit_free(kit);
    shop_close(&shop);
}

Test(sheet, what_is_loosened_first_is_tightened_last)
{
    struct shop shop = open_day();
    struct lb_kit *kit = shop_open_kit(&shop, "day");
    char *page = sheet_of(&shop, "day");
    const char *torque = "<b class=\"torque\">110 N·m (81 lbf·ft), then 90°</b>";
    char *loosen = step_text(page, named_step(kit, "loosen", "pulley")),
         *removed = step_text(page, named_step(kit, "remove", "pulley")),
         *fit = step_text(page, named_step(kit, "fit", "pulley")),
         *tighten = step_text(page, named_step(kit, "tighten", "pulley"));
    has(loosen, "3 × pulley nuts (flange-nut M10): only undone here");
    has(loosen, "remove belt: the belt holds the pulley");
    has(removed, "3 × pulley nuts");
    has(fit, "3 × pulley nuts (flange-nut M10): tightened at step");
    cr_expect_not(strstr(fit, "lbf"));
    has(tighten, torque);
    cr_expect_eq(count_of(page, torque), 1);
    free(loosen);
    free(removed);
    free(fit);
    free(tighten);
    free(page);
    lb_kit_free(kit);
    shop_close(&shop);
}

Test(sheet, the_way_back_names_new_parts_values_and_their_rows)
{
    struct shop shop = open_day();
    struct lb_kit *kit = shop_open_kit(&shop, "day");
    char *page = sheet_of(&shop, "day"), *fit = step_text(page, named_step(kit, "fit", "pump")),
         *off = step_text(page, named_step(kit, "remove", "pump"));
    has(fit, "New</strong> 1 × water-pump, Orlop 100-01, line 1");
    has(fit,
        "New</strong> 8 × pump bolts (flange-bolt M6x1.0x25 8.8), line 2: "
        "<b class=\"torque\">10 N·m (7.4 lbf·ft)</b> <small>fastenings.csv:2</small>; into the water jacket");
    has(fit, "at hand: 1 mL of thread-locker");
    has(off, "Look at</strong> weep hole");
    free(off);
    off = step_text(page, named_step(kit, "disconnect", "lead"));
    has(off, "Look at</strong> wear and damage");
    free(off);
    free(fit);
    free(page);
    lb_kit_free(kit);
    shop_close(&shop);
}

Test(sheet, tools_sockets_by_iso_272_and_wrenches)
{
    struct shop shop = open_day();
    char *page = sheet_of(&shop, "day");
    has(page, ">13 mm socket</label>");
    has(page, ">10 mm socket for M6: by ISO 272 for a hexagon head; the bolt at hand decides</label>");
    has(page, ">16 mm socket for M10: by ISO 272");
    cr_expect_eq(count_of(page, "13 mm socket for M8"), 0, "its row names the tool");
    has(page, "Torque wrench for 6 N·m (4.4 lbf·ft) to 22 N·m (16.2 lbf·ft), 3 catalogue values: one whose "
              "range ends "
              "between 22 and 30 N·m");
    has(page, "Torque wrench for 110 N·m (81 lbf·ft), 1 catalogue value: one whose range ends between 110 "
              "and 550 N·m");
    has(page, "Angle gauge");
    free(page);
    shop_close(&shop);
}

Test(sheet, fluids_mixture_freezing_and_containers)
{
    struct shop shop = open_day();
    char *page = sheet_of(&shop, "day");
    has(page, "Fill in 7.2 L: 3.6 L of coolant and 3.6 L of water; the circuit holds 7.2 L");
    has(page, "have a container for all of it, 7.2 L by the catalogue");
    /* ASHRAE Handbook, Fundamentals: 47.6 % -33.8 °C, 50.6 % -37.9 °C; linear: 50 % -37.08 °C */
    has(page, "to about -37 °C (50.0 % by volume, by the ASHRAE table for ethylene glycol and water)");
    has(page, "<td>1 of 5 L</td><td>1.4 L</td>");
    free(page);
    reprice(&shop, "mill,Orlop,100-04,7.50,EUR,1.5,\n");
    page = sheet_of(&shop, "day");
    has(page, "<td>3 of 1.5 L</td><td>900 mL</td>");
    free(page);
    reprice(&shop, "mill,Orlop,100-04,7.50,EUR,1.2,\n");
    page = sheet_of(&shop, "day");
    has(page, "<td>3 of 1.2 L</td><td>nothing</td>");
    free(page);
    shop_close(&shop);
}

/* No data, no word: another liquid, a share past the table, nothing mixed. */
Test(sheet, freezing_is_told_only_where_there_is_data)
{
    static const char *const rows[] = {"propylene-coolant,50,water", "coolant,60,water", "coolant,,",
                                       "washer-fluid,50,water"};
    struct shop shop = open_day();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct lb_buf file = {0};
        lb_buf_printf(&file,
                      "platform,circuit,capacity,fluid_type,mix_percent,diluent_type\np1,coolant,7.2,%s\n",
                      rows[i]);
        shop_import(&shop, "circuits.csv", lb_buf_text(&file));
        char *page = sheet_of(&shop, "day");
        cr_expect_eq(count_of(page, "Freeze protection"), 0, "%s", rows[i]);
        has(page, "id=\"fluids\"");
        free(page);
        lb_buf_free(&file);
    }
    shop_close(&shop);
}

Test(sheet, where_each_line_comes_from)
{
    struct shop shop = open_day();
    char *page = sheet_of(&shop, "day");
    has(page, "<b>Orlop 100-01</b></div>\n<div>still to buy: Quayside Parts Q1</div>");
    has(page, "still to buy: Quayside Parts Q2, pack of 10");
    has(page, "Missing</strong> "); /* hose-clip: nobody has one */
    has(page, "goes back if it is sound");
    free(page);
    shop_order(&shop, (const char *const[]){"day", NULL});
    receive(&shop, "day", "water-pump", 1, LB_CAME_WELL);
    shelve(&shop, "Orlop", "100-03", "each", 1);
    page = sheet_of(&shop, "day");
    has(page, "<b>Orlop 100-01</b></div>\n<div>here</div>");
    has(page, "<b>Orlop 100-02</b></div>\n<div>on its way</div>");
    free(page);
    decide(&shop, "day", "flange-bolt", LB_HAVE, NULL, NULL);
    decide(&shop, "day", "water-pump", LB_REUSE, NULL, NULL);
    page = sheet_of(&shop, "day");
    has(page, "<div>you have it</div>");
    has(page, "<div>the old one goes back</div>");
    has(page, "the old one goes back, line 1");
    free(page);
    shop_close(&shop);
}

Test(sheet, catalogue_text_is_inert)
{
    struct shop shop = open_day();
    shop_import(&shop, "components.csv",
                "platform,component,part_type,quantity,name,inspect\n"
                "p1,pump,water-pump,1,<script>alert(1)</script>,\"\"\"><img src=x onerror=alert(1)>\"\n"
                "p1,cover,cover,1,</title></style></section>,\n");
    shop_import(&shop, "cautions.csv", "platform,component,text\np1,pump,=cmd()|' /C calc'!A0\n");
    shop_import(&shop, "sequence.csv",
                "platform,first,then,note\np1,remove cover,remove pump,\"<a "
                "href=\"\"https://x.example\"\">&amp;\"\n");
    char *page = sheet_of(&shop, "day");
    cr_expect_eq(count_of(page, "<script"), 0);
    cr_expect_eq(count_of(page, "<img"), 0);
    cr_expect_eq(count_of(page, "<a href=\"http"), 0);
    cr_expect_eq(count_of(page, "</style>"), 1);
    cr_expect_eq(count_of(page, "</title>"), count_of(page, "<title>")); /* drawings have titles, too */
    cr_expect_eq(count_of(page, "<section"), count_of(page, "</section>"));
    has(page, "&lt;script&gt;alert(1)&lt;/script&gt;");
    has(page, "&quot;&gt;&lt;img src=x onerror=alert(1)&gt;");
    has(page, "<li>=cmd()|&#39; /C calc&#39;!A0</li>");
    has(page, "&amp;amp;");
    free(page);
    shop_close(&shop);
}

Test(sheet, the_same_kit_gives_the_same_bytes)
{
    struct shop shop = open_day();
    char *first = sheet_of(&shop, "day"), *again = sheet_of(&shop, "day");
    cr_expect_str_eq(first, again);
    free(first);
    free(again);
    shop_close(&shop);
}

/* A lbf·ft is 1.355 817 948 3 N·m (NIST SP 811, B.8); 27.116358966 N·m are 20 of them. */
Test(sheet, torques_in_both_units)
{
    static const struct {
        const char *torque, *angle, *want;
    } cases[] = {{"10", "0", "10 N·m (7.4 lbf·ft)"},
                 {"22", "0", "22 N·m (16.2 lbf·ft)"},
                 {"110", "0", "110 N·m (81 lbf·ft)"},
                 {"1.355818", "0", "1.36 N·m (1 lbf·ft)"},
                 {"27", "0", "27 N·m (19.9 lbf·ft)"},
                 {"27.116358", "0", "27.12 N·m (20 lbf·ft)"}, /* 19.9999993: to the tenth */
                 {"27.5", "0", "27.5 N·m (20 lbf·ft)"},
                 {"67.790897", "0", "67.79 N·m (50 lbf·ft)"},
                 {"0.125", "0", "0.125 N·m (0.09 lbf·ft)"},
                 {"27.9", "0", "27.9 N·m (21 lbf·ft)"}, /* 20.578 */
                 {"0.05", "0", "0.05 N·m (0.04 lbf·ft)"},
                 {"40", "60", "40 N·m (30 lbf·ft), then 60°"}, /* 29.5 */
                 {"0", "90", "90°"},
                 {"0", "0", ""}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_buf out = {0};
        int64_t torque = 0, angle = 0;
        cr_assert(lb_decimal_parse(cases[i].torque, &torque) && lb_decimal_parse(cases[i].angle, &angle));
        lb_report_torque(&out, torque, angle);
        cr_expect_str_eq(lb_buf_text(&out), cases[i].want);
        lb_buf_free(&out);
    }
}
