/* Titles as search knows them, and their marks. */
#include "scratch.h"

#include "catalog/title.h"

static struct lb_error err;
static struct scratch folder;
static struct lb_store *store;
static struct lb_titles *titles;

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static void open_titles(void)
{
    folder = scratch_make();
    expect_ok(lb_store_open(&store, scratch_path(&folder, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_titles_open(&titles, store, &err));
}

static void close_titles(void)
{
    lb_titles_close(titles);
    lb_store_close(store);
    scratch_remove(&folder);
}

TestSuite(title, .init = open_titles, .fini = close_titles);

/* "stem@place stem@place ; length, type words" */
static const char *read_title(const char *type, const char *description, const char *spec, const char *brand)
{
    static char text[4096];
    struct lb_title title;
    size_t at = 0;
    expect_ok(lb_title_read(titles, type, description, spec, brand, &title, &err));
    for (int i = 0; i < title.count; i++)
        at += (size_t)snprintf(text + at, sizeof text - at, "%.*s@%d ", title.words[i].length,
                               title.words[i].stem, title.words[i].place);
    snprintf(text + at, sizeof text - at, "; %d, %d", title.length, title.type_words);
    return text;
}

Test(title, words_stand_once_in_the_order_of_type_description_spec_and_brand)
{
    cr_assert_str_eq(read_title("radiator-hose", "HOSE RAD UPR", NULL, "Velmora"),
                     "radiat@0 hose@1 rad@2 upr@3 velmora@15 ; 4, 2");
    cr_assert_str_eq(read_title("coolant", "Coolant for engines", "G12 evo", "Coolant Kings"),
                     "coolant@0 for@1 engin@2 g12@3 evo@4 king@15 ; 5, 1");
    cr_assert_str_eq(read_title("bolt", NULL, "M8x30 8.8", NULL), "bolt@0 ; 1, 1", "a dimension is no text");
    cr_assert_str_eq(read_title("-", NULL, NULL, NULL), "; 1, 0");
    cr_assert_str_eq(read_title("hoses", "hose hosing", NULL, NULL), "hose@0 ; 1, 1", "one stem, one word");
}

Test(title, words_with_digits_are_their_own_stems)
{
    cr_assert_str_eq(read_title("relay", "40A 12V 5pins", NULL, NULL), "relai@0 40a@1 12v@2 5pins@3 ; 4, 1");
}

Test(title, long_titles_keep_the_brand_and_cap_what_is_counted)
{
    struct lb_title title;
    char description[2000] = "";
    for (int i = 0; i < 200; i++)
        sprintf(description + strlen(description), "x%dy ", i);
    expect_ok(lb_title_read(titles, "a b c d e f g h i", description, NULL, "Tarnwell", &title, &err));
    cr_assert_leq(title.count, LB_TITLE_MAX);
    cr_assert_eq(title.length, LB_TITLE_LENGTH_MAX);
    cr_assert_eq(title.type_words, LB_TITLE_TYPE_MAX);
    cr_assert_eq(title.words[title.count - 1].place, LB_PLACE_BRAND);
    cr_assert_eq(title.words[14].place, LB_PLACE_LATE);
}

Test(title, marks_say_what_they_were_made_from_and_sort_by_length)
{
    struct lb_title title = {.length = 31, .type_words = 7};
    int64_t row = (INT64_C(1) << 40) - 1;
    int64_t mark = lb_title_mark(&title, row, 15);
    cr_assert_gt(mark, 0);
    cr_assert_eq(lb_mark_row(mark), row);
    cr_assert_eq(lb_mark_length(mark), 31);
    cr_assert_eq(lb_mark_type_words(mark), 7);
    cr_assert_eq(lb_mark_place(mark), 15);
    cr_assert_eq(lb_mark_class(mark), 255);
    title.length = 3;
    cr_assert_lt(lb_title_mark(&title, row, 15), lb_title_mark(&(struct lb_title){.length = 4}, 1, 0));
}

Test(title, what_was_read_is_counted)
{
    int64_t value;
    read_title("radiator-hose", "HOSE RAD UPR", NULL, "Velmora");
    read_title("water-pump", "12V pump", NULL, "Velmora");
    expect_ok(lb_titles_save(titles, store, &err));
    expect_ok(lb_store_integer(store, "SELECT titles * 1000 + title_words FROM state", &value, &err));
    cr_assert_eq(value, 2007);
    expect_ok(lb_store_integer(store, "SELECT titles FROM word WHERE word = 'velmora'", &value, &err));
    cr_assert_eq(value, 2);
    expect_ok(lb_store_integer(store, "SELECT count(*) FROM word WHERE word = '12v'", &value, &err));
    cr_assert_eq(value, 0, "words with digits are not spelt");
    expect_ok(lb_titles_save(titles, store, &err));
    expect_ok(lb_store_integer(store, "SELECT titles FROM state", &value, &err));
    cr_assert_eq(value, 2, "counted once");
}
