/* Words of the trade: the list that the program brings, row by row, and the owner's own rows before it. */
#include "scratch.h"

#include "base/words.h"
#include "catalog/import.h"
#include "find/synonyms.h"
#include "importers/csv_reader.h"
#include "importers/kinds.h"

static struct scratch scratch;
static struct lb_store *store;
static struct lb_synonyms *synonyms;

static void reopen(void)
{
    struct lb_error err = {0};
    lb_synonyms_close(synonyms);
    cr_assert_eq(lb_synonyms_open(&synonyms, store, &err), LB_OK, "%s", lb_error_text(&err));
}

static void open_index(void)
{
    scratch = scratch_make();
    synonyms = NULL;
    cr_assert_eq(lb_store_open(&store, scratch_path(&scratch, "i.db"), LB_STORE_WRITE, NULL), LB_OK);
    reopen();
}

static void close_index(void)
{
    lb_synonyms_close(synonyms);
    lb_store_close(store);
    scratch_remove(&scratch);
}

TestSuite(synonyms, .init = open_index, .fini = close_index);

/* A text as search knows it. */
struct query {
    char room[16][LB_WORD_MAX + 1];
    const char *words[16];
    int count;
};

static void fold(struct query *query, const char *text)
{
    struct lb_words words = {.at = text};
    for (query->count = 0; query->count < 16 && lb_words_next(&words); query->count++) {
        memcpy(query->room[query->count], words.text, words.length);
        query->room[query->count][words.length] = '\0';
        query->words[query->count] = query->room[query->count];
    }
}

static void join(char *out, size_t size, const char *const *words, int count)
{
    *out = '\0';
    for (int i = 0; i < count; i++)
        snprintf(out + strlen(out), size - strlen(out), "%s%s", i ? " " : "", words[i]);
}

/* What was told, as "2:timing belt|1:…". */
struct told {
    char text[8000];
    int count, most; /* most 0: all */
};

static bool note(void *context, int taken, const struct lb_phrase *phrase)
{
    struct told *told = context;
    char joined[400];
    join(joined, sizeof joined, phrase->words, phrase->count);
    size_t length = strlen(told->text);
    snprintf(told->text + length, sizeof told->text - length, "%s%d:%s", told->count ? "|" : "", taken,
             joined);
    return ++told->count != told->most;
}

static const struct told *ask(const char *text, int at)
{
    static struct told told;
    struct query query;
    told = (struct told){0};
    fold(&query, text);
    lb_synonyms_at(synonyms, query.words, query.count, at, note, &told);
    return &told;
}

/* Whether all the words of `text` together mean `means`. */
static bool tells(const char *text, const char *means)
{
    struct query query, other;
    char joined[400], wanted[440];
    fold(&query, text);
    fold(&other, means);
    join(joined, sizeof joined, other.words, other.count);
    snprintf(wanted, sizeof wanted, "|%d:%s|", query.count, joined);
    static char all[8010];
    snprintf(all, sizeof all, "|%s|", ask(text, 0)->text);
    return strstr(all, wanted) != NULL;
}

static void expect_both(const char *a, const char *b)
{
    cr_expect(tells(a, b), "%s is not told of %s: %s", a, b, ask(a, 0)->text);
    cr_expect(tells(b, a), "%s is not told of %s: %s", b, a, ask(b, 0)->text);
}

/* The list itself, read as any CSV file is. */
static int each_row(void (*each)(const struct lb_csv_record *record))
{
    struct lb_bytes *bytes;
    struct lb_csv *csv;
    struct lb_csv_record record;
    int count = 0;
    cr_assert_eq(lb_bytes_open_file(&bytes, LB_TESTS_DIR "/../src/find/synonyms.csv", NULL), LB_OK);
    cr_assert_eq(lb_csv_open(&csv, bytes, ',', NULL), LB_OK);
    cr_assert_eq(lb_csv_next(csv, &record, NULL), LB_OK);
    lb_csv_expect(csv, 3);
    while (lb_csv_next(csv, &record, NULL) == LB_OK && record.line) {
        cr_assert_null(record.fault, "line %ld: %s", record.line, record.fault);
        each(&record);
        count++;
    }
    lb_csv_free(csv);
    lb_bytes_close(bytes);
    return count;
}

static void expect_sound(const struct lb_csv_record *record)
{
    const struct lb_kind *kind = lb_kind_find("synonyms");
    struct lb_value values[LB_KIND_COLUMNS_MAX] = {{.type = LB_VALUE_TEXT, .text = record->cells[0]},
                                                   {.type = LB_VALUE_TEXT, .text = record->cells[1]}};
    int column;
    const char *why = kind->check(values, &column);
    cr_expect_null(why, "line %ld: %s", record->line, why);
    cr_expect(*record->cells[2], "line %ld has no note", record->line);
    expect_both(record->cells[0], record->cells[1]);
}

Test(synonyms, every_row_of_the_list_is_found_both_ways)
{
    cr_expect_geq(each_row(expect_sound), 450);
}

static int by_text(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static char *pairs[4000];
static size_t pair_count;

static void note_pair(const struct lb_csv_record *record)
{
    struct query a, b;
    char left[400], right[400], pair[810];
    fold(&a, record->cells[0]);
    fold(&b, record->cells[1]);
    join(left, sizeof left, a.words, a.count);
    join(right, sizeof right, b.words, b.count);
    bool turn = strcmp(left, right) > 0;
    snprintf(pair, sizeof pair, "%s = %s", turn ? right : left, turn ? left : right);
    cr_assert_lt(pair_count, sizeof pairs / sizeof *pairs);
    pairs[pair_count++] = strdup(pair);
}

Test(synonyms, no_pair_twice)
{
    each_row(note_pair);
    qsort(pairs, pair_count, sizeof *pairs, by_text);
    for (size_t i = 1; i < pair_count; i++)
        cr_expect_str_neq(pairs[i - 1], pairs[i]);
    for (size_t i = 0; i < pair_count; i++)
        free(pairs[i]);
}

Test(synonyms, what_parts_lists_abbreviate)
{
    static const char *const rows[][2] = {
        {"ASSY", "assembly"},
        {"GSKT", "gasket"},
        {"RAD", "radiator"},
        {"UPR", "upper"},
        {"LWR", "lower"},
        {"W/O", "without"},
        {"FR", "front"},
        {"RR", "rear"},
        {"LH", "left"},
        {"RH", "right"},
        {"LH", "left hand"},
        {"RH", "right hand"},
        {"ALT", "alternator"},
        {"THERMO", "thermostat"},
        {"TSTAT", "thermostat"},
        {"P/S", "power steering"},
        {"T-BELT", "timing belt"},
        {"A/C", "air conditioning"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        expect_both(rows[i][0], rows[i][1]);
}

Test(synonyms, other_names)
{
    static const char *const rows[][2] = {
        {"bonnet", "hood"},
        {"antifreeze", "coolant"},
        {"gaiter", "boot"},
        {"boot", "trunk"},
        {"V-ribbed belt", "serpentine belt"},
        {"V-ribbed belt", "poly-V belt"},
        {"serpentine belt", "poly-V belt"},
        {"serpentine belt", "drive belt"},
        {"track rod", "tie rod"},
        {"windscreen", "windshield"},
        {"o-ring", "oring"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        expect_both(rows[i][0], rows[i][1]);
}

/* a = b and b = c does not make a = c; and what a mechanic would order apart stays apart. */
Test(synonyms, false_friends)
{
    static const char *const rows[][2] = {
        {"gaiter", "trunk"},
        {"propshaft", "half shaft"},
        {"driveshaft", "propshaft"},
        {"brake hose", "brake pipe"},
        {"ring gear", "crown wheel"},
        {"motor", "meter"},
        {"manual", "manifold"},
        {"bolt", "belt"},
        {"petrol", "diesel"},
        {"tap", "faucet"},
        {"intake", "interior"},
        {"left", "light"},
        {"rotor", "disc"},
        {"condenser", "capacitor"},
        {"black", "block"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        cr_expect(!tells(rows[i][0], rows[i][1]) && !tells(rows[i][1], rows[i][0]), "%s = %s", rows[i][0],
                  rows[i][1]);
}

Test(synonyms, longer_runs_of_words_first)
{
    const char *text = ask("kit with water pump timing belt", 4)->text;
    cr_expect_eq(strncmp(text, "2:t belt|", 9), 0, "%s", text);
    cr_expect(strstr(text, "|1:tmg"), "%s", text);
    cr_expect_str_eq(ask("t belt", 0)->text, "2:timing belt|2:cambelt|2:cam belt");
    cr_expect_str_eq(ask("t belt", 1)->text, "1:blt");
    cr_expect_str_eq(ask("t belt", 2)->text, "");
    cr_expect_str_eq(ask("t", 0)->text, "");
    cr_expect_str_eq(ask("timing", 0)->text, "1:tmg|1:tim");
}

Test(synonyms, plurals_of_what_is_listed)
{
    cr_expect(tells("gaskets", "GSKT"));
    cr_expect(tells("switches", "SW"));
    cr_expect(tells("timing belts", "T-BELT"));
    cr_expect(tells("inches", "IN"));
    cr_expect_str_eq(ask("lbs", 0)->text, "1:lb|1:pounds");
    cr_expect_str_eq(ask("grass", 0)->text, "");
    cr_expect_str_eq(ask("ss", 0)->text, "1:stainless steel");
}

Test(synonyms, any_words)
{
    static char wide[200];
    memset(wide, 'a', sizeof wide - 1);
    const char *words[] = {wide, "timing", "belt", ""};
    struct told told = {0};
    for (int at = 0; at < 4; at++)
        lb_synonyms_at(synonyms, words, 4, at, note, &told);
    cr_expect_eq(strncmp(told.text, "2:t belt", 8), 0, "%s", told.text);
    cr_expect_str_eq(ask("s", 0)->text, "");
    cr_expect_str_eq(ask("zzz", 0)->text, "");
    cr_expect_str_eq(ask("品番 ss", 0)->text, "");
}

Test(synonyms, who_has_enough_says_so)
{
    struct query query;
    struct told told = {.most = 2};
    fold(&query, "t belt");
    lb_synonyms_at(synonyms, query.words, query.count, 0, note, &told);
    cr_expect_str_eq(told.text, "2:timing belt|2:cambelt");
    told = (struct told){.most = 1};
    fold(&query, "timing belt");
    lb_synonyms_at(synonyms, query.words, query.count, 0, note, &told);
    cr_expect_eq(told.count, 1);
}

static long import(const char *name, const char *csv)
{
    struct lb_error err = {0};
    struct lb_import_result result = {0};
    char rejects[200];
    snprintf(rejects, sizeof rejects, "%s", scratch_path(&scratch, "rejects.csv"));
    scratch_write(&scratch, name, csv, strlen(csv));
    const char *path = scratch_path(&scratch, name);
    struct lb_import_options options = {
        .paths = &path, .path_count = 1, .rejects = rejects, .now = "2026-09-21T00:00:00Z"};
    lb_status status = lb_import(store, &options, &result, &err);
    cr_assert(status == LB_OK || status == LB_DATA, "%s", lb_error_text(&err));
    cr_assert_eq(result.files.count, 1);
    cr_expect_str_eq(result.files.at[0].kind, "synonyms");
    long accepted = result.files.at[0].accepted;
    lb_import_result_free(&result);
    lb_error_free(&err);
    reopen();
    return accepted;
}

Test(synonyms, the_owners_rows_come_first)
{
    cr_expect_eq(import("b.csv", "term,means,note\nT-belt,cam belt,again\nT belt,steuerriemen,\n"), 2);
    cr_expect_str_eq(ask("t belt", 0)->text, "2:cam belt|2:steuerriemen|2:timing belt|2:cambelt");
    cr_expect_str_eq(ask("STEUERRIEMEN", 0)->text, "1:t belt");
    /* by the name of the file, then by line; a pair once, whichever way it is written */
    cr_expect_eq(import("a.csv", "means,term\nt-belt,cam belt\nzahnriemen,T BELT\nT belt,Zahnriemen\n"), 3);
    cr_expect_str_eq(ask("t belt", 0)->text,
                     "2:cam belt|2:zahnriemen|2:steuerriemen|2:timing belt|2:cambelt");
    cr_expect_str_eq(ask("big cam belt", 1)->text, "2:t belt|2:timing belt|2:cambelt|2:camshaft belt|"
                                                   "1:camshaft");
}

Test(synonyms, rows_that_are_gone_mean_nothing)
{
    import("own.csv", "term,means\nwobbler,rocker arm\nthingummy,wotsit\n");
    cr_expect_str_eq(ask("rocker arm", 0)->text, "2:wobbler|1:rkr|1:rckr");
    import("own.csv", "term,means\nthingummy,wotsit\n");
    cr_expect_str_eq(ask("rocker arm", 0)->text, "1:rkr|1:rckr");
    cr_expect_str_eq(ask("wotsit", 0)->text, "1:thingummy");
}

Test(synonyms, letters_beyond_ascii)
{
    import("own.csv", "term,means\nKÜHLER,radiator\nStraße,road\n");
    cr_expect(tells("kühler", "radiator"));
    cr_expect(tells("radiator", "Kühler"));
    cr_expect(tells("STRASSE", "road"));
}

Test(synonyms, many_rows_of_one_word)
{
    struct lb_buf csv = {0};
    lb_buf_puts(&csv, "term,means\n");
    for (int i = 0; i < 20000; i++)
        lb_buf_printf(&csv, "bracket,thing %d\n", i);
    cr_expect_eq(import("own.csv", lb_buf_text(&csv)), 20000);
    struct query query;
    struct told told = {.most = 3};
    fold(&query, "bracket");
    lb_synonyms_at(synonyms, query.words, query.count, 0, note, &told);
    cr_expect_str_eq(told.text, "1:thing 0|1:thing 1|1:thing 2");
    cr_expect(tells("thing 19999", "bracket"));
    lb_buf_free(&csv);
}

static const char *refusal(const char *term, const char *means, int *column)
{
    struct lb_value values[LB_KIND_COLUMNS_MAX] = {{.type = LB_VALUE_TEXT, .text = term},
                                                   {.type = LB_VALUE_TEXT, .text = means}};
    return lb_kind_find("synonyms")->check(values, column);
}

Test(synonyms, rows_that_cannot_be_looked_up_are_refused)
{
    int column = -1;
    cr_expect_null(refusal("a b c d", "A-B-C-E", &column));
    cr_expect(strstr(refusal("--", "x", &column), "no letter or digit") && column == 0);
    cr_expect(strstr(refusal("x", "…", &column), "no letter or digit") && column == 1);
    cr_expect(strstr(refusal("a b c d e", "x", &column), "four words") && column == 0);
    cr_expect(strstr(refusal("x", "a/b/c/d/e", &column), "four words") && column == 1);
    cr_expect(strstr(refusal("T-Belt", "t  belt", &column), "same words") && column == 1);
    cr_expect_null(refusal("t belt", "tbelt", &column));
    cr_expect_null(refusal("t", "t belt", &column));
    cr_expect_eq(import("own.csv", "term,means,note\n-,x,\nok,okay,\na b c d e,x,\nx,,\n"), 1);
}
