/* How much of a processor finding parts by number takes on an index that is in memory: each way with what is
 * typed as it would be for it, made from numbers of the index at random, five times over, of which the
 * quickest counts. Prints the median, the 99th of a
 * hundred and the longest in microseconds, and how many parts were found on average.
 *
 *     numbers_speed INDEX [QUESTIONS] [MOST] [NAME]
 *
 * NAME: only the questions whose names have it.
 */
#include "base/text.h"
#include "catalog/partkey.h"
#include "find/numbers.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { LONGEST = 4000, ROUNDS = 5 };

static struct lb_error err;
static unsigned long long seed = 20261125;

/* SplitMix64: the same questions on every machine. */
static unsigned draw(unsigned below)
{
    unsigned long long z = (seed += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (unsigned)((z ^ (z >> 31)) % below);
}

static void need(lb_status status)
{
    if (!status)
        return;
    fprintf(stderr, "numbers_speed: %s\n", lb_error_text(&err));
    exit((int)status);
}

/* What makes a question of a number key. */
enum making { WHOLE, BEGINNING, MIDDLE, MISTAKE };

struct question {
    const char *name;
    enum making making;
    size_t least, length; /* of the number; of what is typed of it, 0: all of it */
    enum lb_number_match widest;
};

static const struct question questions[] = {
    {"whole number, exact", WHOLE, 1, 0, LB_NUMBER_EXACT},
    {"beginning of 2", BEGINNING, 6, 2, LB_NUMBER_BEGINS},
    {"beginning of 4", BEGINNING, 6, 4, LB_NUMBER_BEGINS},
    {"beginning of 6", BEGINNING, 7, 6, LB_NUMBER_BEGINS},
    {"piece of 4", MIDDLE, 6, 4, LB_NUMBER_INSIDE},
    {"piece of 5", MIDDLE, 7, 5, LB_NUMBER_INSIDE},
    {"piece of 6", MIDDLE, 8, 6, LB_NUMBER_INSIDE},
    {"piece of 7", MIDDLE, 9, 7, LB_NUMBER_INSIDE},
    {"mistake in 4", MISTAKE, 4, 4, LB_NUMBER_EDIT},
    {"mistake in 6", MISTAKE, 6, 6, LB_NUMBER_EDIT},
    {"mistake in a whole number", MISTAKE, 4, 0, LB_NUMBER_EDIT},
};

static void random_number(struct lb_statement *st, unsigned rows, size_t least, struct lb_buf *key)
{
    bool row;
    do {
        lb_buf_clear(key);
        lb_bind_integer(st, 1, 1 + draw(rows));
        need(lb_step(st, &row, &err));
        if (row)
            lb_part_number_key(key, lb_text(st, 0));
        lb_statement_reset(st);
    } while (key->length < least || key->length > 64);
}

static void make_mistake(char *text)
{
    size_t length = strlen(text), at = draw((unsigned)length);
    char c = text[at];
    switch (draw(4)) {
    case 0:
        memmove(text + at, text + at + 1, length - at);
        break;
    case 1:
        memmove(text + at + 1, text + at, length - at + 1);
        text[at] = (char)('0' + draw(10));
        break;
    case 2:
        if (at + 1 < length) {
            text[at] = text[at + 1];
            text[at + 1] = c;
            break;
        }
        /* fall through */
    default:
        text[at] = (char)('0' + draw(10));
    }
}

static void make_question(const struct question *q, const struct lb_buf *key, char *typed)
{
    size_t length = q->length ? q->length : key->length;
    size_t at = q->making == MIDDLE ? 1 + draw((unsigned)(key->length - length)) : 0;
    memcpy(typed, key->text + at, length);
    typed[length] = '\0';
    if (q->making == MISTAKE)
        make_mistake(typed);
}

static int by_time(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

static double microseconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec * 1e6 + (double)now.tv_nsec / 1e3;
}

static void ask(struct lb_store *store, struct lb_numbers *numbers, const struct question *q, unsigned count,
                size_t most)
{
    static double times[LONGEST];
    static char typed[LONGEST][72];
    struct lb_statement *st;
    struct lb_buf key = {0};
    struct lb_number_finds finds = {0};
    int64_t rows;
    size_t found = 0;
    need(lb_store_integer(store, "SELECT max(id) FROM parts", &rows, &err));
    need(lb_store_prepare(store, &st, "SELECT part_number FROM parts WHERE id = ?1", &err));
    for (unsigned i = 0; i < count; i++) {
        random_number(st, (unsigned)rows, q->least, &key);
        make_question(q, &key, typed[i]);
    }
    for (int round = 0; round < ROUNDS; round++)
        for (unsigned i = 0; i < count; i++) {
            double begin = microseconds();
            need(lb_numbers_find(numbers, typed[i], q->widest, most, &finds, &err));
            double time = microseconds() - begin;
            times[i] = round && times[i] < time ? times[i] : time;
            found += round ? 0 : finds.list.count;
        }
    qsort(times, count, sizeof *times, by_time);
    printf("%-28s %8.0f %8.0f %8.0f %10.1f\n", q->name, times[count / 2], times[count * 99 / 100],
           times[count - 1], (double)found / count);
    lb_number_finds_free(&finds);
    lb_statement_free(st);
    lb_buf_free(&key);
}

int main(int argc, char **argv)
{
    struct lb_store *store;
    struct lb_numbers *numbers;
    unsigned count = argc > 2 ? (unsigned)strtoul(argv[2], NULL, 10) : 500;
    size_t most = argc > 3 ? strtoul(argv[3], NULL, 10) : 20;
    if (argc < 2 || !count || count > LONGEST) {
        fputs("numbers_speed INDEX [QUESTIONS] [MOST] [NAME]\n", stderr);
        return 2;
    }
    need(lb_store_open(&store, argv[1], LB_STORE_READ, &err));
    double begin = microseconds();
    need(lb_numbers_open(&numbers, store, &err));
    printf("opened in %.0f us\n%-28s %8s %8s %8s %10s\n", microseconds() - begin, "us", "p50", "p99", "most",
           "found");
    for (size_t i = 0; i < sizeof questions / sizeof *questions; i++)
        if (argc < 5 || strstr(questions[i].name, argv[4]))
            ask(store, numbers, &questions[i], count, most);
    lb_numbers_close(numbers);
    lb_store_close(store);
    return 0;
}
