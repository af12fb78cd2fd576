/* What was shown last, and what has moved since. */
#include "shop_help.h"

static const char *const sat[] = {"sat", NULL}, *const both[] = {"sat", "sun", NULL};

static void show(struct shop *shop, const char *const *names, const struct lb_purchase_options *options)
{
    struct bought *b = shop_buy(shop, names);
    expect_ok(lb_purchase_note_shown(shop->store, &b->purchase, options, SHOP_NOW, &err));
    bought_free(b);
}

/* "100-02 at Quayside Parts 100 -> 120 EUR", by part. */
static void expect_moved(struct shop *shop, const char *const *names, const char *shown, const char *want)
{
    struct bought *b = shop_buy(shop, names);
    struct lb_arena arena = {0};
    struct lb_buf seen = {0};
    expect_ok(purchase_tell_moved(&b->purchase, &arena, shop->store, &err));
    cr_expect_str_eq(b->purchase.shown ? b->purchase.shown : "never", shown);
    for (size_t i = 0; i < b->purchase.moved_count; i++) {
        const struct lb_moved *moved = &b->purchase.moved[i];
        lb_buf_printf(&seen, "%s%s at %s %lld -> %lld %s", i ? "; " : "", moved->part->number,
                      moved->supplier, (long long)moved->was, (long long)moved->now, moved->currency);
    }
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_arena_free(&arena);
    bought_free(b);
}

static const char at[] = "2026-01-01T01:00:00Z";

Test(shown, options_and_lines_are_kept_for_the_set_of_kits)
{
    struct shop shop = shop_open();
    struct purchase_shown shown;
    const char *const only[] = {"quay", "mill"}, *const without[] = {"Stern, Sons & Co"};
    struct lb_purchase_options options = {.arrive_by = SHOP_TODAY + 9,
                                          .suppliers_at_most = 2,
                                          .only = only,
                                          .only_count = 2,
                                          .without = without,
                                          .without_count = 1,
                                          .seconds = 2.5};
    show(&shop, both, &options);
    const char *const turned[] = {"SUN", "sat", "sun"};
    expect_ok(purchase_load_shown(&shown, shop.store, turned, 3, &err));
    cr_assert_str_eq(shown.at, at);
    cr_expect_eq(shown.options.arrive_by, SHOP_TODAY + 9);
    cr_expect_eq(shown.options.suppliers_at_most, 2);
    cr_expect_float_eq(shown.options.seconds, 2.5, 1e-9);
    cr_assert_eq(shown.options.only_count, 2);
    cr_expect_str_eq(shown.options.only[1], "quay");
    cr_expect_str_eq(shown.options.without[0], "Stern, Sons & Co");
    cr_expect_eq(shown.lines.count, 5);
    purchase_free_shown(&shown);
    expect_ok(purchase_load_shown(&shown, shop.store, turned, 1, &err));
    cr_expect_null(shown.at);
    purchase_free_shown(&shown);
    options.arrive_by = LB_NO_DAY;
    options.only_count = 0;
    show(&shop, both, &options); /* takes the other's place */
    expect_ok(purchase_load_shown(&shown, shop.store, turned, 2, &err));
    cr_expect_eq(shown.options.arrive_by, LB_NO_DAY);
    cr_expect_eq(shown.options.only_count, 0);
    cr_expect_eq(shown.lines.count, 5);
    purchase_free_shown(&shown);
    shop_close(&shop);
}

Test(shown, what_moved_is_told)
{
    struct shop shop = shop_open();
    struct lb_purchase_options options = {.arrive_by = LB_NO_DAY, .seconds = 1};
    expect_moved(&shop, sat, "never", "");
    show(&shop, sat, &options);
    expect_moved(&shop, sat, at, "");
    expect_moved(&shop, both, "never", "");
    shop_import(
        &shop, "offers.csv",
        "supplier,brand,part_number,price,currency,pack_quantity,supplier_code\n"
        "quay,Orlop,100-01,49.50,EUR,1,Q1\nquay,Orlop,100-01,20.00,EUR,2,Q9\n"
        "quay,Orlop,100-02,1.00,EUR,10,Q2\nquay,Orlop,100-03,3.00,GBP,1,\n"
        "mill,Orlop,100-03,2.00,EUR,1,\nmill,Orlop,100-04,7.00,EUR,5,M4\nmill,Orlop,100-04,6.00,EUR,5,M5\n");
    expect_moved(&shop, sat, at,
                 "100-01 at Quayside Parts 4800 -> 4950 EUR; 100-03 at Quayside Parts 320 -> -1 EUR; "
                 "100-04 at Mill Lane 750 -> 700 EUR");
    shop_order(&shop, sat); /* forgets it */
    expect_moved(&shop, sat, "never", "");
    shop_close(&shop);
}
