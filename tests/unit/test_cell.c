/* One cell of a CSV: quoted where it must be, and nothing that a spreadsheet would run. */
#include <criterion/criterion.h>

#include "base/cell.h"

static void expect_cell(const char *text, const char *as_value, const char *as_text,
                        const char *in_semicolons)
{
    struct lb_buf seen = {0};
    lb_cell_write(&seen, text);
    cr_expect_str_eq(lb_buf_text(&seen), as_value);
    lb_buf_clear(&seen);
    lb_cell_write_text(&seen, text, ',');
    cr_expect_str_eq(lb_buf_text(&seen), as_text);
    lb_buf_clear(&seen);
    lb_cell_write_text(&seen, text, ';');
    cr_expect_str_eq(lb_buf_text(&seen), in_semicolons);
    lb_buf_free(&seen);
}

Test(cell, quoted_and_inert)
{
    expect_cell("", "", "", "");
    expect_cell("plain", "plain", "plain", "plain");
    expect_cell("a,b", "\"a,b\"", "\"a,b\"", "a,b");
    expect_cell("a;b", "a;b", "a;b", "\"a;b\"");
    expect_cell("say \"x\"", "\"say \"\"x\"\"\"", "\"say \"\"x\"\"\"", "\"say \"\"x\"\"\"");
    expect_cell("a\r\nb", "\"a\r\nb\"", "\"a\r\nb\"", "\"a\r\nb\"");
    expect_cell(" a", "\" a\"", "\" a\"", "\" a\"");
    expect_cell("=1+1", "\"'=1+1\"", "\"'=1+1\"", "\"'=1+1\"");
    expect_cell("@x", "\"'@x\"", "\"'@x\"", "\"'@x\"");
    expect_cell("\tx", "\"'\tx\"", "\"'\tx\"", "\"'\tx\"");
    expect_cell("\rx", "\"'\rx\"", "\"'\rx\"", "\"'\rx\"");
    expect_cell("-cmd|' /c x'!A0", "\"'-cmd|' /c x'!A0\"", "\"'-cmd|' /c x'!A0\"", "\"'-cmd|' /c x'!A0\"");
    expect_cell("-5", "-5", "\"'-5\"", "\"'-5\""); /* a number, and a part number */
    expect_cell("+4912", "+4912", "\"'+4912\"", "\"'+4912\"");
    expect_cell("＝1", "＝1", "\"'＝1\"", "\"'＝1\"");
}

/* What was written for a spreadsheet and read back by the CSV reader, which takes the quotes off, is what it
 * was. */
Test(cell, inert_cells_come_back)
{
    static const char *const texts[] = {"",   "plain", "'",  "''",  "'plain", "=1",      "'=1",     "''=1",
                                        "-5", "'-5",   "@x", "\tx", "'\tx",   "\uff1d1", "'\uff0d1"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct lb_buf seen = {0};
        lb_cell_write_text(&seen, texts[i], ',');
        if (seen.length && seen.text[0] == '"')
            seen.text[seen.length - 1] = '\0';
        const char *cell = lb_buf_text(&seen);
        cell += *cell == '"';
        cr_expect_str_eq(lb_cell_bare(cell), texts[i]);
        lb_buf_free(&seen);
    }
}
