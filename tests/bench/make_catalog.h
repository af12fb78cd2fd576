/* What make_catalog.c and make_catalog_row.c share. */
#ifndef LB_TESTS_MAKE_CATALOG_H
#define LB_TESTS_MAKE_CATALOG_H

#include <stdbool.h>
#include <stdint.h>

enum { ROW_MAX = 1024 };

struct options {
    uint64_t rows, seed;
    unsigned edition, changed;
    bool offers;
};

/* A generator of its own for each row; `salt` below 256. */
uint64_t start_state(uint64_t seed, uint64_t row, uint64_t salt);
/* 0 to limit - 1. */
unsigned below(uint64_t *state, unsigned limit);
/* Brands, part types and how often each comes; before the first row. */
void make_names(void);
char *put(char *to, const char *text);
/* At most ROW_MAX bytes; returns their end. `id` says which part, `wording` which description. */
char *put_row(char *to, const struct options *options, uint64_t id, unsigned wording);

#endif
