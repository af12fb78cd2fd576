/* Parts by number, on indexes made by the real import. */
#include "scratch.h"

#include "base/buf.h"
#include "base/text.h"
#include "catalog/import.h"
#include "catalog/lookup.h"
#include "catalog/partkey.h"
#include "find/numbers.h"

static struct lb_error err;

struct index {
    struct scratch s;
    struct lb_store *store;
    struct lb_numbers *numbers; /* NULL: the index has changed since */
    struct lb_number_finds finds;
};

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static struct index index_make(void)
{
    struct index x = {.s = scratch_make()};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "index.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    return x;
}

static void index_remove(struct index *x)
{
    lb_numbers_close(x->numbers);
    lb_number_finds_free(&x->finds);
    lb_store_close(x->store);
    scratch_remove(&x->s);
}

static void import_text(struct index *x, const char *name, const char *text)
{
    char path[160];
    struct lb_import_result result = {0};
    scratch_write(&x->s, name, text, strlen(text));
    snprintf(path, sizeof path, "%s", scratch_path(&x->s, name));
    const char *const paths[] = {path};
    const struct lb_import_options options = {.paths = paths, .path_count = 1, .now = "2026-01-01T00:00:00Z"};
    expect_ok(lb_import(x->store, &options, &result, &err));
    cr_assert_null(result.files.at[0].problem, "%s", result.files.at[0].problem);
    lb_import_result_free(&result);
    lb_numbers_close(x->numbers);
    x->numbers = NULL;
}

static void find(struct index *x, const char *typed, enum lb_number_match widest, size_t most)
{
    if (!x->numbers)
        expect_ok(lb_numbers_open(&x->numbers, x->store, &err));
    expect_ok(lb_numbers_find(x->numbers, typed, widest, most, &x->finds, &err));
}

/* All finds as `EXACT Velmora 44-71 208; BEGINS+2 …`. */
static void expect_finds(struct index *x, const char *typed, const char *want)
{
    static const char *const words[] = {"exact", "alike", "begins", "inside", "edit"};
    struct lb_buf got = {0};
    find(x, typed, LB_NUMBER_EDIT, 1000);
    for (size_t i = 0; i < x->finds.list.count; i++) {
        const struct lb_number_find *f = &x->finds.list.at[i];
        struct lb_buf key = {0};
        lb_part_key(&key, f->brand, f->number);
        cr_expect_str_eq(f->key, lb_buf_text(&key));
        lb_buf_free(&key);
        lb_buf_printf(&got, "%s%s", i ? "; " : "", words[f->match]);
        if (f->more)
            lb_buf_printf(&got, "+%d", f->more);
        if (f->cost > 0)
            lb_buf_printf(&got, " %.1f", f->cost);
        lb_buf_printf(&got, " %s %s", f->brand, f->number);
    }
    cr_expect_str_eq(lb_buf_text(&got), want, "%s: %s", typed, lb_buf_text(&got));
    cr_expect_not(x->finds.cut);
    lb_buf_free(&got);
}

Test(numbers, each_way_in_its_order)
{
    struct index x = index_make();
    import_text(
        &x, "parts.csv",
        "brand,part_number,part_type\nVelmora,44-71 208,pump\nHalvane,4471 208,pump\n"
        "Velmora,4471208-02,pump\nVelmora,4471208X,pump\nVelmora,AB-4471208,pump\n"
        "Velmora,9 4471208 7 7,pump\nVelmora,4471203,pump\nVelmora,447I2O8,pump\nVelmora,4471280,pump\n"
        "Velmora,471208,pump\nVelmora,44B1208,pump\nVelmora,44712B8,pump\nVelmora,447120B,pump\n"
        "Velmora,44-711208,pump\nVelmora,7744,pump\n");
    expect_finds(&x, "447 12.08",
                 "exact Halvane 4471 208; exact Velmora 44-71 208; alike Velmora 447I2O8; "
                 "begins+1 Velmora 4471208X; begins+2 Velmora 4471208-02; inside+2 Velmora AB-4471208; "
                 "inside+3 Velmora 9 4471208 7 7; edit 0.5 Velmora 447120B; edit 0.7 Velmora 4471280; "
                 "edit 1.0 Velmora 44-711208; edit 1.0 Velmora 4471203; edit 1.0 Velmora 44712B8; "
                 "edit 1.0 Velmora 44B1208; edit 1.0 Velmora 471208");
    expect_finds(&x, "77", "begins+2 Velmora 7744");
    expect_finds(&x, "7", "");
    expect_finds(&x, "208", "");
    expect_finds(&x, "2O8X", "inside+4 Velmora 4471208X");
    index_remove(&x);
}

Test(numbers, the_way_and_the_count_are_bounds)
{
    struct index x = index_make();
    import_text(&x, "parts.csv",
                "brand,part_number,part_type\nVelmora,1234,pump\nHalvane,1234,pump\nVelmora,I234,pump\n"
                "Velmora,12345,pump\nVelmora,01234,pump\nVelmora,1243,pump\n");
    find(&x, "1234", LB_NUMBER_EXACT, 20);
    cr_expect_eq(x.finds.list.count, 2);
    find(&x, "1234", LB_NUMBER_ALIKE, 20);
    cr_expect_eq(x.finds.list.count, 3);
    find(&x, "1234", LB_NUMBER_BEGINS, 20);
    cr_expect_eq(x.finds.list.count, 4);
    find(&x, "1234", LB_NUMBER_INSIDE, 20);
    cr_expect_eq(x.finds.list.count, 5);
    find(&x, "1234", LB_NUMBER_EDIT, 20);
    cr_expect_eq(x.finds.list.count, 6);
    cr_expect_not(x.finds.cut);
    find(&x, "1234", LB_NUMBER_EDIT, 3); /* the first way has as many */
    cr_expect_eq(x.finds.list.count, 3);
    cr_expect_not(x.finds.cut);
    find(&x, "1234", LB_NUMBER_EDIT, 1);
    cr_expect_eq(x.finds.list.count, 1);
    cr_expect_str_eq(x.finds.list.at[0].brand, "Halvane");
    cr_expect(x.finds.cut);
    find(&x, "1234", LB_NUMBER_EDIT, 0);
    cr_expect_eq(x.finds.list.count, 0);
    index_remove(&x);
}

Test(numbers, the_typed_may_be_anything)
{
    struct index x = index_make();
    import_text(&x, "parts.csv",
                "brand,part_number,part_type\nVelmora,---,pump\nVelmora,----+,pump\nVelmora,7,pump\n"
                "Velmora,Б-1234,pump\nVelmora,Ä123,pump\nVelmora,O,pump\n");
    expect_finds(&x, "", "");
    expect_finds(&x, "   ", "");
    expect_finds(&x, "---", "exact Velmora ---; begins+2 Velmora ----+");
    expect_finds(&x, "----", "begins+1 Velmora ----+; edit 1.0 Velmora ---");
    expect_finds(&x, "+", "");
    expect_finds(&x, "7", "exact Velmora 7");
    expect_finds(&x, "0", "alike Velmora O");
    expect_finds(&x, "б1234", "exact Velmora Б-1234");
    expect_finds(&x, "1234", "inside+1 Velmora Б-1234");
    expect_finds(&x, "Ä1234", "edit 1.0 Velmora Ä123; edit 1.0 Velmora Б-1234");
    expect_finds(&x, "\x1f\x1f\xff\xfe", "");
    char *long_one = malloc((1 << 20) + 1);
    memset(long_one, '7', 1 << 20);
    long_one[1 << 20] = '\0';
    expect_finds(&x, long_one, "");
    memset(long_one, '-', 1 << 20);
    expect_finds(&x, long_one, "");
    free(long_one);
    index_remove(&x);
}

/* Keys hold 200 bytes of a number, the rest is told from the rows. */
Test(numbers, long_numbers)
{
    struct index x = index_make();
    char digits[322];
    struct lb_buf text = {0};
    for (size_t i = 0; i < sizeof digits - 1; i++)
        digits[i] = (char)('2' + i * i % 7);
    digits[sizeof digits - 1] = '\0';
    lb_buf_puts(&text, "brand,part_number,part_type\n");
    lb_buf_printf(&text, "Velmora,%s8,pump\nVelmora,%s9,pump\nVelmora,%.199s,pump\nVelmora,%.200s,pump\n",
                  digits, digits, digits, digits);
    import_text(&x, "parts.csv", text.text);
    char typed[400];
    snprintf(typed, sizeof typed, "%s8", digits);
    find(&x, typed, LB_NUMBER_EDIT, 100);
    cr_assert_eq(x.finds.list.count, 2);
    cr_expect_eq(x.finds.list.at[0].match, LB_NUMBER_EXACT);
    cr_expect_str_eq(x.finds.list.at[0].number, typed);
    cr_expect_eq(x.finds.list.at[1].match, LB_NUMBER_EDIT);
    find(&x, digits, LB_NUMBER_EDIT, 100);
    cr_assert_eq(x.finds.list.count, 2);
    cr_expect_eq(x.finds.list.at[0].match, LB_NUMBER_BEGINS);
    snprintf(typed, sizeof typed, "%.200s", digits);
    find(&x, typed, LB_NUMBER_EDIT, 100);
    cr_assert_eq(x.finds.list.count, 4);
    cr_expect_eq(x.finds.list.at[0].match, LB_NUMBER_EXACT);
    cr_expect_eq(x.finds.list.at[1].match, LB_NUMBER_BEGINS);
    cr_expect_eq(x.finds.list.at[1].more, 122);
    cr_expect_eq(x.finds.list.at[3].match, LB_NUMBER_EDIT);
    find(&x, digits + 100, LB_NUMBER_INSIDE, 100); /* it goes on where pieces end */
    snprintf(typed, sizeof typed, "%.60s", digits + 100);
    find(&x, typed, LB_NUMBER_INSIDE, 100);
    cr_expect_eq(x.finds.list.count, 4);
    lb_buf_free(&text);
    index_remove(&x);
}

/* More letters than a key tells apart by their places. */
Test(numbers, many_letters_that_look_alike)
{
    struct index x = index_make();
    struct lb_buf text = {0};
    char letters[41], digits[41];
    memset(letters, 'O', 40);
    memset(digits, '0', 40);
    letters[40] = digits[40] = '\0';
    lb_buf_printf(&text, "brand,part_number,part_type\nVelmora,%s,pump\nVelmora,%s,pump\n", letters, digits);
    import_text(&x, "parts.csv", text.text);
    find(&x, letters, LB_NUMBER_EDIT, 10);
    cr_assert_eq(x.finds.list.count, 2);
    cr_expect_str_eq(x.finds.list.at[0].number, letters);
    cr_expect_eq(x.finds.list.at[1].match, LB_NUMBER_ALIKE);
    cr_expect_str_eq(x.finds.list.at[1].number, digits);
    lb_buf_free(&text);
    index_remove(&x);
}

Test(numbers, each_part_once_as_the_best_file_writes_it)
{
    struct index x = index_make();
    import_text(&x, "applications.csv",
                "make,model,brand,part_number\nVelmora,Arden,HALVANE,77 001\nVelmora,Arden,HALVANE,88 001\n");
    import_text(&x, "offers.csv",
                "supplier,brand,part_number,price,currency\nnord,halvane,77.001,5.00,EUR\n"
                "nord,halvane,99.001,5.00,EUR\nsued,Halvane,77-001,6.00,EUR\n");
    import_text(&x, "parts.csv", "brand,part_number,part_type\nHalvane,77/001,pump\n");
    import_text(&x, "crossrefs.csv",
                "brand,part_number,other_brand,other_number,relation\nHalvane,77001,Orbet,X 5,same\n"
                "Orbet,X5,Halvane,X.5,same\nOrbet,66 001,Orbet,66-0O1,same\n");
    import_text(&x, "supersessions.csv", "brand,part_number,new_brand,new_number\nOrbet,55 001,Orbet,X-5\n");
    expect_finds(&x, "77001", "exact Halvane 77/001");
    expect_finds(&x, "88001", "exact HALVANE 88 001");
    expect_finds(&x, "99001", "exact halvane 99.001");
    expect_finds(&x, "X5", "exact Halvane X.5; exact Orbet X 5");
    expect_finds(&x, "55001", "exact Orbet 55 001");
    expect_finds(&x, "66OO1", "alike Orbet 66 001; alike Orbet 66-0O1");
    expect_finds(&x, "66 0o1", "exact Orbet 66-0O1; alike Orbet 66 001");
    index_remove(&x);
}

/* What looks alike is not the same part; a row may name one number twice. */
Test(numbers, a_part_key_leads_to_its_own_rows)
{
    struct index x = index_make();
    struct lb_lookup *lookup;
    struct lb_buf key = {0}, ids = {0};
    import_text(
        &x, "parts.csv",
        "brand,part_number,part_type\nOrbet,1O1,pump\nOrbet,101,pump\nOrbet,I0I,pump\nHalvane,101,pump\n");
    import_text(&x, "crossrefs.csv",
                "brand,part_number,other_brand,other_number,relation\nOrbet,101,orbet,1-0-1,same\n"
                "Velmora,X,Orbet,IO1,same\n");
    expect_ok(lb_lookup_open(&lookup, x.store, &err));
    static const char *const rows[][2] = {
        {"1O1", "[1]"}, {"101", "[2,5]"}, {"I0I", "[3]"}, {"IO1", "[6]"}, {"1OI", "[]"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        lb_part_key(&key, "Orbet", rows[i][0]);
        expect_ok(lb_lookup_part(lookup, key.text, &ids, &err));
        cr_expect_str_eq(lb_buf_text(&ids), rows[i][1], "%s: %s", rows[i][0], lb_buf_text(&ids));
    }
    expect_ok(lb_lookup_near(lookup, "orbet", "1O", &ids, &err));
    cr_expect_str_eq(lb_buf_text(&ids), "[2,3,1,5,6]", "%s", lb_buf_text(&ids));
    lb_lookup_close(lookup);
    lb_buf_free(&key);
    lb_buf_free(&ids);
    index_remove(&x);
}

/* The lookup made anew finds what it found before. */
Test(numbers, the_lookup_made_anew)
{
    struct index x = index_make();
    import_text(&x, "crossrefs.csv",
                "brand,part_number,other_brand,other_number,relation\nHalvane,77001,Orbet,X 5123,same\n");
    import_text(&x, "supersessions.csv",
                "brand,part_number,new_brand,new_number\nOrbet,X5123,Orbet,AX-5123\n");
    for (int round = 0; round < 2; round++) {
        expect_finds(&x, "7700", "begins+1 Halvane 77001");
        expect_finds(&x, "X5123", "exact Orbet X 5123; inside+1 Orbet AX-5123");
        expect_ok(lb_lookup_rebuild(x.store, &err));
        lb_numbers_close(x.numbers);
        x.numbers = NULL;
    }
    index_remove(&x);
}

/* Of parts that are only listed for a vehicle, the beginning of a long number must be right. */
Test(numbers, parts_that_are_only_listed)
{
    struct index x = index_make();
    import_text(
        &x, "applications.csv",
        "make,model,brand,part_number\nVelmora,Arden,Orbet,55 1234\nVelmora,Arden,Orbet,66 123 456 789\n");
    expect_finds(&x, "65 1234", "edit 0.7 Orbet 55 1234");
    expect_finds(&x, "551243", "edit 0.7 Orbet 55 1234");
    expect_finds(&x, "66 123 456 798", "edit 0.7 Orbet 66 123 456 789");
    expect_finds(&x, "66 1234", "begins+5 Orbet 66 123 456 789");
    expect_finds(&x, "1234", "");
    expect_finds(&x, "86 123 456 789", "");
    index_remove(&x);
}

/* A part on so many vehicles that its rows are not all looked at at once. */
Test(numbers, many_rows_of_one_part)
{
    struct index x = index_make();
    struct lb_buf text = {0};
    lb_buf_puts(&text, "make,model,brand,part_number\n");
    for (int i = 0; i < 3000; i++)
        lb_buf_printf(&text, "Velmora,Model %d,Halvane,77 %s\n", i, i % 2 ? "001" : "002");
    import_text(&x, "a.applications.csv", text.text);
    import_text(&x, "parts.csv", "brand,part_number,part_type\nHalvane,77-001,pump\n");
    expect_finds(&x, "7700", "begins+1 Halvane 77-001; begins+1 Halvane 77 002");
    expect_finds(&x, "77003", "edit 0.7 Halvane 77 002; edit 1.0 Halvane 77-001");
    lb_buf_free(&text);
    index_remove(&x);
}

Test(numbers, rows_that_are_gone_are_not_found)
{
    struct index x = index_make();
    struct lb_buf text = {0};
    lb_buf_puts(&text, "brand,part_number,part_type\nVelmora,5511,pump\n");
    for (int i = 0; i < 2000; i++)
        lb_buf_printf(&text, "Velmora,5500 %04d,pump\n", i);
    import_text(&x, "parts.csv", text.text);
    find(&x, "5500", LB_NUMBER_BEGINS, 10);
    cr_expect_eq(x.finds.list.count, 10);
    cr_expect(x.finds.cut);
    find(&x, "5500 0007", LB_NUMBER_EXACT, 10);
    cr_expect_eq(x.finds.list.count, 1);
    lb_buf_clear(&text);
    lb_buf_puts(&text, "brand,part_number,part_type\nVelmora,5511,pump\n");
    for (int i = 700; i < 2000; i++)
        lb_buf_printf(&text, "Velmora,5500 %04d,pump\n", i);
    import_text(&x, "parts.csv", text.text);
    for (int widest = LB_NUMBER_EXACT; widest <= LB_NUMBER_EDIT; widest++) {
        find(&x, "5500 0007", (enum lb_number_match)widest, 1000);
        cr_expect_eq(x.finds.list.count, widest == LB_NUMBER_EDIT ? 4 : 0); /* 0707, 0807, 0907, 1007 */
    }
    find(&x, "5500", LB_NUMBER_BEGINS, 10); /* the first hundreds are gone */
    cr_expect_eq(x.finds.list.count, 10);
    find(&x, "5000700", LB_NUMBER_INSIDE, 10);
    cr_expect_eq(x.finds.list.count, 1);
    lb_buf_free(&text);
    index_remove(&x);
}

/* A short beginning with more followers than are ever read. */
Test(numbers, short_beginnings_are_bounded)
{
    struct index x = index_make();
    struct lb_buf text = {0};
    lb_buf_puts(&text, "brand,part_number,part_type\nVelmora,120,pump\nVelmora,12,pump\n");
    for (int i = 0; i < 20000; i++)
        lb_buf_printf(&text, "Velmora,12 %06d,pump\n", i * 7);
    import_text(&x, "parts.csv", text.text);
    find(&x, "12", LB_NUMBER_EDIT, 20);
    cr_assert_eq(x.finds.list.count, 20);
    cr_expect(x.finds.cut);
    cr_expect_eq(x.finds.list.at[0].match, LB_NUMBER_EXACT);
    cr_expect_str_eq(x.finds.list.at[1].number, "120");
    lb_buf_free(&text);
    index_remove(&x);
}

/* The property: EDIT and INSIDE are what comparing all numbers with each other finds. */

enum { RANDOM_NUMBERS = 4000, QUESTIONS = 300 };

static uint64_t state = 20260101;

static int below(int limit)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)((state >> 11) % (uint64_t)limit);
}

/* Of few characters, so that many lie near each other. */
static void random_number(char *to)
{
    static const char *const signs[] = {"0", "1", "2", "8", "B", "O", "I", "2", "1", "7", "\xc3\x96"};
    int length = 4 + below(below(4) ? 4 : 12);
    *to = '\0';
    while (length--) {
        strcat(to, signs[below(11)]);
        if (below(5) == 0 && length)
            strcat(to, "-");
    }
}

/* As the lookup takes it; a letter of two bytes becomes one of one, so that an edit is one of a byte. */
static void plain(char *to, const char *number)
{
    struct lb_buf key = {0};
    lb_part_number_key(&key, number);
    for (const char *at = key.text; *at; at++)
        if ((unsigned char)*at < 0x80)
            *to++ = *at == 'O' ? '0' : *at == 'I' ? '1' : *at;
        else if ((unsigned char)*at >= 0xc0)
            *to++ = '#';
    *to = '\0';
    lb_buf_free(&key);
}

struct model {
    char numbers[RANDOM_NUMBERS][64], plain[RANDOM_NUMBERS][64];
    bool taken[RANDOM_NUMBERS]; /* a further writing of a number that is there */
};

static bool one_edit(const char *a, const char *b)
{
    return lb_text_distance(a, b, 1) == 1;
}

static void expect_as_model(struct index *x, const struct model *m, const char *typed)
{
    char want[64];
    size_t counts[5] = {0}, got[5] = {0};
    plain(want, typed);
    find(x, typed, LB_NUMBER_EDIT, 100000);
    for (int i = 0; i < RANDOM_NUMBERS; i++) {
        const char *at = strstr(m->plain[i], want);
        if (m->taken[i])
            continue;
        struct lb_buf a = {0}, b = {0};
        lb_part_number_key(&a, typed);
        lb_part_number_key(&b, m->numbers[i]);
        bool same = strcmp(lb_buf_text(&a), lb_buf_text(&b)) == 0;
        lb_buf_free(&a);
        lb_buf_free(&b);
        if (strcmp(m->plain[i], want) == 0)
            counts[same ? LB_NUMBER_EXACT : LB_NUMBER_ALIKE]++;
        else if (at)
            counts[at == m->plain[i] ? LB_NUMBER_BEGINS : LB_NUMBER_INSIDE]++;
        else if (one_edit(want, m->plain[i]))
            counts[LB_NUMBER_EDIT]++;
    }
    for (size_t i = 0; i < x->finds.list.count; i++) {
        const struct lb_number_find *f = &x->finds.list.at[i];
        char found[64];
        plain(found, f->number);
        got[f->match]++;
        const char *at = strstr(found, want);
        cr_expect(f->match == LB_NUMBER_EDIT ? !at && one_edit(want, found) : at != NULL, "%s: %s", typed,
                  f->number);
    }
    for (int k = 0; k < 5; k++)
        cr_expect_eq(got[k], counts[k], "%s, way %d: %zu, wanted %zu", typed, k, got[k], counts[k]);
    cr_expect_not(x->finds.cut);
}

static void mark_taken(struct model *m)
{
    for (int i = 0; i < RANDOM_NUMBERS; i++)
        for (int k = 0; k < i && !m->taken[i]; k++) {
            struct lb_buf a = {0}, b = {0};
            if (strcmp(m->plain[i], m->plain[k]) != 0)
                continue;
            lb_part_number_key(&a, m->numbers[i]);
            lb_part_number_key(&b, m->numbers[k]);
            m->taken[i] = strcmp(a.text, b.text) == 0;
            lb_buf_free(&a);
            lb_buf_free(&b);
        }
}

/* Three files, so that there are as many runs, and both sides of crossrefs. */
static void import_model(struct index *x, const struct model *m)
{
    struct lb_buf texts[3] = {{0}, {0}, {0}};
    lb_buf_puts(&texts[0], "brand,part_number,part_type\n");
    lb_buf_puts(&texts[1], "brand,part_number,other_brand,other_number,relation\n");
    lb_buf_puts(&texts[2], "supplier,brand,part_number,price,currency\n");
    for (int i = 0; i < RANDOM_NUMBERS; i++) {
        if (i % 4 == 0)
            lb_buf_printf(&texts[0], "Velmora,%s,pump\n", m->numbers[i]);
        else if (i % 4 == 1)
            lb_buf_printf(&texts[1], "Velmora,%s,", m->numbers[i]);
        else if (i % 4 == 2)
            lb_buf_printf(&texts[1], "Velmora,%s,same\n", m->numbers[i]);
        else
            lb_buf_printf(&texts[2], "nord,Velmora,%s,1.00,EUR\n", m->numbers[i]);
    }
    import_text(x, "parts.csv", texts[0].text);
    import_text(x, "crossrefs.csv", texts[1].text);
    import_text(x, "offers.csv", texts[2].text);
    for (int i = 0; i < 3; i++)
        lb_buf_free(&texts[i]);
}

Test(numbers, pieces_and_mistakes_are_complete)
{
    struct index x = index_make();
    struct model *m = calloc(1, sizeof *m);
    for (int i = 0; i < RANDOM_NUMBERS; i++) {
        random_number(m->numbers[i]);
        plain(m->plain[i], m->numbers[i]);
    }
    mark_taken(m);
    import_model(&x, m);
    for (int i = 0; i < QUESTIONS; i++) {
        char typed[64];
        if (below(2))
            random_number(typed);
        else
            strcpy(typed, m->numbers[below(RANDOM_NUMBERS)]);
        if (below(3) == 0 && strlen(typed) > 8 && (typed[4] & 0x80) == 0)
            memmove(typed, typed + 4, strlen(typed + 4) + 1);
        char key[64];
        plain(key, typed);
        if (strlen(key) >= 4)
            expect_as_model(&x, m, typed);
    }
    free(m);
    index_remove(&x);
}
