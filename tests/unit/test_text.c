#include "base/text.h"

#include <criterion/criterion.h>
#include <limits.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static void folds(const char *text, const char *expected)
{
    struct lb_buf out = {0};
    lb_text_fold(&out, text);
    cr_expect_str_eq(lb_buf_text(&out), expected, "%s", text);
    lb_buf_free(&out);
}

Test(text, folds)
{
    folds("", "");
    folds("   ", "");
    folds("  Water\t \r\nPump ", "water pump");
    folds("STRASSE Straße", "strasse strasse");
    folds("ÉCROU e\u0301crou", "écrou écrou");
    folds("\u00A0Keil\u2003riemen\u3000", "keil riemen");
    folds("ﬁlter № ５ M²", "filter no 5 m2");
    folds("soft\u00ADhyphen zero\u200Bwidth", "softhyphen zerowidth");
    folds("ΣΊΣΥΦΟΣ", "σίσυφοσ");
    folds("line\u2028separator\xC2\x85next", "line separator next");
    folds("bolt\x01", "bolt\x01");
}

Test(text, folding_twice_changes_nothing)
{
    const char *const samples[] = {"Straße", "İstanbul", "ŉ",          "ﬃ",         "Ⅷ",
                                   "\u1E9E", "\u0345α",  "a\xFF\xC3(", "x \u00B4 y"};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct lb_buf once = {0};
        lb_text_fold(&once, samples[i]);
        folds(lb_buf_text(&once), lb_buf_text(&once));
        lb_buf_free(&once);
    }
}

Test(text, bytes_that_are_no_utf8_stay)
{
    folds("Gr\xF6\xDF"
          "E",
          "gr\xF6\xDF"
          "e");
    folds("\xFF", "\xFF");
    folds(" \xC3 ", "\xC3");
    folds("É\xED\xA0\x80"
          "É",
          "é\xED\xA0\x80"
          "é");
    cr_expect(lb_text_equal_nocase("A\xF6"
                                   "B",
                                   "a\xF6"
                                   "b"));
    cr_expect_not(lb_text_equal_nocase("\xF6", "\xD6"));
    cr_expect_not(lb_text_equal_nocase("\xF6", "ö"));
}

Test(text, compares_without_case)
{
    cr_expect(lb_text_equal_nocase("", ""));
    cr_expect(lb_text_equal_nocase("M6X1.0", "m6x1.0"));
    cr_expect(lb_text_equal_nocase("Škoda", "ŠKODA"));
    cr_expect(lb_text_equal_nocase("Citroe\u0308n", "CITROËN"));
    cr_expect(lb_text_equal_nocase("Weiß", "WEISS"));
    cr_expect_not(lb_text_equal_nocase("a", "ab"));
    cr_expect_not(lb_text_equal_nocase("a ", "a"));
    cr_expect_lt(lb_text_compare_nocase("abc", "ABD"), 0);
    cr_expect_gt(lb_text_compare_nocase("b", "A"), 0);
    cr_expect_lt(lb_text_compare_nocase("Zebra", "Äpfel"), 0, "code point order");
    cr_expect_lt(lb_text_compare_nocase("[", "a"), 0);
    cr_expect_gt(lb_text_compare_nocase("a", "_"), 0, "folded down, not up");
}

/* An order that is none makes qsort give another answer on another machine. */
Test(text, compare_is_an_order)
{
    const char *const words[] = {"",   "A", "a", "ä",      "Ä", "b",  "ss", "ß",       "z\xFF", "\xFF",
                                 "Z ", "_", "[", "\u212A", "k", "K1", "é",  "e\u0301", "e",     "日本"};
    size_t n = sizeof words / sizeof *words;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            int ij = lb_text_compare_nocase(words[i], words[j]);
            cr_expect_eq(ij, -lb_text_compare_nocase(words[j], words[i]), "%s %s", words[i], words[j]);
            for (size_t k = 0; k < n; k++)
                if (ij <= 0 && lb_text_compare_nocase(words[j], words[k]) <= 0)
                    cr_expect_leq(lb_text_compare_nocase(words[i], words[k]), 0, "%s %s %s", words[i],
                                  words[j], words[k]);
        }
}

Test(text, long_text_needs_memory_and_is_folded_all_the_same)
{
    enum { COPIES = 5000 };
    struct lb_buf upper = {0}, lower = {0};
    for (int i = 0; i < COPIES; i++) {
        lb_buf_puts(&upper, "Ä\xFFß");
        lb_buf_puts(&lower, "ä\xFFss");
    }
    cr_expect(lb_text_equal_nocase(upper.text, lower.text));
    folds(upper.text, lower.text);
    cr_expect_eq(lb_text_width(upper.text), 3 * COPIES);
    lb_buf_free(&upper);
    lb_buf_free(&lower);
}

static void keys(const char *number, const char *expected)
{
    struct lb_buf out = {0};
    lb_text_number_key(&out, number);
    cr_expect_str_eq(lb_buf_text(&out), expected, "%s", number);
    lb_buf_free(&out);
}

Test(text, number_key)
{
    keys("06h 121-026.cc", "06H121026CC");
    keys("  ", "");
    keys("-./", "");
    keys("0 986 4B7 013", "09864B7013");
    keys("ａｂ１２", "AB12");
    keys("größe 7", "GRÖSSE7");
    keys("A\xFF"
         "1",
         "A1");
    keys("№ 5", "NO5");
    keys("12\u00AD34\u200B56", "123456");
}

Test(text, width)
{
    cr_expect_eq(lb_text_width(""), 0);
    cr_expect_eq(lb_text_width("bolt"), 4);
    cr_expect_eq(lb_text_width("Größe"), 5);
    cr_expect_eq(lb_text_width("e\u0301"), 1);
    cr_expect_eq(lb_text_width("水ポンプ"), 8);
    cr_expect_eq(lb_text_width("a\tb\x1B[0m"), 5, "control characters take no column");
    cr_expect_eq(lb_text_width("\xFF\xC3"), 2);
}

Test(text, fit_never_cuts_a_cluster)
{
    cr_expect_eq(lb_text_fit("bolt", 10), 4);
    cr_expect_eq(lb_text_fit("bolt", 2), 2);
    cr_expect_eq(lb_text_fit("bolt", 0), 0);
    cr_expect_eq(lb_text_fit("bolt", -3), 0);
    cr_expect_eq(lb_text_fit("", 3), 0);
    cr_expect_eq(lb_text_fit("水水", 3), 3, "no half of a wide character");
    cr_expect_eq(lb_text_fit("e\u0301e\u0301", 1), 3, "the accent stays with its letter");
    cr_expect_eq(lb_text_fit("e\u0301x", 0), 0);
    cr_expect_eq(lb_text_fit("\xFF\xFF\xFF", 2), 2);
    /* two regional indicators are one flag */
    const char *flags = "\U0001F1E9\U0001F1EA\U0001F1EB\U0001F1F7";
    for (int columns = 0; columns < 6; columns++)
        cr_expect_eq(lb_text_fit(flags, columns) % 8, 0);
}

Test(text, fit_and_width_agree)
{
    const char *text = "a水e\u0301\xFF\tx\u200D日\U0001F469\u200D\U0001F527z";
    for (int columns = 0; columns < 20; columns++) {
        size_t size = lb_text_fit(text, columns);
        char *head = strndup(text, size);
        cr_assert_not_null(head);
        cr_expect_leq(lb_text_width(head), columns);
        free(head);
    }
    cr_expect_eq(lb_text_fit(text, lb_text_width(text)), strlen(text));
}

static void bad_at(const char *bytes, size_t length, size_t expected)
{
    size_t bad = SIZE_MAX;
    cr_expect_not(lb_text_is_utf8(bytes, length, &bad));
    cr_expect_eq(bad, expected);
    cr_expect_not(lb_text_is_utf8(bytes, length, NULL));
}

/* The ill-formed sequences of The Unicode Standard, 3.9 (table 3-7). */
Test(text, utf8)
{
    cr_expect(lb_text_is_utf8("", 0, NULL));
    cr_expect(lb_text_is_utf8("Größe 水 \U0001F527", 16, NULL));
    cr_expect(lb_text_is_utf8("\xEF\xBF\xBF\xF4\x8F\xBF\xBF", 7, NULL), "the last code points");
    bad_at("a\0b", 3, 1);
    bad_at("ab\xFF", 3, 2);
    bad_at("\x80", 1, 0);
    bad_at("\xC0\x80", 2, 0);         /* overlong NUL */
    bad_at("\xC1\xBF", 2, 0);         /* overlong */
    bad_at("\xE0\x9F\xBF", 3, 0);     /* overlong */
    bad_at("\xED\xA0\x80", 3, 0);     /* surrogate */
    bad_at("\xF0\x8F\xBF\xBF", 4, 0); /* overlong */
    bad_at("\xF4\x90\x80\x80", 4, 0); /* past U+10FFFF */
    bad_at("x\xE6\xB0", 3, 1);        /* cut off */
    bad_at("x\xC3", 2, 1);
    bad_at("Gr\xF6\xDF"
           "e",
           5, 2); /* Latin-1 */
}

Test(text, distance)
{
    cr_expect_eq(lb_text_distance("", "", 3), 0);
    cr_expect_eq(lb_text_distance("pump", "PUMP", 3), 0);
    cr_expect_eq(lb_text_distance("pump", "pmup", 3), 1, "swapped neighbours");
    cr_expect_eq(lb_text_distance("pump", "pum", 3), 1);
    cr_expect_eq(lb_text_distance("pump", "puump", 3), 1);
    cr_expect_eq(lb_text_distance("pump", "pomp", 3), 1);
    cr_expect_eq(lb_text_distance("ca", "abc", 5), 3, "no piece is edited twice");
    cr_expect_eq(lb_text_distance("", "abc", 9), 3);
    cr_expect_eq(lb_text_distance("abc", "", 9), 3);
    cr_expect_eq(lb_text_distance("kitten", "sitting", 9), 3);
    cr_expect_eq(lb_text_distance("kitten", "sitting", 1), 2, "capped at limit + 1");
    cr_expect_eq(lb_text_distance("abcdefgh", "", 2), 3);
    cr_expect_eq(lb_text_distance("größe", "grösse", 3), 0);
    cr_expect_eq(lb_text_distance("größe", "groesse", 3), 2);
    cr_expect_eq(lb_text_distance("a", "b", 0), 1);
    cr_expect_eq(lb_text_distance("a", "a", -1), 0);
    cr_expect_eq(lb_text_distance("a", "b", INT_MAX), 1);
    cr_expect_eq(lb_text_distance("\xFF", "\xFE", 3), 1);
}

static void nearest(const char *wanted, const char *const *names, size_t count, const char *expected)
{
    struct lb_buf out = {0};
    cr_expect_eq(lb_text_nearest(&out, wanted, names, count), *expected != '\0', "%s", wanted);
    cr_expect_str_eq(lb_buf_text(&out), expected);
    lb_buf_free(&out);
}

Test(text, nearest)
{
    const char *const names[] = {"water-pump", "fuel-pump", "o-ring", "thermostat", "belt",
                                 "bolt",       "boll",      "Belt",   "bolt"};
    size_t n = sizeof names / sizeof *names;
    nearest("watr-pump", names, n, "\"water-pump\"");
    nearest("bolt", names, n, "\"bolt\", \"Belt\" or \"belt\"");
    nearest("bilt", names, n, "\"Belt\", \"belt\" or \"bolt\"");
    nearest("termostat", names, n, "\"thermostat\"");
    nearest("gearbox", names, n, "");
    nearest("x", names, n, "");
    nearest("", names, n, "");
    nearest("bolt", names, 0, "");
    nearest("olt", names + 5, 1, "\"bolt\"");
    nearest("bollt", names + 4, 3, "\"boll\", \"bolt\" or \"belt\"");
}

Test(text, names_that_people_can_type_again)
{
    char longest[LB_NAME_MOST + 2] = "";
    memset(longest, 'x', LB_NAME_MOST);
    const struct {
        const char *name, *want;
    } rows[] = {
        {"saturday", NULL},
        {"", NULL},
        {"Überholung Nr. 5 / \"vorn\" 🔩", NULL},
        {"à", NULL}, /* C3 A0: its second byte looks like one of C1's */
        {"two\nlines", "has a line break or another control character"},
        {"tab\t", "has a line break or another control character"},
        {"\033[31mred", "has a line break or another control character"},
        {"\177", "has a line break or another control character"},
        {"next\302\205line", "has a line break or another control character"},
        {longest, NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *seen = lb_text_name_refusal(rows[i].name);
        cr_expect(rows[i].want ? seen && strcmp(seen, rows[i].want) == 0 : !seen, "%s: %s", rows[i].name,
                  seen ? seen : "taken");
    }
    longest[LB_NAME_MOST] = 'x';
    cr_expect_str_eq(lb_text_name_refusal(longest), "is too long; 200 bytes are the most");
}
