/* Ordering what was shown: placed, refused because it moved or because nobody decided. */
#include "shop_help.h"

#include "purchase/order.h"

#include <sys/stat.h>

static const char *const sat[] = {"sat"};

static struct lb_order *prepare(struct shop *shop)
{
    struct lb_order *order;
    expect_ok(lb_order_prepare(&order, shop->store, sat, 1, SHOP_TODAY, &err));
    return order;
}

static void expect_outcome(struct shop *shop, enum lb_order_outcome want)
{
    struct lb_order *order = prepare(shop);
    cr_expect_eq(order->outcome, want, "outcome %d", (int)order->outcome);
    lb_order_free(order);
}

/* As buy does it. */
static void show(struct shop *shop)
{
    struct lb_purchase *purchase;
    struct lb_purchase_options options = {.arrive_by = LB_NO_DAY, .seconds = 5};
    expect_ok(lb_purchase_make(&purchase, shop->store, sat, 1, &options, SHOP_TODAY, &err));
    expect_ok(lb_purchase_note_shown(shop->store, purchase, &options, SHOP_NOW, &err));
    lb_purchase_free(purchase);
}

static void place(struct shop *shop)
{
    struct lb_order *order = prepare(shop);
    cr_assert_eq(order->outcome, LB_ORDER_READY);
    scratch_path(&shop->s, "out");
    mkdir(shop->s.path, 0777);
    expect_ok(lb_order_place(order, shop->store, shop->s.path, NULL, SHOP_NOW, &err));
    cr_expect_eq(order->purchase->basket->parcel_count, 2);
    cr_expect_not_null(strstr(order->stems[0], "/out/"));
    lb_order_free(order);
}

Test(order, placed_once)
{
    struct shop shop = shop_open();
    show(&shop);
    place(&shop);
    expect_line(&shop, "sat", "flange-bolt", "0/8/0/0");
    expect_outcome(&shop, LB_ORDER_NOTHING);
    shop_close(&shop);
}

static const char dearer[] = "supplier,brand,part_number,price,currency,pack_quantity,supplier_code\n"
                             "quay,Orlop,100-01,49.00,EUR,1,Q1\nquay,Orlop,100-02,1.00,EUR,10,Q2\n"
                             "quay,Orlop,100-03,3.20,EUR,1,\nmill,Orlop,100-04,7.50,EUR,5,M4\n";
static const char smaller[] = "supplier,brand,part_number,price,currency,pack_quantity,supplier_code\n"
                              "quay,Orlop,100-01,48.00,EUR,1,Q1\nquay,Orlop,100-02,1.00,EUR,10,Q2\n"
                              "quay,Orlop,100-03,3.20,EUR,1,\nmill,Orlop,100-04,7.50,EUR,2,M4\n";

Test(order, what_moved_is_not_ordered)
{
    struct shop shop = shop_open();
    show(&shop);
    shop_import(&shop, "offers.csv", dearer);
    struct lb_order *order = prepare(&shop);
    cr_assert_eq(order->outcome, LB_ORDER_MOVED);
    cr_assert_eq(order->purchase->moved_count, 1);
    cr_expect_eq(order->purchase->moved[0].now, 4900);
    cr_expect_eq(order->change_count, 0);
    lb_order_free(order);
    shop_import(&shop, "offers.csv", smaller);
    order = prepare(&shop);
    cr_assert_eq(order->outcome, LB_ORDER_MOVED);
    cr_assert_eq(order->purchase->moved_count, 1);
    cr_expect_eq(order->purchase->moved[0].now, -1);
    cr_assert_eq(order->change_count, 2);
    cr_expect_str_eq(order->changes[0].part, "Orlop 100-04");
    cr_expect_eq(order->changes[0].was, 1);
    cr_expect_eq(order->changes[0].now, 0);
    cr_expect_eq(order->changes[1].now, 2);
    lb_order_free(order);
    show(&shop);
    place(&shop);
    shop_close(&shop);
}

Test(order, somebody_else_was_quicker)
{
    struct shop shop = shop_open();
    struct lb_store *other;
    struct lb_order *order = prepare(&shop);
    expect_ok(lb_store_open(&other, scratch_path(&shop.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_store_execute(other, "UPDATE vehicle SET built = '2001'", &err));
    lb_store_close(other);
    cr_expect_eq(lb_order_place(order, shop.store, shop.s.folder, NULL, SHOP_NOW, &err), LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "changed while"), "%s", lb_error_text(&err));
    lb_order_free(order);
    expect_line(&shop, "sat", "flange-bolt", "0/0/0/8");
    shop_close(&shop);
}

/* What lies on the shelf now need not be bought: not what was shown either. */
Test(order, the_shelf_moves_it_too)
{
    struct shop shop = shop_open();
    show(&shop);
    struct lb_shelf_item item = {.key = "orlop\x1f"
                                        "10002",
                                 .brand = "Orlop",
                                 .number = "100-02",
                                 .unit = "each",
                                 .quantity = 8 * LB_MILLION,
                                 .since = "2026-01-01T00:00:00Z"};
    expect_ok(lb_shelf_set(shop.store, &item, &err));
    struct lb_order *order = prepare(&shop);
    cr_assert_eq(order->outcome, LB_ORDER_MOVED);
    cr_assert_eq(order->change_count, 1);
    cr_expect_eq(order->changes[0].now, 0);
    lb_order_free(order);
    show(&shop);
    place(&shop);
    expect_line(&shop, "sat", "flange-bolt", "8/0/0/0");
    expect_shelf(&shop, "");
    shop_close(&shop);
}

Test(order, open_questions_are_decided_first)
{
    struct shop shop = shop_open();
    shop_import(&shop, "fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse,spec,when\n"
                "p1,pump,pump bolt,bolt,flange-bolt,8,never,M6x1.0x25 8.8,built >= 2004\n"
                "p1,pump,pump gasket,gasket,pump-gasket,1,never,,\n");
    struct lb_order *order = prepare(&shop);
    cr_assert_eq(order->outcome, LB_ORDER_UNDECIDED);
    cr_assert_eq(order->gap_count, 1);
    cr_expect_str_eq(order->gaps[0]->code, "ask");
    lb_order_free(order);
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "flange-bolt"), LB_BUY, NULL, NULL, &err));
    lb_kit_free(kit);
    expect_outcome(&shop, LB_ORDER_READY);
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency\nquay,Orlop,100-01,48.00,EUR\n");
    expect_outcome(&shop, LB_ORDER_BLOCKED);
    shop_close(&shop);
}
