/* The table of what is due: when it was renewed last, when it is due, what is left. */
#include "report/due_page.h"

#include <string.h>

void due_put_km(struct lb_buf *out, int64_t km)
{
    lb_page_km(out, km);
    lb_buf_puts(out, " km");
}

/* Its month; a day would say more than is known. */
static void put_month(struct lb_buf *out, int32_t day)
{
    struct lb_buf words = {0};
    lb_date_print(&words, day);
    lb_buf_printf(out, "%.7s", lb_buf_text(&words));
    out->failed = out->failed || words.failed;
    lb_buf_free(&words);
}

static void put_days(struct lb_buf *out, int64_t days)
{
    if (days >= 730)
        lb_buf_printf(out, "%lld years", (long long)(days / 365));
    else
        lb_buf_printf(out, "%lld day%s", (long long)days, lb_page_plural((size_t)days));
}

static void put_last(struct lb_buf *out, const struct lb_due_item *item)
{
    if (!item->recorded && !item->assumed) {
        lb_buf_puts(out, "no record");
        return;
    }
    lb_buf_puts(out, item->assumed ? "new " : "");
    lb_date_print(out, item->last_on);
    if (item->assumed) {
        lb_buf_puts(out, ", if it is the first one");
        return;
    }
    if (item->has_last_km) {
        lb_buf_puts(out, " at ");
        due_put_km(out, item->last_km);
    }
    if (item->has_driven && item->driven > 0) {
        lb_buf_puts(out, ", ");
        due_put_km(out, item->driven);
        lb_buf_puts(out, " ago");
    }
}

static void put_due(struct lb_buf *out, const struct lb_due_item *item)
{
    if (item->has_due_km && item->due_km < 0) { /* no odometer shows that */
        lb_buf_puts(out, "before this odometer");
    } else if (item->has_due_km) {
        lb_buf_puts(out, "at ");
        due_put_km(out, item->due_km);
    }
    if (item->has_due_on) {
        lb_buf_puts(out, item->has_due_km ? " or " : "");
        lb_date_print(out, item->due_on);
    }
}

static bool same_month(int32_t a, int32_t b)
{
    struct lb_buf days = {0};
    lb_date_print(&days, a);
    size_t second = days.length;
    lb_date_print(&days, b);
    bool same = strncmp(lb_buf_text(&days), lb_buf_text(&days) + second, strlen("YYYY-MM")) == 0;
    lb_buf_free(&days);
    return same;
}

/* "between 2027-02 and 2027-05" */
static void put_range(struct lb_buf *out, const struct lb_due_item *item)
{
    if (!item->ranged || item->earliest == item->latest)
        return;
    if (item->latest == LB_DATE_MAX) {
        lb_buf_puts(out, ", not before ");
        put_month(out, item->earliest);
        return;
    }
    bool days = same_month(item->earliest, item->latest);
    lb_buf_puts(out, ", between ");
    (days ? lb_date_print : put_month)(out, item->earliest);
    lb_buf_puts(out, " and ");
    (days ? lb_date_print : put_month)(out, item->latest);
}

/* How far over, or what is left. */
static void put_left(const struct due_page *p, struct lb_buf *out, const struct lb_due_item *item)
{
    const struct lb_odometer_point *last = lb_odometer_last(&p->due->odometer);
    bool over = item->state == LB_DUE_OVERDUE;
    int64_t km = item->has_due_km && last ? item->due_km - last->shown : 0;
    const char *between = "\n";
    if (item->has_forecast) {
        int64_t days = (int64_t)item->forecast - p->today;
        lb_buf_puts(out, between);
        put_days(out, days < 0 ? -days : days);
        between = ", ";
    }
    if (item->has_due_km && last && (over ? km < 0 : km > 0)) {
        lb_buf_puts(out, between);
        due_put_km(out, km < 0 ? -km : km);
        between = ", ";
    }
    if (strcmp(between, "\n") != 0)
        lb_buf_puts(out, over ? " over" : " left");
}

static void put_when(const struct due_page *p, struct lb_buf *out, const struct lb_due_item *item)
{
    if (item->has_forecast) {
        lb_date_print(out, item->forecast);
        lb_buf_puts(out, item->by == LB_DUE_BY_TIME ? " by age" : "");
        put_range(out, item);
        lb_buf_puts(out, item->before_first ? ", before the first reading" : "");
    } else {
        lb_buf_puts(out, "by distance");
    }
    put_left(p, out, item);
}

static void add_row(const struct due_page *p, struct lb_table *table, const struct lb_due_item *item)
{
    struct lb_buf words = {0};
    lb_buf_puts(&words, item->name);
    if (item->ask)
        lb_buf_puts(&words, "\nask: a fact is not known");
    lb_page_cell(table, LB_BOLD, &words);
    put_last(&words, item);
    lb_page_cell(table, item->assumed ? LB_DIM : LB_PLAIN, &words);
    put_due(&words, item);
    lb_page_cell(table, LB_PLAIN, &words);
    put_when(p, &words, item);
    lb_page_cell(table, item->state == LB_DUE_OVERDUE ? LB_RED : LB_PLAIN, &words);
    for (size_t i = 0; i < item->job_count; i++)
        lb_buf_printf(&words, "%s%s", i ? ", " : "", item->jobs[i]);
    lb_page_cell(table, LB_DIM, &words);
}

size_t due_put_state(const struct due_page *p, enum lb_due_state state, const char *heading)
{
    static const struct lb_table_column columns[] = {{.heading = "what", .may_shrink = true},
                                                     {.heading = "last renewed", .may_shrink = true},
                                                     {.heading = "due", .may_shrink = true},
                                                     {.heading = "forecast", .may_shrink = true},
                                                     {.heading = "jobs", .may_shrink = true}};
    struct lb_table table = {
        .columns = columns, .column_count = sizeof columns / sizeof *columns, .indent = LB_PAGE_INDENT};
    size_t count = 0;
    for (size_t i = 0; i < p->due->item_count; i++) {
        if (p->due->items[i].state != state)
            continue;
        if (!count++)
            lb_page_heading(&p->page, heading);
        add_row(p, &table, &p->due->items[i]);
    }
    lb_page_print(&p->page, &table);
    return count;
}
