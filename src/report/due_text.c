#include "report/due_report.h"

#include "base/decimal.h"
#include "report/page.h"

#include <string.h>

struct due_page {
    struct lb_page page;
    const struct lb_due *due;
    int32_t within, today;
};

static void put_km(struct lb_buf *out, int64_t km)
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

/* "maggie: 40.2 km a day by 12 readings; 152300 km on 2026-08-01" */
static void put_head(const struct due_page *p)
{
    const struct lb_odometer *o = &p->due->odometer;
    const struct lb_odometer_point *last = lb_odometer_last(o);
    struct lb_buf *out = p->page.out, words = {0};
    lb_style_put(out, p->page.style, LB_BOLD, p->due->vehicle);
    if (o->has_rate) {
        lb_decimal_print_places(&words, lb_decimal_muldiv(o->per_day, 10, LB_MILLION), 1);
        lb_buf_printf(&words, " km a day by %zu readings; ", o->point_count);
    }
    if (last) {
        put_km(&words, last->shown);
        lb_buf_puts(&words, " on ");
        lb_date_print(&words, last->day);
    }
    lb_buf_printf(out, ": %s\n", last ? lb_buf_text(&words) : "no odometer reading");
    out->failed = out->failed || words.failed;
    lb_buf_free(&words);
    if (!o->has_rate)
        lb_page_say(
            &p->page, LB_YELLOW,
            "How far it goes a day is not known; that takes two readings a week or more apart. What is "
            "due by distance has no date yet. To log one: lastbolt log %s --at KM",
            p->due->vehicle);
}

/* What the readings were taken for, when that is not what they say. */
static void put_readings(const struct due_page *p)
{
    const struct lb_due *due = p->due;
    size_t reading = 0;
    for (size_t i = 0; i < due->log.entries.count; i++) {
        const struct lb_log_entry *entry = &due->log.entries.at[i];
        struct lb_buf words = {0};
        enum lb_reading_use use = entry->has_km ? due->odometer.uses[reading++] : LB_READING_COUNTS;
        if (use == LB_READING_COUNTS)
            continue;
        put_km(&words, entry->km);
        lb_buf_puts(&words, " on ");
        lb_date_print(&words, entry->day);
        if (use == LB_READING_WRONG)
            lb_buf_printf(&words, " is left out: the other readings deny it. Line %lld of the log.",
                          (long long)entry->id);
        else
            lb_buf_puts(&words,
                        " is taken for another odometer, as the readings behind it go on from there.");
        lb_page_say_words(&p->page, LB_YELLOW, &words);
    }
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
        put_km(out, item->last_km);
    }
    if (item->has_driven && item->driven > 0) {
        lb_buf_puts(out, ", ");
        put_km(out, item->driven);
        lb_buf_puts(out, " ago");
    }
}

static void put_due(struct lb_buf *out, const struct lb_due_item *item)
{
    if (item->has_due_km && item->due_km < 0) { /* no odometer shows that */
        lb_buf_puts(out, "before this odometer");
    } else if (item->has_due_km) {
        lb_buf_puts(out, "at ");
        put_km(out, item->due_km);
    }
    if (item->has_due_on) {
        lb_buf_puts(out, item->has_due_km ? " or " : "");
        lb_date_print(out, item->due_on);
    }
}

/* "between 2027-02 and 2027-05" */
static void put_range(struct lb_buf *out, const struct lb_due_item *item)
{
    if (!item->ranged || item->earliest == item->latest)
        return;
    lb_buf_puts(out, item->latest == LB_DATE_MAX ? ", not before " : ", between ");
    put_month(out, item->earliest);
    if (item->latest == LB_DATE_MAX)
        return;
    lb_buf_puts(out, " and ");
    put_month(out, item->latest);
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
        put_km(out, km < 0 ? -km : km);
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

static size_t put_state(const struct due_page *p, enum lb_due_state state, const char *heading)
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

/* What is not shown: how much is due later, and of what nobody can tell. */
static void put_rest(const struct due_page *p, size_t shown)
{
    struct lb_buf unknown = {0}, out = {0};
    size_t later = 0, untold = 0;
    bool undated = false; /* the build date would tell something */
    for (size_t i = 0; i < p->due->item_count; i++) {
        const struct lb_due_item *item = &p->due->items[i];
        later += item->state == LB_DUE_LATER;
        if (item->state != LB_DUE_UNKNOWN)
            continue;
        lb_buf_printf(&unknown, "%s%s", untold++ ? ", " : "", item->component);
        undated |= !item->recorded && !item->assumed;
    }
    lb_buf_puts(p->page.out, "\n");
    if (!shown)
        lb_page_say(&p->page, LB_PLAIN, "Nothing%s is due within %d days.", untold ? " that is known" : "",
                    (int)p->within);
    if (later)
        lb_page_say(&p->page, LB_PLAIN, "%zu more later. To see further ahead: lastbolt due %s --within DAYS",
                    later, p->due->vehicle);
    if (untold)
        lb_buf_printf(&out,
                      "Of %zu nobody can tell, without a record or a rate: %s. What is known goes in with: "
                      "lastbolt log %s --done COMPONENT --at KM --on DATE",
                      untold, lb_buf_text(&unknown), p->due->vehicle);
    if (undated)
        lb_buf_printf(&out,
                      ". What is still the first one counts from the build date: lastbolt vehicle set %s "
                      "built=YYYY-MM",
                      p->due->vehicle);
    if (out.length)
        lb_page_say(&p->page, LB_YELLOW, "%s", lb_buf_text(&out));
    p->page.out->failed = p->page.out->failed || out.failed || unknown.failed;
    lb_buf_free(&out);
    lb_buf_free(&unknown);
}

/* "14 steps, 9 bolts and seals, 5.4 L of fluid saved" */
static void put_saving(struct lb_buf *out, const struct lb_due_saving *saving)
{
    const char *between = "";
    if (saving->steps) {
        lb_buf_printf(out, "%lld step%s", (long long)saving->steps, lb_page_plural((size_t)saving->steps));
        between = ", ";
    }
    if (saving->pieces) {
        lb_buf_puts(out, between);
        lb_decimal_print(out, saving->pieces);
        lb_buf_puts(out, saving->pieces == LB_MILLION ? " bolt or seal" : " bolts and seals");
        between = ", ";
    }
    if (saving->litres) {
        lb_buf_puts(out, between);
        lb_page_amount(out, saving->litres, "L");
        lb_buf_puts(out, " of fluid");
    }
    lb_buf_puts(out, " saved");
}

static void put_group(const struct due_page *p, const struct lb_due_group *group)
{
    struct lb_buf words = {0};
    for (size_t i = 0; i < group->job_count; i++)
        lb_buf_printf(&words, "%s%s", i == 1 ? " with " : i ? ", " : "", group->jobs[i].name);
    lb_buf_puts(&words, ": ");
    put_saving(&words, &group->saves);
    lb_page_say_words(&p->page, LB_PLAIN, &words);
    lb_buf_printf(&words, "lastbolt kit build NAME --vehicle %s", p->due->vehicle);
    for (size_t i = 0; i < group->job_count; i++)
        lb_buf_printf(&words, " --%s %s", group->jobs[i].kind == LB_WANT_JOB ? "job" : "replace",
                      group->jobs[i].name);
    lb_buf_puts(p->page.out, "    "); /* in one piece, to be copied */
    lb_style_put(p->page.out, p->page.style, LB_DIM, lb_buf_text(&words));
    lb_buf_putc(p->page.out, '\n');
    p->page.out->failed = p->page.out->failed || words.failed;
    lb_buf_free(&words);
}

static void put_groups(const struct due_page *p)
{
    if (p->due->group_count)
        lb_page_heading(&p->page, "Worth doing together");
    for (size_t i = 0; i < p->due->group_count; i++)
        put_group(p, &p->due->groups[i]);
    if (p->due->left_out)
        lb_page_say(&p->page, LB_DIM, "%zu more jobs are due; those due first were looked at.",
                    p->due->left_out);
}

void lb_report_due(struct lb_buf *out, const struct lb_due *due, int32_t within, int32_t today,
                   const struct lb_style *style)
{
    struct due_page p = {.page = {.out = out, .style = style}, .due = due, .within = within, .today = today};
    put_head(&p);
    put_readings(&p);
    if (due->no_map) {
        lb_page_say(&p.page, LB_YELLOW, "%s", due->no_map);
        return;
    }
    if (!due->item_count) {
        lb_page_say(&p.page, LB_PLAIN, "Its service map %s states no wear intervals.", due->platform);
        return;
    }
    size_t shown = put_state(&p, LB_DUE_OVERDUE, "Overdue");
    struct lb_buf heading = {0};
    lb_buf_printf(&heading, "Due within %d days", (int)within);
    shown += put_state(&p, LB_DUE_SOON, lb_buf_text(&heading));
    lb_buf_free(&heading);
    put_groups(&p);
    put_rest(&p, shown);
    lb_page_say(&p.page, LB_DIM, "Intervals are the catalogue's; the maker's manual decides.");
}
