/* How long words take to be saved, completed and repaired: vocabularies of 50,000, 200,000 and 1,000,000 made
 * of syllables, frequencies by Zipf's law. Prints the number of words, seconds to save them all, milliseconds
 * to save 5,000 of which 100 are new, and of a completion and a repair the median and the slowest of many,
 * all of them warm. Usage: spelling_speed FOLDER   (the indices are left in it) */
#include "catalog/spelling.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { ROOM = 24, QUERIES = 2000 };

static unsigned long long seed = 20261125;

/* SplitMix64: the same words on every machine. */
static unsigned draw(unsigned below)
{
    unsigned long long z = (seed += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (unsigned)((z ^ (z >> 31)) % below);
}

static char letter(const char *from)
{
    return from[draw((unsigned)strlen(from))];
}

static size_t invent(char *word)
{
    static const char first[] = "bccddffghhjkllmmnppprrrssssttttvw", vowel[] = "aaaaaeeeeeeeiiiiiooooouuy";
    static const char last[] = "lllnnnnnrrrrrsssstttdmck";
    size_t length = 0, syllables = 2 + draw(3);
    for (size_t i = 0; i < syllables; i++) {
        if (draw(8))
            word[length++] = letter(first);
        if (!draw(6))
            word[length++] = letter("rrlht");
        word[length++] = letter(vowel);
        if (draw(2))
            word[length++] = letter(last);
    }
    word[length] = '\0';
    return length;
}

/* Of the processor: what else the machine does meanwhile does not count. */
static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void need(lb_status status, const struct lb_error *err)
{
    if (!status)
        return;
    fprintf(stderr, "%s\n", lb_error_text(err));
    exit(1);
}

static void *array(size_t count, size_t size)
{
    void *memory = calloc(count, size);
    if (!memory)
        abort();
    return memory;
}

static int by_word(const void *left, const void *right)
{
    return strcmp(left, right);
}

static void mix(char (*words)[ROOM], size_t count)
{
    for (size_t i = count; i > 1; i--) {
        char other[ROOM];
        size_t k = draw((unsigned)i);
        memcpy(other, words[i - 1], ROOM);
        memcpy(words[i - 1], words[k], ROOM);
        memcpy(words[k], other, ROOM);
    }
}

/* Different words in no order; 100 more than asked for. */
static struct lb_spelt *vocabulary(size_t count)
{
    size_t made = 0, wanted = count + 100, room = wanted * 2;
    char(*words)[ROOM] = array(room, ROOM);
    while (made < wanted) {
        size_t kept = 0;
        while (made < room)
            invent(words[made++]);
        qsort(words, made, ROOM, by_word);
        for (size_t i = 0; i < made; i++)
            if (!kept || strcmp(words[kept - 1], words[i]) != 0)
                memmove(words[kept++], words[i], ROOM);
        made = kept;
    }
    mix(words, made);
    struct lb_spelt *spelt = array(wanted, sizeof *spelt);
    for (size_t i = 0; i < wanted; i++)
        spelt[i] = (struct lb_spelt){words[i], strlen(words[i]), (int64_t)(count / (i + 1)) + 1};
    return spelt;
}

static double save(struct lb_store *store, const struct lb_spelt *words, size_t count)
{
    struct lb_error err = {0};
    double begin = seconds();
    need(lb_store_begin(store, &err), &err);
    need(lb_spelling_save(store, words, count, &err), &err);
    need(lb_store_commit(store, &err), &err);
    return seconds() - begin;
}

/* One slip or two in a word: a letter left out, doubled, changed or swapped. */
static size_t slip(char *typed, const struct lb_spelt *word)
{
    size_t length = word->length;
    memcpy(typed, word->word, length);
    for (int edits = length < 6 ? 1 : 2; edits > 0 && length > 3; edits--) {
        size_t at = 1 + draw((unsigned)length - 2);
        switch (draw(3)) {
        case 0:
            memmove(typed + at, typed + at + 1, --length - at);
            break;
        case 1:
            typed[at] = (char)('a' + draw(26));
            break;
        default:
            memmove(typed + at + 1, typed + at, length++ - at);
        }
    }
    return length;
}

static int by_value(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

static void print_times(double *times, size_t count)
{
    qsort(times, count, sizeof *times, by_value);
    printf("  %6.3f %6.3f %6.3f", times[count / 2] * 1e3, times[count * 95 / 100] * 1e3,
           times[count - 1] * 1e3);
}

static void time_queries(struct lb_spelling *spelling, const struct lb_spelt *words, size_t count)
{
    static double complete[QUERIES], near[QUERIES];
    struct lb_spelling_word out[8];
    struct lb_error err = {0};
    size_t found, hits = 0;
    for (size_t i = 0; i < QUERIES; i++) {
        const struct lb_spelt *word = &words[draw((unsigned)(count / 10))];
        char typed[ROOM + 4];
        size_t length = slip(typed, word);
        double begin = seconds();
        need(lb_spelling_completions(spelling, word->word, 2, out, 8, &found, &err), &err);
        complete[i] = seconds() - begin;
        begin = seconds();
        need(lb_spelling_near(spelling, typed, length, out, 5, &found, &err), &err);
        near[i] = seconds() - begin;
        for (size_t k = 0; k < found; k++)
            hits += out[k].length == word->length && !memcmp(out[k].word, word->word, word->length);
    }
    print_times(complete, QUERIES);
    print_times(near, QUERIES);
    printf("   %4.1f%%\n", 100.0 * (double)hits / QUERIES);
}

static void measure(const char *folder, size_t count)
{
    struct lb_error err = {0};
    struct lb_store *store;
    struct lb_spelling *spelling;
    char path[4096];
    snprintf(path, sizeof path, "%s/spelling-%zu.db", folder, count);
    remove(path);
    struct lb_spelt *words = vocabulary(count);
    need(lb_store_open(&store, path, LB_STORE_WRITE, &err), &err);
    double all = save(store, words, count), some = save(store, words + count - 4900, 5000);
    lb_store_close(store);
    printf("%8zu   %7.3f   %7.1f ", count, all, some * 1e3);
    need(lb_store_open(&store, path, LB_STORE_READ, &err), &err);
    need(lb_spelling_open(&spelling, store, &err), &err);
    time_queries(spelling, words, count);
    lb_spelling_close(spelling);
    lb_store_close(store);
}

/* The memory of the words is left to the end of the process: this is a benchmark. */
int main(int argc, char **argv)
{
    if (argc != 2) {
        fprintf(stderr, "usage: spelling_speed FOLDER\n");
        return 2;
    }
    printf("   words  save, s  5,000, ms   completion, ms: 50%% 95%% 100%%   repair, ms: 50%% 95%% 100%%   "
           "among 5\n");
    measure(argv[1], 50000);
    measure(argv[1], 200000);
    measure(argv[1], 1000000);
    return 0;
}
