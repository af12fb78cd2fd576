/* A catalogue of parts in an index of its own, and find on it. */
#ifndef LB_TESTS_FIND_HELP_H
#define LB_TESTS_FIND_HELP_H

#include "scratch.h"

#include "catalog/import.h"
#include "catalog/lookup.h"
#include "find/find.h"

static struct lb_error err;

struct found_in {
    struct scratch s;
    struct lb_store *store;
    struct lb_finder *finder;
    struct lb_find_result *result; /* of the last query */
    bool exhaustive;
    char text[4096];
};

static inline void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

/* Rows of brand, part_number, part_type, description, status. */
static inline struct found_in find_in(const char *rows)
{
    struct found_in x = {.s = scratch_make()};
    static const char heading[] = "brand,part_number,part_type,description,status\n";
    size_t length = strlen(rows);
    char *file = malloc(sizeof heading + length);
    cr_assert(file);
    strcpy(stpcpy(file, heading), rows);
    scratch_write(&x.s, "parts.csv", file, strlen(file));
    free(file);
    char *const path = strdup(scratch_path(&x.s, "parts.csv"));
    const char *const paths[] = {path};
    const struct lb_import_options options = {.paths = paths, .path_count = 1, .now = "2026-01-01T00:00:00Z"};
    struct lb_import_result result = {0};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    expect_ok(lb_import(x.store, &options, &result, &err));
    cr_assert_eq(result.rejected, 0);
    lb_import_result_free(&result);
    free(path);
    expect_ok(lb_find_open(&x.finder, x.store, &err));
    return x;
}

static inline void find_out(struct found_in *x)
{
    lb_find_free(x->result);
    lb_find_close(x->finder);
    lb_store_close(x->store);
    lb_error_free(&err);
    scratch_remove(&x->s);
}

static inline lb_status find_status(struct found_in *x, const char *text)
{
    struct lb_find_request request = {.text = text, .limit = 10, .today = 20454, .exhaustive = x->exhaustive};
    lb_find_free(x->result);
    return lb_find(x->finder, &request, &x->result, &err);
}

static inline const char *find_numbers(struct found_in *x, const char *text)
{
    size_t at = 0;
    expect_ok(find_status(x, text));
    x->text[0] = '\0';
    for (size_t i = 0; i < x->result->hit_count; i++)
        at += (size_t)snprintf(x->text + at, sizeof x->text - at, "%s%s", i ? " " : "",
                               x->result->hits[i].part_number);
    return x->text;
}

static inline const char *find_first(struct found_in *x, const char *text)
{
    expect_ok(find_status(x, text));
    return x->result->hit_count ? x->result->hits[0].part_number : "";
}

static inline const char *find_remarks(struct found_in *x)
{
    size_t at = 0;
    x->text[0] = '\0';
    for (size_t i = 0; i < x->result->remark_count; i++)
        at +=
            (size_t)snprintf(x->text + at, sizeof x->text - at, "%s%s", i ? "; " : "", x->result->remarks[i]);
    return x->text;
}

static inline size_t find_scores(struct found_in *x, const char *text, double scores[20])
{
    expect_ok(find_status(x, text));
    for (size_t i = 0; i < x->result->hit_count && i < 20; i++)
        scores[i] = x->result->hits[i].score;
    return x->result->hit_count;
}

#endif
