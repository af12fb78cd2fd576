/* By what service maps say: `thermostat bolts` means the bolts that a map fastens a thermostat with, whose
 * own titles know nothing of thermostats. */
#include "base/decimal.h"
#include "catalog/terms.h"
#include "find/finder.h"

#include <stdlib.h>
#include <string.h>

enum {
    ROWS_MAX = 400,   /* a row or a part takes some two microseconds to read */
    NEEDS_MAX = 20,   /* different part types and specs */
    PARTS_MAX = 10,   /* of each */
    LOOKED_MAX = 200, /* parts that are compared with the spec of one */
    LOOKED_ALL = 800, /* and of all */
};

/* In words that a single title has, until it is known what titles say (find_map_place.c). */
static const double by_map = 0.9;

/* Columns of the statement `map_rows`. */
enum {
    ROW_SOURCE,
    ROW_LINE,
    ROW_PLATFORM,
    ROW_COMPONENT,
    ROW_TYPE,
    ROW_SPEC,
    ROW_QUANTITY,
    ROW_UNIT,
    ROW_WHEN,
    ROW_REUSE
};

/* What a map takes for a component. */
struct need {
    const char *part_type, *note;
    struct lb_spec spec;
    bool free; /* some row of it has no condition */
};

struct needs {
    struct search *search;
    struct lb_names keys;
    struct need list[NEEDS_MAX];
    int looked; /* parts that were compared */
};

static int by_text(const void *text, const void *at)
{
    return strcmp(text, *(const char *const *)at);
}

static bool is_of_vehicle(const struct lb_shortlist *list, const char *platform)
{
    return !list || (list->platform_count && bsearch(platform, list->platforms, list->platform_count,
                                                     sizeof *list->platforms, by_text));
}

/* " of the Tern (velmora-t2)" */
static lb_status say_platform(struct search *search, const char *platform, struct lb_buf *note)
{
    struct lb_statement *st = search->finder->platform;
    bool row;
    lb_bind_text(st, 1, platform);
    lb_status status = lb_step(st, &row, search->err);
    if (!status && row)
        lb_buf_printf(note, " of the %s (%s)", lb_text(st, 0), platform);
    else
        lb_buf_printf(note, " of %s", platform);
    lb_statement_reset(st);
    return status;
}

static void say_quantity(struct lb_buf *note, int64_t quantity, const char *unit, const char *reuse)
{
    lb_buf_puts(note, ": ");
    lb_decimal_print(note, quantity);
    if (unit && strcmp(unit, "each") != 0)
        lb_buf_printf(note, " %s", unit);
    if (reuse && strcmp(reuse, "never") == 0)
        lb_buf_puts(note, ", never used twice");
    else if (reuse && strcmp(reuse, "check") == 0)
        lb_buf_puts(note, ", used again when sound");
}

/* "for the thermostat housing of the Tern (velmora-t2): 3, never used twice" */
static lb_status say_need(struct search *search, struct lb_statement *st, const char **out)
{
    struct lb_buf note = {0};
    lb_buf_puts(&note, "for the ");
    for (const char *p = lb_text(st, ROW_COMPONENT); *p; p++)
        lb_buf_putc(&note, *p == '-' ? ' ' : *p);
    lb_status status = say_platform(search, lb_text(st, ROW_PLATFORM), &note);
    say_quantity(&note, lb_integer(st, ROW_QUANTITY), lb_text(st, ROW_UNIT), lb_text(st, ROW_REUSE));
    if (!status)
        status = note.failed ? lb_fail_nomem(search->err) : find_keep(search, note.text, out);
    lb_buf_free(&note);
    return status;
}

static lb_status new_need(struct search *search, struct lb_statement *st, struct need *need)
{
    const char *spec;
    lb_status status = find_keep(search, lb_text(st, ROW_TYPE), &need->part_type);
    if (!status)
        status = find_keep(search, lb_text(st, ROW_SPEC), &spec);
    if (status)
        return status;
    need->spec = lb_spec_parse(spec);
    return say_need(search, st, &need->note);
}

/* The row at hand: another need, or one that is known. */
static lb_status take_row(struct needs *needs, struct lb_statement *st)
{
    struct search *search = needs->search;
    struct lb_buf *key = &search->finder->key;
    const struct lb_spec spec = lb_spec_parse(lb_text(st, ROW_SPEC));
    uint32_t id;
    lb_status status = lb_need_texts(st, ROW_PLATFORM, 3, search->err);
    if (status)
        return status;
    if (!is_of_vehicle(search->request->shortlist, lb_text(st, ROW_PLATFORM)))
        return LB_OK;
    lb_buf_clear(key);
    lb_buf_printf(key, "%s\x1f", lb_text(st, ROW_TYPE));
    lb_spec_key(key, &spec);
    if (key->failed)
        return lb_fail_nomem(search->err);
    id = lb_names_find(&needs->keys, lb_buf_text(key));
    if (id == LB_NO_NAME) {
        if (needs->keys.count == NEEDS_MAX)
            return LB_OK;
        if (!lb_names_add(&needs->keys, lb_buf_text(key), &id))
            return lb_fail_nomem(search->err);
        needs->list[id] = (struct need){0};
        status = new_need(search, st, &needs->list[id]);
        if (status)
            return status;
    }
    needs->list[id].free |= lb_is_null(st, ROW_WHEN);
    return LB_OK;
}

static lb_status read_rows(struct needs *needs, const struct lb_ids *rows)
{
    struct lb_finder *f = needs->search->finder;
    bool row;
    lb_status status;
    lb_buf_clear(&f->ids);
    for (size_t i = 0; i < rows->list.count; i++)
        lb_buf_printf(&f->ids, "%c%lld", i ? ',' : '[', (long long)rows->list.at[i]);
    lb_buf_putc(&f->ids, ']');
    if (f->ids.failed)
        return lb_fail_nomem(needs->search->err);
    lb_bind_text(f->map_rows, 1, f->ids.text);
    while (!(status = lb_step(f->map_rows, &row, needs->search->err)) && row)
        if ((status = take_row(needs, f->map_rows)))
            break;
    lb_statement_reset(f->map_rows);
    return status;
}

/* Is the row one of a part that meets the need? */
static lb_status meets(struct search *search, int64_t row, const struct need *need, bool *met)
{
    struct lb_statement *st = search->finder->part;
    bool there;
    *met = false;
    lb_bind_integer(st, 1, row);
    lb_status status = lb_step(st, &there, search->err);
    if (!status && there)
        status = lb_need_texts(st, 2, 1, search->err);
    if (!status && there && strcmp(lb_text(st, 2), need->part_type) == 0) {
        struct lb_spec offered = lb_spec_parse(lb_text(st, 4));
        *met = lb_spec_meets(&offered, &need->spec);
    }
    lb_statement_reset(st);
    return status;
}

static lb_status take_part(struct search *search, int64_t row, const struct need *need, int *taken)
{
    struct candidate *candidate;
    size_t before = search->list.count;
    lb_status status = find_row(search, row, &candidate);
    if (status || !candidate || candidate->as & FOUND_BY_MAP)
        return status;
    (*taken)++;
    search->mapped += search->list.count > before;
    candidate->as |= FOUND_BY_MAP;
    candidate->meant = search->request->shortlist && need->free && need->spec.kind != LB_SPEC_NONE;
    if (!candidate->note)
        candidate->note = need->note;
    if (candidate->extra == 0) {
        candidate->extra = by_map * search->unique;
        candidate->extra_reason = need->note;
    }
    return LB_OK;
}

/* The first parts of the type, run of the lookup by run; not all of them, which may be many. */
static lb_status take_need(struct needs *needs, const struct need *need)
{
    struct search *search = needs->search;
    struct lb_finder *f = search->finder;
    struct lb_cursor cursor = {0};
    lb_status status = LB_OK;
    int taken = 0, last = needs->looked + LOOKED_MAX < LOOKED_ALL ? needs->looked + LOOKED_MAX : LOOKED_ALL;
    if (need->spec.kind == LB_SPEC_NONE)
        lb_term_type(&f->scratch, need->part_type);
    else
        lb_term_spec(&f->scratch, need->part_type, &need->spec);
    if (f->scratch.failed)
        return lb_fail_nomem(search->err);
    for (size_t run = 0; !status && run < lb_pairs_run_count(f->tools.pairs); run++) {
        status =
            lb_cursor_open(&cursor, f->tools.pairs, run, f->scratch.text, f->scratch.length, search->err);
        while (!status && cursor.id != LB_CURSOR_END && taken < PARTS_MAX && needs->looked < last) {
            bool met;
            needs->looked++;
            status = meets(search, cursor.id, need, &met);
            if (!status && met)
                status = take_part(search, cursor.id, need, &taken);
            if (!status)
                status = lb_cursor_seek(&cursor, cursor.id + 1, search->err);
        }
    }
    lb_cursor_free(&cursor);
    return status;
}

/* A number or a dimension that was found needs no map. */
static bool is_settled(const struct search *search)
{
    bool settled = search->number_whole || search->spent_count > 0;
    for (size_t i = 0; i < search->list.count; i++)
        settled |= search->list.at[i].extra >= search->unique;
    return settled;
}

lb_status find_by_map(struct search *search)
{
    struct needs needs = {.search = search};
    struct lb_ids rows = {0};
    if (!search->finder->has_maps || search->query->slot_count < 2 || is_settled(search))
        return LB_OK;
    lb_status status = lb_map_rows(search->finder->map_lists, search->query, ROWS_MAX, &rows, search->err);
    if (!status && rows.list.count)
        status = read_rows(&needs, &rows);
    for (size_t i = 0; !status && i < needs.keys.count; i++)
        status = take_need(&needs, &needs.list[i]);
    free(rows.list.at);
    lb_names_free(&needs.keys);
    return status;
}
