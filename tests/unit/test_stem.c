/* What the stemmer makes of words that are no plain English; tests/outside/test_porter.c has the English. */
#include "scratch.h"
#include "store/stem.h"

#include <sqlite3.h>

static struct scratch scratch;
static struct lb_store *store;
static struct lb_error err;

static void open_index(void)
{
    scratch = scratch_make();
    cr_assert_eq(lb_store_open(&store, scratch_path(&scratch, "index"), LB_STORE_WRITE, &err), LB_OK);
}

static void close_index(void)
{
    lb_store_close(store);
    lb_error_free(&err);
    scratch_remove(&scratch);
}

static void expect_stem(struct lb_stemmer *stemmer, const char *word, size_t length, const char *wanted,
                        size_t wanted_length)
{
    const char *stem;
    size_t stem_length;
    cr_assert_eq(lb_stem(stemmer, word, length, &stem, &stem_length, &err), LB_OK);
    cr_expect(stem_length == wanted_length && memcmp(stem, wanted, stem_length) == 0, "%.*s: %.*s",
              (int)length, word, (int)stem_length, stem);
}

Test(stem, words_of_the_trade, .init = open_index, .fini = close_index)
{
    static const char *const pairs[][2] = {
        {"bearings", "bear"},
        {"hoses", "hose"},
        {"hose", "hose"},
        {"gaskets", "gasket"},
        {"2120", "2120"},
        {"243mm", "243mm"},
        {"6pk2120", "6pk2120"},
        {"o", "o"},
        {"as", "as"},
        {"k\xC3\xBChler", "kuhler"}, /* accents are taken off, composed and decomposed */
        {"ku\xCC\x88hler", "kuhler"},
        {"d\xC3\xA9"
         "flecteurs",
         "deflecteur"},
        {"\xD0\xBD\xD0\xB0\xD1\x81\xD0\xBE\xD1\x81", "\xD0\xBD\xD0\xB0\xD1\x81\xD0\xBE\xD1\x81"}, /* насос */
        {"\xE3\x83\x9D\xE3\x83\xB3\xE3\x83\x97", "\xE3\x83\x9D\xE3\x83\xB3\xE3\x83\x97"}, /* ポンプ */
    };
    struct lb_stemmer *stemmer;
    cr_assert_eq(lb_stemmer_open(&stemmer, store, &err), LB_OK);
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
        expect_stem(stemmer, pairs[i][0], strlen(pairs[i][0]), pairs[i][1], strlen(pairs[i][1]));
    lb_stemmer_close(stemmer);
}

Test(stem, what_is_no_word_is_its_own_stem, .init = open_index, .fini = close_index)
{
    static const char *const words[] = {"", "-", "two words", "rad.hoses", "\xFF\xFE", "\xE2\x84\x83"};
    struct lb_stemmer *stemmer;
    cr_assert_eq(lb_stemmer_open(&stemmer, store, &err), LB_OK);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        expect_stem(stemmer, words[i], strlen(words[i]), words[i], strlen(words[i]));
    expect_stem(stemmer, "a\0b", 3, "a\0b", 3);
    lb_stemmer_close(stemmer);
}

/* Up to 64 bytes a word is stemmed, beyond it is let be; a word is read to its length, not to a NUL. */
Test(stem, lengths, .init = open_index, .fini = close_index)
{
    char word[66];
    struct lb_stemmer *stemmer;
    cr_assert_eq(lb_stemmer_open(&stemmer, store, &err), LB_OK);
    memset(word, 'a', sizeof word);
    memcpy(word + 60, "king", 4);
    expect_stem(stemmer, word, 64, word, 61);
    memcpy(word + 60, "aking", 5);
    expect_stem(stemmer, word, 65, word, 65);
    expect_stem(stemmer, "bearings and more", 8, "bear", 4);
    lb_stemmer_close(stemmer);
}

/* Two at a time on one connection, and each call forgets the one before. */
Test(stem, several, .init = open_index, .fini = close_index)
{
    struct lb_stemmer *one, *other;
    cr_assert_eq(lb_stemmer_open(&one, store, &err), LB_OK);
    cr_assert_eq(lb_stemmer_open(&other, store, &err), LB_OK);
    expect_stem(one, "seals", 5, "seal", 4);
    expect_stem(other, "filters", 7, "filter", 6);
    expect_stem(one, "", 0, "", 0);
    expect_stem(one, "pumps", 5, "pump", 4);
    lb_stemmer_close(one);
    expect_stem(other, "hoses", 5, "hose", 4);
    lb_stemmer_close(other);
    lb_stemmer_close(NULL);
}

/* A connection whose SQL function `fts5` is gone is what an SQLite without FTS5 looks like. */
static int without_fts5(sqlite3 *db, char **words, const void *api)
{
    (void)words, (void)api;
    return sqlite3_create_function(db, "fts5", 1, SQLITE_UTF8, NULL, NULL, NULL, NULL);
}

Test(stem, without_full_text_search)
{
    struct lb_stemmer *stemmer = NULL;
    sqlite3_auto_extension((void (*)(void))without_fts5);
    open_index();
    cr_expect_eq(lb_stemmer_open(&stemmer, store, &err), LB_SYSTEM);
    cr_expect_null(stemmer);
    cr_expect(strstr(lb_error_text(&err), "lacks full-text search (FTS5)"), "%s", lb_error_text(&err));
    sqlite3_reset_auto_extension();
    close_index();
}
