/* What was missed in the middle of a job: kept, changed, dropped; out as CSV and back; and what it does in
 * the kits of shop_help.h. */
#include "shop_help.h"

#include "catalog/sources.h"
#include "kit/missed.h"
#include "report/kit_json.h"
#include "report/rule_report.h"

#include <criterion/criterion.h>

static struct lb_missed *keep(struct shop *shop, const struct lb_missing *missing)
{
    struct lb_missed *missed = NULL;
    expect_ok(lb_missed_keep(&missed, shop->store, missing, SHOP_TODAY, &err));
    return missed;
}

/* On sat; quantity and spec may be NULL. Its number. */
static int64_t miss(struct shop *shop, const char *part_type, const char *component, const char *quantity,
                    const char *spec)
{
    struct lb_missed *missed = keep(shop, &(struct lb_missing){"sat", part_type, component, quantity, spec});
    int64_t number = missed->rule.number;
    lb_missed_free(missed);
    return number;
}

/* Takes `rules` as they are kept now. */
static struct lb_rules load(struct shop *shop)
{
    struct lb_rules rules;
    expect_ok(lb_rules_load(&rules, shop->store, &err));
    return rules;
}

static void drop(struct shop *shop, int64_t number)
{
    struct lb_rules rules = load(shop);
    const struct lb_rule *was;
    expect_ok(lb_rule_drop(shop->store, &rules, number, &was, &err));
    lb_rules_free(&rules);
}

static void expect_rules(struct shop *shop, const char *want)
{
    struct lb_rules rules = load(shop);
    struct lb_buf seen = {0};
    lb_report_rules_csv(&seen, &rules);
    cr_expect_str_eq(strchr(lb_buf_text(&seen), '\n') + 1, want, "\n%s", lb_buf_text(&seen));
    lb_buf_free(&seen);
    lb_rules_free(&rules);
}

/* What the kit asks for of that type: "1 each missed-before*; 4 each single-use", * being marked. */
static void expect_lines(struct shop *shop, const char *kit_name, const char *part_type, const char *want)
{
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    struct lb_buf seen = {0};
    for (size_t i = 0; i < kit->need_count; i++) {
        const struct lb_need *need = kit->lines[i].need;
        if (strcmp(need->article.part_type, part_type) != 0)
            continue;
        lb_buf_puts(&seen, seen.length ? "; " : "");
        lb_decimal_print(&seen, need->article.quantity);
        lb_buf_printf(&seen, " %s %s%s", need->article.unit, lb_reason_name(need->reason),
                      need->missed ? "*" : "");
    }
    cr_expect_str_eq(lb_buf_text(&seen), want, "%s of %s: \"%s\" instead of \"%s\"", part_type, kit_name,
                     lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_kit_free(kit);
}

/* Does `kit why` of the type's first line say so? */
static void expect_why(struct shop *shop, const char *part_type, const char *words, bool says)
{
    struct lb_kit *kit = shop_open_kit(shop, "sat");
    struct lb_buf why = {0};
    lb_kit_why(kit, shop_line(kit, part_type), &why);
    cr_expect_eq(strstr(lb_buf_text(&why), words) != NULL, says, "%s in\n%s", words, lb_buf_text(&why));
    lb_buf_free(&why);
    lb_kit_free(kit);
}

/* "100-02 fits" of what the kit proposes for the type; "-": nothing. */
static void expect_chosen(struct shop *shop, const char *part_type, const char *want)
{
    struct lb_kit *kit = shop_open_kit(shop, "sat");
    const struct lb_line *line = shop_line(kit, part_type);
    const struct lb_candidate *c = line->chosen == LB_NO_NAME ? NULL : &line->candidates[line->chosen];
    char seen[100];
    snprintf(seen, sizeof seen, "%s%s%s", c ? c->part->number : "-", c ? " " : "",
             c ? lb_fit_name(c->fit) : "");
    cr_expect_str_eq(seen, want, "%s: %s", part_type, seen);
    lb_kit_free(kit);
}

Test(rules, counts_in_this_and_every_later_kit)
{
    struct shop shop = shop_open();
    struct lb_missed *missed = keep(&shop, &(struct lb_missing){"sat", "Cable Tie", "pump", "3", NULL});
    cr_expect_eq(missed->rule.number, 1);
    cr_expect_eq(missed->line, 5);
    cr_expect_not(missed->type_known);
    cr_expect_null(missed->was);
    cr_expect_null(missed->near);
    lb_missed_free(missed);
    expect_rules(&shop, "1,p1,pump,cable-tie,3,each,,2026-01-01,sat\r\n");
    expect_lines(&shop, "sat", "cable-tie", "3 each missed-before*");
    expect_lines(&shop, "sun", "cable-tie", "3 each missed-before*");
    shop_kit(&shop, "lid", "cover");
    expect_lines(&shop, "lid", "cable-tie", "");
    expect_why(&shop, "cable-tie", "missed before, in sat on 2026-01-01 (your own rule 1)", true);
    shop_close(&shop);
}

Test(rules, a_component_that_the_kit_leaves_alone_counts_elsewhere)
{
    struct shop shop = shop_open();
    struct lb_missed *missed = keep(&shop, &(struct lb_missing){"sat", "fuse", "starter", NULL, NULL});
    cr_expect_eq(missed->line, 0);
    lb_missed_free(missed);
    expect_lines(&shop, "sat", "fuse", "");
    expect_lines(&shop, "sun", "fuse", "1 each missed-before*");
    shop_close(&shop);
}

Test(rules, the_same_again_replaces_the_quantity)
{
    struct shop shop = shop_open();
    cr_expect_eq(miss(&shop, "o-ring", "pump", NULL, "20.22x3.53"), 1);
    cr_expect_eq(miss(&shop, "o-ring", "pump", NULL, "30x3"), 2);
    struct lb_missed *missed =
        keep(&shop, &(struct lb_missing){"sun", "O-Ring", "PUMP", "4", " 20.22 × 3.53 "});
    cr_expect_eq(missed->rule.number, 1);
    cr_assert_not_null(missed->was);
    cr_expect_eq(missed->was->quantity, LB_MILLION);
    lb_missed_free(missed);
    expect_rules(&shop, "1,p1,pump,o-ring,4,each,20.22 × 3.53,2026-01-01,sun\r\n"
                        "2,p1,pump,o-ring,1,each,30x3,2026-01-01,sat\r\n");
    expect_lines(&shop, "sat", "o-ring", "4 each missed-before*; 1 each missed-before*");
    shop_close(&shop);
}

Test(rules, taken_back_they_do_nothing)
{
    struct shop shop = shop_open();
    struct lb_rules rules;
    const struct lb_rule *was;
    miss(&shop, "fuse", "pump", NULL, NULL);
    miss(&shop, "rag", "pump", NULL, NULL);
    drop(&shop, 1);
    expect_lines(&shop, "sat", "fuse", "");
    expect_lines(&shop, "sat", "rag", "1 each missed-before*");
    rules = load(&shop);
    cr_expect_eq(lb_rule_drop(shop.store, &rules, 1, &was, &err), LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "there is no rule 1 of yours. See: lastbolt rules");
    lb_rules_free(&rules);
    shop_close(&shop);
}

Test(rules, quantities_with_units)
{
    static const struct {
        const char *quantity, *kept;
    } cases[] = {{"2", "2 each"},      {"2 pcs", "2 each"}, {"50 ml", "0.05 L"},
                 {"0.5L", "0.5 L"},    {"1 kg", "1000 g"},  {"20 cm", "200 mm"},
                 {"2 tube", "2 tube"}, {" 3 ", "3 each"},   {"1.5 each", "1.5 each"}};
    struct shop shop = shop_open();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_missed *missed =
            keep(&shop, &(struct lb_missing){"sat", "grease", "pump", cases[i].quantity, NULL});
        struct lb_buf seen = {0};
        lb_decimal_print(&seen, missed->rule.quantity);
        lb_buf_printf(&seen, " %s", missed->rule.unit);
        cr_expect_str_eq(lb_buf_text(&seen), cases[i].kept);
        lb_buf_free(&seen);
        lb_missed_free(missed);
    }
    shop_close(&shop);
}

#define HOW_MUCH                                                                                             \
    " Write how much, above 0 and up to 1000000, with its unit unless it is pieces, such as 2 or \"50 ml\"."

Test(rules, what_makes_no_sense_is_not_kept)
{
    char long_text[LB_RULE_TEXT_MAX + 2];
    memset(long_text, 'x', sizeof long_text - 1);
    long_text[sizeof long_text - 1] = '\0';
    const struct {
        struct lb_missing said;
        const char *words;
    } cases[] = {
        {{"sax", "fuse", "pump", NULL, NULL}, "there is no kit \"sax\". Did you mean \"sat\"?"},
        {{"sat", "fuse", "pumpp", NULL, NULL}, "p1 has no component \"pumpp\". Did you mean \"pump\"?"},
        {{"sat", "fuse", "coolant", NULL, NULL},
         "coolant is a circuit of p1. Name the component that was worked on when it was missing."},
        {{"sat", "", "pump", NULL, NULL}, "\"\" is no type of part."},
        {{"sat", " -?", "pump", NULL, NULL}, "\" -?\" is no type of part."},
        {{"sat", "fuse", "pump", "0", NULL}, "quantity must be above 0." HOW_MUCH},
        {{"sat", "fuse", "pump", "-1 L", NULL}, "quantity must be above 0." HOW_MUCH},
        {{"sat", "fuse", "pump", "", NULL}, "the quantity is empty." HOW_MUCH},
        {{"sat", "fuse", "pump", "1,5 L", NULL}, "\"1,5 L\" is not a number." HOW_MUCH},
        {{"sat", "fuse", "pump", "9e9", NULL}, "\"9e9\" is not a number." HOW_MUCH},
        {{"sat", "fuse", "pump", "1000001", NULL}, "the quantity is too large." HOW_MUCH},
        {{"sat", "fuse", "pump", "8000000000000 m", NULL}, "the quantity is too large." HOW_MUCH},
        {{"sat", "fuse", "pump", NULL, long_text},
         "the spec is too long: 201 bytes, where 200 are the most."},
        {{"sat", long_text, "pump", NULL, NULL},
         "the type of part is too long: 201 bytes, where 200 are the most."},
        {{"sat", "fuse", "pump", NULL, "\xff"}, "the spec is not UTF-8."},
        {{"sat", "fuse", "pump", "9999999999999", NULL}, "\"9999999999999\" is too large a number." HOW_MUCH},
        {{"sat", "fuse", "pump", "0.1234567", NULL},
         "\"0.1234567\" has more than six decimal places." HOW_MUCH},
    };
    struct shop shop = shop_open();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct lb_missed *missed;
        cr_expect_eq(lb_missed_keep(&missed, shop.store, &cases[i].said, SHOP_TODAY, &err), LB_DATA);
        cr_expect_null(missed);
        cr_expect_str_eq(lb_error_text(&err), cases[i].words, "%s", lb_error_text(&err));
    }
    expect_rules(&shop, "");
    shop_close(&shop);
}

Test(rules, counted_otherwise_than_its_parts)
{
    struct shop shop = shop_open();
    const struct {
        const char *type, *quantity, *want;
    } rows[] = {{"coolant", "3", "L"},
                {"coolant", "500 ml", NULL},
                {"flange-bolt", "2 L", "each"},
                {"flange-bolt", NULL, NULL},
                {"nothing-known", "2 L", NULL}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct lb_missed *missed =
            keep(&shop, &(struct lb_missing){"sat", rows[i].type, "pump", rows[i].quantity, NULL});
        const char *seen = missed->counted_in ? missed->counted_in : "-";
        cr_expect_str_eq(seen, rows[i].want ? rows[i].want : "-", "%s %s: %s", rows[i].type, rows[i].quantity,
                         seen);
        lb_missed_free(missed);
    }
    shop_close(&shop);
}

Test(rules, a_component_by_what_people_call_it)
{
    struct shop shop = shop_open();
    struct lb_missed *missed;
    shop_import(&shop, "components.csv",
                "platform,component,part_type,name\np1,pump,water-pump,Water pump\n"
                "p1,starter,starter-motor,Motor\np1,cover,cover,motor\n");
    missed = keep(&shop, &(struct lb_missing){"sat", "fuse", "water  PUMP", NULL, NULL});
    cr_expect_str_eq(missed->rule.component, "pump");
    lb_missed_free(missed);
    cr_expect_eq(lb_missed_keep(&missed, shop.store, &(struct lb_missing){"sat", "fuse", "motor", NULL, NULL},
                                SHOP_TODAY, &err),
                 LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "\"motor\" may be starter or cover of p1. Say which of them.");
    shop_close(&shop);
}

Test(rules, a_type_nearly_called_so)
{
    struct shop shop = shop_open();
    struct lb_missed *missed = keep(&shop, &(struct lb_missing){"sat", "flange-bold", "pump", NULL, NULL});
    cr_expect_not(missed->type_known);
    cr_assert_not_null(missed->near);
    cr_expect_str_eq(missed->near, "\"flange-bolt\"");
    lb_missed_free(missed);
    missed = keep(&shop, &(struct lb_missing){"sat", "Flange Bolt", "pump", NULL, NULL});
    cr_expect(missed->type_known);
    cr_expect_str_eq(missed->rule.part_type, "flange-bolt");
    lb_missed_free(missed);
    shop_close(&shop);
}

/* A catalogue may write a type with blanks. */
Test(rules, a_type_as_a_catalogue_has_it)
{
    struct shop shop = shop_open();
    shop_import(&shop, "more.csv", "brand,part_number,part_type\nOrlop,900,cable tie\n");
    miss(&shop, "Cable  Tie", "pump", NULL, NULL);
    expect_chosen(&shop, "cable tie", "900 fits");
    shop_close(&shop);
}

/* formats.md §3.6: part type, a spec that is stated, unit. */
Test(rules, pieces_merge_with_parts_of_the_same_spec)
{
    struct shop shop = shop_open();
    miss(&shop, "flange-bolt", "pump", "2", "m6 x 25 8.8");
    expect_lines(&shop, "sat", "flange-bolt", "10 each single-use*");
    expect_why(&shop, "flange-bolt",
               "working on pump takes 2 each; missed before, in sat on 2026-01-01 (your own rule 1)", true);
    miss(&shop, "flange-bolt", "pump", "1", "M6x25");
    expect_lines(&shop, "sat", "flange-bolt", "10 each single-use*; 1 each missed-before*");
    miss(&shop, "pump-gasket", "pump", NULL, NULL);
    expect_lines(&shop, "sat", "pump-gasket", "1 each sealing; 1 each missed-before*");
    shop_close(&shop);
}

/* §3.5: part type, spec, dimension; the spec may be free. */
Test(rules, volumes_merge_with_fluids)
{
    struct shop shop = shop_open();
    miss(&shop, "coolant", "pump", "400 ml", NULL);
    expect_lines(&shop, "sat", "coolant", "4 L fluid*");
    miss(&shop, "coolant", "pump", "1 L", "G12");
    expect_lines(&shop, "sat", "coolant", "4 L fluid*; 1 L missed-before*");
    shop_close(&shop);
}

/* What the map itself counts by the piece among its consumables is one line with it. */
Test(rules, pieces_that_are_consumables)
{
    struct shop shop = shop_open();
    shop_import(
        &shop, "consumables.csv",
        "platform,component,part_type,quantity,unit,spec\np1,pump,rag,2,each,\np1,cover,tie,1,each,\n");
    miss(&shop, "rag", "pump", "3", NULL);
    miss(&shop, "tie", "pump", NULL, NULL);
    miss(&shop, "tie", "starter", NULL, NULL);
    expect_lines(&shop, "sat", "rag", "5 each consumable*");
    expect_lines(&shop, "sat", "tie", "1 each missed-before*");
    expect_lines(&shop, "sun", "tie", "2 each missed-before*");
    shop_close(&shop);
}

Test(rules, which_parts_answer_them)
{
    struct shop shop = shop_open();
    shop_import(&shop, "more.csv",
                "brand,part_number,part_type,spec,unit\nOrlop,501,o-ring,20.22x3.53,each\n"
                "Orlop,502,o-ring,30x3,each\nOrlop,503,tie,200x4.8 black,each\nOrlop,504,fuse,,each\n"
                "Orlop,505,fuse,,each\nOrlop,506,grease,,L\nOrlop,507,hose,,each\n");
    shop_import(&shop, "fits.csv",
                "brand,part_number,make,model\nOrlop,505,Orlop,Finch\nOrlop,507,Orlop,Gull\n");
    miss(&shop, "o-ring", "pump", NULL, "30x3");
    expect_chosen(&shop, "o-ring", "502 fits");
    drop(&shop, 1);
    miss(&shop, "o-ring", "pump", NULL, NULL); /* any of two sizes may be the right one */
    expect_chosen(&shop, "o-ring", "501 ask");
    miss(&shop, "tie", "pump", NULL, NULL);
    expect_chosen(&shop, "tie", "503 fits");
    miss(&shop, "fuse", "pump", NULL, NULL); /* one is listed for the vehicle, one is for any */
    expect_chosen(&shop, "fuse", "504 fits");
    miss(&shop, "grease", "pump", "50 ml", NULL);
    expect_chosen(&shop, "grease", "506 fits");
    miss(&shop, "hose", "pump", NULL, NULL); /* listed for another vehicle only */
    expect_chosen(&shop, "hose", "-");
    shop_close(&shop);
}

Test(rules, marked_in_the_json_of_the_kit)
{
    struct shop shop = shop_open();
    size_t marked = 0, index;
    json_t *line;
    miss(&shop, "flange-bolt", "pump", "2", "M6x25 8.8");
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    json_t *object = lb_report_kit_json(kit);
    json_array_foreach(json_object_get(object, "lines"), index, line)
    {
        if (!json_is_true(json_object_get(line, "missed_before")))
            continue;
        json_t *source = json_array_get(json_object_get(line, "sources"), 1);
        cr_expect_str_eq(json_string_value(json_object_get(source, "file")), "your own rules");
        cr_expect_eq(json_integer_value(json_object_get(source, "line")), 1);
        marked++;
    }
    cr_expect_eq(marked, 1);
    json_decref(object);
    lb_kit_free(kit);
    shop_close(&shop);
}

/* The owner's rules as a file of the index, in a folder of its own. */
static void import_rules(struct shop *shop, const char *name)
{
    struct lb_rules rules = load(shop);
    struct lb_buf csv = {0};
    lb_report_rules_csv(&csv, &rules);
    cr_assert_not(csv.failed);
    shop_import(shop, name, lb_buf_text(&csv));
    lb_buf_free(&csv);
    lb_rules_free(&rules);
}

Test(rules, a_copy_that_is_imported_counts_once)
{
    struct shop shop = shop_open();
    miss(&shop, "fuse", "pump", "2", NULL);
    miss(&shop, "o-ring", "pump", NULL, "20.22 x 3.53");
    import_rules(&shop, "rules.csv");
    miss(&shop, "rag", "pump", NULL, NULL); /* or it were the same file */
    import_rules(&shop, "again.csv");
    expect_lines(&shop, "sat", "fuse", "2 each missed-before*");
    expect_lines(&shop, "sat", "o-ring", "1 each missed-before*");
    miss(&shop, "fuse", "pump", "5", NULL); /* the owner's own wins */
    expect_lines(&shop, "sat", "fuse", "5 each missed-before*");
    drop(&shop, 1);
    expect_lines(&shop, "sat", "fuse", "2 each missed-before*");
    expect_why(&shop, "fuse", "missed before, in sat on 2026-01-01 (again.csv:2)", true);
    expect_ok(lb_sources_drop(shop.store, "again.csv", &err));
    expect_why(&shop, "fuse", "missed before, in sat on 2026-01-01 (rules.csv:2)", true);
    expect_ok(lb_sources_drop(shop.store, "rules.csv", &err));
    expect_lines(&shop, "sat", "fuse", "");
    expect_lines(&shop, "sat", "o-ring", "1 each missed-before*");
    shop_close(&shop);
}

Test(rules, a_file_may_have_conditions)
{
    struct shop shop = shop_open();
    shop_import(
        &shop, "rules.csv",
        "platform,component,part_type,quantity,unit,missed,when\np1,pump,fuse,1,each,2025-06,ac = yes\n"
        "p1,pump,rag,1,each,2025,\np1,nosuch,tie,1,each,2025,\n");
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    cr_expect_not(shop_line(kit, "fuse")->need->sure);
    cr_expect(shop_line(kit, "rag")->need->sure);
    lb_kit_free(kit);
    expect_why(&shop, "fuse", "missed before, on 2025-06 (rules.csv:2), if ac is so", true);
    expect_lines(&shop, "sat", "tie", "");
    miss(&shop, "fuse", "pump", "3", NULL);
    expect_lines(&shop, "sat", "fuse", "3 each missed-before*");
    shop_close(&shop);
}

Test(rules, no_import_and_no_dropping_of_sources_touches_them)
{
    struct shop shop = shop_open();
    static const char rule[] = "1,p1,pump,fuse,1,each,,2026-01-01,sat\r\n";
    miss(&shop, "fuse", "pump", NULL, NULL);
    shop_import(&shop, "rules.csv",
                "platform,component,part_type,quantity,unit,missed,rule\n"
                "p1,pump,fuse,9,each,2025-06,1\n");
    expect_rules(&shop, rule);
    expect_lines(&shop, "sat", "fuse", "1 each missed-before*");
    shop_import(&shop, "rules.csv", "platform,component,part_type,quantity,unit,missed,rule\n");
    expect_rules(&shop, rule);
    cr_expect_eq(lb_sources_drop(shop.store, "your own rules", &err), LB_DATA);
    static const char *const files[] = {"rules.csv", "components.csv", "platforms.csv", "fastenings.csv"};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        expect_ok(lb_sources_drop(shop.store, files[i], &err));
    expect_rules(&shop, rule);
    shop_close(&shop);
}

/* The map is gone, then it is another one, then it is back. */
Test(rules, without_their_platform_they_do_nothing)
{
    struct shop shop = shop_open();
    struct lb_kit *kit;
    miss(&shop, "fuse", "pump", NULL, NULL);
    expect_ok(lb_sources_drop(shop.store, "platforms.csv", &err));
    cr_expect_eq(lb_kit_open(&kit, shop.store, "sat", SHOP_TODAY, &err), LB_DATA);
    shop_import(&shop, "other.csv", "platform,component,part_type\np2,pump,water-pump\n");
    shop_import(&shop, "more-jobs.csv", "platform,job,component\np2,pump,pump\n");
    shop_import(&shop, "platforms.csv", "platform,make,model\np2,Orlop,Finch\n");
    expect_lines(&shop, "sat", "water-pump", "1 each target");
    expect_lines(&shop, "sat", "fuse", "");
    expect_rules(&shop, "1,p1,pump,fuse,1,each,,2026-01-01,sat\r\n");
    shop_import(&shop, "platforms.csv", "platform,make,model\np1,Orlop,Finch\n");
    expect_lines(&shop, "sat", "fuse", "1 each missed-before*");
    shop_close(&shop);
}

/* Every cell of table `rules` is that of table `rule`. */
static void expect_equal(struct shop *shop, int64_t count)
{
    int64_t same = 0;
    expect_ok(
        lb_store_integer(shop->store,
                         "SELECT count(*) FROM rule o JOIN rules c ON c.rule = o.id AND "
                         "c.platform = o.platform AND c.component = o.component AND "
                         "c.part_type = o.part_type AND c.quantity = o.quantity AND c.unit = o.unit AND "
                         "coalesce(c.spec, '') = o.spec AND c.missed = o.missed AND c.kit = o.kit",
                         &same, &err));
    cr_expect_eq(same, count, "%lld of %lld come back equal", (long long)same, (long long)count);
}

/* No cell begins as a formula does, whatever it is quoted with. */
static void expect_inert(const char *csv)
{
    bool begins = true, quoted = false;
    for (const char *p = csv; *p; p++) {
        if (begins && *p != '"')
            cr_expect(!strchr("=+-@\t\r", *p) || (*p == '\r' && p[1] == '\n'), "a formula: %.20s", p);
        begins = begins && *p == '"';
        quoted ^= *p == '"';
        begins |= !quoted && (*p == ',' || *p == '\n');
    }
}

Test(rules, exported_they_come_back_equal)
{
    static const char *const specs[] = {"=1+1",
                                        "'=1+1",
                                        "''@x",
                                        "+4912",
                                        "-5",
                                        "@SUM(A1)",
                                        "a,b",
                                        "say \"x\"",
                                        "a\r\nb",
                                        "\xef\xbc\x9d"
                                        "1",
                                        "'\xef\xbc\x8b"
                                        "1",
                                        "'plain",
                                        "'",
                                        "''",
                                        "M6 x 1,0 x 20 - 8.8",
                                        "20.22×3.53",
                                        "=\"x\",\n=y",
                                        ";|\t",
                                        "0",
                                        ""};
    static const char *const units[] = {"1.25 tube", "50 ml", "3", "0.000001 kg", "1 fl oz"};
    const size_t count = sizeof specs / sizeof *specs;
    struct shop shop = shop_open();
    shop_kit(&shop, "=cmd|' /c calc'!A0", "pump");
    for (size_t i = 0; i < count; i++)
        lb_missed_free(
            keep(&shop, &(struct lb_missing){"=cmd|' /c calc'!A0", "o-ring", "pump",
                                             units[i % (sizeof units / sizeof *units)], specs[i]}));
    struct lb_rules rules = load(&shop);
    struct lb_buf csv = {0};
    lb_report_rules_csv(&csv, &rules);
    cr_expect_eq(rules.items.count, count);
    expect_inert(lb_buf_text(&csv));
    lb_buf_free(&csv);
    lb_rules_free(&rules);
    import_rules(&shop, "rules.csv");
    expect_equal(&shop, (int64_t)count);
    shop_close(&shop);
}

/* Random rules, own and imported, against adding them up by hand. */
enum { RANDOM_RULES = 24, RANDOM_RUNS = 12 };

static const char *const random_components[] = {"pump", "starter", "cover", "nosuch"};
static const char *const random_specs[] = {"", "M8x30", "m8 X 1.25 x 30", "M8", "odd"};
static const int random_groups[] = {0, 1, 1, 2, 3}; /* which of the specs are the same */

struct random_rule {
    unsigned component, spec;
    int64_t quantity;
    bool own, counts;
};

/* The same rule counts once: the last own one, else the first of the file. */
static void judge_rules(struct random_rule *rules)
{
    for (int i = 0; i < RANDOM_RULES; i++) {
        rules[i].counts = rules[i].component < 2; /* what kit sun disturbs */
        for (int j = 0; j < RANDOM_RULES; j++)
            if (i != j && rules[i].component == rules[j].component &&
                random_groups[rules[i].spec] == random_groups[rules[j].spec] &&
                (rules[i].own ? rules[j].own && j > i : rules[j].own || j < i))
                rules[i].counts = false;
    }
}

static void expect_sums(struct shop *shop, const struct random_rule *rules)
{
    int64_t want = 0, seen = 0;
    size_t lines = 0, alone = 0;
    bool group[4] = {0};
    struct lb_kit *kit = shop_open_kit(shop, "sun");
    for (int i = 0; i < RANDOM_RULES; i++) {
        want += rules[i].counts ? rules[i].quantity : 0;
        alone += rules[i].counts && random_groups[rules[i].spec] == 0;
        group[random_groups[rules[i].spec]] |= rules[i].counts;
    }
    for (size_t i = 0; i < kit->need_count; i++) {
        const struct lb_need *need = kit->lines[i].need;
        if (strcmp(need->article.part_type, "stud") != 0)
            continue;
        cr_expect(need->missed && need->reason == LB_MISSED_BEFORE);
        seen += need->article.quantity;
        lines++;
    }
    cr_expect_eq(seen, want * LB_MILLION);
    cr_expect_eq(lines, alone + group[1] + group[2] + group[3]); /* without a spec nothing merges */
    lb_kit_free(kit);
}

static void random_run(unsigned seed)
{
    struct shop shop = shop_open();
    struct random_rule rules[RANDOM_RULES];
    struct lb_buf csv = {0};
    lb_buf_puts(&csv, "platform,component,part_type,quantity,unit,missed,spec\n");
    srand(seed);
    for (int i = 0; i < RANDOM_RULES; i++) {
        struct random_rule *r = &rules[i];
        *r = (struct random_rule){(unsigned)rand() % 4, (unsigned)rand() % 5, 1 + rand() % 9, rand() % 2,
                                  false};
        r->own = r->own && r->component < 3; /* the owner's must be known to the map */
        char quantity[24];
        snprintf(quantity, sizeof quantity, "%lld", (long long)r->quantity);
        if (r->own)
            miss(&shop, "stud", random_components[r->component], quantity, random_specs[r->spec]);
        else
            lb_buf_printf(&csv, "p1,%s,stud,%s,each,2025,%s\n", random_components[r->component], quantity,
                          random_specs[r->spec]);
    }
    shop_import(&shop, "rules.csv", lb_buf_text(&csv));
    judge_rules(rules);
    expect_sums(&shop, rules);
    lb_buf_free(&csv);
    shop_close(&shop);
}

Test(rules, random_ones_add_up)
{
    for (unsigned seed = 1; seed <= RANDOM_RUNS; seed++)
        random_run(seed);
}
