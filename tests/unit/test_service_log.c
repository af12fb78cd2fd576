/* The service log: what is written is read again, and what the owner's words stand for. */
#include "garage_help.h"

#include "kit/done.h"
#include "report/log_report.h"

static struct lb_log load(struct shop *shop, const struct lb_vehicle *vehicle)
{
    struct lb_log log;
    expect_ok(lb_log_load(&log, shop->store, vehicle->id, &err));
    return log;
}

/* "a,b,c" of names, in order. */
static void expect_names(const char *const *names, size_t count, const char *want)
{
    struct lb_buf seen = {0};
    for (size_t i = 0; i < count; i++)
        lb_buf_printf(&seen, "%s%s", i ? "," : "", names[i]);
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
}

Test(service_log, lines_come_back_by_day)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch, other;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, NULL);
    garage_vehicle(&shop, &other, "other", "Finch", NULL, NULL);
    const char *const components[] = {"pump", "belt"};
    const struct lb_log_part parts[] = {{"Orlop", "100-01", "each", "B 7", LB_MILLION},
                                        {"Orlop", "100-04", "L", NULL, 3600000},
                                        {"By hand", "1", NULL, NULL, 0}};
    struct lb_log_entry entry = {.day = day_of("2026-02-03"),
                                 .has_km = true,
                                 .km = (int64_t)804672 * 100000,
                                 .swapped = true,
                                 .done = "timing",
                                 .kit = "saturday",
                                 .note = "a 'note'",
                                 .components = components,
                                 .component_count = 2,
                                 .parts = parts,
                                 .part_count = 3};
    expect_ok(lb_log_add(shop.store, finch.id, &entry, &err));
    int64_t first = log_line(&shop, &finch, "2025-01-01", -1, NULL, false);
    int64_t theirs = log_line(&shop, &other, "2025-01-01", 5, NULL, false);
    struct lb_log log = load(&shop, &finch);
    cr_assert_eq(log.entries.count, 2);
    const struct lb_log_entry *read = &log.entries.at[1];
    cr_expect(log.entries.at[0].id == first && !log.entries.at[0].has_km && !log.entries.at[0].done);
    cr_expect(read->id == entry.id && read->day == entry.day && read->km == entry.km && read->swapped);
    cr_expect_str_eq(read->done, "timing");
    cr_expect_str_eq(read->kit, "saturday");
    cr_expect_str_eq(read->note, "a 'note'");
    expect_names(read->components, read->component_count, "belt,pump");
    cr_assert_eq(read->part_count, 3);
    cr_expect_str_eq(read->parts[0].batch, "B 7");
    cr_expect(read->parts[1].quantity == 3600000 && strcmp(read->parts[1].unit, "L") == 0);
    cr_expect_null(read->parts[2].unit);
    lb_log_free(&log);
    cr_expect_eq(lb_log_drop(shop.store, finch.id, "finch", theirs, &err), LB_DATA);
    expect_ok(lb_log_drop(shop.store, finch.id, "finch", entry.id, &err));
    cr_expect_eq(lb_log_drop(shop.store, finch.id, "finch", entry.id, &err), LB_DATA);
    log = load(&shop, &finch);
    cr_expect_eq(log.entries.count, 1);
    lb_log_free(&log);
    int64_t left;
    expect_ok(lb_store_integer(
        shop.store, "SELECT (SELECT count(*) FROM log_part) + (SELECT count(*) FROM log_component)", &left,
        &err));
    cr_expect_eq(left, 0);
    lb_vehicle_free(&finch);
    lb_vehicle_free(&other);
    shop_close(&shop);
}

Test(service_log, odd_readings_are_remarked_on)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    struct lb_buf words = {0};
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, NULL);
    log_line(&shop, &finch, "2026-01-01", 10000, NULL, false);
    log_line(&shop, &finch, "2026-03-01", 12000, NULL, false);
    const struct {
        const char *on;
        int64_t km;
        bool swapped;
        const char *want;
    } rows[] = {
        {"2026-02-01", 11000, false, ""},
        {"2026-02-01", 1100, false, "1100 km on 2026-02-01 is less than 10000 km on 2026-01-01."},
        {"2026-02-01", 110000, false, "110000 km on 2026-02-01 would mean over 2000 km a day since 10000 km"},
        {"2026-02-01", 11500, true, ""},
        {"2026-02-01", 15000, false, "12000 km on 2026-03-01 is less than 15000 km on 2026-02-01."},
        {"2026-04-01", 500, true, ""},
        {"2026-03-02", 14000, false, ""},
        {"2026-03-02", 14001, false, "over 2000 km a day"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        int64_t id = log_line(&shop, &finch, rows[i].on, rows[i].km, NULL, rows[i].swapped);
        struct lb_log log = load(&shop, &finch);
        lb_buf_clear(&words);
        lb_log_remarks(&log, id, &words);
        cr_expect(*rows[i].want ? strstr(lb_buf_text(&words), rows[i].want) != NULL : !words.length,
                  "%s %lld: %s", rows[i].on, (long long)rows[i].km, lb_buf_text(&words));
        lb_log_free(&log);
        expect_ok(lb_log_drop(shop.store, finch.id, "finch", id, &err));
    }
    lb_buf_free(&words);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

/* What a name stands for; "!words" when it is refused with these words. */
static void expect_done(struct shop *shop, const struct lb_vehicle *vehicle, const char *name,
                        const char *want)
{
    struct lb_done done;
    expect_ok(lb_done_begin(&done, shop->store, vehicle, &err));
    lb_status status = lb_done_name(&done, name, &err);
    if (*want == '!') {
        cr_expect(status == LB_DATA && strstr(lb_error_text(&err), want + 1), "%s: %d %s", name, status,
                  lb_error_text(&err));
    } else {
        expect_ok(status);
        expect_names(done.components.at, done.components.count, want);
    }
    lb_done_free(&done);
}

Test(service_log, names_of_jobs_components_and_circuits)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch, gull;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, "no");
    garage_vehicle(&shop, &gull, "gull", "Gull", NULL, NULL);
    expect_done(&shop, &finch, "timing", "belt");
    expect_done(&shop, &finch, " Everything", "hose,pump,filter"); /* the belt only went off and on */
    expect_done(&shop, &finch, "open", "");
    expect_done(&shop, &finch, "pump", "pump");
    expect_done(&shop, &finch, "knob", "knob");
    expect_done(&shop, &finch, "coolant", "coolant");
    expect_done(&shop, &finch, "flush", "coolant");
    expect_done(&shop, &finch, "timming", "!Did you mean \"timing\"?");
    expect_done(&shop, &finch, "cold", "!has nothing to do on finch");
    expect_done(&shop, &finch, "gearbox", "!has no job, component or circuit \"gearbox\"");
    expect_done(&shop, &finch, " ", "!needs the name");
    expect_done(&shop, &gull, "Gearbox Oil", "gearbox oil"); /* no map: as it is named */
    struct lb_done done;
    expect_ok(lb_done_begin(&done, shop.store, &gull, &err));
    cr_expect(done.no_map && strstr(done.no_map, "no service map covers gull"));
    lb_done_free(&done);
    lb_vehicle_free(&finch);
    lb_vehicle_free(&gull);
    shop_close(&shop);
}

Test(service_log, what_is_said_twice_was_done_once)
{
    struct shop shop = garage_open();
    struct lb_vehicle finch;
    struct lb_done done;
    garage_vehicle(&shop, &finch, "finch", "Finch", NULL, NULL);
    expect_ok(lb_done_begin(&done, shop.store, &finch, &err));
    const char *const names[] = {"pump", "timing", " Pump", "pump", "belt"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        expect_ok(lb_done_name(&done, names[i], &err));
    cr_expect_str_eq(lb_buf_text(&done.words), "pump, timing, belt");
    expect_names(done.components.at, done.components.count, "pump,belt");
    lb_done_free(&done);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}

/* "1 of Orlop 100-01 [batch]; …" */
static void expect_parts(const struct lb_done *done, const char *want)
{
    struct lb_buf seen = {0};
    for (size_t i = 0; i < done->parts.count; i++) {
        const struct lb_log_part *part = &done->parts.at[i];
        lb_buf_puts(&seen, i ? "; " : "");
        if (part->unit)
            lb_decimal_print(&seen, part->quantity);
        lb_buf_printf(&seen, "%s %s|%s", part->unit ? part->unit : "", part->brand, part->number);
        if (part->batch)
            lb_buf_printf(&seen, " [%s]", part->batch);
    }
    cr_expect_str_eq(lb_buf_text(&seen), want, "\"%s\" instead of \"%s\"", lb_buf_text(&seen), want);
    lb_buf_free(&seen);
}

Test(service_log, a_kit_brings_its_components_and_parts)
{
    struct shop shop = shop_open();
    struct lb_vehicle finch, other;
    struct lb_done done;
    expect_ok(lb_vehicle_load(shop.store, "finch", &finch, &err));
    struct lb_kit *kit = shop_open_kit(&shop, "sun");
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "pump-gasket"), LB_DROP, NULL, NULL, &err));
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "coolant"), LB_HAVE, NULL, NULL, &err));
    lb_kit_free(kit);
    expect_ok(lb_done_begin(&done, shop.store, &finch, &err));
    expect_ok(lb_done_kit(&done, "SUN", SHOP_TODAY, "R 1", true, &err));
    expect_names(done.components.at, done.components.count, "pump,starter");
    cr_expect_str_eq(lb_buf_text(&done.words), "both");
    expect_parts(&done, "1each Orlop|100-01 [R 1]; 1each Orlop|100-05 [R 1]; 8each Orlop|100-02 [R 1]; "
                        "3.6L Orlop|100-04 [R 1]");
    cr_expect_eq(lb_done_kit(&done, "moon", SHOP_TODAY, NULL, true, &err), LB_DATA);
    lb_done_free(&done);
    garage_vehicle(&shop, &other, "other", "Finch", NULL, NULL);
    expect_ok(lb_done_begin(&done, shop.store, &other, &err));
    cr_expect_eq(lb_done_kit(&done, "sun", SHOP_TODAY, NULL, true, &err), LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "kit sun is for finch, not for other.");
    lb_done_free(&done);
    lb_vehicle_free(&finch);
    lb_vehicle_free(&other);
    shop_close(&shop);
}

Test(service_log, parts_named_by_hand)
{
    struct shop shop = shop_open();
    struct lb_vehicle finch;
    struct lb_done done;
    bool known;
    expect_ok(lb_vehicle_load(shop.store, "finch", &finch, &err));
    shop_import(&shop, "parts.csv",
                "brand,part_number,part_type\nOld Mill,44-71 208,washer\nOrlop,100-01,water-pump\n");
    expect_ok(lb_done_begin(&done, shop.store, &finch, &err));
    const struct {
        const char *text;
        bool known;
    } rows[] = {{"Orlop 100-01", true}, {"Old Mill 44-71 208", true}, {"  Old Mill  99", false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        expect_ok(lb_done_part(&done, rows[i].text, i ? NULL : "B", &known, &err));
        cr_expect_eq(known, rows[i].known, "%s", rows[i].text);
    }
    expect_parts(&done, " Orlop|100-01 [B];  Old Mill|44-71 208;  Old|Mill  99");
    const char *const wrong[] = {"Orlop", "", "  ", "Orlop  "};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        cr_expect_eq(lb_done_part(&done, wrong[i], NULL, &known, &err), LB_DATA, "%s", wrong[i]);
    lb_done_free(&done);
    lb_vehicle_free(&finch);
    shop_close(&shop);
}
