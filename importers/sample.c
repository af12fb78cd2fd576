#include "importers/sample.h"

#include <stdlib.h>
#include <string.h>

static lb_status keep(struct lb_sample *sample, const struct lb_csv_record *record, struct lb_error *err)
{
    struct lb_csv_record *kept = &sample->records[sample->count];
    *kept = *record;
    const char **cells = lb_arena_alloc(&sample->texts, ((size_t)record->count + 1) * sizeof *cells);
    bool whole = cells != NULL;
    for (int i = 0; whole && i < record->count; i++)
        whole = (cells[i] = lb_arena_text(&sample->texts, record->cells[i], strlen(record->cells[i])));
    kept->cells = cells;
    kept->raw = lb_arena_text(&sample->texts, record->raw, record->raw_length);
    if (record->fault)
        kept->fault = lb_arena_text(&sample->texts, record->fault, strlen(record->fault));
    if (!whole || !kept->raw || (record->fault && !kept->fault))
        return lb_fail_nomem(err);
    sample->count++;
    return LB_OK;
}

lb_status lb_sample_take(struct lb_sample *sample, struct lb_csv *csv, struct lb_error *err)
{
    size_t bytes = 0;
    while (sample->count < LB_SAMPLE_ROWS && bytes < LB_SAMPLE_BYTES) {
        struct lb_csv_record record;
        lb_status status = lb_csv_next(csv, &record, err);
        if (status || record.line == 0)
            return status;
        bytes += record.raw_length;
        if ((status = keep(sample, &record, err)))
            return status;
    }
    return LB_OK;
}

bool lb_sample_next(struct lb_sample *sample, struct lb_csv_record *record)
{
    if (sample->at == sample->count)
        return false;
    *record = sample->records[sample->at++];
    return true;
}

void lb_sample_free(struct lb_sample *sample)
{
    if (!sample)
        return;
    lb_arena_free(&sample->texts);
    free(sample);
}
