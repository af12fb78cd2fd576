/* When one component is due: by its distance, by its age, whichever comes first. */
#include "kit/due_parts.h"

#include <string.h>

static bool renews(const struct lb_log_entry *entry, const char *component)
{
    for (size_t i = 0; i < entry->component_count; i++)
        if (strcmp(entry->components[i], component) == 0)
            return true;
    return false;
}

/* The last line that renewed it; LB_NO_READING: none. */
static size_t find_last(const struct due_work *w, const char *component)
{
    for (size_t i = w->due.log.entries.count; i-- > 0;)
        if (renews(&w->due.log.entries.at[i], component))
            return i;
    return LB_NO_READING;
}

/* From when it counts, and what was driven since. False: nobody knows. */
static bool find_start(const struct due_work *w, struct lb_due_item *item, struct lb_driven *since,
                       bool *has_since)
{
    size_t line = find_last(w, item->component);
    if (line != LB_NO_READING) {
        const struct lb_log_entry *entry = &w->due.log.entries.at[line];
        item->recorded = true;
        item->last_on = entry->day;
        item->has_last_km = entry->has_km;
        item->last_km = entry->km;
        *has_since = lb_odometer_driven(&w->due.odometer, w->readings_of[line], entry->day, since);
        return true;
    }
    if (!w->vehicle->built)
        return false;
    item->assumed = true;
    item->last_on = w->vehicle->interval.first;
    item->has_last_km = true;
    *has_since = lb_odometer_driven_new(&w->due.odometer, item->last_on, since);
    return true;
}

static int32_t later(int32_t a, int32_t b)
{
    return a > b ? a : b;
}

static void judge_distance(const struct due_work *w, struct lb_due_item *item, const struct lb_driven *since,
                           struct lb_forecast *forecast)
{
    const struct lb_odometer_point *last = lb_odometer_last(&w->due.odometer);
    item->has_driven = lb_odometer_distance(&w->due.odometer, since, &item->driven);
    item->has_due_km = item->has_driven;
    item->due_km = last->shown + item->wear_km - item->driven;
    *forecast = lb_odometer_forecast(&w->due.odometer, since, item->wear_km);
    /* However wide the range, it was not due before it was new. */
    forecast->day = later(forecast->day, item->last_on);
    forecast->earliest = later(forecast->earliest, item->last_on);
    forecast->latest = later(forecast->latest, item->last_on);
}

/* The earlier of both days; so is each end of the range, time having none of its own. */
static void take_earlier(struct lb_due_item *item, const struct lb_forecast *distance)
{
    bool by_time = item->has_due_on && (!distance->known || item->due_on <= distance->day);
    item->has_forecast = item->has_due_on || distance->known;
    if (!item->has_forecast)
        return;
    item->by = by_time ? LB_DUE_BY_TIME : LB_DUE_BY_DISTANCE;
    item->before_first = !by_time && distance->before_first;
    item->forecast = by_time ? item->due_on : distance->day;
    item->ranged = distance->known ? distance->ranged : true;
    item->earliest = item->latest = item->forecast;
    if (!distance->known || !distance->ranged)
        return;
    item->earliest = distance->earliest;
    item->latest = distance->latest;
    if (item->has_due_on && item->due_on < item->earliest)
        item->earliest = item->due_on;
    if (item->has_due_on && item->due_on < item->latest)
        item->latest = item->due_on;
}

static enum lb_due_state find_state(const struct due_work *w, const struct lb_due_item *item)
{
    const struct lb_odometer_point *last = lb_odometer_last(&w->due.odometer);
    if ((item->has_due_km && last && item->due_km <= last->shown) ||
        (item->has_forecast && item->forecast <= w->today))
        return LB_DUE_OVERDUE;
    if (!item->has_forecast)
        return LB_DUE_UNKNOWN;
    return (int64_t)item->forecast - w->today <= w->within ? LB_DUE_SOON : LB_DUE_LATER;
}

void due_item_judge(const struct due_work *w, struct lb_due_item *item)
{
    struct lb_driven since = {0};
    struct lb_forecast distance = {0};
    bool has_since = false, known = find_start(w, item, &since, &has_since);
    if (known && item->wear_months) {
        item->has_due_on = true;
        item->due_on = lb_date_add_months(item->last_on, item->wear_months);
    }
    if (known && item->wear_km && has_since)
        judge_distance(w, item, &since, &distance);
    else if (item->assumed && item->wear_km) {
        item->has_due_km = true; /* nobody has looked at the odometer yet, but it began at 0 */
        item->due_km = item->wear_km;
    }
    take_earlier(item, &distance);
    item->state = find_state(w, item);
    if (!item->has_forecast && item->state == LB_DUE_OVERDUE)
        item->by = LB_DUE_BY_DISTANCE;
}
