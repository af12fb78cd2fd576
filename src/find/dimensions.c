/* Parts by dimension, from the keys of catalog/dimension_key.h. Whatever decides how near a part is stands in
 * its key, so rows are only looked at in the order in which they are shown. What lies around a size is read
 * in rings, the nearest first, until enough is found. */
#include "find/dimensions.h"

#include "base/names.h"
#include "base/spec_words.h"
#include "base/text.h"
#include "catalog/dimension_key.h"
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "find/dimension_parts.h"
#include "store/pairs.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    PAIRS_MAX = 40000, /* read for one question: a millisecond or two */
    RINGS = 4,
};

/* One key in one run, with its rows among `ids`. */
struct group {
    double distance;
    unsigned char key[LB_DIMENSION_KEY_MAX];
    size_t length, first, count;
};

struct lb_dimensions {
    struct lb_store *store;
    struct lb_pairs *pairs;
    struct lb_statement *rows;
    LB_VEC(struct group) groups;
    struct lb_ids ids;
    struct lb_names seen; /* part keys */
    struct lb_buf json, key, words;
};

/* One question. */
struct search {
    struct lb_dimensions *own;
    const struct lb_spec *wanted;
    struct lb_dimension_finds *finds;
    size_t most, each; /* each: rows that are looked at under one key */
    size_t rows_left, pairs_left;
};

lb_status lb_dimensions_open(struct lb_dimensions **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_dimensions *dimensions = *out = calloc(1, sizeof *dimensions);
    if (!dimensions)
        return lb_fail_nomem(err);
    dimensions->store = store;
    lb_status status = lb_pairs_open(&dimensions->pairs, store, err);
    if (!status)
        status = lb_store_prepare(store, &dimensions->rows,
                                  "SELECT r.id, r.brand, r.part_number, r.part_type, r.spec, "
                                  "r.description" LB_PLACED_AMONG("parts"),
                                  err);
    if (status) {
        lb_dimensions_close(dimensions);
        *out = NULL;
    }
    return status;
}

void lb_dimensions_close(struct lb_dimensions *dimensions)
{
    if (!dimensions)
        return;
    lb_pairs_close(dimensions->pairs);
    lb_statement_free(dimensions->rows);
    free(dimensions->groups.at);
    free(dimensions->ids.list.at);
    lb_names_free(&dimensions->seen);
    lb_buf_free(&dimensions->json);
    lb_buf_free(&dimensions->key);
    lb_buf_free(&dimensions->words);
    free(dimensions);
}

void lb_dimension_finds_free(struct lb_dimension_finds *finds)
{
    free(finds->list.at);
    lb_arena_free(&finds->texts);
    *finds = (struct lb_dimension_finds){0};
}

static struct group *group_of(struct search *search, const unsigned char *key, size_t length, int64_t id)
{
    struct lb_dimensions *own = search->own;
    struct group *last = own->groups.count ? &own->groups.at[own->groups.count - 1] : NULL;
    /* Ids ascend under a key of one run; another run may have them again. */
    if (last && last->length == length && memcmp(last->key, key, length) == 0 &&
        own->ids.list.at[own->ids.list.count - 1] < id)
        return last;
    struct group group = {.distance = 0, .length = length, .first = own->ids.list.count};
    memcpy(group.key, key, length);
    return LB_PUSH(&own->groups, group) ? &own->groups.at[own->groups.count - 1] : NULL;
}

static lb_status note_pair(void *context, const unsigned char *key, size_t length, int64_t id)
{
    struct search *search = context;
    struct lb_spec offered;
    if (!search->pairs_left)
        return LB_STOPPED;
    search->pairs_left--;
    if (!lb_dimension_of_key(key, length, &offered))
        return LB_OK;
    double distance = lb_dimension_distance(search->wanted, &offered);
    if (distance == HUGE_VAL)
        return LB_OK;
    struct group *group = group_of(search, key, length, id);
    if (!group || !LB_PUSH(&search->own->ids.list, id))
        return LB_NOMEM;
    group->distance = distance;
    group->count++;
    return LB_OK;
}

static int compare_keys(const struct group *a, const struct group *b)
{
    int order = memcmp(a->key, b->key, a->length < b->length ? a->length : b->length);
    return order ? order : (a->length > b->length) - (a->length < b->length);
}

/* The nearest at the end, where they are taken away; of one key the latest run: the rows that are gone are
 * the older ones. */
static int farthest_first(const void *left, const void *right)
{
    const struct group *a = left, *b = right;
    if (a->distance != b->distance)
        return a->distance > b->distance ? -1 : 1;
    int order = compare_keys(b, a);
    return order ? order : (a->first > b->first) - (a->first < b->first);
}

static lb_status add_find(struct search *search, const struct group *group, const struct lb_spec *offered,
                          struct lb_error *err)
{
    struct lb_statement *rows = search->own->rows;
    struct lb_arena *texts = &search->finds->texts;
    struct lb_buf *words = &search->own->words;
    struct lb_dimension_find find = {.row = lb_integer(rows, 0), .distance = group->distance};
    const char **const cells[] = {&find.brand, &find.number, &find.part_type, &find.spec};
    bool enough = true;
    for (int i = 0; i < 4; i++) {
        const char *text = lb_text(rows, 1 + i);
        lb_buf_clear(words);
        if (text)
            lb_buf_puts(words, text);
        else /* the description has it */
            lb_dimension_show(words, offered);
        enough =
            enough && !words->failed && (*cells[i] = lb_arena_text(texts, lb_buf_text(words), words->length));
    }
    lb_buf_clear(words);
    lb_dimension_difference(words, search->wanted, offered);
    if (words->length)
        enough = enough && (find.difference = lb_arena_text(texts, words->text, words->length));
    return enough && !words->failed && LB_PUSH(&search->finds->list, find) ? LB_OK : lb_fail_nomem(err);
}

/* The row at hand, when it has what its key says and its part was not met before. */
static lb_status take_row(struct search *search, const struct group *group, struct lb_error *err)
{
    struct lb_dimensions *own = search->own;
    unsigned char key[LB_DIMENSION_KEY_MAX];
    const struct lb_spec stated = lb_spec_parse(lb_text(own->rows, 4));
    struct lb_spec offered;
    uint32_t id;
    if (!lb_spec_of_part(&stated, lb_text(own->rows, 3), lb_text(own->rows, 5), &offered) ||
        lb_dimension_key(key, &offered) != group->length || memcmp(key, group->key, group->length) != 0)
        return LB_OK;
    lb_status status = lb_need_texts(own->rows, 1, 2, err);
    if (status)
        return status;
    size_t before = own->seen.count;
    lb_part_key(&own->key, lb_text(own->rows, 1), lb_text(own->rows, 2));
    if (own->key.failed || !lb_names_add(&own->seen, lb_buf_text(&own->key), &id))
        return lb_fail_nomem(err);
    return own->seen.count == before ? LB_OK : add_find(search, group, &offered, err);
}

/* The last `count` rows of a group, the latest first. */
static lb_status look_at_rows(struct search *search, const struct group *group, size_t count,
                              struct lb_error *err)
{
    struct lb_dimensions *own = search->own;
    bool row;
    lb_buf_clear(&own->json);
    for (size_t i = 0; i < count; i++)
        lb_buf_printf(&own->json, "%c%lld", i ? ',' : '[',
                      (long long)own->ids.list.at[group->first + group->count - 1 - i]);
    lb_buf_puts(&own->json, count ? "]" : "[]");
    if (own->json.failed)
        return lb_fail_nomem(err);
    lb_bind_text(own->rows, 1, own->json.text);
    lb_status status;
    while (!(status = lb_step(own->rows, &row, err)) && row)
        if ((status = take_row(search, group, err)))
            break;
    lb_statement_reset(own->rows);
    return status;
}

static int by_part(const void *left, const void *right)
{
    const struct lb_dimension_find *a = left, *b = right;
    int order = lb_text_compare_nocase(a->brand, b->brand);
    return order ? order : lb_text_compare_nocase(a->number, b->number);
}

/* The nearest key, of all runs. */
static lb_status take_key(struct search *search, struct lb_error *err)
{
    struct lb_dimensions *own = search->own;
    struct lb_dimension_finds *finds = search->finds;
    const struct group nearest = own->groups.at[own->groups.count - 1];
    size_t before = finds->list.count,
           each = search->each < search->rows_left ? search->each : search->rows_left;
    lb_status status = LB_OK;
    while (!status && own->groups.count) {
        const struct group *group = &own->groups.at[own->groups.count - 1];
        if (compare_keys(group, &nearest) != 0)
            break;
        size_t count = group->count < each ? group->count : each;
        each -= count;
        search->rows_left -= count;
        status = look_at_rows(search, group, count, err);
        own->groups.count--;
    }
    if (finds->list.count > before)
        qsort(finds->list.at + before, finds->list.count - before, sizeof *finds->list.at, by_part);
    if (finds->list.count > search->most)
        finds->list.count = search->most;
    return status;
}

static bool is_done(const struct search *search)
{
    return search->finds->list.count >= search->most || !search->rows_left;
}

/* Takes what is no farther than `limit`: nothing that is not read yet can be nearer. */
static lb_status take_up_to(struct search *search, double limit, struct lb_error *err)
{
    struct lb_dimensions *own = search->own;
    lb_status status = LB_OK;
    if (own->groups.count)
        qsort(own->groups.at, own->groups.count, sizeof *own->groups.at, farthest_first);
    while (!status && !is_done(search) && own->groups.count &&
           own->groups.at[own->groups.count - 1].distance <= limit)
        status = take_key(search, err);
    return status;
}

/* Where the keys of one kind begin, up to the size that is looked along. */
struct start {
    unsigned char key[LB_DIMENSION_KEY_MAX];
    size_t length;
};

static struct start start_of(const struct lb_spec *wanted)
{
    struct start start = {.key = "d"};
    unsigned char *end = start.key + 2;
    if (wanted->kind == LB_SPEC_BELT) {
        start.key[1] = 'B';
        *end++ = (unsigned char)wanted->ribs;
    } else if (wanted->kind == LB_SPEC_THREAD) {
        start.key[1] = 'T';
        end = lb_dimension_put(end, wanted->diameter);
        if (wanted->pitch)
            end = lb_dimension_put(end, wanted->pitch);
    } else {
        start.key[1] = 'O';
    }
    start.length = (size_t)(end - start.key);
    return start;
}

/* Sizes from `low` to `high`, both included. */
static lb_status read_sizes(struct search *search, const struct start *start, int32_t low, int32_t high,
                            struct lb_error *err)
{
    struct start from = *start, to = *start;
    if (high < 0 || low > high)
        return LB_OK;
    from.length = (size_t)(lb_dimension_put(from.key + from.length, low < 0 ? 0 : low) - from.key);
    to.length = (size_t)(lb_dimension_put(to.key + to.length, high + 1) - to.key);
    lb_status status =
        lb_pairs_scan(search->own->pairs, from.key, from.length, to.key, to.length, note_pair, search, err);
    if (status == LB_NOMEM)
        return lb_fail_nomem(err);
    return status == LB_STOPPED ? LB_OK : status;
}

static lb_status find_around(struct search *search, struct lb_error *err)
{
    const struct start start = start_of(search->wanted);
    const int32_t size = lb_dimension_size(search->wanted), reach = lb_dimension_reach(search->wanted);
    const int32_t edges[RINGS] = {0, reach / 16, reach / 4, reach};
    lb_status status = read_sizes(search, &start, size, size, err);
    if (!status)
        status = take_up_to(search, 0, err);
    for (int i = 1; !status && i < RINGS && !is_done(search); i++) {
        status = read_sizes(search, &start, size - edges[i], size - edges[i - 1] - 1, err);
        if (!status)
            status = read_sizes(search, &start, size + edges[i - 1] + 1, size + edges[i], err);
        if (!status)
            status = take_up_to(search, i + 1 < RINGS ? edges[i] / (double)size : DBL_MAX, err);
    }
    return status;
}

/* `M8` is a thread of any length, and without a pitch of any pitch: nothing to go round. */
static lb_status find_any(struct search *search, struct lb_error *err)
{
    const struct start start = start_of(search->wanted);
    lb_status status = read_sizes(search, &start, 0, INT32_MAX - 1, err);
    return status ? status : take_up_to(search, DBL_MAX, err);
}

static lb_status find_other_ribs(struct search *search, struct lb_error *err)
{
    const struct lb_spec *wanted = search->wanted;
    const int32_t reach = lb_dimension_reach(wanted);
    lb_status status = LB_OK;
    for (int step = -1; !status && step <= 1; step += 2) {
        struct lb_spec other = *wanted;
        other.ribs += step;
        const struct start start = start_of(&other);
        status = read_sizes(search, &start, wanted->length - reach, wanted->length + reach, err);
    }
    return status ? status : take_up_to(search, DBL_MAX, err);
}

static lb_status find(struct search *search, struct lb_error *err)
{
    const struct lb_spec *wanted = search->wanted;
    if (!lb_spec_is_dimension(wanted) || !search->most)
        return LB_OK;
    lb_status status = lb_dimension_size(wanted) && (wanted->kind != LB_SPEC_THREAD || wanted->pitch)
                           ? find_around(search, err)
                           : find_any(search, err);
    if (status || wanted->kind != LB_SPEC_BELT || search->finds->list.count)
        return status;
    return find_other_ribs(search, err);
}

lb_status lb_dimensions_find(struct lb_dimensions *dimensions, const struct lb_dimension *wanted, size_t most,
                             struct lb_dimension_finds *finds, struct lb_error *err)
{
    struct search search = {.own = dimensions,
                            .wanted = &wanted->spec,
                            .finds = finds,
                            .most = most,
                            .each = 200 + 2 * most,
                            .rows_left = 2000 + 4 * most,
                            .pairs_left = PAIRS_MAX};
    bool held;
    lb_dimension_finds_free(finds);
    dimensions->groups.count = dimensions->ids.list.count = 0;
    lb_names_free(&dimensions->seen);
    lb_status status = lb_store_hold(dimensions->store, &held, err);
    if (status)
        return status;
    status = find(&search, err);
    lb_store_release(dimensions->store, held);
    if (status)
        lb_dimension_finds_free(finds);
    return status;
}
