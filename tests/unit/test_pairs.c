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

static void merge(struct lb_store *store, const struct pair *pairs, size_t n)
{
    struct lb_error err = {0};
    struct lb_merge *m;
    cr_assert_eq(lb_pairs_merge_begin(&m, store, &err), LB_OK);
    for (size_t i = 0; i < n; i++)
        cr_assert_eq(lb_pairs_merge_add(m, pairs[i].key, strlen(pairs[i].key), pairs[i].id, &err), LB_OK);
    cr_assert_eq(lb_pairs_merge_end(m, &err), LB_OK, "%s", lb_error_text(&err));
}

static lb_status check_next(void *context, const unsigned char *key, size_t length, int64_t id)
{
    size_t *at = context;
    cr_assert_lt(*at, count);
    cr_assert_eq(strlen(model[*at].key), length);
    cr_assert_eq(memcmp(model[*at].key, key, length), 0);
    cr_assert_eq(model[*at].id, id);
    ++*at;
    return LB_OK;
}

static void check_all(struct lb_store *store)
{
    struct lb_error err = {0};
    struct lb_pairs *pairs;
    size_t at = 0;
    cr_assert_eq(lb_pairs_open(&pairs, store, &err), LB_OK);
    cr_assert_eq(lb_pairs_scan(pairs, "", 0, "\xff", 1, check_next, &at, &err), LB_OK, "%s",
                 lb_error_text(&err));
    cr_assert_eq(at, count);
    for (size_t i = 0, end; i < count; i = end) {
        struct lb_ids ids = {0};
        for (end = i; end < count && strcmp(model[end].key, model[i].key) == 0;)
            end++;
        cr_assert_eq(lb_pairs_find(pairs, model[i].key, strlen(model[i].key), &ids, &err), LB_OK);
        cr_assert_eq(ids.list.count, end - i, "%s has %zu rows, not %zu", model[i].key, end - i,
                     ids.list.count);
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

Test(pairs, what_was_merged_is_found)
{
    struct index index = index_open();
    static struct pair fresh[4000];
    srand(7);
    count = 0;
    for (unsigned round = 0; round < 8; round++) {
        size_t n = (size_t)(round % 3 == 2 ? 1 + rand() % 3 : 500 + rand() % 1500);
        for (size_t i = 0; i < n; i++)
            fresh[i] = draw(round);
        n = unique(fresh, n);
        merge(index.store, fresh, n);
        memcpy(model + count, fresh, n * sizeof *fresh);
        count = unique(model, count + n);
        check_all(index.store);
    }
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
    merge(index.store, &one, 1);
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
