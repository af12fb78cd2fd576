#include "kit/due_parts.h"

#include <stdlib.h>
#include <string.h>

const char *lb_due_state_name(enum lb_due_state state)
{
    static const char *const names[] = {"overdue", "soon", "later", "unknown"};
    return names[state];
}

static lb_status load_log(struct due_work *w)
{
    struct lb_reading *readings = NULL;
    size_t *entries = NULL, count = 0;
    struct lb_log *log = &w->due.log;
    lb_status status = lb_log_load(log, w->store, w->vehicle->id, w->err);
    if (!status)
        status = lb_log_readings(log, &readings, &entries, &count, w->err);
    if (status)
        return status;
    w->readings_of = lb_arena_alloc(&w->arena, (log->entries.count + 1) * sizeof *w->readings_of);
    status =
        w->readings_of ? lb_odometer_make(&w->due.odometer, readings, count, w->err) : lb_fail_nomem(w->err);
    for (size_t i = 0; !status && i < log->entries.count; i++)
        w->readings_of[i] = LB_NO_READING;
    for (size_t i = 0; !status && i < count; i++)
        w->readings_of[entries[i]] = i;
    free(readings);
    free(entries);
    return status;
}

/* A vehicle that no map covers still has its log and its odometer. */
static lb_status survey(struct due_work *w)
{
    lb_status status = lb_survey_make(&w->survey, w->store, w->vehicle, NULL, 0, w->err);
    if (status == LB_DATA) {
        const char *words = w->err ? lb_error_text(w->err) : "no service map covers it.";
        w->due.no_map = lb_arena_text(&w->arena, words, strlen(words));
        lb_error_free(w->err);
        return w->due.no_map ? LB_OK : lb_fail_nomem(w->err);
    }
    if (status)
        return status;
    w->due.platform = w->survey->platform;
    return lb_jobs_load(&w->jobs, w->store, w->vehicle, w->survey->platform, w->err);
}

static int64_t least_stated(int64_t a, int64_t b)
{
    return !a || (b && b < a) ? b : a;
}

static struct lb_due_item *find_item(struct due_work *w, const char *component)
{
    for (size_t i = 0; i < w->items.count; i++)
        if (strcmp(w->items.at[i].component, component) == 0)
            return &w->items.at[i];
    return NULL;
}

/* Of several rows of a component the strictest counts; those that apply for sure go before those that may. */
static lb_status take_row(struct due_work *w, const struct lb_map_component *row)
{
    const struct lb_map *map = &w->survey->map;
    bool ask = row->row.doubt_count || map->platform.doubt_count;
    if (!row->wear_km && !row->wear_months)
        return LB_OK;
    struct lb_due_item *item = find_item(w, map->components[row->component]);
    if (item && item->ask == ask) {
        item->wear_km = least_stated(item->wear_km, row->wear_km);
        item->wear_months = least_stated(item->wear_months, row->wear_months);
        return LB_OK;
    }
    if (item && ask)
        return LB_OK;
    struct lb_due_item fresh = {.component = map->components[row->component],
                                .name = row->name ? row->name : map->components[row->component],
                                .ask = ask,
                                .wear_km = row->wear_km,
                                .wear_months = row->wear_months};
    if (item) {
        *item = fresh;
        return LB_OK;
    }
    return LB_PUSH(&w->items, fresh) ? LB_OK : lb_fail_nomem(w->err);
}

static lb_status find_jobs(struct due_work *w, struct lb_due_item *item)
{
    const char **jobs = lb_arena_alloc(&w->arena, (w->jobs.items.count + 1) * sizeof *jobs);
    if (!jobs)
        return lb_fail_nomem(w->err);
    for (size_t i = 0; i < w->jobs.items.count; i++)
        if (lb_job_renews(&w->jobs.items.at[i], item->component))
            jobs[item->job_count++] = w->jobs.items.at[i].name;
    item->jobs = jobs;
    return LB_OK;
}

static int by_forecast(const void *a, const void *b)
{
    const struct lb_due_item *x = a, *y = b;
    if ((x->state == LB_DUE_UNKNOWN) != (y->state == LB_DUE_UNKNOWN))
        return x->state == LB_DUE_UNKNOWN ? 1 : -1;
    if (x->has_forecast != y->has_forecast)
        return x->has_forecast ? 1 : -1; /* overdue, and nobody knows since when */
    if (x->has_forecast && x->forecast != y->forecast)
        return x->forecast < y->forecast ? -1 : 1;
    return strcmp(x->component, y->component);
}

static lb_status find_items(struct due_work *w)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && w->survey && i < w->survey->map.component_row_count; i++)
        status = take_row(w, &w->survey->map.component_rows[i]);
    for (size_t i = 0; !status && i < w->items.count; i++) {
        due_item_judge(w, &w->items.at[i]);
        status = find_jobs(w, &w->items.at[i]);
    }
    if (!status && w->items.count)
        qsort(w->items.at, w->items.count, sizeof *w->items.at, by_forecast);
    w->due.items = w->items.at;
    w->due.item_count = w->items.count;
    return status;
}

static lb_status compute(struct due_work *w)
{
    static lb_status (*const stages[])(struct due_work *) = {load_log, survey, find_items, due_together};
    lb_status status = LB_OK;
    w->due.vehicle = lb_arena_text(&w->arena, w->vehicle->name, strlen(w->vehicle->name));
    if (!w->due.vehicle)
        return lb_fail_nomem(w->err);
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](w);
    return status;
}

lb_status lb_due_make(struct lb_due **out, struct lb_store *store, const struct lb_vehicle *vehicle,
                      int32_t within, int32_t today, struct lb_error *err)
{
    bool held = false;
    *out = NULL;
    struct due_work *w = calloc(1, sizeof *w);
    if (!w)
        return lb_fail_nomem(err);
    w->store = store;
    w->vehicle = vehicle;
    w->within = within;
    w->today = today;
    w->err = err;
    lb_status status = lb_store_hold(store, &held, err);
    if (!status)
        status = compute(w);
    lb_store_release(store, held);
    if (status)
        lb_due_free(&w->due);
    else
        *out = &w->due;
    return status;
}

void lb_due_free(struct lb_due *due)
{
    if (!due)
        return;
    struct due_work *w = (struct due_work *)due; /* its first member */
    lb_odometer_free(&w->due.odometer);
    lb_log_free(&w->due.log);
    lb_survey_free(w->survey);
    lb_jobs_free(&w->jobs);
    free(w->items.at);
    lb_arena_free(&w->arena);
    free(w);
}
