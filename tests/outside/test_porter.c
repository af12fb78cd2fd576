/* English stems against another program's: porter/README.md says whose words and whose stems. */
#include "../unit/scratch.h"
#include "store/stem.h"

enum { WORDS = 30428 };

struct bench {
    struct scratch scratch;
    struct lb_store *store;
    struct lb_stemmer *stemmer;
    struct lb_error err;
};

static void open_bench(struct bench *bench)
{
    *bench = (struct bench){.scratch = scratch_make()};
    const char *path = scratch_path(&bench->scratch, "index");
    cr_assert_eq(lb_store_open(&bench->store, path, LB_STORE_WRITE, &bench->err), LB_OK);
    cr_assert_eq(lb_stemmer_open(&bench->stemmer, bench->store, &bench->err), LB_OK);
}

static void close_bench(struct bench *bench)
{
    lb_stemmer_close(bench->stemmer);
    lb_store_close(bench->store);
    lb_error_free(&bench->err);
    scratch_remove(&bench->scratch);
}

static bool stems_to(struct bench *bench, const char *word, const char *wanted)
{
    const char *stem;
    size_t length;
    cr_assert_eq(lb_stem(bench->stemmer, word, strlen(word), &stem, &length, &bench->err), LB_OK);
    bool same = length == strlen(wanted) && memcmp(stem, wanted, length) == 0;
    if (!same)
        cr_log_error("%s: %.*s, not %s", word, (int)length, stem, wanted);
    return same;
}

/* Not a word may differ. */
Test(porter, the_published_vocabulary)
{
    struct bench bench;
    char line[256];
    int words = 0, wrong = 0;
    FILE *file = fopen(LB_TESTS_DIR "/outside/porter/words.tsv", "r");
    cr_assert(file);
    open_bench(&bench);
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\n")] = '\0';
        char *tab = strchr(line, '\t');
        if (tab)
            *tab = '\0';
        words++;
        wrong += !stems_to(&bench, line, tab ? tab + 1 : line);
    }
    fclose(file);
    close_bench(&bench);
    cr_expect_eq(words, WORDS);
    cr_expect_eq(wrong, 0, "%d of %d", wrong, words);
}

/* Examples that the paper itself gives for the whole algorithm (Porter 1980, section 1 and 2). */
Test(porter, the_paper_s_own_examples)
{
    static const char *const pairs[][2] = {{"connect", "connect"},
                                           {"connected", "connect"},
                                           {"connecting", "connect"},
                                           {"connection", "connect"},
                                           {"connections", "connect"},
                                           {"caresses", "caress"},
                                           {"ponies", "poni"},
                                           {"cats", "cat"},
                                           {"hopping", "hop"},
                                           {"falling", "fall"},
                                           {"filing", "file"},
                                           {"happy", "happi"},
                                           {"sky", "sky"},
                                           {"generalizations", "gener"},
                                           {"oscillators", "oscil"},
                                           {"controll", "control"},
                                           {"replacement", "replac"},
                                           {"adjustable", "adjust"}};
    struct bench bench;
    open_bench(&bench);
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
        cr_expect(stems_to(&bench, pairs[i][0], pairs[i][1]), "%s", pairs[i][0]);
    close_bench(&bench);
}
