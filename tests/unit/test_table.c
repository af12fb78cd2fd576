#include "report/table.h"

#include "base/text.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static const struct lb_table_column columns[] = {{.heading = "line", .align = LB_RIGHT},
                                                 {.heading = "what", .may_shrink = true},
                                                 {.heading = "for", .may_shrink = true},
                                                 {.heading = "price", .align = LB_RIGHT}};

static void fill(struct lb_table *table, const char *const *cells, size_t count)
{
    *table = (struct lb_table){.columns = columns, .column_count = 4};
    for (size_t i = 0; i < count; i++)
        lb_table_cell(table, LB_PLAIN, cells[i]);
}

static void prints(const char *const *cells, size_t count, int width, const char *expected)
{
    struct lb_table table;
    struct lb_buf out = {0};
    fill(&table, cells, count);
    lb_table_print(&table, &out, &(struct lb_style){.width = width});
    cr_expect(!out.failed);
    cr_expect_str_eq(lb_buf_text(&out), expected, "%d columns:\n%s", width, lb_buf_text(&out));
    lb_table_free(&table);
    lb_buf_free(&out);
}

Test(table, aligns_left_and_right_without_blanks_at_the_end)
{
    const char *const cells[] = {"3", "water pump", "engine", "41.20", "12", "gasket", "", ""};
    prints(cells, 8, 0,
           "line  what        for     price\n"
           "   3  water pump  engine  41.20\n"
           "  12  gasket\n");
    prints(cells, 6, 0,
           "line  what        for     price\n"
           "   3  water pump  engine  41.20\n"
           "  12  gasket\n");
}

Test(table, leaves_out_what_is_empty)
{
    const char *const cells[] = {"3", "", NULL, "4"};
    prints(cells, 4, 80, "line  price\n   3      4\n");
    prints(cells, 0, 80, "");
    struct lb_buf out = {0};
    struct lb_table bare = {
        .columns = (const struct lb_table_column[]){{.may_shrink = true}}, .column_count = 1, .indent = 3};
    lb_table_cell(&bare, LB_PLAIN, "no heading");
    lb_table_print(&bare, &out, &(struct lb_style){.width = 80});
    cr_expect_str_eq(lb_buf_text(&out), "   no heading\n");
    lb_table_free(&bare);
    lb_buf_free(&out);
}

Test(table, counts_wide_and_combining_characters)
{
    const char *const cells[] = {"1", "水泵", "e\u0301", "1", "2", "pump", "ab", "2", "3", "🔩", "x", "3"};
    prints(cells, 12, 0,
           "line  what  for  price\n"
           "   1  水泵  e\u0301        1\n"
           "   2  pump  ab       2\n"
           "   3  🔩    x        3\n");
}

Test(table, breaks_between_words)
{
    const char *const cells[] = {"7", "pre-coated bolt M6x1.0x25 8.8", "water pump, thermostat housing",
                                 "2.40"};
    prints(cells, 4, 45,
           "line  what             for              price\n"
           "   7  pre-coated bolt  water pump,       2.40\n"
           "      M6x1.0x25 8.8    thermostat\n"
           "                       housing\n");
}

Test(table, a_line_feed_breaks_the_line)
{
    const char *const cells[] = {"7", "one\n\ntwo", "x", "1"};
    prints(cells, 4, 80,
           "line  what  for  price\n"
           "   7  one   x        1\n"
           "\n"
           "      two\n");
}

static size_t without_blanks(const char *text, size_t length)
{
    size_t count = 0;
    for (size_t i = 0; i < length; i++)
        count += text[i] != ' ' && text[i] != '\n';
    return count;
}

static void fits(int width)
{
    const char *const cells[] = {
        "120",
        "冷却水泵垫片 a-word-that-is-longer-than-any-column-can-be and 👨‍👩‍👧 "
        "e\u0301e\u0301e\u0301",
        "upper radiator hose, lower radiator hose, expansion tank", "1 204.50"};
    struct lb_table table;
    struct lb_buf out = {0};
    fill(&table, cells, 4);
    lb_table_print(&table, &out, &(struct lb_style){.width = width});
    for (const char *at = lb_buf_text(&out); *at;) {
        size_t length = strcspn(at, "\n");
        char *line = strndup(at, length);
        cr_expect_leq(lb_text_width(line), width, "%d: %s", width, line);
        cr_expect(length == 0 || line[length - 1] != ' ');
        free(line);
        at += length + 1;
    }
    size_t wanted = strlen("linewhatforprice");
    for (size_t i = 0; i < 4; i++)
        wanted += without_blanks(cells[i], strlen(cells[i]));
    cr_expect_eq(without_blanks(lb_buf_text(&out), out.length), wanted, "something was cut off");
    lb_table_free(&table);
    lb_buf_free(&out);
}

Test(table, fits_and_loses_nothing)
{
    const int widths[] = {30, 40, 60, 80, 200};
    for (size_t i = 0; i < sizeof widths / sizeof *widths; i++)
        fits(widths[i]);
    for (int width = -1; width < 24; width++) { /* too narrow: wider than asked for, but whole */
        const char *const cells[] = {"1", "水水水", "abc", "12345"};
        struct lb_table table;
        struct lb_buf out = {0};
        fill(&table, cells, 4);
        lb_table_print(&table, &out, &(struct lb_style){.width = width});
        cr_expect_eq(without_blanks(lb_buf_text(&out), out.length),
                     strlen("linewhatforprice1水水水abc12345"));
        lb_table_free(&table);
        lb_buf_free(&out);
    }
}

static void puts_tone(bool colour, enum lb_tone tone, const char *text, const char *expected)
{
    struct lb_buf out = {0};
    lb_style_put(&out, &(struct lb_style){.colour = colour}, tone, text);
    cr_expect_str_eq(lb_buf_text(&out), expected);
    lb_buf_free(&out);
}

Test(table, colours_only_when_asked)
{
    for (int tone = LB_PLAIN; tone <= LB_GREEN; tone++)
        puts_tone(false, (enum lb_tone)tone, "gap", "gap");
    puts_tone(true, LB_PLAIN, "gap", "gap");
    puts_tone(true, LB_BOLD, "gap", "\033[1mgap\033[0m");
    puts_tone(true, LB_RED, "gap", "\033[31mgap\033[0m");
    puts_tone(true, LB_RED, "", "");
}

Test(table, colour_takes_no_columns)
{
    struct lb_table table = {.columns = columns, .column_count = 4};
    struct lb_buf out = {0};
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 4; j++)
            lb_table_cellf(&table, i ? LB_RED : LB_PLAIN, "%d", 10 * i + j);
    lb_table_print(&table, &out, &(struct lb_style){.width = 80, .colour = true});
    cr_expect_str_eq(lb_buf_text(&out),
                     "\033[2mline\033[0m  \033[2mwhat\033[0m  \033[2mfor\033[0m  \033[2mprice\033[0m\n"
                     "   0  1     2        3\n"
                     "  \033[31m10\033[0m  \033[31m11\033[0m    \033[31m12\033[0m      \033[31m13\033[0m\n");
    lb_table_free(&table);
    lb_buf_free(&out);
}

Test(table, what_a_catalogue_wrote_does_not_steer_the_terminal)
{
    puts_tone(true, LB_PLAIN, "a\033[2Jb\tc\x7F", "a [2Jb c ");
    puts_tone(false, LB_PLAIN,
              "a\xC2\x9B"
              "2Jb é",
              "a 2Jb é");
    puts_tone(false, LB_PLAIN, "\xC2", "\xC2");
    puts_tone(false, LB_PLAIN, "\u202Elive\u202C\u200F \u2066a\u2069\u2026",
              " live    a \u2026"); /* direction */
    puts_tone(false, LB_PLAIN, "\xE2\x80", "\xE2\x80");
    const char *const cells[] = {"1", "x\ry\033]0;z\a", "", "2"};
    prints(cells, 4, 80, "line  what       price\n   1  x y ]0;z       2\n");
}

static void wraps(int width, int column, int hang, const char *text, const char *expected)
{
    struct lb_buf out = {0};
    lb_style_wrap(&out, &(struct lb_style){.width = width}, LB_PLAIN, column, hang, text);
    cr_expect_str_eq(lb_buf_text(&out), expected, "%s", lb_buf_text(&out));
    lb_buf_free(&out);
}

Test(table, wraps_sentences)
{
    wraps(20, 0, 2, "look at the plate on the door", "look at the plate on\n  the door\n");
    wraps(20, 10, 2, "look at the plate", "look at\n  the plate\n");
    wraps(0, 0, 2, "look at the plate on the door", "look at the plate on the door\n");
    wraps(20, 0, 2, "", "\n");
    wraps(20, 0, 2, "one\ntwo", "one\n  two\n");
}
