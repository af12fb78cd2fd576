/* A parts catalogue of any size on standard output, about 100 bytes a row, the same for the same options.
 *
 *     make_catalog ROWS [--seed N] [--edition N] [--changed PERMILLE] [--offers]
 *
 * --edition 2 --changed 10: the catalogue of edition 1 with 1 % of its rows changed, in random places: of
 * those 60 % have another description and spec, 20 % are gone, 20 % are another part. Edition 3 changes
 * edition 2.
 * --offers: a supplier's columns as well; import it with --supplier.
 *
 * Every row depends on its number and the seed alone. Not for statistics about real trades. */
#include "make_catalog.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BLOCK = 1 << 20 };

static char block[BLOCK + ROW_MAX];
static size_t block_length;

/* What part stands in the row and which wording it has; false: the row is gone. */
static bool find_identity(const struct options *options, uint64_t row, uint64_t *id, unsigned *wording)
{
    *id = row;
    *wording = 1;
    for (unsigned edition = 2; edition <= options->edition; edition++) {
        uint64_t state = start_state(options->seed, row, edition);
        if (below(&state, 1000) >= options->changed)
            continue;
        unsigned draw = below(&state, 10);
        if (draw < 2)
            return false;
        if (draw < 4)
            *id = row + options->rows * (edition - 1);
        else
            *wording = edition;
    }
    return true;
}

static bool flush(void)
{
    bool written = fwrite(block, 1, block_length, stdout) == block_length;
    block_length = 0;
    return written;
}

static bool write_catalog(const struct options *options)
{
    block_length =
        (size_t)(put(put(block, "brand,part_number,part_type,description,spec,unit,gtin"),
                     options->offers ? ",supplier_code,price,currency,pack_quantity,stock\n" : "\n") -
                 block);
    for (uint64_t row = 0; row < options->rows; row++) {
        uint64_t id;
        unsigned wording;
        if (!find_identity(options, row, &id, &wording))
            continue;
        block_length = (size_t)(put_row(block + block_length, options, id, wording) - block);
        if (block_length >= BLOCK && !flush())
            return false;
    }
    return flush() && fflush(stdout) == 0;
}

static bool parse(int argc, char **argv, struct options *options)
{
    for (int i = 1; i < argc; i++) {
        char *end = NULL;
        if (strcmp(argv[i], "--offers") == 0)
            options->offers = true;
        else if (strcmp(argv[i], "--seed") == 0 && i + 1 < argc)
            options->seed = strtoull(argv[++i], &end, 10);
        else if (strcmp(argv[i], "--edition") == 0 && i + 1 < argc)
            options->edition = (unsigned)strtoul(argv[++i], &end, 10);
        else if (strcmp(argv[i], "--changed") == 0 && i + 1 < argc)
            options->changed = (unsigned)strtoul(argv[++i], &end, 10);
        else
            options->rows = strtoull(argv[i], &end, 10);
        if (end && (*end || end == argv[i]))
            return false;
    }
    return options->rows > 0;
}

int main(int argc, char **argv)
{
    struct options options = {.seed = 1, .edition = 1, .changed = 10};
    if (!parse(argc, argv, &options)) {
        fputs("use it so: make_catalog ROWS [--seed N] [--edition N] [--changed PERMILLE] [--offers]\n",
              stderr);
        return 2;
    }
    make_names();
    setvbuf(stdout, NULL, _IONBF, 0);
    if (write_catalog(&options))
        return 0;
    perror("make_catalog");
    return 1;
}
