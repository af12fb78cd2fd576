/* With a vehicle: what is listed for it, what no list says anything of, what is listed for others alone. */
#include "base/position.h"
#include "catalog/partkey.h"
#include "find/finder.h"

#include <stdlib.h>
#include <string.h>

enum { FOREBEARS_MAX = 24 };

static const double elsewhere = 0.5; /* of a part that goes somewhere else on the vehicle */

static int by_key(const void *key, const void *part)
{
    return strcmp(key, ((const struct lb_listed_part *)part)->key);
}

static int by_text(const void *text, const void *at)
{
    return strcmp(text, *(const char *const *)at);
}

const struct lb_listed_part *find_listed(const struct search *search, const char *key)
{
    const struct lb_shortlist *list = search->request->shortlist;
    return list->count ? bsearch(key, list->parts, list->count, sizeof *list->parts, by_key) : NULL;
}

double find_place(const struct search *search, const struct lb_listed_part *part)
{
    bool here = !part->position || lb_position_match((lb_position)part->position, search->query->wanted);
    return here ? 1 : elsewhere;
}

/* Does any list say for which vehicle the part is? */
static lb_status is_listed(struct search *search, const char *key, bool *listed)
{
    struct lb_finder *f = search->finder;
    bool row;
    *listed = false;
    lb_status status = lb_lookup_part(f->lookup, key, &f->ids, search->err);
    if (status || !strchr(lb_buf_text(&f->ids), ',')) /* but the row that describes it */
        return status;
    lb_bind_text(f->applications, 1, lb_buf_text(&f->ids));
    while (!*listed && !(status = lb_step(f->applications, &row, search->err)) && row) {
        if ((status = lb_need_texts(f->applications, 0, 2, search->err)))
            break;
        lb_part_key(&f->key, lb_text(f->applications, 0), lb_text(f->applications, 1));
        *listed = strcmp(lb_buf_text(&f->key), key) == 0;
    }
    lb_statement_reset(f->applications);
    return status;
}

/* The part and those that it stands for, by their keys. */
struct forebears {
    const char *keys[FOREBEARS_MAX];
    int count;
};

static lb_status add_forebears(struct search *search, struct forebears *all, int at)
{
    struct lb_statement *st = search->finder->stands_for;
    bool row;
    lb_status status;
    lb_bind_text(st, 1, all->keys[at]);
    while (!(status = lb_step(st, &row, search->err)) && row && all->count < FOREBEARS_MAX) {
        bool met = false;
        if ((status = lb_need_texts(st, 0, 1, search->err)))
            break;
        for (int i = 0; i < all->count; i++)
            met |= strcmp(all->keys[i], lb_text(st, 0)) == 0;
        if (met)
            continue;
        status = find_keep(search, lb_text(st, 0), &all->keys[all->count]);
        if (status)
            break;
        all->count++;
    }
    lb_statement_reset(st);
    return status;
}

/* Is it for other vehicles, by its own rows or by those of a part that it stands for? Not when one of these
 * is for this vehicle after all: then nobody knows. */
static lb_status is_for_others(struct search *search, const char *key, bool *others)
{
    struct lb_finder *f = search->finder;
    struct forebears all = {.keys = {key}, .count = 1};
    bool listed;
    lb_status status = is_listed(search, key, others);
    for (int i = 0; !status && !*others && i < all.count && (f->has_references || f->has_successors); i++) {
        status = add_forebears(search, &all, i);
        if (!status && i + 1 < all.count && find_listed(search, all.keys[i + 1]))
            return LB_OK;
        if (!status && i + 1 < all.count && !(status = is_listed(search, all.keys[i + 1], &listed)))
            *others = listed;
    }
    return status;
}

lb_status find_fit(struct search *search, struct candidate *candidate)
{
    const struct lb_shortlist *list = search->request->shortlist;
    bool others;
    if (!list)
        return LB_OK;
    const struct lb_listed_part *part = find_listed(search, candidate->key);
    if (part) {
        candidate->fit = part->fit;
        candidate->asks = part->asks;
        return LB_OK;
    }
    lb_status status = is_for_others(search, candidate->key, &others);
    bool fluid = candidate->part_type && list->fluid_type_count &&
                 bsearch(candidate->part_type, list->fluid_types, list->fluid_type_count,
                         sizeof *list->fluid_types, by_text);
    candidate->fit = others ? LB_FIND_NO : fluid || candidate->meant ? LB_FIND_FITS : LB_FIND_ASK;
    return status;
}

lb_status find_fluid_words(struct search *search, bool *named)
{
    const struct lb_shortlist *list = search->request->shortlist;
    struct lb_title title;
    lb_status status = LB_OK;
    *named = false;
    for (size_t i = 0; !status && !*named && i < list->fluid_type_count; i++) {
        status = lb_title_read(search->finder->tools.titles, list->fluid_types[i], NULL, NULL, NULL, &title,
                               search->err);
        for (int w = 0; !status && w < title.count; w++)
            *named |= lb_query_term_of(search->query, title.words[w].stem, title.words[w].length) >= 0;
    }
    return status;
}
