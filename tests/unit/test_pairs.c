/* The packed lookup against a plain sorted list. */
#include "scratch.h"

#include "store/pairs.h"

struct index {
    struct scratch scratch;
    struct lb_store *store;
};

static struct index index_open(void)
{
    struct index index = {scratch_make(), NULL};
    struct lb_error err = {0};
    cr_assert_eq(lb_store_open(&index.store, scratch_path(&index.scratch, "i.db"), LB_STORE_WRITE, &err),
                 LB_OK);
    return index;
}

static void index_close(struct index *index)
{
    lb_store_close(index->store);
    scratch_remove(&index->scratch);
}

/* The model: every pair as `key id`, sorted as text would be by bytes. */
struct pair {
    char key[24];
    int64_t id;
};

static struct pair model[20000];
static size_t count;

static int by_pair(const void *left, const void *right)
{
    const struct pair *a = left, *b = right;
    int order = strcmp(a->key, b->key);
    return order ? order : (a->id > b->id) - (a->id < b->id);
}

static size_t unique(struct pair *pairs, size_t n)
{
    size_t kept = 0;
    qsort(pairs, n, sizeof *pairs, by_pair);
    for (size_t i = 0; i < n; i++)
        if (!kept || by_pair(&pairs[kept - 1], &pairs[i]) != 0)
            pairs[kept++] = pairs[i];
    return kept;
}

static void write_run(struct lb_store *store, const struct pair *pairs, size_t n)
{
    struct lb_error err = {0};
    struct lb_run_writer *run;
    cr_assert_eq(lb_run_begin(&run, store, &err), LB_OK);
    for (size_t i = 0; i < n; i++)
        cr_assert_eq(lb_run_add(run, pairs[i].key, strlen(pairs[i].key), pairs[i].id, &err), LB_OK);
    cr_assert_eq(lb_run_end(run, &err), LB_OK, "%s", lb_error_text(&err));
}

static struct pair seen[40000];
static size_t seen_count;

static lb_status note(void *context, const unsigned char *key, size_t length, int64_t id)
{
    (void)context;
    cr_assert_lt(seen_count, sizeof seen / sizeof *seen);
    snprintf(seen[seen_count].key, sizeof seen->key, "%.*s", (int)length, (const char *)key);
    seen[seen_count++].id = id;
    return LB_OK;
}

static int by_id(const void *left, const void *right)
{
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return (a > b) - (a < b);
}

/* A pair may be in several runs. */
static void check_all(struct lb_store *store)
{
    struct lb_error err = {0};
    struct lb_pairs *pairs;
    seen_count = 0;
    cr_assert_eq(lb_pairs_open(&pairs, store, &err), LB_OK);
    cr_assert_eq(lb_pairs_scan(pairs, "", 0, "\xff", 1, note, NULL, &err), LB_OK, "%s", lb_error_text(&err));
    cr_assert_eq(unique(seen, seen_count), count);
    for (size_t i = 0; i < count; i++)
        cr_assert_eq(by_pair(&seen[i], &model[i]), 0);
    for (size_t i = 0, end; i < count; i = end) {
        struct lb_ids ids = {0};
        size_t kept = 0;
        for (end = i; end < count && strcmp(model[end].key, model[i].key) == 0;)
            end++;
        cr_assert_eq(lb_pairs_find(pairs, model[i].key, strlen(model[i].key), &ids, &err), LB_OK);
        qsort(ids.list.at, ids.list.count, sizeof *ids.list.at, by_id);
        for (size_t k = 0; k < ids.list.count; k++)
            if (!kept || ids.list.at[kept - 1] != ids.list.at[k])
                ids.list.at[kept++] = ids.list.at[k];
        cr_assert_eq(kept, end - i, "%s has %zu rows, not %zu", model[i].key, end - i, kept);
        for (size_t k = i; k < end; k++)
            cr_assert_eq(ids.list.at[k - i], model[k].id);
        free(ids.list.at);
    }
    lb_pairs_close(pairs);
}

/* Few keys with long lists, many keys with one row, keys that begin alike. */
static struct pair draw(unsigned round)
{
    struct pair pair;
    switch (rand() % 3) {
    case 0:
        snprintf(pair.key, sizeof pair.key, "w%c", 'a' + rand() % 3);
        break;
    case 1:
        snprintf(pair.key, sizeof pair.key, "nABC%05d", rand() % 100000);
        break;
    default:
        snprintf(pair.key, sizeof pair.key, "k%.*s%d", rand() % 12, "gasketgasket", rand() % 50);
    }
    pair.id = 1 + rand() % 3000 + (int64_t)round * 1000;
    return pair;
}

static size_t draw_run(unsigned round, struct pair *fresh)
{
    size_t n = (size_t)(round % 3 == 2 ? 1 + rand() % 3 : 500 + rand() % 1500);
    for (size_t i = 0; i < n; i++)
        fresh[i] = draw(round);
    return unique(fresh, n);
}

static void draw_runs(struct lb_store *store, unsigned rounds)
{
    static struct pair fresh[4000];
    count = 0;
    for (unsigned round = 0; round < rounds; round++) {
        size_t n = draw_run(round, fresh);
        write_run(store, fresh, n);
        memcpy(model + count, fresh, n * sizeof *fresh);
        count = unique(model, count + n);
    }
}

Test(pairs, what_was_written_is_found)
{
    struct index index = index_open();
    srand(7);
    draw_runs(index.store, 8);
    check_all(index.store);
    index_close(&index);
}

Test(pairs, small_runs_are_gathered)
{
    struct index index = index_open();
    struct lb_error err = {0};
    int merged;
    int64_t runs;
    srand(11);
    draw_runs(index.store, 8);
    cr_assert_eq(lb_runs_gather(index.store, 8, 1 << 20, &merged, &err), LB_OK);
    cr_expect_eq(merged, 0, "eight are not too many");
    cr_assert_eq(lb_runs_gather(index.store, 5, 4000, &merged, &err), LB_OK);
    cr_expect_gt(merged, 1);
    cr_assert_eq(lb_store_integer(index.store, "SELECT count(*) FROM lookup_run", &runs, &err), LB_OK);
    cr_expect_eq(runs, 8 - merged + 1, "what was gathered is taken out");
    check_all(index.store);
    index_close(&index);
}

/* An index on a disk that lies: reported, never read past its end. */
Test(pairs, blocks_that_make_no_sense)
{
    struct index index = index_open();
    struct lb_error err = {0};
    struct lb_pairs *pairs;
    struct lb_ids ids = {0};
    static const char *const blocks[] = {"x'05'", "x'0001'", "x'ffffffffffffffffffff01'", "x'00037a7a'",
                                         "x'000161ffffffffffffffffff7f01'"};
    struct pair one = {"wa", 1};
    write_run(index.store, &one, 1);
    cr_assert_eq(lb_pairs_open(&pairs, index.store, &err), LB_OK);
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++) {
        char sql[120];
        snprintf(sql, sizeof sql, "UPDATE lookup_block SET pairs = %s", blocks[i]);
        cr_assert_eq(lb_store_execute(index.store, sql, &err), LB_OK);
        cr_expect_eq(lb_pairs_find(pairs, "wa", 2, &ids, &err), LB_SYSTEM, "block %zu", i);
        cr_expect_not_null(strstr(lb_error_text(&err), "damaged"));
        lb_error_free(&err);
    }
    free(ids.list.at);
    lb_pairs_close(pairs);
    index_close(&index);
}
