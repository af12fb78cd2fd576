/* The walk over all runs against a plain sorted list; and the keys of numbers, there and back. */
#include "scratch.h"

#include "catalog/partkey.h"
#include "catalog/terms.h"
#include "store/pairs_walk.h"

enum { PAIRS = 6000, RUNS = 3 };

struct pair {
    char key[24];
    int64_t id;
    int run;
};

static struct lb_error err;
static struct pair model[PAIRS];
static uint64_t state = 7;

static int below(int limit)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)((state >> 11) % (uint64_t)limit);
}

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static int by_pair(const void *left, const void *right)
{
    const struct pair *a = left, *b = right;
    int order = strcmp(a->key, b->key);
    return order ? order : (a->id > b->id) - (a->id < b->id);
}

/* Few keys have many ids, many have one. */
static void random_key(char *to)
{
    int length = 1 + below(7);
    for (int i = 0; i < length; i++)
        to[i] = (char)('a' + below(below(3) ? 3 : 20));
    to[length] = '\0';
    if (below(4) == 0)
        strcpy(to, "bbb");
}

static void write_runs(struct lb_store *store)
{
    for (int i = 0; i < PAIRS; i++) {
        random_key(model[i].key);
        model[i].id = i + 1;
        model[i].run = below(RUNS);
    }
    qsort(model, PAIRS, sizeof *model, by_pair);
    for (int r = 0; r < RUNS; r++) {
        struct lb_run_writer *run;
        expect_ok(lb_run_begin(&run, store, &err));
        for (int i = 0; i < PAIRS; i++)
            if (model[i].run == r)
                expect_ok(lb_run_add(run, model[i].key, strlen(model[i].key), model[i].id, &err));
        expect_ok(lb_run_end(run, &err));
    }
}

/* The place in the model of the first pair from there on whose key is not below. */
static int place_of(const char *key, int from)
{
    while (from < PAIRS && strcmp(model[from].key, key) < 0)
        from++;
    return from;
}

static void expect_at(const struct lb_walk *walk, int place)
{
    cr_assert_eq(walk->over, place == PAIRS);
    if (walk->over)
        return;
    cr_assert_eq(walk->pair->length, strlen(model[place].key));
    cr_assert_arr_eq(walk->pair->key, model[place].key, walk->pair->length);
    cr_assert_eq(walk->pair->id, model[place].id);
}

Test(pairs_walk, goes_and_skips_like_a_sorted_list)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_walk *walk;
    expect_ok(lb_store_open(&store, scratch_path(&s, "i.db"), LB_STORE_WRITE, &err));
    write_runs(store);
    expect_ok(lb_walk_open(&walk, store, &err));
    expect_ok(lb_walk_begin(walk, "", 0, &err));
    for (int i = 0; i < PAIRS; i++) {
        expect_at(walk, i);
        expect_ok(lb_walk_next(walk, &err));
    }
    expect_at(walk, PAIRS);
    for (int i = 0; i < 1500; i++) {
        char key[24];
        random_key(key);
        int place = place_of(key, 0);
        expect_ok(lb_walk_begin(walk, key, strlen(key), &err));
        expect_at(walk, place);
        for (int k = below(20); k > 0 && place < PAIRS; k--) {
            if (below(2)) {
                expect_ok(lb_walk_next(walk, &err));
                place++;
            } else {
                random_key(key);
                expect_ok(lb_walk_seek(walk, key, strlen(key), &err));
                place = place_of(key, place);
            }
            expect_at(walk, place);
        }
    }
    lb_walk_close(walk);
    lb_store_close(store);
    scratch_remove(&s);
}

Test(pairs_walk, an_index_without_runs_is_over_at_once)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_walk *walk;
    int64_t blocks;
    expect_ok(lb_store_open(&store, scratch_path(&s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_walk_open(&walk, store, &err));
    expect_ok(lb_walk_begin(walk, "n", 1, &err));
    cr_expect(walk->over);
    expect_ok(lb_walk_seek(walk, "o", 1, &err));
    expect_ok(lb_walk_next(walk, &err));
    cr_expect(walk->over);
    expect_ok(lb_walk_blocks(walk, "n", 1, &blocks, &err));
    cr_expect_eq(blocks, 0);
    lb_walk_close(walk);
    lb_store_close(store);
    scratch_remove(&s);
}

Test(terms, a_number_and_its_key)
{
    static const char *const numbers[] = {"4471208", "OIO1", "0I0I", "", "\x1f\x1f", "---", "OOOO\xc3\x96I"};
    static const uint32_t brands[] = {1, 31, 127, 128, 300, 70000, UINT32_MAX};
    struct lb_buf key = {0}, number = {0};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        for (size_t b = 0; b < sizeof brands / sizeof *brands; b++) {
            struct lb_number_term term;
            lb_term_number(&key, numbers[i], brands[b]);
            cr_assert(lb_term_read_number(&term, key.text, key.length));
            cr_expect_eq(term.brand, brands[b]);
            cr_expect(term.whole);
            cr_expect_null(memchr(term.folded, 'O', term.length));
            lb_buf_clear(&number);
            lb_term_write(&number, &term);
            cr_expect_str_eq(lb_buf_text(&number), numbers[i]);
        }
    lb_buf_free(&key);
    lb_buf_free(&number);
}

/* Each number has a key of its own, however long. */
Test(terms, long_numbers_differ)
{
    char number[300];
    struct lb_buf a = {0}, b = {0};
    struct lb_number_term term;
    memset(number, '7', sizeof number - 1);
    number[sizeof number - 1] = '\0';
    lb_term_number(&a, number, 300);
    number[sizeof number - 2] = '8';
    lb_term_number(&b, number, 300);
    cr_expect(a.length == b.length && memcmp(a.text, b.text, a.length) != 0);
    cr_assert(lb_term_read_number(&term, b.text, b.length));
    cr_expect_eq(term.brand, 300);
    cr_expect_not(term.whole);
    cr_expect_eq(term.length, LB_TERM_NUMBER_MAX);
    cr_expect_lt(b.length, LB_PAIRS_KEY_MAX);
    memset(number, 'O', sizeof number - 1);
    lb_term_number(&b, number, UINT32_MAX);
    cr_expect_lt(b.length, LB_PAIRS_KEY_MAX);
    lb_buf_free(&a);
    lb_buf_free(&b);
}
