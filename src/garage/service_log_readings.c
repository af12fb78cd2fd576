/* The odometer readings of a log, and what is odd about one as it is noted. */
#include "base/decimal.h"
#include "garage/service_log.h"

#include <stdlib.h>

lb_status lb_log_readings(const struct lb_log *log, struct lb_reading **readings, size_t **entries,
                          size_t *count, struct lb_error *err)
{
    size_t most = log->entries.count;
    *count = 0;
    *readings = most ? malloc(most * sizeof **readings) : NULL;
    *entries = most ? malloc(most * sizeof **entries) : NULL;
    if (most && (!*readings || !*entries)) {
        free(*readings);
        free(*entries);
        return lb_fail_nomem(err);
    }
    for (size_t i = 0; i < most; i++) {
        const struct lb_log_entry *entry = &log->entries.at[i];
        if (!entry->has_km)
            continue;
        (*readings)[*count] = (struct lb_reading){entry->day, entry->km, entry->swapped};
        (*entries)[(*count)++] = i;
    }
    return LB_OK;
}

static void put_reading(struct lb_buf *out, const struct lb_log_entry *entry)
{
    lb_decimal_print(out, entry->km);
    lb_buf_puts(out, " km on ");
    lb_date_print(out, entry->day);
}

/* Two readings that follow each other. */
static void compare(const struct lb_log_entry *before, const struct lb_log_entry *after, struct lb_buf *out)
{
    int64_t days = after->day > before->day ? (int64_t)after->day - before->day : 1;
    bool less = after->km < before->km;
    if (after->swapped || (!less && after->km - before->km <= LB_ODOMETER_DAY_MOST * LB_MILLION * days))
        return;
    put_reading(out, after);
    if (less) {
        lb_buf_puts(out, " is less than ");
    } else {
        lb_buf_printf(out, " would mean over %d km a day since ", LB_ODOMETER_DAY_MOST);
    }
    put_reading(out, before);
    lb_buf_puts(out, ". A typing error, or another odometer?\n");
}

void lb_log_remarks(const struct lb_log *log, int64_t id, struct lb_buf *out)
{
    const struct lb_log_entry *before = NULL;
    for (size_t i = 0; i < log->entries.count; i++) {
        const struct lb_log_entry *entry = &log->entries.at[i];
        if (!entry->has_km)
            continue;
        if (before && (entry->id == id || before->id == id))
            compare(before, entry, out);
        before = entry;
    }
}
