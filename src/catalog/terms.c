#include "catalog/terms.h"

#include "base/hash.h"
#include "base/spec.h"
#include "base/text.h"
#include "base/words.h"
#include "catalog/partkey.h"

#include <stdlib.h>
#include <string.h>

enum { UNIT_SEPARATOR = 0x1f, WRITTEN_MAX = 1 << 16 };

void lb_term_number(struct lb_buf *out, const char *number_key, uint32_t brand)
{
    lb_buf_clear(out);
    lb_buf_putc(out, 'n');
    lb_buf_puts(out, number_key);
    lb_buf_putc(out, UNIT_SEPARATOR);
    for (; brand >= 0x80; brand >>= 7)
        lb_buf_putc(out, (char)(brand | 0x80));
    lb_buf_putc(out, (char)brand);
}

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
    return status;
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
    return status;
}

void lb_terms_free(struct lb_terms *terms)
{
    lb_names_free(&terms->brands);
    lb_names_free(&terms->written);
    free(terms->brand_of.at);
    free(terms->places);
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

static lb_status visit_key(struct lb_terms *terms, lb_term_visit *visit, void *context)
{
    return terms->key.failed || terms->number.failed ? LB_NOMEM
                                                     : visit(context, terms->key.text, terms->key.length);
}

static lb_status visit_number(struct lb_terms *terms, const char *brand, const char *number,
                              lb_term_visit *visit, void *context)
{
    uint32_t id = brand_number(terms, brand);
    if (!id)
        return LB_NOMEM;
    lb_buf_clear(&terms->number);
    lb_part_number_key(&terms->number, number);
    lb_term_number(&terms->key, lb_buf_text(&terms->number), id);
    return visit_key(terms, visit, context);
}

static lb_status visit_type(struct lb_terms *terms, const char *type, const char *spec, lb_term_visit *visit,
                            void *context)
{
    struct lb_spec parsed = {0};
    lb_term_type(&terms->key, type);
    lb_status status = visit_key(terms, visit, context);
    if (!status && spec)
        parsed = lb_spec_parse(spec);
    if (status || parsed.kind == LB_SPEC_NONE)
        return status;
    lb_term_spec(&terms->key, type, &parsed);
    return visit_key(terms, visit, context);
}

static lb_status visit_words(const char *text, lb_term_visit *visit, void *context)
{
    char key[1 + LB_WORD_MAX] = "w";
    struct lb_words words = {.at = text};
    lb_status status = LB_OK;
    while (text && !status && lb_words_next(&words)) {
        memcpy(key + 1, words.text, words.length);
        status = visit(context, key, 1 + words.length);
    }
    return status;
}

/* Where the three kinds have what they are found by. */
struct lb_term_places {
    bool learnt;
    int brand, number, type, description, spec; /* -1: not found by it */
};

static const struct lb_term_places *places_of(struct lb_terms *terms, const struct lb_kind *kind)
{
    if (!terms->places && !(terms->places = calloc((size_t)lb_kind_count, sizeof *terms->places)))
        return NULL;
    struct lb_term_places *places = &terms->places[kind - lb_kinds];
    if (places->learnt)
        return places;
    bool titled = lb_kind_column(kind, "part_type") >= 0;
    *places = (struct lb_term_places){true,
                                      lb_kind_column(kind, "brand"),
                                      lb_kind_column(kind, "part_number"),
                                      lb_kind_column(kind, "part_type"),
                                      titled ? lb_kind_column(kind, "description") : -1,
                                      titled ? lb_kind_column(kind, "spec") : -1};
    return places;
}

bool lb_terms_has(const struct lb_kind *kind)
{
    return kind->shares; /* parts, offers and applications */
}

static lb_status visit_title(struct lb_terms *terms, const struct lb_term_places *at,
                             const struct lb_value *values, lb_term_visit *visit, void *context)
{
    const char *type = text_of(&values[at->type]);
    lb_status status = visit_type(terms, type, text_of(&values[at->spec]), visit, context);
    if (!status)
        status = visit_words(type, visit, context);
    if (!status)
        status = visit_words(text_of(&values[at->description]), visit, context);
    return status ? status : visit_words(text_of(&values[at->brand]), visit, context);
}

lb_status lb_terms_of(struct lb_terms *terms, const struct lb_kind *kind, const struct lb_value *values,
                      lb_term_visit *visit, void *context, struct lb_error *err)
{
    if (!lb_terms_has(kind))
        return LB_OK;
    const struct lb_term_places *at = places_of(terms, kind);
    if (!at)
        return lb_fail_nomem(err);
    lb_status status =
        visit_number(terms, text_of(&values[at->brand]), text_of(&values[at->number]), visit, context);
    if (!status && at->type >= 0)
        status = visit_title(terms, at, values, visit, context);
    return status == LB_NOMEM ? lb_fail_nomem(err) : status;
}
