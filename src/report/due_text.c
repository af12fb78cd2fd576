#include "report/due_page.h"
#include "report/due_report.h"

#include "base/decimal.h"
#include "base/shell.h"

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
        due_put_km(&words, last->shown);
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
            p->vehicle);
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
        due_put_km(&words, entry->km);
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
                    later, p->vehicle);
    if (untold)
        lb_buf_printf(&out,
                      "Of %zu nobody can tell, without a record or a rate: %s. What is known goes in with: "
                      "lastbolt log %s --done COMPONENT --at KM --on DATE",
                      untold, lb_buf_text(&unknown), p->vehicle);
    if (undated)
        lb_buf_printf(&out,
                      ". What is still the first one counts from the build date: lastbolt vehicle set %s "
                      "built=YYYY-MM",
                      p->vehicle);
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
    lb_buf_printf(&words, "lastbolt kit build NAME --vehicle %s", p->vehicle);
    for (size_t i = 0; i < group->job_count; i++) {
        lb_buf_puts(&words, group->jobs[i].kind == LB_WANT_JOB ? " --job " : " --replace ");
        lb_shell_word(&words, group->jobs[i].name);
    }
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

static void put_due(const struct due_page *p)
{
    const struct lb_due *due = p->due;
    put_head(p);
    put_readings(p);
    if (due->no_map) {
        lb_page_say(&p->page, LB_YELLOW, "%s", due->no_map);
        return;
    }
    if (!due->item_count) {
        lb_page_say(&p->page, LB_PLAIN, "Its service map %s states no wear intervals.", due->platform);
        return;
    }
    size_t shown = due_put_state(p, LB_DUE_OVERDUE, "Overdue");
    struct lb_buf heading = {0};
    lb_buf_printf(&heading, "Due within %d days", (int)p->within);
    shown += due_put_state(p, LB_DUE_SOON, lb_buf_text(&heading));
    lb_buf_free(&heading);
    put_groups(p);
    put_rest(p, shown);
    lb_page_say(&p->page, LB_DIM, "Intervals are the catalogue's; the maker's manual decides.");
}

void lb_report_due(struct lb_buf *out, const struct lb_due *due, int32_t within, int32_t today,
                   const struct lb_style *style)
{
    struct lb_buf vehicle = {0};
    struct due_page p = {.page = {.out = out, .style = style},
                         .due = due,
                         .vehicle = lb_shell_word(&vehicle, due->vehicle),
                         .within = within,
                         .today = today};
    put_due(&p);
    out->failed = out->failed || vehicle.failed;
    lb_buf_free(&vehicle);
}
