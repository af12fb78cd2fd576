/* No text gets into a page raw. */
#include "report/html.h"

#include <criterion/criterion.h>
#include <string.h>

static void expect_text(const char *text, const char *want)
{
    struct lb_buf out = {0};
    struct lb_html html = {.out = &out};
    lb_html_open(&html, "p");
    lb_html_attr(&html, "title", text);
    lb_html_text(&html, text);
    lb_html_close(&html);
    struct lb_buf whole = {0};
    lb_buf_printf(&whole, "<p title=\"%s\">%s</p>\n", want, want);
    cr_expect_str_eq(lb_buf_text(&out), lb_buf_text(&whole));
    cr_expect_not(out.failed);
    lb_buf_free(&whole);
    lb_buf_free(&out);
}

Test(html, texts_are_escaped_and_control_characters_dropped)
{
    expect_text("<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;");
    expect_text("\" onload='x' &amp;", "&quot; onload=&#39;x&#39; &amp;amp;");
    expect_text("=cmd()", "=cmd()");
    expect_text("a\x01\x1b[31mb\x7f"
                "c\td\ne",
                "a[31mbc d e");
    expect_text("\xC2\x85x\xC2\xA0y", "x\xC2\xA0y");                   /* C1 goes, a no-break space stays */
    expect_text("\xE2\x80\xAEtxt.exe\xE2\x81\xA6", "txt.exe");         /* U+202E, U+2066 */
    expect_text("\xEF\xBF\xBE|\xEF\xB7\x90|\xF0\x9F\xBF\xBF|", "|||"); /* noncharacters */
    expect_text("\xFF|\xC0\xAF|\xED\xA0\x80",                          /* no UTF-8 */
                "\xEF\xBF\xBD|\xEF\xBF\xBD\xEF\xBF\xBD|\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
    expect_text("Ölfilter 88 °C ✓", "Ölfilter 88 °C ✓");
}

Test(html, elements_nest_and_faults_of_the_program_are_told)
{
    struct lb_buf out = {0};
    struct lb_html html = {.out = &out};
    lb_html_open_class(&html, "div", "a");
    lb_html_open(&html, "input");
    lb_html_attr(&html, "checked", NULL);
    lb_html_close(&html);
    lb_html_element(&html, "b", NULL, "x");
    lb_html_close(&html);
    cr_expect_str_eq(lb_buf_text(&out), "<div class=\"a\"><input checked><b>x</b></div>\n");
    lb_html_close(&html); /* nothing is open */
    cr_expect(out.failed);
    lb_buf_free(&out);
    struct lb_html deep = {.out = &out};
    out = (struct lb_buf){0};
    for (int i = 0; i <= LB_HTML_DEPTH; i++)
        lb_html_open(&deep, "div");
    cr_expect(out.failed);
    lb_buf_free(&out);
    out = (struct lb_buf){0};
    struct lb_html late = {.out = &out};
    lb_html_open(&late, "p");
    lb_html_text(&late, "x");
    lb_html_attr(&late, "class", "a"); /* too late */
    cr_expect(out.failed);
    lb_buf_free(&out);
}
