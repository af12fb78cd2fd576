#include "catalog/terms.h"

#include "base/hash.h"
#include "base/spec.h"
#include "base/spec_words.h"
#include "base/text.h"
#include "base/words.h"
#include "catalog/dimension_key.h"
#include "catalog/partkey.h"

#include <stdlib.h>
#include <string.h>

enum { WRITTEN_MAX = 1 << 16 };

void lb_term_type(struct lb_buf *out, const char *part_type)
{
    lb_buf_clear(out);
    lb_buf_putc(out, 'k');
    lb_buf_puts(out, part_type);
}

void lb_term_spec(struct lb_buf *out, const char *part_type, const struct lb_spec *spec)
{
    char key[9] = "s";
    uint64_t hash = lb_hash(lb_spec_family(spec), part_type, strlen(part_type));
    for (int i = 0; i < 8; i++)
        key[1 + i] = (char)(hash >> (56 - 8 * i));
    lb_buf_clear(out);
    lb_buf_append(out, key, sizeof key);
}

lb_status lb_terms_load(struct lb_terms *terms, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    bool row;
    uint32_t id;
    *terms = (struct lb_terms){0};
    lb_status status = lb_store_prepare(store, &st, "SELECT id, key FROM brand ORDER BY id", err);
    if (status)
        return status;
    while (!(status = lb_step(st, &row, err)) && row) {
        if (!lb_names_add(&terms->brands, lb_text(st, 1), &id))
            status = lb_fail_nomem(err);
        else if (lb_integer(st, 0) != (int64_t)id + 1)
            status = lb_store_refuse_damaged(store, err);
        if (status)
            break;
    }
    terms->stored = terms->brands.count;
    lb_statement_free(st);
    return status ? status : lb_titles_open(&terms->titles, store, err);
}

lb_status lb_terms_save(struct lb_terms *terms, struct lb_store *store, struct lb_error *err)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(store, &st, "INSERT INTO brand (id, key) VALUES (?1, ?2)", err);
    for (; !status && terms->stored < terms->brands.count; terms->stored++) {
        lb_bind_integer(st, 1, (int64_t)terms->stored + 1);
        lb_bind_text(st, 2, terms->brands.at[terms->stored]);
        status = lb_run(st, err);
    }
    lb_statement_free(st);
    return status ? status : lb_titles_save(terms->titles, store, err);
}

void lb_terms_free(struct lb_terms *terms)
{
    lb_names_free(&terms->brands);
    lb_names_free(&terms->written);
    free(terms->brand_of.at);
    free(terms->places);
    lb_titles_close(terms->titles);
    lb_buf_free(&terms->key);
    lb_buf_free(&terms->number);
    *terms = (struct lb_terms){0};
}

/* The brand's number, from 1 on, given one when new; 0: out of memory. */
static uint32_t brand_number(struct lb_terms *terms, const char *brand)
{
    uint32_t written, id;
    if (terms->brand_of.count >= WRITTEN_MAX) {
        lb_names_free(&terms->written);
        terms->brand_of.count = 0;
    }
    if (!lb_names_add(&terms->written, brand, &written))
        return 0;
    if (written < terms->brand_of.count)
        return terms->brand_of.at[written];
    lb_buf_clear(&terms->key);
    lb_text_fold(&terms->key, brand);
    if (terms->key.failed || !lb_names_add(&terms->brands, lb_buf_text(&terms->key), &id) ||
        !LB_PUSH(&terms->brand_of, id + 1))
        return 0;
    return id + 1;
}

static const char *text_of(const struct lb_value *value)
{
    return value->type == LB_VALUE_TEXT ? value->text : NULL;
}

/* Who is told of a row's keys. */
struct telling {
    int64_t row;
    lb_term_visit *visit;
    void *context;
};

static lb_status visit_key(struct lb_terms *terms, const struct telling *telling)
{
    return terms->key.failed || terms->number.failed
               ? LB_NOMEM
               : telling->visit(telling->context, terms->key.text, terms->key.length, telling->row);
}

static lb_status visit_number(struct lb_terms *terms, const char *brand, const char *number,
                              const struct telling *telling)
{
    uint32_t id = brand_number(terms, brand);
    if (!id)
        return LB_NOMEM;
    lb_buf_clear(&terms->number);
    lb_part_number_key(&terms->number, number);
    lb_term_number(&terms->key, lb_buf_text(&terms->number), id);
    return visit_key(terms, telling);
}

/* Of the number whose key is at hand. */
static lb_status visit_pieces(const struct lb_terms *terms, const struct telling *telling)
{
    char key[1 + LB_TERM_PIECE] = "g";
    struct lb_number_term term;
    lb_status status = LB_OK;
    if (!lb_term_read_number(&term, terms->key.text, terms->key.length))
        return LB_OK;
    for (size_t at = 1; !status && at + LB_TERM_PIECE <= term.length; at++) {
        memcpy(key + 1, term.folded + at, LB_TERM_PIECE);
        status = telling->visit(telling->context, key, sizeof key, telling->row);
    }
    return status;
}

static lb_status visit_type(struct lb_terms *terms, const char *type, const struct lb_spec *spec,
                            const struct telling *telling)
{
    lb_term_type(&terms->key, type);
    lb_status status = visit_key(terms, telling);
    if (status || spec->kind == LB_SPEC_NONE)
        return status;
    lb_term_spec(&terms->key, type, spec);
    return visit_key(terms, telling);
}

static lb_status visit_dimension(const struct lb_spec *stated, const char *type, const char *description,
                                 const struct telling *telling)
{
    struct lb_spec spec;
    unsigned char key[LB_DIMENSION_KEY_MAX];
    if (!lb_spec_of_part(stated, type, description, &spec))
        return LB_OK;
    return telling->visit(telling->context, (const char *)key, lb_dimension_key(key, &spec), telling->row);
}

/* Where each kind has what they are found by. */
struct lb_term_places {
    bool learnt;
    bool pieces;
    int brand, number, type, description, spec; /* -1: not found by it */
    int other_brand, other_number;              /* of a row that names two parts */
    int component, item, kind;                  /* of a row of a service map */
};

static int other_column(const struct lb_kind *kind, const char *name, const char *or_name)
{
    int column = lb_kind_column(kind, name);
    return column >= 0 ? column : lb_kind_column(kind, or_name);
}

static const struct lb_term_places *places_of(struct lb_terms *terms, const struct lb_kind *kind)
{
    if (!terms->places && !(terms->places = calloc((size_t)lb_kind_count, sizeof *terms->places)))
        return NULL;
    struct lb_term_places *places = &terms->places[kind - lb_kinds];
    if (places->learnt)
        return places;
    bool titled = lb_kind_column(kind, "part_type") >= 0;
    *places = (struct lb_term_places){true,
                                      lb_kind_column(kind, "make") < 0,
                                      lb_kind_column(kind, "brand"),
                                      lb_kind_column(kind, "part_number"),
                                      lb_kind_column(kind, "part_type"),
                                      titled ? lb_kind_column(kind, "description") : -1,
                                      titled ? lb_kind_column(kind, "spec") : -1,
                                      other_column(kind, "other_brand", "new_brand"),
                                      other_column(kind, "other_number", "new_number"),
                                      lb_kind_column(kind, "component"),
                                      lb_kind_column(kind, "item"),
                                      lb_kind_column(kind, "kind")};
    return places;
}

/* Rows of service maps that say which parts go with a component. */
static bool is_of_map(const struct lb_kind *kind)
{
    return strcmp(kind->name, "fastenings") == 0 || strcmp(kind->name, "consumables") == 0;
}

bool lb_terms_has(const struct lb_kind *kind)
{
    return kind->shares /* parts, offers and applications */ ||
           other_column(kind, "other_number", "new_number") >= 0 || is_of_map(kind);
}

static lb_status visit_title(struct lb_terms *terms, const struct lb_term_places *at,
                             const struct lb_value *values, const struct telling *telling,
                             struct lb_error *err)
{
    char key[1 + LB_WORD_MAX];
    const char *type = text_of(&values[at->type]), *description = text_of(&values[at->description]);
    const struct lb_spec spec = lb_spec_parse(text_of(&values[at->spec]));
    lb_status status = visit_type(terms, type, &spec, telling);
    if (!status)
        status = visit_dimension(&spec, type, description, telling);
    if (!status)
        status = lb_title_read(terms->titles, type, description, spec.kind == LB_SPEC_TEXT ? spec.text : NULL,
                               text_of(&values[at->brand]), &terms->title, err);
    for (int i = 0; !status && i < terms->title.count; i++) {
        const struct lb_title_word *word = &terms->title.words[i];
        memcpy(key + 1, word->stem, word->length);
        key[0] = 'w';
        status = telling->visit(telling->context, key, 1 + (size_t)word->length,
                                lb_title_mark(&terms->title, telling->row, word->place));
        if (status || word->place >= terms->title.type_words || !word->fresh)
            continue;
        key[0] = 'x';
        status = telling->visit(telling->context, key, 1 + (size_t)word->length, 1);
    }
    return status;
}

static lb_status visit_numbers(struct lb_terms *terms, const struct lb_term_places *at,
                               const struct lb_value *values, const struct telling *telling)
{
    lb_status status =
        visit_number(terms, text_of(&values[at->brand]), text_of(&values[at->number]), telling);
    if (!status && at->pieces)
        status = visit_pieces(terms, telling);
    if (!status && at->other_number >= 0)
        status = visit_number(terms, text_of(&values[at->other_brand]), text_of(&values[at->other_number]),
                              telling);
    return status || at->other_number < 0 ? status : visit_pieces(terms, telling);
}

static lb_status visit_map(struct lb_terms *terms, const struct lb_term_places *at,
                           const struct lb_value *values, const struct telling *telling, struct lb_error *err)
{
    const struct {
        int column, place;
    } columns[] = {{at->component, LB_MAP_COMPONENT},
                   {at->item, LB_MAP_ITEM},
                   {at->kind, LB_MAP_ITEM},
                   {at->type, LB_MAP_TYPE}};
    char key[1 + LB_WORD_MAX] = "m";
    lb_status status = LB_OK;
    terms->title.count = 0;
    for (size_t i = 0; !status && i < sizeof columns / sizeof *columns; i++)
        if (columns[i].column >= 0)
            status = lb_title_add(terms->titles, text_of(&values[columns[i].column]), columns[i].place,
                                  &terms->title, err);
    for (int i = 0; !status && i < terms->title.count; i++) {
        const struct lb_title_word *word = &terms->title.words[i];
        memcpy(key + 1, word->stem, word->length);
        status = telling->visit(telling->context, key, 1 + (size_t)word->length,
                                lb_term_map_place(telling->row, word->place));
    }
    return status;
}

lb_status lb_terms_of(struct lb_terms *terms, const struct lb_kind *kind, int64_t row,
                      const struct lb_value *values, lb_term_visit *visit, void *context,
                      struct lb_error *err)
{
    const struct telling telling = {row, visit, context};
    if (!lb_terms_has(kind))
        return LB_OK;
    const struct lb_term_places *at = places_of(terms, kind);
    if (!at)
        return lb_fail_nomem(err);
    lb_status status = at->number >= 0 ? visit_numbers(terms, at, values, &telling)
                                       : visit_map(terms, at, values, &telling, err);
    if (!status && at->number >= 0 && at->type >= 0)
        status = visit_title(terms, at, values, &telling, err);
    return status == LB_NOMEM ? lb_fail_nomem(err) : status;
}
