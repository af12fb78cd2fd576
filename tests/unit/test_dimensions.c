/* Parts by dimension: read from words, found near, against brute force. */
#include "scratch.h"

#include "base/buf.h"
#include "base/spec_words.h"
#include "catalog/dimension_key.h"
#include "catalog/growth.h"
#include "catalog/import.h"
#include "catalog/lookup.h"
#include "find/dimensions.h"

#include <math.h>

#define COUNT(table) (sizeof(table) / sizeof(table)[0])

static struct lb_error err;

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

/* Cuts at blanks, as the command line and the search do. */
struct typed {
    char text[256];
    const char *words[32];
    int count;
};

static struct typed *type_words(const char *text)
{
    static struct typed typed;
    typed = (struct typed){0};
    snprintf(typed.text, sizeof typed.text, "%s", text);
    for (char *word = strtok(typed.text, " "); word; word = strtok(NULL, " "))
        typed.words[typed.count++] = word;
    return &typed;
}

static bool read_words(const char *text, struct lb_dimension *out)
{
    const struct typed *typed = type_words(text);
    return lb_dimension_read(typed->words, typed->count, out);
}

Test(dimensions, reads_what_is_typed)
{
    const struct {
        const char *typed, *shown;
        int at, taken;
    } cases[] = {
        /* ISO 9981: ribs, profile, effective length in mm */
        {"6PK2120", "6PK2120", 0, 1},
        {"6pk2120", "6PK2120", 0, 1},
        {"6PK 2120", "6PK2120", 0, 2},
        {"6 pk 2120", "6PK2120", 0, 3},
        {"6 pk 2120 mm", "6PK2120", 0, 4},
        {"6 pk2120mm", "6PK2120", 0, 2},
        {"belt 6pk2120 halvane", "6PK2120", 1, 1},
        {"alternator belt 6 pk 1537,5 5 ribs", "6PK1537.5", 2, 3},
        {"(6PK2120),", "6PK2120", 0, 1},
        /* ISO 262: the coarse pitch of M8 is 1.25 mm, of M6 1 mm */
        {"M8x30", "M8x1.25x30", 0, 1},
        {"m8 x 30", "M8x1.25x30", 0, 3},
        {"m8x 30mm", "M8x1.25x30", 0, 2},
        {"m 8 x 30", "M8x1.25x30", 0, 4},
        {"M8\xC3\x97"
         "30",
         "M8x1.25x30", 0, 1},
        {"M8 \xC3\x97 30 mm bolt", "M8x1.25x30", 0, 4},
        {"M8*30", "M8x1.25x30", 0, 1},
        {"M6x1.0x20 8.8", "M6x1x20 8.8", 0, 2},
        {"M6 x 1,0 x 20 - 8.8", "M6x1x20 8.8", 0, 7},
        {"M8x16 a2-70 screw", "M8x1.25x16 A2-70", 0, 2},
        {"bolt M10x1.25x40 10.9 flanged", "M10x1.25x40 10.9", 1, 2},
        {"M8x30 12", "M8x1.25x30", 0, 1},
        {"M8", "M8x1.25", 0, 1},
        {"nut m8 flanged", "M8x1.25", 1, 1},
        {"M8 10.9", "M8x1.25 10.9", 0, 2},
        {"M13x20", "M13x20", 0, 1},
        {"\xEF\xBC\xAD\xEF\xBC\x98x30", "M8x1.25x30", 0, 1}, /* wide M8 */
        /* SAE AS568: 018 is 18.77 x 1.78 mm, 210 is 18.64 x 3.53 mm */
        {"20.22x3.53", "O-ring 20.22x3.53", 0, 1},
        {"20,22 x 3,53 mm nbr", "O-ring 20.22x3.53", 0, 4},
        {"AS568-210", "O-ring 18.64x3.53", 0, 1},
        {"as 568 018", "O-ring 18.77x1.78", 0, 3},
        {"AS568A-018 o-ring", "O-ring 18.77x1.78", 0, 2},
        {"o-ring 18.77", "O-ring 18.77", 0, 2},
        {"18.77 oring", "O-ring 18.77", 0, 2},
        {"o ring 18,77 mm", "O-ring 18.77", 0, 4},
        {"18.77 mm O rings viton", "O-ring 18.77", 0, 4},
        {"O-Ring 20mm pump", "O-ring 20", 0, 2},
        {"0-ring 18.77", "O-ring 18.77", 0, 2}, /* a nought */
        {"pump o-ring 18.77x1.78", "O-ring 18.77x1.78", 1, 2},
        {"18.77 x 1.78 o ring", "O-ring 18.77x1.78", 0, 5},
        {"o-ring 18.77 1.78", "O-ring 18.77x1.78", 0, 3},
        {"o-ring 18.77 2", "O-ring 18.77", 0, 2},
        {"4 o-rings 18.77", "O-ring 18.77", 1, 2},
        {"4 o-rings 18.77x1.78", "O-ring 18.77x1.78", 1, 2},
        {"4x4 o-ring", "O-ring 4x4", 0, 2},
        {"o-ring 4x4", "O-ring 4x4", 0, 2},
        /* the first of several */
        {"6PK2120 M8x30", "6PK2120", 0, 1},
        {"4471 20-8 6pk2120", "6PK2120", 2, 1},
        {"4x4 M8x30", "M8x1.25x30", 1, 1},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct lb_dimension d = {.at = -1};
        if (!read_words(cases[i].typed, &d)) {
            cr_expect_fail("%s is none", cases[i].typed);
            continue;
        }
        cr_expect_str_eq(d.text, cases[i].shown, "%s: %s", cases[i].typed, d.text);
        cr_expect(d.at == cases[i].at && d.taken == cases[i].taken, "%s: %d words at %d", cases[i].typed,
                  d.taken, d.at);
        cr_expect_null(d.spec.text);
    }
}

Test(dimensions, reads_nothing_else)
{
    const char *const texts[] = {
        "",
        "4471 20-8",
        "4471208",
        "18.77",
        "18.77 mm",
        "2120",
        "6 2120",
        "6pk",
        "pk2120",
        "6 pk",
        "m",
        "m 8",
        "M",
        "MB 8",
        "o-ring",
        "o ring seal",
        "oring pump",
        "4x4",
        "front 4 x 4",
        "6x6",
        "AS568-211",
        "5w-30",
        "dot 4",
        "20x",
        "x20",
        "AS568-211 oring",
        "ring 18.77",
        "monitoring 18.77",
        "100PK100",
        "20x40",
        "AS 568 211 o-ring",
        "o-ring 4471208",
        "4471208 o-ring",
        "o-ring 4471",
        "8.8",
        "\xFF\xFE",
        "\xC3\x97",
        "6PK2120EPDM",
        "1x2.6",
        "M0.5",
        "h7 12v",
        "- - -",
        "o-ring 0",
        "o-ring 1.2.3",
        "o-ring 18.7777",
        "o-ring ,5",
        "0PK0",
        "12v 55w",
        "2.4l 04-09",
    };
    for (size_t i = 0; i < COUNT(texts); i++) {
        struct lb_dimension d;
        cr_expect_not(read_words(texts[i], &d), "%s: %s", texts[i], d.text);
    }
    struct lb_dimension d;
    cr_expect_not(lb_dimension_read(NULL, 0, &d));
}

Test(dimensions, reads_many_and_long_words)
{
    enum { MANY = 10000 };
    static const char *words[MANY + 3];
    static char longest[MANY + 1];
    struct lb_dimension d;
    const char *const fillers[] = {"hose", "6", "m", "o", "18.77", "x"};
    memset(longest, '6', MANY);
    for (size_t f = 0; f < COUNT(fillers); f++) {
        for (int i = 0; i < MANY; i++)
            words[i] = fillers[f];
        cr_expect_not(lb_dimension_read(words, MANY, &d), "%s", fillers[f]);
        words[MANY - 1] = longest;
        words[MANY] = "";
        words[MANY + 1] = "M8x30";
        words[MANY + 2] = longest;
        cr_expect(lb_dimension_read(words, MANY + 3, &d), "%s", fillers[f]);
        cr_expect_eq(d.at, MANY + 1);
        cr_expect_eq(d.taken, 1);
    }
}

/* Any bytes: what is read lies within the words, and reads alike when it stands alone. */
Test(dimensions, reads_odd_bytes)
{
    static const char *const pieces[] = {
        "6PK2120", "6",           "pk",   "M8",        "m",     "x",    "30",           "8.8",
        "o-ring",  "o",           "ring", "18.77",     "mm",    "\xFF", "\xC3\x97",     "-",
        ",",       "(",           "1,78", "AS568-018", "as",    "568",  "\xEF\xBC\x98", "\xE2\x80\x91",
        "0",       "99999999999", "4x4",  "\"",        "A2-70", "hose"};
    srand(11);
    for (int i = 0; i < 20000; i++) {
        const char *words[12];
        char joined[12][64];
        int count = rand() % 12;
        for (int w = 0; w < count; w++) {
            snprintf(joined[w], sizeof joined[w], "%s%s", pieces[(size_t)rand() % COUNT(pieces)],
                     rand() % 4 ? "" : pieces[(size_t)rand() % COUNT(pieces)]);
            words[w] = joined[w];
        }
        struct lb_dimension d, again;
        if (!lb_dimension_read(words, count, &d))
            continue;
        cr_assert(d.at >= 0 && d.taken > 0 && d.at + d.taken <= count);
        cr_assert(lb_dimension_read(words + d.at, d.taken, &again), "%s", d.text);
        cr_assert(again.at == 0 && again.taken == d.taken && strcmp(again.text, d.text) == 0, "%s, then %s",
                  d.text, again.text);
    }
}

Test(dimensions, in_the_words_of_a_description)
{
    const struct {
        const char *type, *text, *key; /* NULL: none */
    } cases[] = {
        {"v-belt", "BELT 6PK2120", "belt:6:2120000"},
        {"v-belt", "BELT, 6 PK 2120 EPDM", "belt:6:2120000"},
        {"bolt", "BOLT M8X30 ZN", "thread:8000:1250:30000:"},
        {"bolt", "BOLT (M8x1.25x30) 10.9", "thread:8000:1250:30000:10.9"},
        {"bolt", "BOLT M8 x 30 10.9", "thread:8000:1250:30000:10.9"},
        {"nut", "NUT M10x1.25", "thread:10000:1250:0:"},
        {"o-ring", "SEAL 18.77X1.78 NBR", "o-ring:18770:1780"},
        {"pump-o-ring", "SEAL 18.77 x 1.78", "o-ring:18770:1780"},
        {"seal", "O RING 18.77X1.78", "o-ring:18770:1780"},
        {"seal", "ORING AS568-018", "o-ring:18770:1780"},
        {"seal", "SEAL 18.77X1.78", NULL},
        {"seal", "SEAL MOTORING 18.77X1.78", NULL},
        {"pad", "BRAKE PAD M3 2014", NULL},
        {"pad", "BRAKE PAD M3 2014 18X1", NULL},
        {"hose", "HOSE RAD UPR L=243MM F/2.4L 04-09", NULL},
        {"hose", "", NULL},
        {"hose", "x", NULL},
        {"hose", "5", NULL},
        {"hose", "56", NULL},
        {"hose", "X5", NULL},
        {"hose", "BOOK5 PK", NULL},
        {"hose", NULL, NULL},
        {NULL, "BELT 6PK2120", "belt:6:2120000"},
    };
    struct lb_buf key = {0};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct lb_spec spec;
        bool found = lb_spec_in_text(cases[i].type, cases[i].text, &spec);
        cr_expect_eq(found, cases[i].key != NULL, "%s", cases[i].text);
        lb_buf_clear(&key);
        if (found)
            lb_spec_key(&key, &spec);
        if (found && cases[i].key)
            cr_expect_str_eq(lb_buf_text(&key), cases[i].key);
    }
    lb_buf_free(&key);
}

Test(dimensions, keys_are_read_back_and_stand_in_order)
{
    const char *const ascending[] = {"5PK2120",     "6PK255",     "6PK256", "6PK2119.999", "6PK2120",
                                     "18.77x1.78",  "18.77x2.62", "20x1.5", "M6x20",       "M8x1x20",
                                     "M8x1.25",     "M8x20",      "M8x30",  "M8x30 10.9",  "M8x30 8.8",
                                     "M8x30 A2-70", "M10x1.25x16"};
    unsigned char last[LB_DIMENSION_KEY_MAX] = {0}, key[LB_DIMENSION_KEY_MAX];
    size_t last_length = 0;
    for (size_t i = 0; i < COUNT(ascending); i++) {
        struct lb_spec spec = lb_spec_parse(ascending[i]), back;
        size_t length = lb_dimension_key(key, &spec);
        cr_assert(lb_dimension_of_key(key, length, &back), "%s", ascending[i]);
        cr_expect(lb_spec_meets(&spec, &back) && lb_spec_meets(&back, &spec));
        size_t shorter = length < last_length ? length : last_length;
        int order = memcmp(last, key, shorter);
        cr_expect(order < 0 || (order == 0 && last_length < length), "%s", ascending[i]);
        for (size_t cut = 0; cut < length && spec.kind != LB_SPEC_THREAD; cut++)
            cr_expect_not(lb_dimension_of_key(key, cut, &back));
        memcpy(last, key, length);
        last_length = length;
    }
    struct lb_spec text = lb_spec_parse("G12"), none = {0};
    cr_expect_eq(lb_dimension_key(key, &text), 0);
    cr_expect_eq(lb_dimension_key(key, &none), 0);
}

struct index {
    struct scratch s;
    struct lb_store *store;
    struct lb_buf parts; /* the file in the making */
};

static struct index index_make(void)
{
    struct index x = {.s = scratch_make()};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "index.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    return x;
}

static void index_remove(struct index *x)
{
    lb_store_close(x->store);
    scratch_remove(&x->s);
}

static void put_part(struct index *x, const char *brand, const char *number, const char *type,
                     const char *description, const char *spec)
{
    if (!x->parts.length)
        lb_buf_puts(&x->parts, "brand,part_number,part_type,description,spec\n");
    lb_buf_printf(&x->parts, "%s,%s,%s,\"%s\",\"%s\"\n", brand, number, type, description, spec);
}

static void import(struct index *x, const char *name)
{
    struct lb_import_result result = {0};
    cr_assert(!x->parts.failed);
    scratch_write(&x->s, name, lb_buf_text(&x->parts), x->parts.length);
    lb_buf_free(&x->parts);
    const char *const paths[] = {scratch_path(&x->s, name)};
    const struct lb_import_options options = {.paths = paths, .path_count = 1, .now = "2026-01-01T00:00:00Z"};
    expect_ok(lb_import(x->store, &options, &result, &err));
    cr_assert_eq(result.rejected, 0, "%s", result.files.at[0].refusals[0]);
    cr_assert_null(result.files.at[0].problem, "%s", result.files.at[0].problem);
    lb_import_result_free(&result);
}

static struct lb_dimension_finds finds;

static void look(struct index *x, const char *typed, size_t most)
{
    struct lb_dimension wanted;
    struct lb_dimensions *dimensions;
    cr_assert(read_words(typed, &wanted), "%s", typed);
    expect_ok(lb_dimensions_open(&dimensions, x->store, &err));
    expect_ok(lb_dimensions_find(dimensions, &wanted, most, &finds, &err));
    lb_dimensions_close(dimensions);
}

/* "6PK2120|6PK2115 5 mm shorter" */
static void expect_finds(struct index *x, const char *typed, const char *expected)
{
    struct lb_buf got = {0};
    look(x, typed, 20);
    for (size_t i = 0; i < finds.list.count; i++) {
        const struct lb_dimension_find *find = &finds.list.at[i];
        cr_expect_eq(find->difference == NULL, find->distance == 0, "%s", find->spec);
        cr_expect(i == 0 || finds.list.at[i - 1].distance <= find->distance);
        lb_buf_printf(&got, "%s%s%s%s", i ? "|" : "", find->spec, find->difference ? ": " : "",
                      find->difference ? find->difference : "");
    }
    cr_expect_str_eq(lb_buf_text(&got), expected, "%s\n%s", typed, lb_buf_text(&got));
    lb_buf_free(&got);
}

static struct index index_of(const char *type, const char *const *specs, size_t count)
{
    struct index x = index_make();
    for (size_t i = 0; i < count; i++) {
        char number[32];
        snprintf(number, sizeof number, "N-%zu", i);
        put_part(&x, "Halvane", number, type, "", specs[i]);
    }
    import(&x, "parts.csv");
    return x;
}

Test(dimensions, near_belts)
{
    static const char *const specs[] = {"6PK2120",   "6PK2115",      "6PK2130",    "6PK2162.4",  "6PK2163",
                                        "6PK2077.6", "6PK2077",      "5PK2120",    "7PK2125",    "6PK2120.5",
                                        "6DPK2120",  "6PK700",       "6PK725",     "6PK726",     "8PK1000",
                                        "7PK1005",   "9PK1000",      "7PK1006",    "9PK995.5",   "10PK1000",
                                        "1PK500",    "6PK2120 EPDM", "6PK500.004", "6PK500.006", "6PK500.24"};
    struct index x = index_of("v-belt", specs, COUNT(specs));
    /* 2 % of 2120 is 42.4; the belt with more to say in its column is read from its words */
    expect_finds(&x, "6pk 2120",
                 "6PK2120|6PK2120 EPDM|6PK2120.5: 0.5 mm longer|6PK2115: 5 mm shorter|6PK2130: 10 mm longer|"
                 "6PK2077.6: 42.4 mm shorter|6PK2162.4: 42.4 mm longer");
    expect_finds(&x, "6PK700", "6PK700|6PK725: 25 mm longer");
    /* 8 ribs are there: none of 7 or 9 */
    expect_finds(&x, "8PK1020", "8PK1000: 20 mm shorter");
    /* 4 ribs are not: 5 with half a hundredth, 10.6 mm */
    expect_finds(&x, "4PK2125", "5PK2120: 5 ribs instead of 4, 5 mm shorter");
    expect_finds(&x, "8PK2125", "7PK2125: 7 ribs instead of 8");
    expect_finds(&x, "4PK2131", "");
    expect_finds(&x, "2PK500", "1PK500: 1 rib instead of 2");
    expect_finds(&x, "6PK500",
                 "6PK500.004: under 0.01 mm longer|6PK500.006: 0.01 mm longer|6PK500.24: 0.24 mm longer");
    expect_finds(&x, "99PK100", "");
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

Test(dimensions, near_threads)
{
    static const char *const specs[] = {
        "M8x30 8.8",  "M8x30",     "M8x30 10.9",  "M8x1.25x30 8,8", "M8x1x30 8.8", "M10x30",
        "M8x40 10.9", "M8x25 8.8", "M8x36 8.8",   "M8x24 8.8",      "M8x23.9",     "M8x36.1 8.8",
        "M8",         "M8x30 5.6", "M8x30 A2-70", "M100x4x30",      "M13x20",      "M13x1.5x20"};
    struct index x = index_of("bolt", specs, COUNT(specs));
    expect_finds(&x, "M8x30 8.8",
                 "M8x30 8.8|M8x1.25x30 8,8|M8x30 10.9: class 10.9 instead of 8.8|M8x30: class not stated|"
                 "M8x30 5.6: class 5.6 instead of 8.8|M8x30 A2-70: class A2-70 instead of 8.8|"
                 "M8x25 8.8: 5 mm shorter|M8x24 8.8: 6 mm shorter|M8x36 8.8: 6 mm longer");
    expect_finds(&x, "M8x35",
                 "M8x36 8.8: 1 mm longer|M8x36.1 8.8: 1.1 mm longer|M8x30: 5 mm shorter|"
                 "M8x30 10.9: 5 mm shorter|M8x30 5.6: 5 mm shorter|M8x30 8.8: 5 mm shorter|"
                 "M8x1.25x30 8,8: 5 mm shorter|M8x30 A2-70: 5 mm shorter|M8x40 10.9: 5 mm longer");
    expect_finds(&x, "M8x33 8.8",
                 "M8x30 8.8: 3 mm shorter|M8x1.25x30 8,8: 3 mm shorter|M8x36 8.8: 3 mm longer|"
                 "M8x36.1 8.8: 3.1 mm longer|"
                 "M8x30 10.9: 3 mm shorter, class 10.9 instead of 8.8|"
                 "M8x30: 3 mm shorter, class not stated|"
                 "M8x30 5.6: 3 mm shorter, class 5.6 instead of 8.8|"
                 "M8x30 A2-70: 3 mm shorter, class A2-70 instead of 8.8");
    expect_finds(&x, "M8x1x32", "M8x1x30 8.8: 2 mm shorter");
    /* any length */
    expect_finds(&x, "m8 10.9",
                 "M8x30 10.9|M8x40 10.9|M8: class not stated|M8x23.9: class not stated|M8x30: class not "
                 "stated|M8x24 8.8: class 8.8 instead of 10.9|M8x25 8.8: class 8.8 instead of 10.9|"
                 "M8x30 5.6: class 5.6 instead of 10.9|M8x30 8.8: class 8.8 instead of 10.9|"
                 "M8x1.25x30 8,8: class 8.8 instead of 10.9|M8x30 A2-70: class A2-70 instead of 10.9|"
                 "M8x36 8.8: class 8.8 instead of 10.9|M8x36.1 8.8: class 8.8 instead of 10.9");
    /* ISO 261 has no M13: its pitch is left open */
    expect_finds(&x, "M13x20", "M13x20|M13x1.5x20");
    expect_finds(&x, "M13x1.5x21", "M13x1.5x20: 1 mm shorter");
    look(&x, "M8", 3);
    cr_expect_eq(finds.list.count, 3);
    cr_expect_str_eq(finds.list.at[0].spec, "M8");
    cr_expect_str_eq(finds.list.at[1].spec, "M8x23.9");
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

Test(dimensions, near_o_rings)
{
    static const char *const specs[] = {"18.77x1.78", "AS568-018",  "18.64x1.78", "19.27x1.78", "19.28x1.78",
                                        "18.77x1.5",  "18.77x2.28", "18.77x2.29", "18.64x1.9",  "50x3",
                                        "51x3",       "51.01x3",    "49.5x3"};
    struct index x = index_of("o-ring", specs, COUNT(specs));
    /* SAE AS568: 018 is 18.77 x 1.78 */
    expect_finds(&x, "AS568-018",
                 "18.77x1.78|AS568-018|18.64x1.78: 0.13 mm narrower inside|19.27x1.78: 0.5 mm wider inside|"
                 "18.64x1.9: 0.13 mm narrower inside, section 0.12 mm thicker|"
                 "18.77x1.5: section 0.28 mm thinner|18.77x2.28: section 0.5 mm thicker");
    expect_finds(&x, "o-ring 18.77",
                 "18.77x1.5|18.77x1.78|AS568-018|18.77x2.28|18.77x2.29|18.64x1.78: 0.13 mm narrower inside|"
                 "18.64x1.9: 0.13 mm narrower inside|19.27x1.78: 0.5 mm wider inside");
    expect_finds(&x, "50x3", "50x3|49.5x3: 0.5 mm narrower inside|51x3: 1 mm wider inside");
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

Test(dimensions, each_part_once_by_brand_and_number)
{
    struct index x = index_make();
    put_part(&x, "Orlop", "B 2", "v-belt", "", "6PK2120");
    put_part(&x, "halvane", "44-71", "v-belt", "BELT", "6 PK 2120");
    import(&x, "one.csv");
    put_part(&x, "Halvane", "4471", "v-belt", "", "6PK2120");
    put_part(&x, "Orlop", "B-1", "v-belt", "BELT 6PK2120 EPDM", "");
    put_part(&x, "Brae", "7", "v-belt", "BELT 6PK2120", "EPDM");
    put_part(&x, "Halvane", "4471", "v-belt", "", "6PK2125");       /* another list says otherwise */
    put_part(&x, "Brae", "8", "v-belt", "BELT 6PK2120", "6PK2130"); /* the column decides */
    import(&x, "two.csv");
    look(&x, "6PK2120", 20);
    cr_assert_eq(finds.list.count, 5);
    const char *const expected[][3] = {{"Brae", "7", "EPDM"}, /* as its column says */
                                       {"Halvane", "4471", "6PK2120"},
                                       {"Orlop", "B 2", "6PK2120"},
                                       {"Orlop", "B-1", "6PK2120"}, /* as its description says */
                                       {"Brae", "8", "6PK2130"}};
    for (size_t i = 0; i < 5; i++) {
        const struct lb_dimension_find *find = &finds.list.at[i];
        cr_expect_str_eq(find->brand, expected[i][0]);
        cr_expect_str_eq(find->number, expected[i][1]);
        cr_expect_str_eq(find->spec, expected[i][2]);
        cr_expect_str_eq(find->part_type, "v-belt");
        cr_expect_gt(find->row, 0);
    }
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

/* Rows that went or changed are passed over, also before the lookup is tidied; a finder asked again answers
 * anew. */
Test(dimensions, rows_that_are_gone)
{
    struct index x = index_make();
    for (int i = 0; i < 30; i++) {
        char number[32];
        snprintf(number, sizeof number, "A-%02d", i);
        put_part(&x, "Orlop", number, "v-belt", "", "6PK2120");
    }
    import(&x, "parts.csv");
    look(&x, "6PK2120", 100);
    cr_expect_eq(finds.list.count, 30);
    put_part(&x, "Orlop", "A-03", "v-belt", "", "6PK2120");
    put_part(&x, "Orlop", "A-04", "v-belt", "", "6PK2125");
    put_part(&x, "Orlop", "A-05", "v-belt", "", "G12");
    import(&x, "parts.csv");
    look(&x, "6PK2120", 100);
    cr_assert_eq(finds.list.count, 2);
    cr_expect_str_eq(finds.list.at[0].number, "A-03");
    cr_expect_str_eq(finds.list.at[1].difference, "5 mm longer");
    look(&x, "6PK3000", 100);
    cr_expect_eq(finds.list.count, 0);
    cr_expect_null(finds.list.at);
    look(&x, "6PK2120", 0);
    cr_expect_eq(finds.list.count, 0);
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

/* The lookup made anew says the same. */
Test(dimensions, a_lookup_made_anew)
{
    static const char *const specs[] = {"6PK2120", "6PK2115", "M8x30", "18.77x1.78"};
    struct index x = index_of("part", specs, COUNT(specs));
    expect_ok(lb_store_begin(x.store, &err));
    expect_ok(lb_lookup_rebuild(x.store, &err));
    expect_ok(lb_store_commit(x.store, &err));
    expect_finds(&x, "6PK2120", "6PK2120|6PK2115: 5 mm shorter");
    expect_finds(&x, "m8", "M8x30");
    expect_finds(&x, "o-ring 18.77", "18.77x1.78");
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

Test(dimensions, nothing_to_look_for)
{
    struct index x = index_make();
    struct lb_dimensions *dimensions;
    struct lb_dimension wanted = {0};
    expect_ok(lb_dimensions_open(&dimensions, x.store, &err));
    expect_ok(lb_dimensions_find(dimensions, &wanted, 20, &finds, &err));
    cr_expect_eq(finds.list.count, 0);
    cr_assert(read_words("6PK2120", &wanted));
    expect_ok(lb_dimensions_find(dimensions, &wanted, 20, &finds, &err)); /* an empty index */
    cr_expect_eq(finds.list.count, 0);
    lb_dimensions_close(dimensions);
    lb_dimensions_close(NULL);
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

/* The model: every part, its distance told from the header's rules alone. */
struct model {
    struct lb_spec spec;
    char number[32];
    double distance;
};

static struct model parts[4000];

static double by_reach(int32_t wanted, int32_t offered, double share, int32_t least)
{
    double apart = fabs((double)offered - wanted), reach = floor(wanted * share + 1e-9);
    return apart > (reach > least ? reach : least) ? HUGE_VAL : apart / wanted;
}

static double model_distance(const struct lb_spec *wanted, const struct lb_spec *offered, bool other_ribs)
{
    if (wanted->kind != offered->kind)
        return HUGE_VAL;
    if (wanted->kind == LB_SPEC_BELT) {
        if (!other_ribs)
            return wanted->ribs != offered->ribs ? HUGE_VAL
                                                 : by_reach(wanted->length, offered->length, .02, 25000);
        return abs(wanted->ribs - offered->ribs) == 1 ? by_reach(wanted->length, offered->length, .005, 0)
                                                      : HUGE_VAL;
    }
    if (wanted->kind == LB_SPEC_THREAD) {
        if (wanted->diameter != offered->diameter || wanted->pitch != offered->pitch ||
            (wanted->length && !offered->length))
            return HUGE_VAL;
        double distance = wanted->length ? by_reach(wanted->length, offered->length, .2, 5000) : 0;
        if (!wanted->grade[0] || strcmp(wanted->grade, offered->grade) == 0)
            return distance;
        double holds = atof(wanted->grade), other = atof(offered->grade); /* 0: stainless steel */
        return distance + (!offered->grade[0] ? .05 : holds > 0 && other > holds ? .03 : .06);
    }
    double section = abs(wanted->section - offered->section) / 1000.0;
    double distance = by_reach(wanted->inside, offered->inside, .02, 500);
    if (!wanted->section)
        return distance;
    return section > .5 ? HUGE_VAL : distance + (section > 0 ? section * 3000 / wanted->section : 0);
}

static void draw_spec(char *out, size_t size)
{
    static const char *const grades[] = {"", " 5.6", " 8.8", " 10.9", " A2-70"};
    switch (rand() % 3) {
    case 0:
        snprintf(out, size, "%dPK%d.%d", 3 + rand() % 4, 700 + rand() % 200, rand() % 2 * 5);
        break;
    case 1:
        snprintf(out, size, "M%d%s%s%.0d%s", 5 + rand() % 4, rand() % 3 ? "" : "x0.75", "x", 10 + rand() % 60,
                 grades[rand() % 5]);
        break;
    default:
        snprintf(out, size, "%d.%02dx%d.%d", 15 + rand() % 10, rand() % 100, 1 + rand() % 3, rand() % 10);
    }
}

/* Which group of finds is compared: what stands within 1e-9 of the same distance may come in any order. */
static void check_finds(const struct lb_dimension *wanted, size_t total, size_t most)
{
    size_t near = 0;
    bool other_ribs = false;
    for (int pass = 0; pass < 2 && !near; pass++) {
        other_ribs = pass == 1;
        if (other_ribs && wanted->spec.kind != LB_SPEC_BELT)
            break;
        for (size_t i = 0; i < total; i++) {
            parts[i].distance = model_distance(&wanted->spec, &parts[i].spec, other_ribs);
            near += parts[i].distance < HUGE_VAL;
        }
    }
    cr_assert_eq(finds.list.count, near < most ? near : most, "%s: %zu of %zu", wanted->text,
                 finds.list.count, near);
    double farthest = -1;
    for (size_t k = 0; k < finds.list.count; k++) {
        const struct lb_dimension_find *find = &finds.list.at[k];
        size_t i = (size_t)atoi(find->number + 1);
        cr_assert_lt(i, total);
        cr_assert_float_eq(find->distance - other_ribs, parts[i].distance, 1e-9, "%s for %s", find->spec,
                           wanted->text);
        cr_assert(find->distance >= farthest);
        farthest = find->distance;
        parts[i].distance = HUGE_VAL; /* once */
    }
    for (size_t i = 0; i < total && finds.list.count == most; i++)
        cr_assert(parts[i].distance + other_ribs >= farthest - 1e-9, "%s: %s is nearer", wanted->text,
                  parts[i].number);
}

Test(dimensions, what_all_rows_say)
{
    struct index x = index_make();
    struct lb_dimensions *dimensions;
    size_t total = 0;
    srand(5);
    for (int run = 0; run < 5; run++) {
        char name[24], spec[40];
        for (int n = run ? 300 : 2500; n > 0; n--, total++) {
            draw_spec(spec, sizeof spec);
            snprintf(parts[total].number, sizeof parts[total].number, "P%zu", total);
            parts[total].spec = lb_spec_parse(spec);
            parts[total].spec.text = NULL;
            cr_assert(lb_spec_is_dimension(&parts[total].spec), "%s", spec);
            put_part(&x, "Halvane", parts[total].number, "part", "", spec);
        }
        snprintf(name, sizeof name, "p%d.csv", run);
        import(&x, name);
    }
    int64_t runs;
    expect_ok(lb_store_integer(x.store, "SELECT count(*) FROM lookup_run", &runs, &err));
    cr_expect_gt(runs, 1);
    expect_ok(lb_dimensions_open(&dimensions, x.store, &err));
    for (int i = 0; i < 600; i++) {
        struct lb_dimension wanted;
        char typed[60];
        size_t most = (size_t[]){1, 5, 20, 1000}[rand() % 4];
        draw_spec(typed, sizeof typed);
        if (i % 10 == 0)
            snprintf(typed, sizeof typed, "o-ring %d.%02d", 15 + rand() % 10, rand() % 100);
        else if (i % 10 == 1)
            snprintf(typed, sizeof typed, "M%d", 5 + rand() % 4);
        else if (i % 10 == 2)
            snprintf(typed, sizeof typed, "%dPK%d", rand() % 2 ? 2 : 7, 700 + rand() % 200);
        cr_assert(read_words(typed, &wanted), "%s", typed);
        expect_ok(lb_dimensions_find(dimensions, &wanted, most, &finds, &err));
        check_finds(&wanted, total, most);
    }
    lb_dimensions_close(dimensions);
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}

/* More parts of one size than are looked at. */
Test(dimensions, a_size_that_very_many_have)
{
    struct index x = index_make();
    for (int i = 0; i < 3000; i++) {
        char number[32];
        snprintf(number, sizeof number, "P%d", i);
        put_part(&x, "Halvane", number, "bolt", "", i % 1000 ? "M8x30 8.8" : "M8x30 10.9");
    }
    import(&x, "parts.csv");
    look(&x, "M8x30", 20);
    cr_expect_eq(finds.list.count, 20);
    look(&x, "M8x30 10.9", 5);
    cr_assert_eq(finds.list.count, 5);
    for (size_t i = 0; i < 3; i++)
        cr_expect_null(finds.list.at[i].difference);
    cr_expect_str_eq(finds.list.at[0].number, "P0");
    cr_expect_str_eq(finds.list.at[3].difference, "class 8.8 instead of 10.9");
    index_remove(&x);
    lb_dimension_finds_free(&finds);
}
