#include "find/map_rows.h"

#include "catalog/terms.h"

#include <stdlib.h>
#include <string.h>

enum {
    KEPT_MAX = 1 << 20,    /* rows in the lists that are kept, 8 MB */
    STEMS_MAX = 1 << 14,   /* lists, most of them of words that no map has */
    WALKED_MAX = 20000,    /* rows of the rarest slot that are compared with the others */
    ALTERNATIVES_MAX = 16, /* ways of one slot; the first are the likeliest */
};

struct lb_map_lists {
    struct lb_pairs *pairs;
    struct lb_titles *titles;
    struct lb_names stems;
    LB_VEC(struct lb_ids) lists; /* by stem */
    size_t kept;
};

/* A way to have a slot: all of its words in one row. */
struct alternative {
    int count;
    uint32_t lists[LB_PHRASE_MAX];
    size_t at[LB_PHRASE_MAX]; /* how far each is read */
};

struct slot_ways {
    struct alternative alternatives[ALTERNATIVES_MAX];
    int count;
    size_t rows; /* no more have it */
};

lb_status lb_map_lists_open(struct lb_map_lists **out, struct lb_pairs *pairs, struct lb_titles *titles,
                            struct lb_error *err)
{
    *out = calloc(1, sizeof **out);
    if (!*out)
        return lb_fail_nomem(err);
    (*out)->pairs = pairs;
    (*out)->titles = titles;
    return LB_OK;
}

static void forget(struct lb_map_lists *lists)
{
    for (size_t i = 0; i < lists->lists.count; i++)
        free(lists->lists.at[i].list.at);
    lists->lists.count = lists->kept = 0;
    lb_names_free(&lists->stems);
}

void lb_map_lists_close(struct lb_map_lists *lists)
{
    if (!lists)
        return;
    forget(lists);
    free(lists->lists.at);
    free(lists);
}

static int by_place(const void *left, const void *right)
{
    int64_t a = *(const int64_t *)left, b = *(const int64_t *)right;
    return (a > b) - (a < b);
}

static bool ascends(const struct lb_ids *ids)
{
    for (size_t i = 1; i < ids->list.count; i++)
        if (ids->list.at[i] < ids->list.at[i - 1])
            return false;
    return true;
}

static lb_status read_list(struct lb_map_lists *lists, const char *key, struct lb_error *err)
{
    struct lb_ids ids = {0};
    lb_status status = lb_pairs_find(lists->pairs, key, strlen(key), &ids, err);
    if (!status && !ascends(&ids))
        qsort(ids.list.at, ids.list.count, sizeof *ids.list.at, by_place);
    if (!status && !LB_PUSH(&lists->lists, ids))
        status = lb_fail_nomem(err);
    if (status)
        free(ids.list.at);
    else
        lists->kept += ids.list.count;
    return status;
}

/* `none`: no row has the stem. After a failure the lists are to be forgotten: a stem may be without its own.
 */
static lb_status list_of(struct lb_map_lists *lists, const char *stem, size_t length, uint32_t *list,
                         bool *none, struct lb_error *err)
{
    char key[LB_WORD_MAX + 2] = "m";
    length = length < LB_WORD_MAX ? length : LB_WORD_MAX;
    memcpy(key + 1, stem, length);
    key[1 + length] = '\0';
    if (!lb_names_add(&lists->stems, key, list))
        return lb_fail_nomem(err);
    lb_status status = *list < lists->lists.count ? LB_OK : read_list(lists, key, err);
    *none = status || !lists->lists.at[*list].list.count;
    return status;
}

static void add_alternative(struct lb_map_lists *lists, struct slot_ways *slot,
                            const struct alternative *alternative)
{
    size_t fewest = SIZE_MAX;
    for (int i = 0; i < alternative->count; i++)
        if (lists->lists.at[alternative->lists[i]].list.count < fewest)
            fewest = lists->lists.at[alternative->lists[i]].list.count;
    slot->alternatives[slot->count++] = *alternative;
    slot->rows += fewest;
}

static lb_status list_of_typed(struct lb_map_lists *lists, const struct lb_query_word *word, uint32_t *list,
                               bool *none, struct lb_error *err)
{
    const char *stem;
    size_t length;
    lb_status status = lb_title_stem(lists->titles, word->text, word->length, &stem, &length, err);
    return status ? status : list_of(lists, stem, length, list, none, err);
}

lb_status lb_map_has(struct lb_map_lists *lists, const struct lb_query_word *word, bool *has,
                     struct lb_error *err)
{
    uint32_t list;
    bool none = true;
    lb_status status = list_of_typed(lists, word, &list, &none, err);
    *has = !none;
    if (status)
        forget(lists);
    return status;
}

/* A word may be the map's alone: no title has it, so it is no way of the query. */
static lb_status add_typed(struct lb_map_lists *lists, const struct lb_query_word *word,
                           struct slot_ways *slot, struct lb_error *err)
{
    struct alternative typed = {.count = 1};
    bool none = true;
    lb_status status = list_of_typed(lists, word, &typed.lists[0], &none, err);
    if (!status && !none)
        add_alternative(lists, slot, &typed);
    return status;
}

static lb_status add_way(struct lb_map_lists *lists, const struct lb_query *query,
                         const struct lb_query_way *way, struct slot_ways *slot, struct lb_error *err)
{
    struct alternative had = {.count = way->count};
    bool none = false;
    lb_status status = LB_OK;
    for (int i = 0; !status && !none && i < way->count; i++) {
        const struct lb_query_term *term = &query->terms[way->terms[i]];
        status = list_of(lists, term->key + 1, term->length - 1, &had.lists[i], &none, err);
    }
    if (!status && !none)
        add_alternative(lists, slot, &had);
    return status;
}

static lb_status open_slot(struct lb_map_lists *lists, const struct lb_query *query, int s,
                           struct slot_ways *slot, struct lb_error *err)
{
    slot->count = 0;
    slot->rows = 0;
    lb_status status = add_typed(lists, &query->words[query->slots[s].word], slot, err);
    for (int w = 0; !status && w < query->way_count && slot->count < ALTERNATIVES_MAX; w++) {
        const struct lb_query_way *way = &query->ways[w];
        bool alone = way->kind == LB_WAY_TYPED; /* added already */
        if (!alone && s >= way->slot && s < way->slot + way->slots)
            status = add_way(lists, query, way, slot, err);
    }
    return status;
}

/* Goes on to the row, by doubled steps and then by halves; its columns, or 0. */
static int columns_in(const struct lb_ids *ids, size_t *at, int64_t row)
{
    size_t low = *at, step = 1, high;
    const int64_t *places = ids->list.at;
    while (low + step < ids->list.count && lb_map_place_row(places[low + step]) < row)
        step *= 2;
    high = low + step < ids->list.count ? low + step + 1 : ids->list.count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (lb_map_place_row(places[middle]) < row)
            low = middle + 1;
        else
            high = middle;
    }
    *at = low;
    return low < ids->list.count && lb_map_place_row(places[low]) == row ? lb_map_place_columns(places[low])
                                                                         : 0;
}

/* Has the row the slot? *columns: those that have one of its ways whole. */
static bool has_slot(const struct lb_map_lists *lists, struct slot_ways *slot, int64_t row, int *columns)
{
    bool had = false;
    *columns = 0;
    for (int a = 0; a < slot->count; a++) {
        struct alternative *way = &slot->alternatives[a];
        int shared = LB_MAP_COMPONENT | LB_MAP_ITEM | LB_MAP_TYPE, i = 0;
        for (int here; i < way->count; i++) {
            if (!(here = columns_in(&lists->lists.at[way->lists[i]], &way->at[i], row)))
                break;
            shared &= here;
        }
        had |= i == way->count;
        *columns |= i == way->count ? shared : 0;
    }
    return had;
}

static bool answers(const struct lb_map_lists *lists, struct slot_ways *slots, int count, int64_t row)
{
    int all = LB_MAP_COMPONENT | LB_MAP_TYPE, columns;
    for (int s = 0; s < count; s++) {
        if (!has_slot(lists, &slots[s], row, &columns))
            return false;
        all &= columns;
    }
    return !all;
}

/* The rows that may have a slot, ascending, some twice. */
static lb_status walk_slot(const struct lb_map_lists *lists, const struct slot_ways *slot,
                           struct lb_ids *rows, struct lb_error *err)
{
    for (int a = 0; a < slot->count; a++) {
        const struct alternative *way = &slot->alternatives[a];
        const struct lb_ids *fewest = &lists->lists.at[way->lists[0]];
        for (int i = 1; i < way->count; i++)
            if (lists->lists.at[way->lists[i]].list.count < fewest->list.count)
                fewest = &lists->lists.at[way->lists[i]];
        for (size_t i = 0; i < fewest->list.count && rows->list.count < WALKED_MAX; i++)
            if (!LB_PUSH(&rows->list, lb_map_place_row(fewest->list.at[i])))
                return lb_fail_nomem(err);
    }
    if (!ascends(rows))
        qsort(rows->list.at, rows->list.count, sizeof *rows->list.at, by_place);
    return LB_OK;
}

static lb_status intersect(const struct lb_map_lists *lists, struct slot_ways *slots, int count, size_t most,
                           struct lb_ids *rows, struct lb_error *err)
{
    struct lb_ids walked = {0};
    int rarest = 0;
    for (int s = 1; s < count; s++)
        if (slots[s].rows < slots[rarest].rows)
            rarest = s;
    lb_status status = walk_slot(lists, &slots[rarest], &walked, err);
    for (size_t i = 0; !status && i < walked.list.count && rows->list.count < most; i++) {
        bool again = i && walked.list.at[i] == walked.list.at[i - 1];
        if (!again && answers(lists, slots, count, walked.list.at[i]) &&
            !LB_PUSH(&rows->list, walked.list.at[i]))
            status = lb_fail_nomem(err);
    }
    free(walked.list.at);
    return status;
}

lb_status lb_map_rows(struct lb_map_lists *lists, const struct lb_query *query, size_t most,
                      struct lb_ids *rows, struct lb_error *err)
{
    bool possible = true;
    lb_status status = LB_OK;
    if (lists->kept > KEPT_MAX || lists->lists.count > STEMS_MAX)
        forget(lists);
    struct slot_ways *slots = calloc((size_t)query->slot_count + 1, sizeof *slots);
    if (!slots)
        return lb_fail_nomem(err);
    for (int s = 0; !status && possible && s < query->slot_count; s++) {
        status = open_slot(lists, query, s, &slots[s], err);
        possible = slots[s].count > 0;
    }
    if (!status && possible && query->slot_count)
        status = intersect(lists, slots, query->slot_count, most, rows, err);
    free(slots);
    if (status)
        forget(lists);
    return status;
}
