/* What is due: by distance, by time, by both; swaps, no record, no rate; and what goes together. */
#include "garage_help.h"

#include "kit/due.h"
#include "plan/plan.h"
#include "report/due_report.h"

static int32_t today;

static struct lb_due *make(struct shop *shop, const struct lb_vehicle *vehicle, int32_t within)
{
    struct lb_due *due;
    today = day_of("2026-06-01");
    expect_ok(lb_due_make(&due, shop->store, vehicle, within, today, &err));
    return due;
}

static void put_day(struct lb_buf *out, bool known, int32_t day)
{
    lb_buf_putc(out, ' ');
    if (known)
        lb_date_print(out, day);
    else
        lb_buf_putc(out, '-');
}

/* "last due_km due_on forecast earliest latest by state", with `?` behind the state when it is to be asked
 * and
 * `=` before the last day when it is assumed. */
static void expect_item(const struct lb_due *due, const char *component, const char *want)
{
    static const char *const by[] = {"-", "distance", "time"};
    struct lb_buf seen = {0};
    const struct lb_due_item *item = NULL;
    for (size_t i = 0; i < due->item_count; i++)
        if (strcmp(due->items[i].component, component) == 0)
            item = &due->items[i];
    cr_assert(item, "no %s", component);
    lb_buf_puts(&seen, item->assumed ? "=" : "");
    if (item->recorded || item->assumed)
        lb_date_print(&seen, item->last_on);
    else
        lb_buf_putc(&seen, '-');
    if (item->has_due_km)
        lb_buf_printf(&seen, " %lld", (long long)(item->due_km / LB_MILLION));
    else
        lb_buf_puts(&seen, " -");
    put_day(&seen, item->has_due_on, item->due_on);
    put_day(&seen, item->has_forecast, item->forecast);
    put_day(&seen, item->has_forecast && item->ranged, item->earliest);
    put_day(&seen, item->has_forecast && item->ranged, item->latest);
    lb_buf_printf(&seen, " %s %s%s", by[item->by], lb_due_state_name(item->state), item->ask ? "?" : "");
    cr_expect_str_eq(lb_buf_text(&seen), want, "%s: \"%s\" instead of \"%s\"", component, lb_buf_text(&seen),
                     want);
    lb_buf_free(&seen);
}

/* "timing pump: 4 steps 4 pieces 0 L" a line. */
static void expect_groups(const struct lb_due *due, const char *want)
{
    struct lb_buf seen = {0};
    for (size_t i = 0; i < due->group_count; i++) {
        const struct lb_due_group *group = &due->groups[i];
        for (size_t j = 0; j < group->job_count; j++)
            lb_buf_printf(&seen, "%s%s%s", j ? " " : "", group->jobs[j].kind == LB_WANT_REPLACE ? "=" : "",
                          group->jobs[j].name);
        lb_buf_printf(&seen, ": %lld steps %lld pieces ", (long long)group->saves.steps,
                      (long long)(group->saves.pieces / LB_MILLION));
        lb_decimal_print(&seen, group->saves.litres);
        lb_buf_puts(&seen, " L\n");
    }
    cr_expect_str_eq(lb_buf_text(&seen), want, "\n%s", lb_buf_text(&seen));
    lb_buf_free(&seen);
}

/* 40 km a day up to the day before today: 2026-05-31. */
static void log_steadily(struct shop *shop, const struct lb_vehicle *vehicle)
{
    log_line(shop, vehicle, "2026-01-31", 95200, NULL, false);
    log_line(shop, vehicle, "2026-03-02", 96400, NULL, false);
    log_line(shop, vehicle, "2026-05-31", 100000, NULL, false);
}

Test(due, by_distance_by_time_and_by_both)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, "no");
    log_line(&shop, &finch, "2017-01-31", 40000, "hose", false);
    log_line(&shop, &finch, "2025-10-15", 92800, "filter",
             false); /* 108 days before the next, 2400 km: slower */
    log_steadily(&shop, &finch);
    struct lb_due *due = make(&shop, &finch, 365);
    cr_expect_null(due->no_map);
    expect_item(due, "hose", "2017-01-31 - 2027-01-31 2027-01-31 2027-01-31 2027-01-31 time soon");
    expect_item(due, "belt", "- - - - - - - unknown");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    /* a steady vehicle: no range to speak of */
    garage_vehicle(&shop, &finch, "wren", "Finch", NULL, "no");
    log_line(&shop, &finch, "2026-01-31", 95200, "belt", false);
    log_steadily(&shop, &finch);
    log_line(&shop, &finch, "2026-05-31", -1, "filter", false);
    log_line(&shop, &finch, "2026-03-02", 96400, "pump", false);
    due = make(&shop, &finch, 365);
    cr_expect_eq(due->odometer.per_day, 40 * LB_MILLION);
    /* 15000 / 40 = 375 days, later than a year */
    expect_item(due, "filter", "2026-05-31 115000 2027-05-31 2027-05-31 2027-05-31 2027-05-31 time soon");
    /* 60000 / 40 = 1500 days from 2026-01-31: 2030-03-11, before its 72 months */
    expect_item(due, "belt", "2026-01-31 155200 2032-01-31 2030-03-11 2030-03-11 2030-03-11 distance later");
    /* 100000 / 40 = 2500 days from 2026-03-02: 2033-01-04 */
    expect_item(due, "pump", "2026-03-02 196400 - 2033-01-04 2033-01-04 2033-01-04 distance later");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, the_last_time_counts_and_the_interval_of_the_strictest_row)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, NULL);
    log_line(&shop, &finch, "2026-01-31", 95200, "seal", false);
    log_line(&shop, &finch, "2020-01-31", -1, "seal", false);
    log_line(&shop, &finch, "2026-03-02", 96400, "knob", false);
    log_line(&shop, &finch, "2026-05-31", 100000, NULL, false);
    struct lb_due *due = make(&shop, &finch, 3650);
    /* 40000 of two rows that may apply; 1000 days */
    expect_item(due, "seal", "2026-01-31 135200 - 2028-10-27 2028-10-27 2028-10-27 distance soon?");
    /* the row that applies for sure has 36 months and no distance */
    expect_item(due, "knob", "2026-03-02 - 2029-03-02 2029-03-02 2029-03-02 2029-03-02 time soon");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, without_a_record_the_first_one_counts_from_the_build_date)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", "2018", "no");
    struct lb_due *due = make(&shop, &finch, 365);
    expect_item(due, "hose", "=2018-01-01 - 2028-01-01 2028-01-01 2028-01-01 2028-01-01 time later");
    expect_item(due, "belt", "=2018-01-01 60000 2024-01-01 2024-01-01 2024-01-01 2024-01-01 time overdue");
    expect_item(due, "pump", "=2018-01-01 100000 - - - - - unknown"); /* nobody looked yet */
    lb_due_free(due);
    log_line(&shop, &finch, "2026-05-31", 100000, NULL, false);
    due = make(&shop, &finch, 365);
    cr_expect_not(due->odometer.has_rate);
    expect_item(due, "pump", "=2018-01-01 100000 - 2026-05-31 2018-01-01 2026-05-31 distance overdue");
    lb_due_free(due);
    log_line(&shop, &finch, "2026-03-02", 96400, NULL, false);
    due = make(&shop, &finch, 365);
    expect_item(due, "pump", "=2018-01-01 100000 - 2026-05-31 2026-03-02 2026-05-31 distance overdue");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

/* 40 km a day now, but 95200 in its first month: 60000 of them on its 19th day. */
Test(due, nothing_was_due_before_it_was_new)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", "2026", "no");
    log_steadily(&shop, &finch);
    struct lb_due *due = make(&shop, &finch, 365);
    expect_item(due, "belt",
                "=2026-01-01 60000 2032-01-01 2026-01-20 2026-01-01 2026-01-31 distance overdue");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, another_odometer)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, "no");
    log_line(&shop, &finch, "2026-01-31", 95200, "belt", false);
    log_line(&shop, &finch, "2026-03-02", 96400, NULL, false);
    log_line(&shop, &finch, "2026-04-01", 100, NULL, true); /* 30 days that no odometer tells of: 1200 km */
    log_line(&shop, &finch, "2026-05-31", 2500, NULL, false);
    struct lb_due *due = make(&shop, &finch, 365);
    cr_expect_eq(due->odometer.per_day, 40 * LB_MILLION);
    /* driven 1200 + 1200 + 2400 km, 55200 to go: 1380 days from 2026-05-31 */
    expect_item(due, "belt", "2026-01-31 57700 2032-01-31 2030-03-11 2030-03-11 2030-03-11 distance later");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, a_vehicle_without_a_map)
{
    struct shop shop = garage_open();
    struct lb_vehicle other;
    garage_vehicle(&shop, &other, "other", "Gull", "2018", NULL);
    log_line(&shop, &other, "2026-05-31", 100000, "belt", false);
    struct lb_due *due = make(&shop, &other, 365);
    cr_expect(due->no_map && strstr(due->no_map, "no service map covers other"), "%s", due->no_map);
    cr_expect(!due->item_count && !due->group_count);
    lb_due_free(due);
    lb_vehicle_free(&other);
    shop_close(&shop);
}

Test(due, jobs_that_share_their_teardown)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, "no");
    log_line(&shop, &finch, "2015-01-31", 20000, "belt", false);
    log_line(&shop, &finch, "2016-03-02", -1, "hose", false);
    struct lb_due *due = make(&shop, &finch, 300);
    expect_groups(due, ""); /* the belt and the hose have nothing in common */
    lb_due_free(due);
    log_line(&shop, &finch, "2015-01-31", 20000, "pump", false);
    log_line(&shop, &finch, "2026-05-31", 130000, "filter", false);
    due = make(&shop, &finch, 300);
    /* `everything` renews three of which two are due, with one that is not; `hoses` and `pump` one each.
     * The cover, the belt: off and on, 4 bolts; the coolant: drained, filled and bled. */
    expect_groups(due, "timing everything: 4 steps 4 pieces 0 L\n");
    lb_due_free(due);
    log_line(&shop, &finch, "2026-05-30", -1, "hose", false);
    due = make(&shop, &finch, 300); /* of `everything` only the pump is due: less than half */
    expect_groups(due, "timing pump: 4 steps 4 pieces 0 L\n");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, groups_grow_and_components_without_a_job_are_replaced)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    shop_import(&shop, "jobs.csv", "platform,job,component\np1,timing,belt\np1,hoses,hose\n");
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, "no");
    log_line(&shop, &finch, "2015-01-31", 20000, "belt", false);
    log_line(&shop, &finch, "2015-01-31", 20000, "pump", false);
    log_line(&shop, &finch, "2016-03-02", -1, "hose", false);
    log_line(&shop, &finch, "2016-03-02", -1, "filter", false);
    log_line(&shop, &finch, "2026-05-31", 130000, NULL, false);
    struct lb_due *due = make(&shop, &finch, 365);
    /* belt and pump 4 steps and 4 bolts; the hose shares draining, filling, bleeding and 3.6 L; the filter
     * shares nothing. In the order in which they are due. */
    expect_groups(due, "timing =pump hoses: 7 steps 4 pieces 3.6 L\n");
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

/* The same numbers from plans that are made as kits make them. */
static struct lb_due_saving plan_of(struct shop *shop, const struct lb_vehicle *vehicle,
                                    const struct lb_want *wants, size_t count)
{
    struct lb_survey *survey;
    struct lb_plan *plan;
    struct lb_due_saving sum = {0};
    expect_ok(lb_survey_make(&survey, shop->store, vehicle, wants, count, &err));
    expect_ok(lb_plan_make(&plan, &survey->map, survey->targets, survey->target_count, &err));
    sum.steps = (int64_t)plan->step_count;
    for (size_t i = 0; i < plan->need_count; i++) {
        const struct lb_need *need = &plan->needs[i];
        if (need->reason == LB_SINGLE_USE || need->reason == LB_SEALING)
            sum.pieces += need->article.quantity;
        if (need->reason == LB_FLUID)
            sum.litres += need->article.quantity;
    }
    lb_plan_free(plan);
    lb_survey_free(survey);
    return sum;
}

Test(due, savings_are_those_of_the_kits)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    garage_vehicle(&shop, &finch, "finch", "Finch", "2001", "yes");
    log_line(&shop, &finch, "2026-05-31", 130000, NULL, false);
    struct lb_due *due = make(&shop, &finch, 365);
    cr_assert_gt(due->group_count, 0);
    for (size_t g = 0; g < due->group_count; g++) {
        const struct lb_due_group *group = &due->groups[g];
        struct lb_due_saving all = plan_of(&shop, &finch, group->jobs, group->job_count), apart = {0};
        for (size_t j = 0; j < group->job_count; j++) {
            struct lb_due_saving one = plan_of(&shop, &finch, &group->jobs[j], 1);
            apart.steps += one.steps;
            apart.pieces += one.pieces;
            apart.litres += one.litres;
        }
        cr_expect_eq(group->saves.steps, apart.steps - all.steps);
        cr_expect_eq(group->saves.pieces, apart.pieces - all.pieces);
        cr_expect_eq(group->saves.litres, apart.litres - all.litres);
    }
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, no_more_than_ten_jobs_are_looked_at_together)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    struct lb_buf rows = {0};
    lb_buf_puts(&rows, "platform,component,part_type,quantity,wear_months\np1,cover,cover,1,\n");
    for (int i = 0; i < 13; i++)
        lb_buf_printf(&rows, "p1,part-%02d,part-%02d,1,%d\n", i, i, 12 + i);
    shop_import(&shop, "components.csv", lb_buf_text(&rows));
    lb_buf_clear(&rows);
    lb_buf_puts(&rows, "platform,component,needs,state\n");
    for (int i = 0; i < 13; i++)
        lb_buf_printf(&rows, "p1,part-%02d,cover,removed\n", i);
    shop_import(&shop, "access.csv", lb_buf_text(&rows));
    lb_buf_free(&rows);
    garage_vehicle(&shop, &finch, "finch", "Finch", "2001", "no");
    struct lb_due *due = make(&shop, &finch, 365);
    cr_expect_eq(due->left_out, 3);
    cr_assert_eq(due->group_count, 1);
    cr_expect_eq(due->groups[0].job_count, 10);
    cr_expect_str_eq(due->groups[0].jobs[9].name, "part-09"); /* due first */
    cr_expect_eq(due->groups[0].saves.steps, 18);             /* the cover, nine times */
    cr_expect_eq(due->groups[0].saves.pieces, 36 * LB_MILLION);
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

/* What fell due by distance long ago: the readings around it, and whether there were any before. */
Test(due, the_past_is_told_by_the_readings_around_it)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    struct lb_buf out = {0};
    const struct lb_style style = {0};
    garage_vehicle(&shop, &finch, "finch", "Finch", "2018", "no");
    log_line(&shop, &finch, "2022-01-01", 50000, NULL, false);
    log_line(&shop, &finch, "2023-01-01", 90000, NULL, false); /* a fast year */
    log_line(&shop, &finch, "2026-05-31", 110000, "filter", false);
    struct lb_due *due = make(&shop, &finch, 365);
    /* 10000 of 40000 km behind 2022-01-01: 91 of 365 days; 10000 of 20000 behind 2023-01-01: half of 1246 */
    expect_item(due, "belt",
                "=2018-01-01 60000 2024-01-01 2022-04-02 2022-01-01 2023-01-01 distance overdue");
    expect_item(due, "pump", "=2018-01-01 100000 - 2024-09-15 2023-01-01 2026-05-31 distance overdue");
    lb_report_due(&out, due, 365, today, &style);
    cr_expect(strstr(lb_buf_text(&out), "2024-09-15, between 2023-01 and 2026-05"), "%s", lb_buf_text(&out));
    cr_expect_not(strstr(lb_buf_text(&out), "first reading"));
    lb_due_free(due);
    lb_vehicle_free(&finch);
    garage_vehicle(&shop, &finch, "wren", "Finch", "2018", "no");
    log_line(&shop, &finch, "2023-12-31", 120000, NULL, false); /* 60000 after half of 2190 days */
    due = make(&shop, &finch, 365);
    expect_item(due, "belt",
                "=2018-01-01 60000 2024-01-01 2020-12-31 2018-01-01 2023-12-31 distance overdue");
    lb_buf_clear(&out);
    lb_report_due(&out, due, 365, today, &style);
    cr_expect(strstr(lb_buf_text(&out), "2020-12-31, between 2018-01 and 2023-12, before the first reading"),
              "%s", lb_buf_text(&out));
    json_t *object = lb_report_due_json(due), *item;
    size_t i, before = 0;
    json_array_foreach(json_object_get(object, "due"), i, item)
    {
        bool belt = strcmp(json_string_value(json_object_get(item, "component")), "belt") == 0;
        bool said = json_is_true(json_object_get(item, "before_first_reading"));
        before += said;
        cr_expect(said == belt || strcmp(json_string_value(json_object_get(item, "by")), "distance") == 0);
        cr_expect(said || !belt);
    }
    cr_expect_geq(before, 1);
    json_decref(object);
    lb_buf_free(&out);
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

Test(due, reports_say_what_is_known_and_what_is_not)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    struct lb_buf out = {0};
    const struct lb_style style = {0};
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, NULL);
    log_line(&shop, &finch, "2026-01-01", 50000, "belt", false);
    log_line(&shop, &finch, "2026-02-01", 51300, NULL, false);
    log_line(&shop, &finch, "2026-03-01", 5250, NULL, false);
    log_line(&shop, &finch, "2026-04-01", 53600, "seal", false);
    struct lb_due *due = make(&shop, &finch, 1500);
    lb_report_due(&out, due, 1500, today, &style);
    const char *const said[] = {"finch: 40.0 km a day by 3 readings; 53600 km on 2026-04-01",
                                "5250 km on 2026-03-01 is left out",
                                "Timing belt",
                                "at 110000 km or 2032-01-01",
                                "2026-01-01 at 50000 km, 3600 km ago",
                                "Due within 1500 days",
                                "ask: a fact is not known",
                                "Of 4 nobody can tell, without a record or a rate: filter, hose, knob, pump",
                                "the maker's manual decides"};
    for (size_t i = 0; i < sizeof said / sizeof *said; i++)
        cr_expect(strstr(lb_buf_text(&out), said[i]), "\"%s\" is not in\n%s", said[i], lb_buf_text(&out));
    cr_expect_not(strstr(lb_buf_text(&out), "cover")); /* words on what to look at are nothing due */
    json_t *object = lb_report_due_json(due);
    cr_assert(object);
    cr_expect_eq(json_array_size(json_object_get(object, "due")), due->item_count);
    cr_expect_float_eq(json_number_value(json_object_get(object, "rate_km_per_day")), 40, 1e-9);
    cr_expect_eq(json_array_size(json_object_get(object, "left_out")), 1);
    json_decref(object);
    lb_buf_free(&out);
    lb_due_free(due);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}
