/* There is no basket although each line could be had: what is said then. */
#include "purchase_help.h"

#define asked_for(shop, kit, ...)                                                                            \
    buy_asked(shop, &(struct lb_purchase_options){.seconds = 10, __VA_ARGS__}, (const char *const[]){kit}, 1)

static void trade(struct shop *shop, const char *suppliers, const char *shipping)
{
    shop_import(shop, "suppliers.csv", suppliers);
    shop_import(shop, "shipping.csv", shipping);
}

/* One supplier sells all, and the other one nothing that matters. */
static struct shop open_plain(const char *suppliers, const char *shipping)
{
    struct shop shop = shop_open();
    trade(&shop, suppliers, shipping);
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency,stock,lead_days\nquay,Orlop,100-01,48.00,EUR,1,0\n"
                "quay,Orlop,100-02,1.00,EUR,20,0\nquay,Orlop,100-03,3.20,EUR,,0\n"
                "mill,Orlop,100-04,7.50,EUR,4,2\n");
    return shop;
}

#define USUAL_SUPPLIERS "supplier,currency,name,ship_days\nquay,EUR,Quayside Parts,3\nmill,EUR,Mill Lane,5\n"
#define USUAL_SHIPPING  "supplier,goods_from,charge\nquay,0,4.90\n"

static void finish(struct shop *shop, struct lb_purchase *p, const char *gaps)
{
    cr_expect(p->blocked && !p->basket);
    expect_gaps(p, gaps);
    lb_purchase_free(p);
    shop_close(shop);
}

Test(obstacles, a_line_that_comes_too_late)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    finish(&shop, asked_for(&shop, "sat", .arrive_by = SHOP_TODAY + 4),
           "sat 4 no-basket: coolant: nothing comes by 2026-01-05; the earliest is 2026-01-08\n");
}

Test(obstacles, all_lines_together_come_too_late)
{
    struct shop shop =
        open_plain("supplier,currency,name,ship_days,minimum_order\nquay,EUR,Quayside Parts,1,\n"
                   "mill,EUR,Mill Lane,5,\nfast,EUR,Fast Lane,1,90\n",
                   USUAL_SHIPPING);
    shop_import(&shop, "offers2.csv",
                "supplier,brand,part_number,price,currency,stock\nfast,Orlop,100-04,9.00,EUR,4\n");
    finish(&shop, asked_for(&shop, "sat", .arrive_by = SHOP_TODAY + 2),
           "- 0 no-basket: nothing that meets every line comes by 2026-01-03; the earliest is 2026-01-08\n"
           "- 0 no-basket: Fast Lane: its minimum order of 90.00 EUR is not reached by what is needed from "
           "it\n");
}

Test(obstacles, a_day_that_is_past)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    finish(&shop, asked_for(&shop, "sat", .arrive_by = SHOP_TODAY - 1),
           "- 0 no-basket: 2025-12-31 is past: nothing can come by then\n");
}

Test(obstacles, too_few_parcels)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    finish(&shop, asked_for(&shop, "sat", .arrive_by = LB_NO_DAY, .suppliers_at_most = 1),
           "- 0 no-basket: no basket of at most 1 parcel meets every line; it takes 2\n");
}

Test(obstacles, a_supplier_that_is_left_out)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    const char *const without[] = {"mill LANE"};
    finish(&shop, asked_for(&shop, "sat", .arrive_by = LB_NO_DAY, .without = without, .without_count = 1),
           "sat 4 no-basket: coolant: nobody who may be bought from has it; to be had from Mill Lane\n");
}

Test(obstacles, only_one_supplier)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    const char *const only[] = {"quay"};
    finish(&shop, asked_for(&shop, "sat", .arrive_by = LB_NO_DAY, .only = only, .only_count = 1),
           "sat 4 no-basket: coolant: nobody who may be bought from has it; to be had from Mill Lane\n");
}

Test(obstacles, a_minimum_order)
{
    struct shop shop = open_plain(
        "supplier,currency,name,minimum_order\nquay,EUR,Quayside Parts,25\nmill,EUR,Mill Lane,90\n",
        USUAL_SHIPPING);
    finish(&shop, asked_for(&shop, "sat", .arrive_by = LB_NO_DAY),
           "- 0 no-basket: Mill Lane: its minimum order of 90.00 EUR is not reached by what is needed from "
           "it\n");
}

Test(obstacles, a_shipping_table_that_begins_late)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING "mill,60,5\n");
    finish(&shop, asked_for(&shop, "sat", .arrive_by = LB_NO_DAY),
           "- 0 no-basket: Mill Lane states no shipping charge for goods below 60.00 EUR\n");
}

Test(obstacles, stock_that_is_short_of_what_the_lines_want_together)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    struct lb_purchase *p = buy(&shop, "sat", "sun");
    cr_expect(p->blocked);
    lb_purchase_free(p);
    reprice(&shop, "quay,Orlop,100-01,48.00,EUR,1,1\n");
    finish(&shop, buy(&shop, "sat", "sun"),
           "- 0 stock-short: Orlop 100-01: the lines together need 2, all suppliers and the shelf have 1\n");
}

Test(obstacles, nobody_of_that_name)
{
    struct shop shop = open_plain(USUAL_SUPPLIERS, USUAL_SHIPPING);
    struct lb_purchase *p;
    const char *const without[] = {"mil"}, *const kits[] = {"sat"}, *const unknown[] = {"satt"};
    struct lb_purchase_options options = {
        .arrive_by = LB_NO_DAY, .seconds = 10, .without = without, .without_count = 1};
    cr_expect_eq(lb_purchase_make(&p, shop.store, kits, 1, &options, SHOP_TODAY, &err), LB_DATA);
    cr_expect_null(p);
    cr_expect_str_eq(lb_error_text(&err), "there is no supplier \"mil\". Did you mean \"mill\"?");
    options.without_count = 0;
    cr_expect_eq(lb_purchase_make(&p, shop.store, unknown, 1, &options, SHOP_TODAY, &err), LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "there is no kit \"satt\". Did you mean \"sat\"?");
    shop_close(&shop);
}
