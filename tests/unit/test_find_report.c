/* What is shown of results made by hand. */
#include "report/find_json.h"
#include "report/find_text.h"

#include "base/decimal.h"
#include "base/text.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static const struct lb_find_reason reasons[] = {{"upper: in the part type (typed as uper)", 3.214},
                                                {"superseded", -1}};

static const struct lb_find_hit mixed[] = {
    {.brand = "Velmora",
     .part_number = "1140-0150",
     .part_type = "radiator-hose",
     .description = "Radiator hose, upper",
     .fit = LB_FIND_FITS,
     .note = "takes the place of Velmora 1140-0081",
     .priced = true,
     .price = 2340,
     .pack_quantity = LB_MILLION,
     .currency = "EUR",
     .supplier = "Harbour",
     .reasons = reasons,
     .reason_count = 1},
    {.brand = "Halvane",
     .part_number = "HV-8",
     .part_type = "hose-clip",
     .description = "Spring clip 32 mm",
     .spec = "32 MM",
     .fit = LB_FIND_ASK,
     .asks = "built",
     .priced = true,
     .price = 480,
     .pack_quantity = 2500000,
     .currency = "EUR"},
    {.brand = "Velmora",
     .part_number = "1140-0081",
     .part_type = "radiator-hose",
     .fit = LB_FIND_NO,
     .superseded = true,
     .discontinued = true,
     .now = "superseded twice; now Velmora 1140-0150",
     .reasons = reasons,
     .reason_count = 2},
    {.brand = "Kestrel",
     .part_number = "6PK2115",
     .part_type = "belt",
     .spec = "6PK2115",
     .fit = LB_FIND_ASK},
    {.brand = "Plainway", .part_number = "PW4", .fit = LB_FIND_FITS, .superseded = true}};

static const char *const remarks[] = {"no title has \"uper\": taken for \"upper\""};

static const struct lb_find_result found = {
    .hits = mixed, .hit_count = 5, .total = 123, .remarks = remarks, .remark_count = 1};

static void shows(const struct lb_find_result *result, const struct lb_find_view *view,
                  const struct lb_style *style, const char *expected)
{
    struct lb_buf out = {0};
    lb_report_find(&out, result, view, style);
    cr_expect(!out.failed);
    cr_expect_str_eq(lb_buf_text(&out), expected, "\n%s", lb_buf_text(&out));
    lb_buf_free(&out);
}

static const struct lb_style eighty = {.width = 80};

Test(find_report, a_page_with_a_vehicle)
{
    const struct lb_find_view view = {.query = "rad hose uper", .vehicle = "maggie", .limit = 5};
    shows(&found, &view, &eighty,
          "no title has \"uper\": taken for \"upper\"\n"
          "\n"
          "   part               what it is                     on maggie             price\n"
          "1  Velmora 1140-0150  Radiator hose, upper           fits              23.40 EUR\n"
          "     - takes the place of Velmora 1140-0081\n"
          "2  Halvane HV-8       hose clip: Spring clip 32 mm   depends on built   4.80 EUR\n"
          "                                                                         for 2.5\n"
          "3  Velmora 1140-0081  radiator hose                  does not fit       no offer\n"
          "     - superseded twice; now Velmora 1140-0150\n"
          "     - discontinued\n"
          "4  Kestrel 6PK2115    belt: 6PK2115                  no list says       no offer\n"
          "5  Plainway PW4       not described by any           fits               no offer\n"
          "                      catalogue\n"
          "     - superseded\n"
          "\n"
          "5 of 123 parts; more with --limit 25. With --all also what does not fit maggie.\n");
}

Test(find_report, the_reasons_below_each_part)
{
    const struct lb_find_view view = {
        .query = "rad hose uper", .vehicle = "maggie", .limit = 5, .all = true, .why = true};
    struct lb_find_result two = found;
    two.hits = mixed + 2;
    two.hit_count = two.total = 2;
    two.remark_count = 0;
    shows(&two, &view, &eighty,
          "   part               what it is     on maggie\n"
          "1  Velmora 1140-0081  radiator hose  does not fit\n"
          "     - superseded twice; now Velmora 1140-0150\n"
          "     - discontinued\n"
          "     +3.21  upper: in the part type (typed as uper)\n"
          "     -1.00  superseded\n"
          "2  Kestrel 6PK2115    belt: 6PK2115  no list says\n"
          "\n"
          "2 parts. Nobody offers these.\n");
}

/* Nothing is said of fitting, and nothing of --all. */
Test(find_report, a_page_without_a_vehicle)
{
    struct lb_find_hit hits[2] = {mixed[0], mixed[3]};
    const struct lb_find_view view = {.query = "hose", .limit = 10};
    const struct lb_find_result result = {.hits = hits, .hit_count = 2, .total = 2};
    hits[0].fit = hits[1].fit = LB_FIND_NO_VEHICLE;
    shows(&result, &view, &eighty,
          "   part               what it is                price\n"
          "1  Velmora 1140-0150  Radiator hose, upper  23.40 EUR\n"
          "     - takes the place of Velmora 1140-0081\n"
          "2  Kestrel 6PK2115    belt: 6PK2115          no offer\n"
          "\n"
          "2 parts.\n");
}

static void closes(const struct lb_find_hit *hits, size_t count, int64_t total, bool least, int limit,
                   const char *expected)
{
    const struct lb_find_result result = {
        .hits = hits, .hit_count = count, .total = total, .total_least = least};
    const struct lb_find_view view = {.query = "hose", .limit = limit};
    struct lb_buf out = {0};
    lb_report_find(&out, &result, &view, &(struct lb_style){0});
    cr_assert(!out.failed && out.length > strlen(expected));
    const char *end = lb_buf_text(&out) + out.length - strlen(expected);
    cr_expect_str_eq(end, expected, "\n%s", lb_buf_text(&out));
    cr_expect_eq(end[-1], '\n');
    lb_buf_free(&out);
}

Test(find_report, the_closing_line)
{
    static struct lb_find_hit many[LB_FIND_LIMIT];
    for (size_t i = 0; i < LB_FIND_LIMIT; i++)
        many[i] = mixed[0];
    closes(many, 1, 1, false, 10, "\n1 part.\n");
    closes(many, 10, 10, false, 10, "\n10 parts.\n");
    closes(many, 10, 11, false, 10, "\n10 of 11 parts; more with --limit 11.\n");
    closes(many, 10, 123, false, 10, "\n10 of 123 parts; more with --limit 50.\n");
    closes(many, 10, 10, true, 10, "\n10 of at least 10 parts; more with --limit 50.\n");
    closes(many, 400, 5000, true, 400, "\n400 of at least 5000 parts; more with --limit 1000.\n");
    closes(many, 1000, 5000, false, 1000, "\n1000 of 5000 parts; one more word makes them fewer.\n");
    closes(many, 4, 5, false, 10, "\n4 of 5 parts.\n");
    closes(mixed + 3, 1, 1, false, 10, "\n1 part. Nobody offers it.\n");
    closes(mixed + 3, 1, 7, false, 1, "\n1 of 7 parts; more with --limit 5. Nobody offers it.\n");
}

/* What belongs below a part stands there also from the tenth on, where the numbers grow. */
Test(find_report, notes_stay_with_their_part)
{
    struct lb_find_hit hits[12];
    char notes[12][24], numbers[12][16], expected[64];
    const struct lb_find_view view = {.query = "hose", .limit = 12};
    const struct lb_find_result result = {.hits = hits, .hit_count = 12, .total = 12};
    struct lb_buf out = {0};
    for (int i = 0; i < 12; i++) {
        snprintf(notes[i], sizeof notes[i], "note %d", i);
        snprintf(numbers[i], sizeof numbers[i], "%d", 7 * i);
        hits[i] = (struct lb_find_hit){.brand = "10",
                                       .part_number = numbers[i],
                                       .description = i % 2 ? "11\n\n12 13" : "14",
                                       .note = notes[i]};
    }
    lb_report_find(&out, &result, &view, &(struct lb_style){.width = 40, .colour = true});
    const char *at = lb_buf_text(&out);
    for (int i = 0; i < 12; i++) {
        snprintf(expected, sizeof expected, "\n%2d  \033[1m10 %d\033[0m", i + 1, 7 * i);
        const char *part = strstr(at, expected);
        cr_assert(part, "%s in %s", expected, at);
        snprintf(expected, sizeof expected, "\n      - \033[33mnote %d\033[0m\n", i);
        at = strstr(part, expected);
        cr_assert(at, "%s in %s", expected, part);
        cr_expect_null(memmem(part + 1, (size_t)(at - part) - 1, "note", 4));
    }
    lb_buf_free(&out);
}

Test(find_report, nothing_found)
{
    static const char *const advice[] = {"nearest words: gasket, basket", "without \"xyz\" there are 12"};
    struct lb_find_result nothing = {.advice = advice, .advice_count = 2};
    struct lb_find_view view = {.query = "gaskt xyz", .limit = 10};
    shows(&nothing, &view, &eighty,
          "Nothing was found for \"gaskt xyz\".\n"
          "  nearest words: gasket, basket\n"
          "  without \"xyz\" there are 12\n");
    nothing.advice_count = 0;
    shows(&nothing, &view, &eighty,
          "Nothing was found for \"gaskt xyz\".\n"
          "  try fewer words, or the part of a number that can still be read\n");
    view.vehicle = "maggie";
    shows(&nothing, &view, &eighty,
          "Nothing that fits maggie was found for \"gaskt xyz\".\n"
          "  try fewer words, or the part of a number that can still be read\n");
    view.all = true;
    shows(&nothing, &view, &eighty,
          "Nothing was found for \"gaskt xyz\".\n"
          "  try fewer words, or the part of a number that can still be read\n");
}

/* A query of a megabyte is not repeated in full, one that would steer a terminal is made harmless. */
Test(find_report, odd_queries)
{
    enum { LONG = 1 << 20 };
    char *query = malloc(LONG + 1);
    cr_assert(query);
    memset(query, 'x', LONG);
    query[LONG] = '\0';
    const struct lb_find_result nothing = {0};
    struct lb_find_view view = {.query = query, .limit = 10};
    struct lb_buf out = {0};
    lb_report_find(&out, &nothing, &view, &eighty);
    cr_expect(!out.failed && out.length < 250, "%zu", out.length);
    cr_expect(strstr(lb_buf_text(&out), "xxx…\""));
    lb_buf_clear(&out);
    json_t *json = lb_report_find_json(query, &nothing, false);
    cr_assert(json);
    cr_expect_str_eq(json_string_value(json_object_get(json, "query")), query);
    json_decref(json);
    free(query);
    view.query = "\033[2J\x07 \xC2\x9B\xFF";
    lb_report_find(&out, &nothing, &view, &eighty);
    cr_expect_null(strpbrk(lb_buf_text(&out), "\033\x07"));
    cr_expect_null(strstr(lb_buf_text(&out), "\xC2\x9B"));
    lb_buf_free(&out);
}

/* No line is wider than the terminal, whatever the catalogue writes. */
Test(find_report, fits_the_terminal)
{
    struct lb_find_hit hits[6];
    const struct lb_find_result result = {
        .hits = hits, .hit_count = 6, .total = 9, .remarks = remarks, .remark_count = 1};
    const struct lb_find_view view = {
        .query = "q", .vehicle = "the old one of aunt maggie", .limit = 6, .why = true};
    memcpy(hits, mixed, sizeof mixed);
    hits[5] =
        (struct lb_find_hit){.brand = "ポンプ製作所株式会社工業",
                             .part_number = "0123456789012345678901234567890123456789",
                             .part_type = "a-type-of-which-nobody-ever-heard-before-nor-will",
                             .description = "Aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa",
                             .asks = "built, ac, abs, engine, gearbox, and whatever else there is to ask",
                             .fit = LB_FIND_ASK,
                             .priced = true,
                             .price = 900000000000,
                             .pack_quantity = 1000 * LB_MILLION,
                             .currency = "EUR"};
    for (int width = 40; width <= 120; width += 8) {
        struct lb_buf out = {0};
        lb_report_find(&out, &result, &view, &(struct lb_style){.width = width});
        char *rest = NULL;
        cr_assert(!out.failed && out.text);
        for (char *line = strtok_r(out.text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            cr_expect_leq(lb_text_width(line), width, "%d: %s", width, line);
        lb_buf_free(&out);
    }
}

static const char *dumped(struct lb_buf *out, const struct lb_find_result *result, bool why)
{
    json_t *json = lb_report_find_json("rad \xFFhose", result, why);
    cr_assert(json);
    lb_buf_clear(out);
    lb_report_json_dump(out, json);
    json_decref(json);
    return lb_buf_text(out);
}

Test(find_report, json)
{
    struct lb_buf out = {0};
    struct lb_find_result two = found;
    two.hits = mixed + 1;
    two.hit_count = 2;
    two.total_least = true;
    cr_expect_str_eq(dumped(&out, &two, false),
                     "{\n"
                     "  \"version\": 1,\n"
                     "  \"query\": \"rad �hose\",\n"
                     "  \"total\": 123,\n"
                     "  \"total_least\": true,\n"
                     "  \"hits\": [\n"
                     "    {\n"
                     "      \"brand\": \"Halvane\",\n"
                     "      \"part_number\": \"HV-8\",\n"
                     "      \"part_type\": \"hose-clip\",\n"
                     "      \"description\": \"Spring clip 32 mm\",\n"
                     "      \"spec\": \"32 MM\",\n"
                     "      \"fit\": \"ask\",\n"
                     "      \"asks\": \"built\",\n"
                     "      \"superseded\": false,\n"
                     "      \"now\": null,\n"
                     "      \"discontinued\": false,\n"
                     "      \"note\": null,\n"
                     "      \"best_price\": {\n"
                     "        \"amount\": \"4.80\",\n"
                     "        \"currency\": \"EUR\"\n"
                     "      },\n"
                     "      \"pack_quantity\": 2.5,\n"
                     "      \"supplier\": null\n"
                     "    },\n"
                     "    {\n"
                     "      \"brand\": \"Velmora\",\n"
                     "      \"part_number\": \"1140-0081\",\n"
                     "      \"part_type\": \"radiator-hose\",\n"
                     "      \"description\": null,\n"
                     "      \"spec\": null,\n"
                     "      \"fit\": \"no\",\n"
                     "      \"asks\": null,\n"
                     "      \"superseded\": true,\n"
                     "      \"now\": \"superseded twice; now Velmora 1140-0150\",\n"
                     "      \"discontinued\": true,\n"
                     "      \"note\": null,\n"
                     "      \"best_price\": null,\n"
                     "      \"pack_quantity\": null,\n"
                     "      \"supplier\": null\n"
                     "    }\n"
                     "  ],\n"
                     "  \"remarks\": [\n"
                     "    \"no title has \\\"uper\\\": taken for \\\"upper\\\"\"\n"
                     "  ],\n"
                     "  \"advice\": []\n"
                     "}\n",
                     "\n%s", lb_buf_text(&out));
    lb_buf_free(&out);
}

static const char *word_of(const json_t *hits, size_t at, const char *key)
{
    const json_t *value = json_object_get(json_array_get(hits, at), key);
    return json_is_null(value) ? "null" : json_string_value(value);
}

Test(find_report, json_of_all_fits_and_reasons)
{
    struct lb_find_hit hits[4] = {mixed[0], mixed[1], mixed[2], mixed[3]};
    const char *advice[] = {"nearest words: hose"};
    hits[3].fit = LB_FIND_NO_VEHICLE;
    const struct lb_find_result result = {
        .hits = hits, .hit_count = 4, .total = 4, .advice = advice, .advice_count = 1};
    json_t *json = lb_report_find_json("hose", &result, true);
    cr_assert(json);
    const json_t *list = json_object_get(json, "hits");
    cr_assert_eq(json_array_size(list), 4);
    static const char *const fits[] = {"fits", "ask", "no", "null"};
    for (size_t i = 0; i < 4; i++)
        cr_expect_str_eq(word_of(list, i, "fit"), fits[i]);
    const json_t *why = json_object_get(json_array_get(list, 2), "why");
    cr_assert_eq(json_array_size(why), 2);
    cr_expect_str_eq(json_string_value(json_object_get(json_array_get(why, 1), "words")), "superseded");
    cr_expect_eq(json_real_value(json_object_get(json_array_get(why, 1), "points")), -1);
    cr_expect_eq(json_array_size(json_object_get(json_array_get(list, 3), "why")), 0);
    cr_expect_str_eq(json_string_value(json_array_get(json_object_get(json, "advice"), 0)), advice[0]);
    json_decref(json);
}
