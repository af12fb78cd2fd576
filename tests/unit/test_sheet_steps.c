/* What a step of the job sheet says of parts that are looked at, of the owner's decisions, and of a circuit
 * of which only a share is lost. */
#include "purchase_help.h"

#include "report/sheet.h"

#include <criterion/criterion.h>

static struct shop open_steps(void)
{
    struct shop shop = shop_open();
    shop_import(&shop, "components.csv", "platform,component,part_type,quantity\np1,pump,water-pump,1\n");
    shop_import(&shop, "fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse,spec,torque\n"
                "p1,pump,pump bolts,bolt,flange-bolt,8,never,M6x1.0x25 8.8,10\n"
                "p1,pump,shaft key,pin,woodruff-key,1,check,,\n"
                "p1,pump,rear bolt,bolt,rear-bolt,1,always,M12 8.8,50\n"
                "p1,pump,cable clip,clip,cable-clip,2,always,,\n");
    shop_import(&shop, "circuits.csv",
                "platform,circuit,capacity,fluid_type\np1,oil,4.3,engine-oil\np1,coolant,6,coolant\n");
    shop_import(&shop, "opens.csv",
                "platform,component,circuit,share_percent\np1,pump,oil,5\np1,pump,coolant,100\n");
    shop_kit(&shop, "day", "pump");
    return shop;
}

static char *sheet_of(struct shop *shop)
{
    struct lb_kit *kit = shop_open_kit(shop, "day");
    struct lb_buf out = {0};
    expect_ok(lb_report_sheet(&out, kit, SHOP_TODAY, &err));
    lb_kit_free(kit);
    cr_assert(out.text);
    return out.text;
}

/* From the step's words to the next step; the caller's to free. */
static char *step_of(const char *page, const char *words)
{
    const char *section = strstr(page, "<h2 id=\"steps\">");
    const char *from = section ? strstr(section, words) : NULL;
    cr_assert(from, "no step: %s", words);
    const char *to = strstr(from, "id=\"step-");
    if (!to)
        to = strstr(from, "</section>");
    return strndup(from, (size_t)(to - from));
}

static void says(struct shop *shop, const char *step, const char *wanted, bool is_there)
{
    char *page = sheet_of(shop), *text = step_of(page, step);
    cr_expect((strstr(text, wanted) != NULL) == is_there, "%s: %s in: %s", wanted,
              is_there ? "not" : "should not be", text);
    free(text);
    free(page);
}

Test(sheet_steps, what_was_looked_at_is_named_on_the_way_back)
{
    struct shop shop = open_steps();
    says(&shop, "remove pump", "Check</strong> 1 × shaft key (woodruff-key); new only if not sound", true);
    says(&shop, "fit pump", "1 × shaft key (woodruff-key)", true);
    says(&shop, "fit pump", "cable clip", false);
    shop_close(&shop);
}

Test(sheet_steps, decisions_are_told_where_the_bolts_are)
{
    struct shop shop = open_steps();
    says(&shop, "fit pump", "New</strong> 8 × pump bolts (flange-bolt M6x1.0x25 8.8), line 2", true);
    says(&shop, "fit pump", "New</strong> 1 × water-pump, Orlop 100-01, line 1", true);
    decide(&shop, "day", "water-pump", LB_HAVE, NULL, NULL);
    says(&shop, "fit pump", "New</strong> 1 × water-pump, line 1", true); /* whose, only the owner knows */
    decide(&shop, "day", "flange-bolt", LB_REUSE, NULL, NULL);
    says(&shop, "remove pump",
         "Not back</strong> 8 × pump bolts (flange-bolt M6x1.0x25 8.8); the kit has the "
         "old one go back all the same, line 2",
         true);
    says(&shop, "fit pump",
         "Mind</strong> 8 × pump bolts (flange-bolt M6x1.0x25 8.8), the old ones though "
         "they must not go back, line 2: ",
         true);
    decide(&shop, "day", "flange-bolt", LB_DROP, NULL, NULL);
    says(&shop, "remove pump", "; the new one is left out of the kit, line 2", true);
    says(&shop, "fit pump", "New</strong> 8", false);
    says(&shop, "fit pump",
         "8 × pump bolts (flange-bolt M6x1.0x25 8.8), left out of the kit, line 2: ", true);
    shop_close(&shop);
}

Test(sheet_steps, a_share_is_never_taken_for_the_whole)
{
    struct shop shop = open_steps();
    says(&shop, "drain oil", "4.3 L by the catalogue, and a clean one: not all of it is renewed", true);
    says(&shop, "fill oil",
         "215 mL of engine-oil is what the catalogue counts as lost of 4.3 L. Fill to the level that the "
         "maker&#39;s manual names",
         true);
    says(&shop, "drain coolant", "clean", false);
    says(&shop, "fill coolant", "counts as lost", false);
    char *page = sheet_of(&shop);
    cr_expect(strstr(page, "<li>That is what the catalogue counts as lost of 4.3 L."));
    free(page);
    shop_close(&shop);
}

Test(sheet_steps, a_belt_that_cannot_be_drawn_is_told)
{
    struct shop shop = open_steps();
    char *page = sheet_of(&shop);
    cr_expect(!strstr(page, "Not every belt is drawn"));
    free(page);
    shop_import(&shop, "pulleys.csv",
                "platform,belt,order,component,x,y,diameter,side\n"
                "p1,pump,1,pump,0,0,100,ribs\np1,pump,1,pump,300,0,100,ribs\n");
    page = sheet_of(&shop);
    const char *told = strstr(page, "Not every belt is drawn: pump: ");
    cr_expect(told && strstr(told, "as the belt meets them. pulleys.csv:3</p>"), "%s", page);
    free(page);
    shop_close(&shop);
}

Test(sheet_steps, a_wrench_that_must_end_at_one_value)
{
    struct shop shop = open_steps();
    char *page = sheet_of(&shop);
    cr_expect(strstr(page, "Torque wrench for 10 N·m (7.4 lbf·ft) to 50 N·m (37 lbf·ft), 2 catalogue values: "
                           "one whose range ends at 50 N·m<"));
    free(page);
    shop_close(&shop);
}
