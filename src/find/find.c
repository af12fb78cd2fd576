#include "find/finder.h"

#include "base/hash.h"
#include "catalog/spans.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    TYPE_STEMS_MAX = 1 << 14,
    ENOUGH = 3, /* one part of so many on a page has all that was typed */
};

#define PART "SELECT r.brand, r.part_number, r.part_type, r.description, r.spec, r.status, r.id"
#define REFERRED(part, other)                                                                                \
    "SELECT r." other LB_PLACED("crossrefs") "WHERE r." part " = ?1 AND r.relation = "

/* Columns of `map_rows`: find_map.c. */
#define MAP_ROW(reuse)                                                                                       \
    "SELECT s.name, " LB_PLACE_LINE ", r.platform, r.component, r.part_type, r.spec, r.quantity, r.unit, "   \
    "r.\"when\", " reuse

static lb_status prepare(struct lb_finder *f, struct lb_error *err)
{
    static const char one_row[] = PART " FROM parts r WHERE r.id = ?1 AND " LB_IS_THERE("?1");
    static const char rows[] = PART LB_PLACED_AMONG("parts") LB_IN_ORDER;
    static const char offers[] =
        "SELECT r.brand, r.part_number, r.price, r.currency, r.pack_quantity, r.supplier, r.valid_to, "
        "coalesce(r.stock, -1), r.minimum_packs" LB_PLACED_AMONG("offers") LB_IN_ORDER;
    static const char successors[] =
        "SELECT r.new, r.new_brand, r.new_number, coalesce(r.\"group\", '')" LB_PLACED(
            "supersessions") "WHERE r.part = ?1 ORDER BY 4, s.name, " LB_PLACE_LINE;
    static const char same[] =
        REFERRED("part", "other, r.other_brand, r.other_number") "'same' UNION " REFERRED(
            "other", "part, r.brand, r.part_number") "'same' ORDER BY 1";
    static const char instead[] = REFERRED("other", "part, r.brand, r.part_number") "'instead' ORDER BY 1";
    static const char applications[] = "SELECT r.brand, r.part_number" LB_PLACED_AMONG("applications");
    static const char map_rows[] =
        MAP_ROW("r.reuse") LB_PLACED_AMONG("fastenings") "UNION ALL " MAP_ROW("NULL")
            LB_PLACED_AMONG("consumables") "ORDER BY 1, 2";
    static const char platform[] = "SELECT r.model" LB_PLACED("platforms") "WHERE r.platform = ?1 LIMIT 1";
    static const char stands_for[] = "SELECT r.other" LB_PLACED(
        "crossrefs") "WHERE r.part = ?1 AND r.relation IN ('same', 'instead') "
                     "UNION SELECT r.part" LB_PLACED(
                         "crossrefs") "WHERE r.other = ?1 AND r.relation = 'same' "
                                      "UNION SELECT r.part" LB_PLACED(
                                          "supersessions") "WHERE r.new = ?1 ORDER BY 1";
    const struct {
        struct lb_statement **st;
        const char *sql;
    } all[] = {{&f->part, one_row},
               {&f->parts, rows},
               {&f->offer, offers},
               {&f->successors, successors},
               {&f->same, same},
               {&f->instead, instead},
               {&f->applications, applications},
               {&f->map_rows, map_rows},
               {&f->platform, platform},
               {&f->stands_for, stands_for}};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof all / sizeof *all; i++)
        status = lb_store_prepare(f->store, all[i].st, all[i].sql, err);
    return status;
}

static lb_status has_any(struct lb_finder *f, const char *sql, bool *has, struct lb_error *err)
{
    int64_t value = 0;
    lb_status status = lb_store_integer(f->store, sql, &value, err);
    *has = value != 0;
    return status;
}

static lb_status read_state(struct lb_finder *f, struct lb_error *err)
{
    int64_t words = 0;
    lb_status status = lb_store_integer(f->store, "SELECT titles FROM state", &f->tools.title_count, err);
    if (!status)
        status = lb_store_integer(f->store, "SELECT title_words FROM state", &words, err);
    if (!status)
        status = has_any(f, "SELECT EXISTS (SELECT 1 FROM offers)", &f->has_offers, err);
    if (!status)
        status = has_any(f, "SELECT EXISTS (SELECT 1 FROM supersessions)", &f->has_successors, err);
    if (!status)
        status = has_any(f, "SELECT EXISTS (SELECT 1 FROM crossrefs)", &f->has_references, err);
    if (!status)
        status = has_any(f, "SELECT EXISTS (SELECT 1 FROM fastenings) OR EXISTS (SELECT 1 FROM consumables)",
                         &f->has_maps, err);
    if (!status && (f->tools.title_count < 0 || words < 0))
        status = lb_store_refuse_damaged(f->store, err);
    f->tools.average = f->tools.title_count ? (double)words / (double)f->tools.title_count : 1;
    return status;
}

static lb_status visit_type_stem(void *context, const unsigned char *key, size_t length, int64_t one)
{
    struct lb_type_stems *stems = context;
    (void)one;
    stems->all |= stems->list.count >= TYPE_STEMS_MAX;
    return stems->all || LB_PUSH(&stems->list, (uint32_t)lb_hash(LB_HASH_START, key + 1, length - 1))
               ? LB_OK
               : LB_NOMEM;
}

static int by_hash(const void *left, const void *right)
{
    uint32_t a = *(const uint32_t *)left, b = *(const uint32_t *)right;
    return (a > b) - (a < b);
}

static lb_status read_type_stems(struct lb_finder *f, struct lb_error *err)
{
    struct lb_type_stems *stems = &f->type_stems;
    lb_status status = lb_pairs_scan(f->tools.pairs, "x", 1, "y", 1, visit_type_stem, stems, err);
    if (status == LB_NOMEM)
        return lb_fail_nomem(err);
    if (stems->list.count)
        qsort(stems->list.at, stems->list.count, sizeof *stems->list.at, by_hash);
    f->tools.type_stems = stems;
    f->tools.counts = &f->counts;
    return status;
}

static lb_status open_lists(struct lb_finder *f, struct lb_error *err)
{
    lb_status status = lb_pairs_open(&f->tools.pairs, f->store, err);
    if (status)
        return status;
    f->tools.cursors =
        calloc(lb_pairs_run_count(f->tools.pairs) * LB_QUERY_TERMS + 1, sizeof *f->tools.cursors);
    f->sweep.pairs = f->tools.pairs;
    f->sweep.cursors = f->tools.cursors;
    return f->tools.cursors ? read_type_stems(f, err) : lb_fail_nomem(err);
}

static lb_status open_rooms(struct lb_finder *f, struct lb_error *err)
{
    lb_status status = open_lists(f, err);
    if (!status)
        status = lb_titles_open(&f->tools.titles, f->store, err);
    if (!status)
        status = lb_spelling_open(&f->tools.spelling, f->store, err);
    if (!status)
        status = lb_synonyms_open(&f->tools.synonyms, f->store, err);
    if (!status)
        status = lb_lookup_open(&f->lookup, f->store, err);
    if (!status)
        status = lb_numbers_open(&f->numbers, f->store, err);
    if (!status)
        status = lb_dimensions_open(&f->dimensions, f->store, err);
    return status || !f->has_maps ? status
                                  : lb_map_lists_open(&f->map_lists, f->tools.pairs, f->tools.titles, err);
}

lb_status lb_find_open(struct lb_finder **out, struct lb_store *store, struct lb_error *err)
{
    struct lb_finder *f = *out = calloc(1, sizeof *f);
    if (!f)
        return lb_fail_nomem(err);
    f->store = store;
    lb_status status = lb_lookup_current(store, err);
    if (!status)
        status = read_state(f, err);
    if (!status)
        status = open_rooms(f, err);
    if (!status)
        status = prepare(f, err);
    if (status) {
        lb_find_close(f);
        *out = NULL;
    }
    return status;
}

void lb_find_close(struct lb_finder *f)
{
    if (!f)
        return;
    struct lb_statement *statements[] = {f->part,     f->parts,     f->offer,        f->successors,
                                         f->same,     f->instead,   f->applications, f->map_rows,
                                         f->platform, f->stands_for};
    for (size_t i = 0; i < sizeof statements / sizeof *statements; i++)
        lb_statement_free(statements[i]);
    for (size_t i = 0; f->tools.cursors && i < lb_pairs_run_count(f->tools.pairs) * LB_QUERY_TERMS; i++)
        lb_cursor_free(&f->tools.cursors[i]);
    free(f->tools.cursors);
    free(f->type_stems.list.at);
    lb_names_free(&f->counts.stems);
    free(f->counts.titles.at);
    lb_sweep_free(&f->sweep);
    lb_pairs_close(f->tools.pairs);
    lb_titles_close(f->tools.titles);
    lb_spelling_close(f->tools.spelling);
    lb_synonyms_close(f->tools.synonyms);
    lb_lookup_close(f->lookup);
    lb_numbers_close(f->numbers);
    lb_dimensions_close(f->dimensions);
    lb_map_lists_close(f->map_lists);
    lb_buf_free(&f->ids);
    lb_buf_free(&f->key);
    lb_buf_free(&f->scratch);
    free(f);
}

/* The result with the memory that its texts lie in. */
struct owned_result {
    struct lb_find_result result; /* first: what is handed out */
    struct lb_arena arena;
};

/* Do the vehicle's parts answer well enough by themselves? What no list knows a vehicle of would come behind
 * them; but a fluid that fits is in no list either. */
static lb_status is_filled(struct search *search, bool *filled)
{
    size_t limit = (size_t)search->request->limit;
    *filled = false;
    if (search->request->all || search->list.count - search->mapped < limit || search->whole * ENOUGH < limit)
        return LB_OK;
    lb_status status = find_fluid_words(search, filled);
    *filled = !*filled;
    return status;
}

/* What a number or a dimension did not settle is asked of the titles. */
static lb_status gather(struct search *search)
{
    bool filled = false;
    if (search->number_whole)
        return LB_OK;
    lb_status status = search->request->shortlist ? find_in_shortlist(search) : LB_OK;
    if (!status && search->request->shortlist)
        status = is_filled(search, &filled);
    search->total_least = filled;
    return status || filled ? status : find_by_words(search);
}

static lb_status make_query(struct search *search)
{
    search->unique = log1p((double)search->finder->tools.title_count) + 1;
    search->finder->sweep.walked = false;
    lb_status status = find_by_dimension(search);
    if (!status)
        status = lb_query_make(&search->query, &search->finder->tools, search->request->text,
                               search->spent_from, search->spent_count, search->err);
    if (!status && !search->query->word_count)
        return lb_fail(search->err, LB_USAGE,
                       "nothing to look for: type words, a part number or a dimension (letters or digits)");
    if (!status)
        lb_ranker_make(&search->ranker, search->query);
    return status;
}

static lb_status run(struct search *search, struct lb_find_result *result)
{
    lb_status status = make_query(search);
    if (!status)
        status = find_by_number(search);
    if (!status)
        status = find_follow(search);
    if (!status)
        status = find_by_map(search);
    if (!status)
        status = gather(search);
    if (!status)
        status = find_place_mapped(search);
    if (!status)
        status = find_order(search);
    if (!status)
        status = find_remark(search);
    if (!status)
        status = find_advise(search);
    return status ? status : find_finish(search, result);
}

lb_status lb_find(struct lb_finder *finder, const struct lb_find_request *request,
                  struct lb_find_result **out, struct lb_error *err)
{
    struct owned_result *owned = calloc(1, sizeof *owned);
    struct search *search = calloc(1, sizeof *search);
    bool held = false;
    *out = NULL;
    lb_status status = owned && search ? lb_store_hold(finder->store, &held, err) : lb_fail_nomem(err);
    if (!status) {
        search->finder = finder;
        search->request = request;
        search->err = err;
        search->arena = &owned->arena;
        status = run(search, &owned->result);
        lb_query_free(search->query);
        lb_names_free(&search->keys);
        free(search->list.at);
        free(search->rest.at);
        free(search->remarks.list.at);
        free(search->advice.list.at);
    }
    lb_store_release(finder->store, held);
    free(search);
    if (status && owned)
        lb_find_free(&owned->result);
    else if (!status)
        *out = &owned->result;
    return status;
}

void lb_find_free(struct lb_find_result *result)
{
    if (!result)
        return;
    struct owned_result *owned = (struct owned_result *)result; /* its first member */
    lb_arena_free(&owned->arena);
    free(owned);
}
