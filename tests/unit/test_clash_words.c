/* What is said of rows that contradict each other only because a fact is not stated. */
#include "shop_help.h"

#include <criterion/criterion.h>

static lb_status build(struct shop *shop, const char *key, const char *value)
{
    struct lb_vehicle vehicle = {0};
    struct lb_kit *kit = NULL;
    const struct lb_want want = {LB_WANT_JOB, (char *)"both"};
    expect_ok(lb_vehicle_load(shop->store, "finch", &vehicle, &err));
    if (key) {
        expect_ok(lb_vehicle_state(&vehicle, key, value, &err));
        expect_ok(lb_vehicle_save(shop->store, &vehicle, &err));
    }
    lb_status status = lb_kit_build(&kit, shop->store, "clash", &vehicle, &want, 1, SHOP_TODAY, &err);
    if (!status)
        lb_kit_free(kit);
    lb_vehicle_free(&vehicle);
    return status;
}

static void expect_words(struct shop *shop, const char *end)
{
    cr_assert_eq(build(shop, NULL, NULL), LB_DATA);
    const char *text = lb_error_text(&err);
    size_t length = strlen(text), tail = strlen(end);
    cr_expect(length >= tail && strcmp(text + length - tail, end) == 0, "%s", text);
}

Test(clash_words, facts_that_settle_an_order_are_named)
{
    struct shop shop = shop_open();
    shop_import(&shop, "sequence.csv",
                "platform,first,then,when\np1,remove pump,remove starter,ac = yes\n"
                "p1,remove starter,remove pump,ac = no\n");
    expect_words(&shop, "remove or change one of these rows. Or state ac (lastbolt vehicle set VEHICLE "
                        "FACT=VALUE): some of these rows may not apply.");
    expect_ok(build(&shop, "ac", "no"));
    shop_close(&shop);
}

Test(clash_words, facts_that_settle_access_are_named)
{
    struct shop shop = shop_open();
    shop_import(&shop, "access.csv",
                "platform,component,needs,state,when\np1,pump,starter,removed,ac = yes\n"
                "p1,starter,pump,removed,abs = no\n");
    expect_words(&shop, "Remove or change one of these rows. Or state ac, abs (lastbolt vehicle set VEHICLE "
                        "FACT=VALUE): some of these rows may not apply.");
    expect_ok(build(&shop, "ac", "no"));
    shop_close(&shop);
}

Test(clash_words, where_all_rows_apply_no_fact_is_named)
{
    struct shop shop = shop_open();
    shop_import(&shop, "access.csv",
                "platform,component,needs,state\np1,pump,starter,removed\np1,starter,pump,removed\n");
    expect_words(&shop, "Remove or change one of these rows.");
    shop_close(&shop);
}
