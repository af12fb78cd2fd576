/* What the CSV reader makes of files, as JSON for compare.py and spectrum.py: a line a record, and before
 * each file a line that names it.
 *
 *     csv_dump [-s SEPARATOR] [-r ROOM] [-e] FILE...
 *         {"file":"nasty-1.csv"}
 *         {"line":1,"cells":["a","b"]}
 *         {"line":2,"fault":"the bytes are not UTF-8","column":1}
 *
 * -r: a read gives at most so many bytes. -e: from the first sound record on, as many cells are expected.
 * Exit status 1: a file cannot be read. */
#include "importers/csv_reader.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct slow_bytes {
    struct lb_bytes bytes;
    struct lb_bytes *inner;
    size_t most;
};

static lb_status read_slowly(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct slow_bytes *slow = (struct slow_bytes *)bytes;
    return slow->inner->read(slow->inner, to, slow->most < room ? slow->most : room, got, err);
}

static void close_slow(struct lb_bytes *bytes)
{
    lb_bytes_close(((struct slow_bytes *)bytes)->inner);
}

static void put(json_t *value)
{
    json_dumpf(value, stdout, JSON_COMPACT | JSON_ENSURE_ASCII);
    putchar('\n');
    json_decref(value);
}

static void put_record(const struct lb_csv_record *record)
{
    json_t *cells = json_array();
    for (int i = 0; i < record->count; i++)
        json_array_append_new(cells, json_string(record->cells[i]));
    if (record->fault)
        put(json_pack("{sI ss si}", "line", (json_int_t)record->line, "fault", record->fault, "column",
                      record->column));
    else
        put(json_pack("{sI sO}", "line", (json_int_t)record->line, "cells", cells));
    json_decref(cells);
}

static lb_status dump(const char *path, char separator, size_t most, bool expect, struct lb_error *err)
{
    struct slow_bytes slow = {.bytes = {.read = read_slowly, .close = close_slow}, .most = most};
    struct lb_csv *csv = NULL;
    lb_status status = lb_bytes_open_file(&slow.inner, path, err);
    if (!status)
        status = lb_csv_open(&csv, &slow.bytes, separator, err);
    struct lb_csv_record record = {.line = 1};
    while (!status && !(status = lb_csv_next(csv, &record, err)) && record.line > 0) {
        put_record(&record);
        if (expect && !record.fault) {
            lb_csv_expect(csv, record.count);
            expect = false;
        }
    }
    lb_csv_free(csv);
    lb_bytes_close(&slow.bytes);
    return status;
}

int main(int argc, char **argv)
{
    char separator = 0;
    size_t most = SIZE_MAX;
    bool expect = false;
    for (int option; (option = getopt(argc, argv, "s:r:e")) != -1;) {
        if (option == '?')
            return 2;
        if (option == 's')
            separator = optarg[0];
        else if (option == 'e')
            expect = true;
        else
            most = strtoul(optarg, NULL, 10);
    }
    for (int i = optind; i < argc; i++) {
        struct lb_error err = {0};
        put(json_pack("{ss}", "file", argv[i]));
        if (dump(argv[i], separator, most, expect, &err)) {
            fprintf(stderr, "%s\n", lb_error_text(&err));
            lb_error_free(&err);
            return 1;
        }
    }
    return 0;
}
