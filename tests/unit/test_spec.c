#include "base/spec.h"

#include <criterion/criterion.h>
#include <string.h>

#define COUNT(table) (sizeof(table) / sizeof(table)[0])

static const char *key_of(const char *text, struct lb_buf *buf)
{
    struct lb_spec spec = lb_spec_parse(text);
    lb_buf_clear(buf);
    lb_spec_key(buf, &spec);
    return lb_buf_text(buf);
}

Test(spec, reads_a_designation_however_it_is_written)
{
    const struct {
        const char *text, *key;
    } cases[] = {
        {"M6x1.0x20 8.8", "thread:6000:1000:20000:8.8"},
        {"M6x20 8.8", "thread:6000:1000:20000:8.8"},
        {"m6 X 1 X 20-8.8", "thread:6000:1000:20000:8.8"},
        {"M6 × 1,0 × 20 - 8,8", "thread:6000:1000:20000:8.8"},
        {"\tM6*1*20mm  8.8 ", "thread:6000:1000:20000:8.8"},
        {"M6\xC2\xA0x\xC2\xA0"
         "20",
         "thread:6000:1000:20000:"},
        {"M6", "thread:6000:1000:0:"},
        {"M6-8.8", "thread:6000:1000:0:8.8"},
        {"M6-1.0", "thread:6000:1000:0:"},
        {"M8-1.25x25-10.9", "thread:8000:1250:25000:10.9"},
        {"M10x1.25", "thread:10000:1250:0:"},
        {"M10x1,25 12.9", "thread:10000:1250:0:12.9"},
        {"M3x3", "thread:3000:500:3000:"},
        {"M30x3", "thread:30000:3000:0:"},
        {"M8x16 a2-70", "thread:8000:1250:16000:A2-70"},
        {"M8x16 A2", "thread:8000:1250:16000:A2"},
        {"M13x1.5", "thread:13000:1500:0:"},
        {"M80x6", "thread:80000:6000:0:"},
        {"M12.000", "thread:12000:1750:0:"},
        {"6PK1538", "belt:6:1538000"},
        {"6 pk 1538 mm", "belt:6:1538000"},
        {"6PK1537,5", "belt:6:1537500"},
        {"20.22x3.53", "o-ring:20220:3530"},
        {"20,22 × 3,53 mm", "o-ring:20220:3530"},
        {"1.24x2.62", "o-ring:1240:2620"},
        {"AS568-210", "o-ring:18640:3530"},
        {"as568a-210", "o-ring:18640:3530"},
        {"AS 568 210", "o-ring:18640:3530"},
        {"AS568\xE2\x80\x91"
         "210",
         "o-ring:18640:3530"},
        {"AS568-12", "o-ring:9250:1780"},
        {"18.64x3.53", "o-ring:18640:3530"},
    };
    struct lb_buf buf = {0};
    for (size_t i = 0; i < COUNT(cases); i++)
        cr_expect_str_eq(key_of(cases[i].text, &buf), cases[i].key, "%s -> %s", cases[i].text, buf.text);
    lb_buf_free(&buf);
}

Test(spec, takes_a_designation_whole_or_leaves_it_a_text)
{
    const char *const texts[] = {
        "M",
        "M6x",
        "M6x0",
        "M6x1x20x3",
        "M6x20 7.7",
        "M6 20",
        "M6x20x1",
        "M0.5",
        "M301",
        "M6.0001",
        "M6x1.0 zinc",
        "M1234567890123",
        "Mobil 1",
        "6PK",
        "6DPK1538",
        "6PK1538 EPDM",
        "100PK1538",
        "0PK1538",
        "PK1538",
        "6PK100001",
        "20x0.4",
        "20x10.5",
        "1x2.6",
        "20.22x3.53x1",
        "20.22x",
        "20.22",
        "AS568-211",
        "AS568-1",
        "AS568-0210",
        "AS568210",
        "AS568-210 NBR",
        "AS569-210",
        "-",
        "5W-30",
        "DOT 4",
        "G12 evo",
        "M6x20 8.8 and a name that goes on for longer than any designation ever did",
    };
    for (size_t i = 0; i < COUNT(texts); i++)
        cr_expect_eq(lb_spec_parse(texts[i]).kind, LB_SPEC_TEXT, "%s", texts[i]);
}

Test(spec, nothing_is_nothing)
{
    const char *const texts[] = {NULL, "", "  \t\r\n", "\xC2\xA0", "\xC2\xAD"};
    struct lb_buf buf = {0};
    for (size_t i = 0; i < COUNT(texts); i++) {
        cr_expect_eq(lb_spec_parse(texts[i]).kind, LB_SPEC_NONE);
        cr_expect_str_empty(key_of(texts[i], &buf));
    }
    lb_buf_free(&buf);
}

Test(spec, a_text_is_compared_without_case_and_blanks)
{
    struct lb_buf a = {0}, b = {0};
    cr_expect_str_eq(key_of(" G12 Evo", &a), "text:g12evo");
    cr_expect_str_eq(key_of("GRÖSSE 4", &a), key_of("größe\xC2\xA0"
                                                    "4",
                                                    &b));
    cr_expect_str_eq(key_of("50 µm", &a), key_of("50 μm", &b)); /* micro sign, Greek mu */
    cr_expect_str_neq(key_of("G12", &a), key_of("G13", &b));
    cr_expect_str_neq(key_of("x\xFF", &a), key_of("x\xFE", &b)); /* no UTF-8: its bytes */
    lb_buf_free(&a);
    lb_buf_free(&b);
}

Test(spec, what_a_need_leaves_out_is_free)
{
    const struct {
        const char *offered, *wanted;
        bool meets;
    } cases[] = {
        {"M6x1x20 8.8", "M6x20", true},
        {"M6x1x20 8.8", "M6", true},
        {"M6x20", "M6x20 8.8", false}, /* stated by the need, unknown of the part */
        {"M6x20 8.8", "M6x20 10.9", false},
        {"M6x0.75x20", "M6x20", false}, /* left out means coarse, not free */
        {"M6x25", "M6x20", false},
        {"M8", "M6", false},
        {"6PK1538", "6 PK 1538", true},
        {"6PK1538", "5PK1538", false},
        {"6PK1540", "6PK1538", false},
        {"18.64x3.53", "AS568-210", true},
        {"18.6x3.53", "AS568-210", false},
        {"anything", "", true},
        {"", "", true},
        {"", "M6", false},
        {"M6", "G12", false},
        {"g 12", "G12", true},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct lb_spec offered = lb_spec_parse(cases[i].offered), wanted = lb_spec_parse(cases[i].wanted);
        cr_expect_eq(lb_spec_meets(&offered, &wanted), cases[i].meets, "%s for %s", cases[i].offered,
                     cases[i].wanted);
    }
}

/* Texts near the border: pieces of designations, mixed with noise. */
static unsigned next_random(unsigned *state)
{
    *state = *state * 1664525U + 1013904223U;
    return *state >> 8;
}

static void make_text(unsigned *state, char *out, size_t size)
{
    static const char *const pieces[] = {"M",     "m6",
                                         "x",     "×",
                                         " ",     "8.8",
                                         "1,0",   "20",
                                         "PK",    "6",
                                         "mm",    "-",
                                         "AS",    "568",
                                         "210",   "A2-70",
                                         "3.53",  ".",
                                         "ß",     "*",
                                         "0",     "\xFF",
                                         "9999",  "\xE2\x80",
                                         "18.64", "\xF0\x9F\x94\xA7",
                                         "a",     "12.9"};
    size_t length = 0;
    for (unsigned n = next_random(state) % 9; n > 0; n--) {
        const char *piece = pieces[next_random(state) % COUNT(pieces)];
        size_t more = strlen(piece);
        if (length + more + 1 > size)
            break;
        memcpy(out + length, piece, more);
        length += more;
    }
    out[length] = '\0';
}

Test(spec, key_and_match_agree_on_any_text)
{
    unsigned state = 20240301;
    struct lb_buf a = {0}, b = {0};
    for (int i = 0; i < 100000; i++) {
        char left[48], right[48];
        make_text(&state, left, sizeof left);
        make_text(&state, right, sizeof right);
        struct lb_spec l = lb_spec_parse(left), r = lb_spec_parse(right);
        cr_assert(lb_spec_meets(&l, &l), "%s", left);
        bool same = strcmp(key_of(left, &a), key_of(right, &b)) == 0;
        bool both = l.kind == r.kind && lb_spec_meets(&l, &r) && lb_spec_meets(&r, &l);
        cr_assert_eq(same, both, "\"%s\" \"%s\" %s %s", left, right, lb_buf_text(&a), lb_buf_text(&b));
    }
    lb_buf_free(&a);
    lb_buf_free(&b);
}
