/* The weight of words against the published formula worked by hand, and against SQLite FTS5's own. */
#include "find/bm25.h"

#include <criterion/criterion.h>
#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>

#define NEAR 1e-12

/* S. Robertson, H. Zaragoza, "The Probabilistic Relevance Framework: BM25 and Beyond" (2009): the weight of a
 * term without relevance judgements, ln ((N - n + 0.5) / (n + 0.5)), worked to forty digits apart from this
 * program. The last three would be nought or less. */
Test(bm25, idf_by_hand)
{
    static const struct {
        int64_t documents, with_term;
        double idf;
    } known[] = {{1000, 10, 4.546834608975127933250741909873}, /* ln (990.5 / 10.5) */
                 {1000000, 1, 13.41004494985598472208826893035},
                 {29, 14, 0.06669137449867221874589229218045}, /* ln (15.5 / 14.5) */
                 {9, 4, 0.2006706954621511612714531041201},    /* ln (5.5 / 4.5) */
                 {3, 1, 0.5108256237659906832055140963037},
                 {2, 1, 1e-6},
                 {1, 1, 1e-6},
                 {100, 60, 1e-6}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        double idf = lb_bm25_idf(known[i].documents, known[i].with_term);
        cr_expect(fabs(idf - known[i].idf) < NEAR, "%zu: %.17g", i, idf);
    }
}

/* The same paper's BM25 weight in the form with k1 + 1 above the line, as fractions. */
Test(bm25, weight_by_hand)
{
    static const struct {
        double frequency, length, average, k1, b, weight;
    } known[] = {
        {1, 10, 10, 1.2, 0.75, 1},           /* an average title that has it once: 2.2 / 2.2 */
        {3, 20, 10, 1.2, 0.75, 22.0 / 17},   /* 6.6 / (3 + 1.2 x 1.75) */
        {2, 5, 8, 1.2, 0.75, 1760.0 / 1145}, /* 4.4 / (2 + 1.2 x 0.71875) */
        {4, 99, 7, 1.2, 0, 22.0 / 13},       /* b = 0: no matter how long it is */
        {2, 12, 8, 0, 0.75, 1},              /* k1 = 0: no matter how often */
        {5, 30, 10, 2, 1, 15.0 / 11},        /* b = 1: lengths count in full */
        {0, 10, 10, 1.2, 0.75, 0},
        {0, 0, 10, 0, 1, 0},
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        double weight =
            lb_bm25_weight(known[i].frequency, known[i].length, known[i].average, known[i].k1, known[i].b);
        cr_expect(fabs(weight - known[i].weight) < NEAR, "%zu: %.17g", i, weight);
    }
}

/* It grows with the frequency towards k1 + 1, and falls with the length. */
Test(bm25, weight_has_its_bounds)
{
    double before = 0;
    for (int frequency = 1; frequency <= 4096; frequency *= 2) {
        double weight = lb_bm25_weight(frequency, 12, 8, 1.2, 0.75);
        cr_expect(weight > before && weight < 2.2, "%d: %.17g", frequency, weight);
        cr_expect(lb_bm25_weight(frequency, 13, 8, 1.2, 0.75) < weight);
        before = weight;
    }
}

enum { DOCUMENTS = 300, LONGEST = 40, VOCABULARY = 30 };

/* counts[d][w]: how often document d has the word "w<w>"; the first words are common, the last ones rare. */
struct collection {
    int counts[DOCUMENTS][VOCABULARY];
    int lengths[DOCUMENTS];
    int64_t total, with_word[VOCABULARY];
};

static uint32_t draw(uint32_t *state, uint32_t below)
{
    *state = *state * 1664525u + 1013904223u; /* Numerical Recipes' generator */
    return (uint32_t)(((uint64_t)*state * below) >> 32);
}

static void execute(sqlite3 *db, const char *sql)
{
    cr_assert_eq(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK, "%s", sqlite3_errmsg(db));
}

static void generate(struct collection *collection, sqlite3 *db)
{
    uint32_t state = 20090401;
    execute(db, "CREATE VIRTUAL TABLE titles USING fts5(title, tokenize = unicode61)");
    for (int d = 0; d < DOCUMENTS; d++) {
        char title[LONGEST * 4 + 1] = "", sql[sizeof title + 64];
        collection->lengths[d] = 1 + (int)draw(&state, LONGEST);
        collection->total += collection->lengths[d];
        for (int i = 0; i < collection->lengths[d]; i++) {
            int word = (int)draw(&state, 1 + draw(&state, VOCABULARY));
            collection->with_word[word] += collection->counts[d][word]++ == 0;
            sprintf(title + strlen(title), "w%d ", word);
        }
        snprintf(sql, sizeof sql, "INSERT INTO titles(rowid, title) VALUES(%d, '%s')", d, title);
        execute(db, sql);
    }
}

static double score_of(const struct collection *collection, int document, int word)
{
    double idf = lb_bm25_idf(DOCUMENTS, collection->with_word[word]);
    return idf * lb_bm25_weight(collection->counts[document][word], collection->lengths[document],
                                (double)collection->total / DOCUMENTS, 1.2, 0.75);
}

/* Two words, either of which will do; FTS5's bm25 is negative. k1 = 1.2 and b = 0.75 are its constants. */
static void compare(const struct collection *collection, sqlite3 *db, int one, int other)
{
    sqlite3_stmt *stmt;
    char sql[128];
    int found = 0, expected = 0;
    snprintf(sql, sizeof sql, "SELECT rowid, bm25(titles) FROM titles WHERE titles MATCH 'w%d OR w%d'", one,
             other);
    cr_assert_eq(sqlite3_prepare_v2(db, sql, -1, &stmt, NULL), SQLITE_OK, "%s", sqlite3_errmsg(db));
    for (; sqlite3_step(stmt) == SQLITE_ROW; found++) {
        int d = sqlite3_column_int(stmt, 0);
        double theirs = -sqlite3_column_double(stmt, 1);
        double ours = score_of(collection, d, one) + score_of(collection, d, other);
        cr_expect(fabs(ours - theirs) < NEAR, "%s, %d: %.17g, not %.17g", sql, d, ours, theirs);
    }
    sqlite3_finalize(stmt);
    for (int d = 0; d < DOCUMENTS; d++)
        expected += collection->counts[d][one] || collection->counts[d][other];
    cr_expect_eq(found, expected, "%s: %d, not %d", sql, found, expected);
}

Test(bm25, as_another_program_has_it)
{
    static struct collection collection;
    sqlite3 *db;
    cr_assert_eq(sqlite3_open(":memory:", &db), SQLITE_OK);
    generate(&collection, db);
    for (int one = 0; one < VOCABULARY; one++)
        for (int other = one + 1; other < VOCABULARY; other++)
            compare(&collection, db, one, other);
    /* Of both sorts there were some: words in more than half of all titles, and words in few. */
    cr_expect_gt(collection.with_word[0], DOCUMENTS / 2);
    cr_expect_lt(collection.with_word[VOCABULARY - 1], DOCUMENTS / 20);
    sqlite3_close(db);
}
