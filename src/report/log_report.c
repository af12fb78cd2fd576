#include "report/log_report.h"
#include "base/shell.h"

#include "base/date.h"
#include "base/decimal.h"
#include "report/page.h"

#include <string.h>

static void put_parts(struct lb_buf *words, const struct lb_log_entry *entry)
{
    for (size_t i = 0; i < entry->part_count; i++) {
        const struct lb_log_part *part = &entry->parts[i];
        if (i)
            lb_buf_puts(words, ", ");
        if (part->unit) {
            lb_page_amount(words, part->quantity, part->unit);
            lb_buf_puts(words, strcmp(part->unit, "each") == 0 ? " × " : " of ");
        }
        lb_buf_printf(words, "%s %s", part->brand, part->number);
        if (part->batch)
            lb_buf_printf(words, " (%s)", part->batch);
    }
}

/* A line that names no job. */
static const char *without_job(const struct lb_log_entry *entry)
{
    return entry->has_km ? "odometer read" : entry->part_count ? "parts used" : "noted";
}

/* "timing-drive: timing-belt, timing-idler"; a component alone once. */
static void put_done(struct lb_buf *words, const struct lb_log_entry *entry)
{
    lb_buf_puts(words, entry->done ? entry->done : without_job(entry));
    if (entry->component_count == 1 && entry->done && strcmp(entry->components[0], entry->done) == 0)
        return;
    for (size_t i = 0; i < entry->component_count; i++)
        lb_buf_printf(words, "%s%s", i ? ", " : ": ", entry->components[i]);
}

static void put_notes(struct lb_buf *words, const struct lb_log_entry *entry)
{
    const char *between = "";
    if (entry->swapped) {
        lb_buf_puts(words, "another odometer from here");
        between = "; ";
    }
    if (entry->kit) {
        lb_buf_printf(words, "%skit %s", between, entry->kit);
        between = "; ";
    }
    if (entry->note)
        lb_buf_printf(words, "%s%s", between, entry->note);
}

static void add_row(struct lb_table *table, const struct lb_log_entry *entry)
{
    struct lb_buf words = {0};
    lb_table_cellf(table, LB_BOLD, "%lld", (long long)entry->id);
    lb_date_print(&words, entry->day);
    lb_page_cell(table, LB_PLAIN, &words);
    if (entry->has_km)
        lb_page_km(&words, entry->km);
    lb_page_cell(table, LB_PLAIN, &words);
    put_done(&words, entry);
    lb_page_cell(table, entry->done ? LB_PLAIN : LB_DIM, &words);
    put_parts(&words, entry);
    lb_page_cell(table, LB_PLAIN, &words);
    put_notes(&words, entry);
    lb_page_cell(table, LB_PLAIN, &words);
}

void lb_report_log(struct lb_buf *out, const struct lb_log *log, const char *vehicle, int64_t line,
                   const struct lb_style *style)
{
    static const struct lb_table_column columns[] = {
        {.heading = "no.", .align = LB_RIGHT},   {.heading = "date"},
        {.heading = "km", .align = LB_RIGHT},    {.heading = "what was done", .may_shrink = true},
        {.heading = "with", .may_shrink = true}, {.heading = "notes", .may_shrink = true}};
    struct lb_table table = {.columns = columns, .column_count = sizeof columns / sizeof *columns};
    if (!log->entries.count) {
        lb_buf_printf(out, "Nothing is logged for %s yet. Begin with: lastbolt log ", vehicle);
        lb_shell_word(out, vehicle);
        lb_buf_puts(out, " --done JOB --at KM --on DATE\n");
        return;
    }
    for (size_t i = log->entries.count; i-- > 0;)
        if (!line || log->entries.at[i].id == line)
            add_row(&table, &log->entries.at[i]);
    lb_table_print(&table, out, style);
    lb_table_free(&table);
}

static json_t *part_json(struct lb_maker *m, const struct lb_log_part *part)
{
    json_t *object = lb_maker_object(m);
    lb_maker_set(m, object, "brand", lb_report_json_text(part->brand));
    lb_maker_set(m, object, "part_number", lb_report_json_text(part->number));
    lb_maker_set(m, object, "quantity", part->unit ? lb_report_json_quantity(part->quantity) : json_null());
    lb_maker_set(m, object, "unit", lb_report_json_text_or_null(part->unit));
    lb_maker_set(m, object, "batch", lb_report_json_text_or_null(part->batch));
    return object;
}

static const char *one_batch(const struct lb_log_entry *entry)
{
    const char *batch = entry->part_count ? entry->parts[0].batch : NULL;
    for (size_t i = 1; batch && i < entry->part_count; i++)
        if (!entry->parts[i].batch || strcmp(entry->parts[i].batch, batch) != 0)
            return NULL;
    return batch;
}

static json_t *entry_json(struct lb_maker *m, const struct lb_log_entry *entry)
{
    json_t *object = lb_maker_object(m), *components = lb_maker_array(m), *parts = lb_maker_array(m);
    struct lb_buf on = {0};
    lb_date_print(&on, entry->day);
    for (size_t i = 0; i < entry->component_count; i++)
        lb_maker_add(m, components, lb_report_json_text(entry->components[i]));
    for (size_t i = 0; i < entry->part_count; i++)
        lb_maker_add(m, parts, part_json(m, &entry->parts[i]));
    lb_maker_set(m, object, "entry", json_integer(entry->id));
    lb_maker_set(m, object, "on", lb_report_json_text(lb_buf_text(&on)));
    lb_maker_set(m, object, "km", entry->has_km ? lb_report_json_quantity(entry->km) : json_null());
    lb_maker_set(m, object, "done", lb_report_json_text_or_null(entry->done));
    lb_maker_set(m, object, "components", components);
    lb_maker_set(m, object, "parts", parts);
    lb_maker_set(m, object, "batch", lb_report_json_text_or_null(one_batch(entry)));
    lb_maker_set(m, object, "kit", lb_report_json_text_or_null(entry->kit));
    lb_maker_set(m, object, "note", lb_report_json_text_or_null(entry->note));
    lb_maker_set(m, object, "swapped", json_boolean(entry->swapped));
    m->failed = m->failed || on.failed;
    lb_buf_free(&on);
    return object;
}

json_t *lb_report_log_json(const struct lb_log *log, const char *vehicle)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *entries = lb_maker_array(&m);
    for (size_t i = log->entries.count; i-- > 0;)
        lb_maker_add(&m, entries, entry_json(&m, &log->entries.at[i]));
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "vehicle", lb_report_json_text(vehicle));
    lb_maker_set(&m, object, "log", entries);
    return lb_maker_end(&m, object);
}
