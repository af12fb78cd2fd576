/* The words that titles have, against plain arrays and brute force. */
#include "scratch.h"

#include "catalog/spelling.h"

#include <math.h>

struct index {
    struct scratch scratch;
    struct lb_store *store;
    struct lb_spelling *spelling;
};

static struct index index_open(void)
{
    struct index index = {.scratch = scratch_make()};
    struct lb_error err = {0};
    cr_assert_eq(lb_store_open(&index.store, scratch_path(&index.scratch, "i.db"), LB_STORE_WRITE, &err),
                 LB_OK);
    cr_assert_eq(lb_spelling_open(&index.spelling, index.store, &err), LB_OK);
    return index;
}

static void index_close(struct index *index)
{
    lb_spelling_close(index->spelling);
    lb_store_close(index->store);
    scratch_remove(&index->scratch);
}

static void save(struct index *index, const struct lb_spelt *words, size_t count)
{
    struct lb_error err = {0};
    cr_assert_eq(lb_store_begin(index->store, &err), LB_OK);
    cr_assert_eq(lb_spelling_save(index->store, words, count, &err), LB_OK, "%s", lb_error_text(&err));
    cr_assert_eq(lb_store_commit(index->store, &err), LB_OK);
}

static struct lb_spelt spelt(const char *word, int64_t titles)
{
    return (struct lb_spelt){word, strlen(word), titles};
}

static int64_t titles_of(struct index *index, const char *word)
{
    struct lb_error err = {0};
    int64_t titles = -1;
    cr_assert_eq(lb_spelling_count(index->spelling, word, strlen(word), &titles, &err), LB_OK);
    return titles;
}

static int64_t integer(struct index *index, const char *sql)
{
    struct lb_error err = {0};
    int64_t value = -1;
    cr_assert_eq(lb_store_integer(index->store, sql, &value, &err), LB_OK, "%s", lb_error_text(&err));
    return value;
}

Test(spelling, counts_add_up)
{
    struct index index = index_open();
    struct lb_spelt first[] = {spelt("upper", 7), spelt("hose", 3)};
    struct lb_spelt second[] = {spelt("hose", 4), spelt("h\xc3\xb6se", 1), spelt("gasket", 2)};
    save(&index, first, 2);
    save(&index, second, 3);
    save(&index, NULL, 0);
    cr_expect_eq(titles_of(&index, "upper"), 7);
    cr_expect_eq(titles_of(&index, "hose"), 7);
    cr_expect_eq(titles_of(&index, "h\xc3\xb6se"), 1);
    cr_expect_eq(titles_of(&index, "gasket"), 2);
    cr_expect_eq(titles_of(&index, "hos"), 0);
    cr_expect_eq(titles_of(&index, ""), 0);
    /* 5 bytes: upper and the one with an umlaut; a word stands in one blob once */
    cr_expect_eq(integer(&index, "SELECT count(*) FROM spelling"), 3);
    cr_expect_eq(integer(&index, "SELECT sum(length(words)) FROM spelling"), 2 * 9 + 8 + 10);
    struct lb_error err = {0};
    cr_assert_eq(lb_spelling_clear(index.store, &err), LB_OK);
    cr_expect_eq(titles_of(&index, "hose"), 0);
    cr_expect_eq(integer(&index, "SELECT count(*) FROM spelling"), 0);
    save(&index, first, 2);
    cr_expect_eq(titles_of(&index, "hose"), 3);
    index_close(&index);
}

/* A word's bytes are what titles cut at LB_WORD_MAX leave; one letter is no word. */
Test(spelling, lengths)
{
    struct index index = index_open();
    char longest[66];
    memset(longest, 'q', sizeof longest);
    struct lb_spelt words[] = {{"", 0, 1}, {"a", 1, 1}, {"ab", 2, 1}, {longest, 64, 1}, {longest, 65, 1}};
    struct lb_error err = {0};
    int64_t titles;
    save(&index, words, 5);
    cr_expect_eq(integer(&index, "SELECT count(*) FROM word"), 2);
    cr_expect_eq(integer(&index, "SELECT count(*) FROM spelling"), 2);
    cr_expect_eq(titles_of(&index, "a"), 0);
    cr_expect_eq(titles_of(&index, "ab"), 1);
    cr_assert_eq(lb_spelling_count(index.spelling, longest, 64, &titles, &err), LB_OK);
    cr_expect_eq(titles, 1);
    cr_assert_eq(lb_spelling_count(index.spelling, longest, 65, &titles, &err), LB_OK);
    cr_expect_eq(titles, 0);
    index_close(&index);
}

/* The `number`th of a row of different words of a length, 26 to the length of them. */
static void numbered(char *word, size_t length, size_t number)
{
    for (size_t i = length; i-- > 0; number /= 26)
        word[i] = (char)('a' + number % 26);
}

/* However small the imports, all blobs of a length but the last are full, and all words are in them. */
Test(spelling, small_imports_do_not_fragment)
{
    enum { WORDS = 9000, STEP = 37, LENGTH = 6 };
    static char texts[WORDS][LENGTH];
    static struct lb_spelt words[WORDS];
    struct index index = index_open();
    for (size_t i = 0; i < WORDS; i++) {
        numbered(texts[i], LENGTH, i * 1299709);
        words[i] = (struct lb_spelt){texts[i], LENGTH, 1};
    }
    for (size_t i = 0; i < WORDS; i += STEP)
        save(&index, words + i, i + STEP < WORDS ? STEP : WORDS - i);
    cr_expect_eq(integer(&index, "SELECT count(*) FROM word"), WORDS);
    cr_expect_eq(integer(&index, "SELECT sum(length(words)) FROM spelling"), WORDS * (LENGTH + 4));
    cr_expect_eq(integer(&index, "SELECT count(*) FROM spelling"), WORDS * (LENGTH + 4) / 65536 + 1);
    cr_expect_leq(integer(&index, "SELECT max(length(words)) FROM spelling"), 65536);
    cr_expect_gt(integer(&index, "SELECT min(length(words)) FROM spelling WHERE id = 1"), 65536 - 10);
    index_close(&index);
}

Test(spelling, refuses_to_add_to_a_broken_blob)
{
    struct index index = index_open();
    struct lb_spelt words[] = {spelt("upper", 7), spelt("super", 3)};
    struct lb_error err = {0};
    save(&index, words, 1);
    cr_assert_eq(lb_store_execute(index.store, "UPDATE spelling SET words = x'0102'", &err), LB_OK);
    cr_assert_eq(lb_store_begin(index.store, &err), LB_OK);
    cr_expect_eq(lb_spelling_save(index.store, words + 1, 1, &err), LB_SYSTEM);
    cr_expect(strstr(lb_error_text(&err), "damaged"), "%s", lb_error_text(&err));
    lb_error_free(&err);
    lb_store_rollback(index.store);
    index_close(&index);
}

static int least_of(int a, int b)
{
    return a < b ? a : b;
}

/* Characters of well-formed UTF-8, for the plain counts below. */
static size_t points_of(const char *word, int *points)
{
    size_t count = 0;
    for (const unsigned char *p = (const unsigned char *)word; *p; p++)
        if ((*p & 0xc0) == 0x80)
            points[count - 1] = points[count - 1] << 8 | *p;
        else
            points[count++] = *p;
    return count;
}

/* Optimal string alignment, all of the matrix, every edit 1. */
static int plain_edits(const char *left, const char *right)
{
    static int d[70][70];
    int a[70], b[70], m = (int)points_of(left, a), n = (int)points_of(right, b);
    for (int i = 0; i <= m; i++)
        for (int j = 0; j <= n; j++) {
            d[i][j] = i && j ? d[i - 1][j - 1] + (a[i - 1] != b[j - 1]) : i + j;
            if (i && j)
                d[i][j] = least_of(d[i][j], least_of(d[i - 1][j], d[i][j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                d[i][j] = least_of(d[i][j], d[i - 2][j - 2] + 1);
        }
    return d[m][n];
}

/* Of few letters, so that much is near; some words with letters of two bytes. */
static void draw_word(char *word, int shortest, int longest)
{
    static const char *const letters[] = {"a", "e", "r", "t", "n", "\xc3\xa4"};
    int length = shortest + rand() % (longest - shortest + 1), kinds = rand() % 4 ? 5 : 6;
    *word = '\0';
    while (length-- > 0)
        strcat(word, letters[rand() % kinds]);
}

static double cost_of(const char *typed, const char *meant, int most)
{
    return lb_typing_cost(typed, strlen(typed), meant, strlen(meant), most);
}

Test(spelling, cost_is_finite_exactly_within_the_edits)
{
    char typed[64], meant[64];
    srand(20261125);
    for (int i = 0; i < 20000; i++) {
        draw_word(typed, 0, 12);
        draw_word(meant, 0, 12);
        int edits = plain_edits(typed, meant);
        double whole = cost_of(typed, meant, 64);
        cr_assert(whole >= 0.3 * edits && whole <= 1.4001 * edits, "%s %s: %f", typed, meant, whole);
        for (int most = 0; most <= 5; most++)
            cr_assert_eq(cost_of(typed, meant, most), edits > most ? HUGE_VAL : whole, "%s %s %d", typed,
                         meant, most);
    }
}

Test(spelling, cost_limits)
{
    char longest[66];
    memset(longest, 'q', sizeof longest);
    cr_expect_eq(lb_typing_cost(longest, 64, longest, 64, 0), 0);
    cr_expect_eq(lb_typing_cost(longest, 65, longest, 65, 2), HUGE_VAL);
    cr_expect_eq(lb_typing_cost(longest, 64, longest, 63, 1), 0.5);
    cr_expect_eq(cost_of("", "", 0), 0);
    cr_expect_eq(cost_of("a", "a", -1), HUGE_VAL);
    cr_expect_eq(cost_of("", "ab", 1), HUGE_VAL);
    cr_expect(cost_of("", "ab", 2) < 3);
    cr_expect(lb_typing_cost(longest, 64, "zz", 2, 1000) < 100);
    /* bytes that are no UTF-8, cut and stray ones, are a letter each */
    cr_expect(cost_of("ab\xc3", "ab\xc3", 0) == 0);
    cr_expect(cost_of("ab\xc3", "abc", 1) < 1.5);
    cr_expect(cost_of("ab\xc3", "ab\xa4", 1) < 1.5);
    cr_expect_eq(cost_of("ab\xe2\x82", "abc", 1), HUGE_VAL);
}

/* What is likelier costs less. */
Test(spelling, cost_of_likely_slips)
{
    static const struct {
        const char *typed, *likelier, *meant;
    } cases[] = {
        {"uper", "upper", "super"},       {"hoes", "hose", "holes"},
        {"gaskit", "gasket", "gaskin"},   {"filtar", "filter", "filtbr"},
        {"bolr", "bolt", "bolk"},         {"aeal", "seal", "veal"},
        {"kable", "cable", "table"},      {"gehause", "geh\xc3\xa4use", "gehouse"},
        {"filtter", "filter", "filtger"}, {"tip", "top", "lip"},
        {"termo", "thermo", "tersmo"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_expect_lt(cost_of(cases[i].typed, cases[i].likelier, 2),
                     cost_of(cases[i].typed, cases[i].meant, 2), "%s", cases[i].typed);
    cr_expect_eq(cost_of("gehause", "geh\xc3\xa4use", 1), 0.3);
    cr_expect_lt(cost_of("fosfor", "phosphor", 4), cost_of("fosfor", "shosxhor", 4));
}

static size_t near(struct index *index, const char *word, struct lb_spelling_word *out, size_t most)
{
    struct lb_error err = {0};
    size_t count = 99;
    cr_assert_eq(lb_spelling_near(index->spelling, word, strlen(word), out, most, &count, &err), LB_OK, "%s",
                 lb_error_text(&err));
    return count;
}

/* Parts words and what is like them, the frequencies invented. The misspellings of common words are from the
 * collection of P. Norvig (norvig.com/ngrams, spell-errors.txt), made of R. Mitton's Birkbeck corpus and
 * Wikipedia's list of common misspellings. */
Test(spelling, examples)
{
    static const struct lb_spelt words[] = {
        {"upper", 5, 5000},       {"super", 5, 900},       {"radiator", 8, 7000},   {"radiators", 9, 40},
        {"radio", 5, 800},        {"thermostat", 10, 900}, {"hose", 4, 9000},       {"hoses", 5, 300},
        {"shoes", 5, 200},        {"hole", 4, 400},        {"holes", 5, 100},       {"gasket", 6, 8000},
        {"casket", 6, 3},         {"gaskets", 7, 500},     {"refrigerator", 12, 6}, {"ceiling", 7, 12},
        {"cooling", 7, 4000},     {"sealing", 7, 2500},    {"gauge", 5, 300},       {"gorge", 5, 1},
        {"gage", 4, 2},           {"engine", 6, 9000},     {"engineer", 8, 10},     {"pocket", 6, 30},
        {"bracket", 7, 3000},     {"hammer", 6, 50},       {"bushing", 7, 1000},    {"cushion", 7, 60},
        {"pulse", 5, 100},        {"pulley", 6, 900},      {"swivel", 6, 70},       {"machine", 7, 90},
        {"peripheral", 10, 2},    {"metallic", 8, 20},     {"travel", 6, 80},       {"washer", 6, 3000},
        {"geh\xc3\xa4use", 8, 9},
    };
    static const char *const cases[][2] = {
        {"uper", "upper"},       {"raditor", "radiator"},       {"termostat", "thermostat"},
        {"hoes", "hose"},        {"gaskit", "gasket"},          {"refridgerator", "refrigerator"},
        {"cieling", "ceiling"},  {"gehause", "geh\xc3\xa4use"}, {"gehouse", "geh\xc3\xa4use"},
        {"guage", "gauge"},      {"engeneer", "engineer"},      {"poket", "pocket"},
        {"hamer", "hammer"},     {"cusion", "cushion"},         {"pluse", "pulse"},
        {"swival", "swivel"},    {"matchine", "machine"},       {"periferal", "peripheral"},
        {"metalic", "metallic"}, {"travle", "travel"},          {"brakcet", "bracket"},
    };
    struct index index = index_open();
    struct lb_spelling_word out[3];
    save(&index, words, sizeof words / sizeof *words);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        size_t count = near(&index, cases[i][0], out, 3);
        cr_assert_gt(count, 0, "%s", cases[i][0]);
        cr_expect_str_eq(out[0].word, cases[i][1], "%s: %s", cases[i][0], out[0].word);
        cr_expect_eq(out[0].cost, cost_of(cases[i][0], out[0].word, 2));
        cr_expect_eq(out[0].titles, titles_of(&index, cases[i][1]));
    }
    index_close(&index);
}

Test(spelling, order)
{
    struct index index = index_open();
    struct lb_spelling_word out[8];
    struct lb_spelt words[] = {spelt("berring", 1), spelt("bearing", 5),    spelt("bxaring", 1),
                               spelt("bzaring", 1), spelt("bvaring", 1),    spelt("btering", 1000),
                               spelt("searing", 1), spelt("zzaring", 90000)};
    save(&index, words, sizeof words / sizeof *words);
    cr_assert_eq(near(&index, "bearing", out, 8), 8);
    /* the word itself; equal costs by word; a rare word at two edits after all at one; unless very frequent
     */
    static const char *const first[] = {"bearing", "bvaring", "bxaring", "bzaring"};
    cr_expect_str_eq(out[0].word, first[0]);
    for (size_t i = 1, at = 1; i < 8; i++)
        if (at < 4 && !strcmp(out[i].word, first[at]))
            at++;
        else
            cr_expect(at == 1 || at == 4, "%s", out[i].word);
    cr_expect_str_neq(out[7].word, "btering");
    struct lb_spelt often[] = {spelt("bvaring", 500000)};
    save(&index, often, 1);
    cr_assert_eq(near(&index, "bearing", out, 2), 2);
    cr_expect_str_eq(out[1].word, "bvaring");
    cr_expect_eq(out[1].titles, 500001);
    index_close(&index);
}

/* Two edits come before one for a word that is vastly more frequent, and not before. */
Test(spelling, two_edits_need_a_frequent_word)
{
    struct index index = index_open();
    struct lb_spelling_word out[2];
    struct lb_spelt words[] = {spelt("radxator", 1), spelt("raddiatorr", 100)};
    struct lb_spelt more[] = {spelt("raddiatorr", 900000)};
    save(&index, words, 2);
    cr_assert_eq(near(&index, "radiator", out, 2), 2);
    cr_expect_str_eq(out[0].word, "radxator");
    save(&index, more, 1);
    cr_assert_eq(near(&index, "radiator", out, 2), 2);
    cr_expect_str_eq(out[0].word, "raddiatorr");
    index_close(&index);
}

Test(spelling, near_limits)
{
    struct index index = index_open();
    struct lb_spelling_word out[4];
    char longest[66] = "", other[66];
    struct lb_error err = {0};
    size_t count;
    memset(longest, 'q', 65);
    memcpy(other, longest, sizeof other);
    other[30] = 'x';
    struct lb_spelt words[] = {
        spelt("ab", 5), spelt("abc", 5), spelt("abcde", 5), spelt("abcdef", 5), {longest, 64, 1}};
    save(&index, words, 5);
    cr_expect_eq(near(&index, "", out, 4), 0);
    cr_expect_eq(near(&index, "a", out, 4), 0);
    cr_expect_eq(near(&index, "ac", out, 4), 0); /* two letters: no edit */
    cr_expect_eq(near(&index, "ab", out, 4), 1); /* but the word itself */
    cr_expect_eq(near(&index, "ab", out, 0), 0);
    cr_expect_eq(near(&index, "abx", out, 4), 2);    /* one edit: ab, abc */
    cr_expect_eq(near(&index, "abxdx", out, 4), 0);  /* five letters, two edits */
    cr_expect_eq(near(&index, "abxdxf", out, 4), 1); /* six: abcdef */
    cr_expect_eq(near(&index, "\xc3\xa4\xc3\xb6", out, 4), 0);
    cr_expect_eq(near(&index, "ab\xc3", out, 4), 2);
    cr_assert_eq(lb_spelling_near(index.spelling, other, 64, out, 4, &count, &err), LB_OK);
    cr_assert_eq(count, 1);
    cr_expect_eq(out[0].length, 64);
    cr_assert_eq(lb_spelling_near(index.spelling, other, 65, out, 4, &count, &err), LB_OK);
    cr_expect_eq(count, 0);
    index_close(&index);
}

enum { VOCABULARY = 3000 };
static char texts[VOCABULARY][40];
static struct lb_spelt vocabulary[VOCABULARY];
static size_t word_count;

static int by_text(const void *left, const void *right)
{
    return strcmp(left, right);
}

static void draw_vocabulary(int shortest, int longest)
{
    size_t kept = 0;
    for (size_t i = 0; i < VOCABULARY; i++)
        draw_word(texts[i], shortest, longest);
    qsort(texts, VOCABULARY, sizeof *texts, by_text);
    for (size_t i = 0; i < VOCABULARY; i++)
        if (!kept || strcmp(texts[kept - 1], texts[i]) != 0)
            memmove(texts[kept++], texts[i], sizeof *texts);
    word_count = kept;
    for (size_t i = 0; i < kept; i++)
        vocabulary[i] = spelt(texts[i], rand() % 4 ? 1 + rand() % 5 : 1 + rand() % 3000000);
}

/* What header and source say, with plain means. */
struct guess {
    size_t at;
    double score;
};

static int by_score(const void *left, const void *right)
{
    const struct guess *a = left, *b = right;
    return a->score < b->score ? -1 : a->score > b->score ? 1 : strcmp(texts[a->at], texts[b->at]);
}

static size_t guess_all(const char *typed, struct guess *guesses)
{
    int points[70];
    size_t count = 0, letters = points_of(typed, points), length = strlen(typed);
    int most = letters < 3 ? 0 : letters < 6 ? 1 : 2, reach = letters == length ? 2 : 4;
    for (size_t i = 0; i < word_count; i++) {
        int edits = plain_edits(typed, texts[i]);
        if (edits > most || abs((int)length - (int)vocabulary[i].length) > reach)
            continue;
        double bonus = 0.08 * fmin(20, log2(1 + (double)vocabulary[i].titles));
        double score = cost_of(typed, texts[i], most) + (edits > 1) - bonus;
        guesses[count++] = (struct guess){i, edits ? score : -HUGE_VAL};
    }
    qsort(guesses, count, sizeof *guesses, by_score);
    return count;
}

Test(spelling, near_is_what_brute_force_finds)
{
    static struct guess guesses[VOCABULARY];
    struct lb_spelling_word out[600];
    size_t hits = 0;
    srand(41);
    for (int round = 0; round < 3; round++) {
        struct index index = index_open();
        draw_vocabulary(2, 7 + 3 * round);
        save(&index, vocabulary, word_count / 2);
        save(&index, vocabulary + word_count / 2, word_count - word_count / 2);
        for (int i = 0; i < 150; i++) {
            char typed[40];
            size_t most = i % 3 == 0 ? 600 : 1 + (size_t)i % 7;
            draw_word(typed, 2, 8 + 3 * round);
            size_t all = guess_all(typed, guesses);
            cr_assert_leq(all, 500);
            size_t count = near(&index, typed, out, most);
            cr_assert_eq(count, all < most ? all : most, "%s: %zu of %zu", typed, count, all);
            for (size_t k = 0; k < count; k++, hits++)
                cr_assert_str_eq(out[k].word, texts[guesses[k].at], "%s: %s for %s", typed, out[k].word,
                                 texts[guesses[k].at]);
        }
        index_close(&index);
    }
    cr_expect_gt(hits, 1500);
}

/* More than are looked up: those at one edit are not lost among those at two. */
Test(spelling, near_among_very_many)
{
    enum { MANY = 1250 };
    static char many[MANY + 2][9];
    static struct lb_spelt words[MANY + 2];
    struct index index = index_open();
    struct lb_spelling_word out[1000];
    for (size_t i = 0; i < MANY + 2; i++) {
        memcpy(many[i], "aaaaaaaa", 9);
        if (i < MANY) {
            many[i][1 + i % 2] = (char)('b' + i / 2 % 25);
            many[i][3 + i % 4] = (char)('b' + i / 50 % 25);
        } else
            many[i][i - MANY] = 'x';
        words[i] = spelt(many[i], i < MANY ? 1000 : 1);
    }
    save(&index, words, MANY + 2);
    cr_assert_eq(near(&index, "aaaaaaaa", out, 1000), 500);
    cr_expect_str_eq(out[0].word, "axaaaaaa");
    cr_expect_str_eq(out[1].word, "xaaaaaaa");
    index_close(&index);
}

Test(spelling, refuses_damage)
{
    struct index index = index_open();
    struct lb_spelt words[] = {spelt("upper", 7), spelt("super", 3)};
    struct lb_spelling_word out[4];
    struct lb_error err = {0};
    size_t count;
    static const char *const damages[] = {"UPDATE spelling SET words = substr(words, 2)",
                                          "UPDATE spelling SET words = words || x'00'",
                                          "UPDATE spelling SET length = 6", "UPDATE spelling SET words = 7"};
    for (size_t i = 0; i < sizeof damages / sizeof *damages; i++) {
        save(&index, words, 2);
        cr_assert_eq(lb_store_execute(index.store, damages[i], &err), LB_OK);
        cr_expect_eq(lb_spelling_near(index.spelling, "uper", 4, out, 4, &count, &err), LB_SYSTEM, "%s",
                     damages[i]);
        cr_expect_eq(count, 0);
        cr_expect(strstr(lb_error_text(&err), "damaged"));
        lb_error_free(&err);
        cr_assert_eq(lb_spelling_clear(index.store, &err), LB_OK);
    }
    save(&index, words, 2);
    cr_assert_eq(lb_store_execute(index.store, "DELETE FROM word WHERE word = 'super'", &err), LB_OK);
    cr_expect_eq(lb_spelling_near(index.spelling, "uper", 4, out, 4, &count, &err), LB_SYSTEM);
    lb_error_free(&err);
    cr_assert_eq(lb_spelling_clear(index.store, &err), LB_OK);
    save(&index, words, 2);
    cr_expect_eq(near(&index, "uper", out, 4), 2); /* all is well again */
    index_close(&index);
}

static int by_titles(const void *left, const void *right)
{
    const struct lb_spelt *a = left, *b = right;
    return a->titles > b->titles ? -1 : a->titles < b->titles ? 1 : strcmp(a->word, b->word);
}

static size_t complete(struct index *index, const char *prefix, struct lb_spelling_word *out, size_t most)
{
    struct lb_error err = {0};
    size_t count = 99;
    cr_assert_eq(lb_spelling_completions(index->spelling, prefix, strlen(prefix), out, most, &count, &err),
                 LB_OK, "%s", lb_error_text(&err));
    return count;
}

Test(spelling, completions_are_what_brute_force_finds)
{
    struct index index = index_open();
    struct lb_spelling_word out[50];
    size_t hits = 0;
    srand(43);
    draw_vocabulary(2, 8);
    save(&index, vocabulary, word_count);
    qsort(vocabulary, word_count, sizeof *vocabulary, by_titles);
    for (int i = 0; i < 300; i++) {
        char prefix[40];
        size_t most = i % 4 ? 1 + (size_t)i % 12 : 50, found = 0;
        draw_word(prefix, 2, 5);
        size_t count = complete(&index, prefix, out, most);
        for (size_t k = 0; k < word_count && found < most; k++)
            if (!strncmp(vocabulary[k].word, prefix, strlen(prefix))) {
                cr_assert_lt(found, count);
                cr_assert_str_eq(out[found].word, vocabulary[k].word);
                cr_assert_eq(out[found].titles, vocabulary[k].titles);
                cr_assert_eq(out[found].length, vocabulary[k].length);
                found++;
            }
        cr_assert_eq(count, found, "%s", prefix);
        hits += found;
    }
    cr_expect_gt(hits, 1000);
    index_close(&index);
}

Test(spelling, completions_limits)
{
    struct index index = index_open();
    struct lb_spelling_word out[4];
    char longest[66] = "";
    memset(longest, 'q', 65);
    struct lb_spelt words[] = {spelt("up", 5),       spelt("upper", 5),     spelt("uq", 3),
                               spelt("\xc3\xb6", 2), spelt("\xc3\xb6l", 9), {longest, 64, 1}};
    save(&index, words, 6);
    cr_expect_eq(complete(&index, "", out, 4), 0);
    cr_expect_eq(complete(&index, "u", out, 4), 0);
    cr_expect_eq(complete(&index, "up", out, 0), 0);
    cr_assert_eq(complete(&index, "up", out, 4), 2);
    cr_expect_str_eq(out[0].word, "up");
    cr_expect_str_eq(out[1].word, "upper");
    cr_assert_eq(complete(&index, "\xc3\xb6", out, 4), 1);
    cr_expect_str_eq(out[0].word, "\xc3\xb6");
    cr_expect_eq(out[0].titles, 2);
    cr_assert_eq(complete(&index, "\xc3\xb6l", out, 4), 1);
    cr_expect_eq(complete(&index, longest, out, 4), 0); /* 65 bytes */
    longest[64] = '\0';
    cr_expect_eq(complete(&index, longest, out, 4), 1);
    index_close(&index);
}
