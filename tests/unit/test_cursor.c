/* Cursors over one key's ids, against a plain sorted array: short lists within a block, long ones over many,
 * runs of the lookup, jumps of all lengths. */
#include "scratch.h"

#include "store/pairs_block.h"

enum { KEYS = 12, IDS_MAX = 30000 };

static struct lb_error err;
static int64_t ids[KEYS][IDS_MAX];
static size_t counts[KEYS];

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static uint64_t state = 88172645463325252u;
static uint64_t draw(uint64_t limit)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return state % limit;
}

static const char *key_of(int key)
{
    static char name[8];
    snprintf(name, sizeof name, "w%c%02d", 'a' + key / 3, key);
    return name;
}

/* Lists of 0, 1, a few and very many ids, side by side; gaps from 1 to millions. */
static void make_run(struct lb_store *store, unsigned salt)
{
    static const size_t sizes[] = {1, 3, 20000, 40, 700, 29000, 2, 1500, 0, 5, 12000, 1};
    struct lb_run_writer *run;
    expect_ok(lb_run_begin(&run, store, &err));
    for (int k = 0; k < KEYS; k++) {
        int64_t id = 0;
        counts[k] = sizes[(k + salt) % KEYS];
        for (size_t i = 0; i < counts[k]; i++) {
            id += 1 + (int64_t)draw(draw(9) ? 40 : 5000000);
            ids[k][i] = id;
            expect_ok(lb_run_add(run, key_of(k), strlen(key_of(k)), id, &err));
        }
    }
    expect_ok(lb_run_end(run, &err));
}

static int64_t wanted(int key, int64_t least)
{
    size_t low = 0, high = counts[key];
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (ids[key][middle] < least)
            low = middle + 1;
        else
            high = middle;
    }
    return low < counts[key] ? ids[key][low] : LB_CURSOR_END;
}

static void walk(struct lb_pairs *pairs, size_t run, int key, uint64_t stride)
{
    char name[8];
    struct lb_cursor cursor = {0};
    strcpy(name, key_of(key));
    expect_ok(lb_cursor_open(&cursor, pairs, run, name, strlen(name), &err));
    cr_assert_eq(cursor.id, wanted(key, 0), "%s begins", name);
    while (cursor.id != LB_CURSOR_END) {
        int64_t least = cursor.id + 1 + (int64_t)draw(stride);
        expect_ok(lb_cursor_seek(&cursor, least, &err));
        cr_assert_eq(cursor.id, wanted(key, least), "%s from %lld", name, (long long)least);
    }
    expect_ok(lb_cursor_seek(&cursor, INT64_MAX - 1, &err));
    cr_assert_eq(cursor.id, LB_CURSOR_END);
    lb_cursor_free(&cursor);
}

Test(cursor, walks_as_a_sorted_list)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_pairs *pairs;
    expect_ok(lb_store_open(&store, scratch_path(&s, "i.db"), LB_STORE_WRITE, &err));
    for (unsigned run = 0; run < 3; run++) {
        make_run(store, run * 5);
        expect_ok(lb_pairs_open(&pairs, store, &err));
        cr_assert_eq(lb_pairs_run_count(pairs), run + 1u);
        for (int k = 0; k < KEYS; k++) {
            walk(pairs, run, k, 1);
            walk(pairs, run, k, 5000);
            walk(pairs, run, k, 40000000);
        }
        lb_pairs_close(pairs);
    }
    lb_store_close(store);
    scratch_remove(&s);
}

Test(cursor, counts_short_lists_exactly_and_long_ones_about)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_pairs *pairs;
    struct lb_cursor cursors[1] = {{0}};
    expect_ok(lb_store_open(&store, scratch_path(&s, "i.db"), LB_STORE_WRITE, &err));
    make_run(store, 0);
    expect_ok(lb_pairs_open(&pairs, store, &err));
    for (int k = 0; k < KEYS; k++) {
        char name[8];
        int64_t count;
        strcpy(name, key_of(k));
        expect_ok(lb_cursors_open(cursors, pairs, name, strlen(name), &count, &err));
        cr_assert_eq(cursors[0].id, wanted(k, 0), "left at its first");
        if (counts[k] < 100)
            cr_assert_eq(count, (int64_t)counts[k]);
        else
            cr_assert(count > (int64_t)counts[k] / 2 && count < (int64_t)counts[k] * 2, "%lld for %zu",
                      (long long)count, counts[k]);
    }
    lb_cursor_free(cursors);
    lb_pairs_close(pairs);
    lb_store_close(store);
    scratch_remove(&s);
}

Test(cursor, a_damaged_block_is_noticed)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_pairs *pairs;
    struct lb_cursor cursor = {0};
    expect_ok(lb_store_open(&store, scratch_path(&s, "i.db"), LB_STORE_WRITE, &err));
    make_run(store, 0);
    expect_ok(
        lb_store_execute(store, "UPDATE lookup_block SET pairs = substr(pairs, 1, length(pairs) - 3)", &err));
    expect_ok(lb_pairs_open(&pairs, store, &err));
    lb_status status = lb_cursor_open(&cursor, pairs, 0, "wa02", 4, &err);
    for (int i = 0; !status && i < 100 && cursor.id != LB_CURSOR_END; i++)
        status = lb_cursor_seek(&cursor, cursor.id + 100000, &err);
    cr_assert_eq(status, LB_SYSTEM);
    lb_cursor_free(&cursor);
    lb_pairs_close(pairs);
    lb_store_close(store);
    lb_error_free(&err);
    scratch_remove(&s);
}

Test(cursor, a_list_that_goes_round_in_a_circle_is_damage, .timeout = 20)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_pairs *pairs;
    struct lb_cursor cursor = {0};
    expect_ok(lb_store_open(&store, scratch_path(&s, "i.db"), LB_STORE_WRITE, &err));
    make_run(store, 0);
    expect_ok(
        lb_store_execute(store,
                         "UPDATE lookup_block SET pairs = (SELECT b.pairs FROM lookup l JOIN lookup_block b "
                         "ON b.id = l.block WHERE l.key = CAST('wa02' AS BLOB) ORDER BY l.first LIMIT 1) "
                         "WHERE id IN (SELECT block FROM lookup WHERE key = CAST('wa02' AS BLOB))",
                         &err));
    expect_ok(lb_pairs_open(&pairs, store, &err));
    expect_ok(lb_cursor_open(&cursor, pairs, 0, "wa02", 4, &err));
    lb_status status = LB_OK;
    while (!status && cursor.id != LB_CURSOR_END)
        status = lb_cursor_seek(&cursor, cursor.id + 1, &err);
    cr_assert_eq(status, LB_SYSTEM);
    lb_cursor_free(&cursor);
    lb_pairs_close(pairs);
    lb_store_close(store);
    lb_error_free(&err);
    scratch_remove(&s);
}

Test(cursor, keys_that_do_not_ascend_are_damage)
{
    static const unsigned char good[] = {1, 0, 7, 0, 0, 1, 'c', 9, 0}, /* b: 7; c: 9 */
        falls[] = {1, 0, 7, 0, 0, 1, 'a', 9, 0}, same[] = {1, 0, 7, 0, 1, 0, 9, 0},
                               other[] = {0, 1, 'c', 7, 0}; /* the first key is the block's */
    const struct {
        const unsigned char *bytes;
        size_t size;
        int pairs;
        bool broken;
    } blocks[] = {{good, sizeof good, 2, false},
                  {falls, sizeof falls, 1, true},
                  {same, sizeof same, 1, true},
                  {other, sizeof other, 0, true},
                  {NULL, 0, 0, false}};
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++) {
        struct lb_block_cursor cursor;
        int count = 0;
        lb_block_begin(&cursor, "b", 1, blocks[i].bytes, blocks[i].size);
        while (lb_block_next(&cursor))
            count++;
        cr_assert_eq(count, blocks[i].pairs, "%zu: %d", i, count);
        cr_assert_eq(cursor.broken, blocks[i].broken, "%zu", i);
    }
}
