/* What was ordered, what came of it, and what the kit's lines then want. */
#include "shop_help.h"

#include "catalog/partkey.h"

static const char *const sat[] = {"sat", NULL}, *const both[] = {"sat", "sun", NULL};

static struct lb_receipts receive_part(struct shop *shop, const char *kit_name, const char *part_type,
                                       const char *brand, const char *number, int64_t quantity,
                                       enum lb_came how, lb_status want)
{
    struct lb_receipts receipts;
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    const struct lb_arrival arrival = {shop_line(kit, part_type), brand, number, quantity};
    cr_expect_eq(lb_orders_receive(&receipts, shop->store, kit, &arrival, 1, how, SHOP_NOW, &err), want, "%s",
                 lb_error_text(&err));
    cr_expect_eq(receipts.count, want == LB_OK);
    lb_kit_free(kit);
    return receipts;
}

static void receive(struct shop *shop, const char *kit, const char *part_type, int64_t quantity,
                    enum lb_came how)
{
    struct lb_receipts receipts = receive_part(shop, kit, part_type, NULL, NULL, quantity, how, LB_OK);
    lb_receipts_free(&receipts);
}

static void refuse(struct shop *shop, const char *kit, const char *part_type, int64_t quantity,
                   enum lb_came how, const char *words)
{
    receive_part(shop, kit, part_type, NULL, NULL, quantity, how, LB_DATA);
    cr_expect(strstr(lb_error_text(&err), words), "%s", lb_error_text(&err));
}

static void expect_number(struct shop *shop, const char *sql, int64_t want)
{
    int64_t got;
    expect_ok(lb_store_integer(shop->store, sql, &got, &err));
    cr_expect_eq(got, want, "%s: %lld", sql, (long long)got);
}

static size_t gaps_of(struct shop *shop, const char *name)
{
    struct lb_kit *kit = shop_open_kit(shop, name);
    size_t count = kit->gap_count;
    lb_kit_free(kit);
    return count;
}

Test(orders, what_is_ordered_is_on_its_way_and_no_gap)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    expect_number(&shop, "SELECT count(*) FROM orders", 2);
    expect_number(&shop, "SELECT expected FROM orders WHERE supplier = 'quay'", SHOP_TODAY + 3);
    expect_number(&shop, "SELECT count(*) FROM orders WHERE supplier = 'mill' AND expected IS NULL", 1);
    expect_line(&shop, "sat", "water-pump", "0/1/0/0");
    expect_line(&shop, "sat", "flange-bolt", "0/8/0/0");
    expect_line(&shop, "sat", "coolant", "0/3.6/0/0");
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency\nquay,Orlop,100-99,1.00,EUR\n");
    expect_line(&shop, "sat", "flange-bolt", "0/8/0/0"); /* also when nobody offers it any more */
    cr_expect_eq(gaps_of(&shop, "sat"), 0);
    struct bought *b = shop_buy(&shop, sat);
    cr_expect_eq(b->purchase.basket->parcel_count, 0);
    bought_free(b);
    shop_close(&shop);
}

Test(orders, what_comes_is_here_and_the_rest_lies_on_the_shelf)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    receive(&shop, "sat", "flange-bolt", 5 * LB_MILLION, LB_CAME_WELL);
    expect_line(&shop, "sat", "flange-bolt", "5/3/0/0");
    expect_shelf(&shop, "");
    struct lb_receipts rest =
        receive_part(&shop, "sat", "flange-bolt", NULL, NULL, 5 * LB_MILLION, LB_CAME_WELL, LB_OK);
    cr_expect_eq(rest.at[0]->to_line, 3 * LB_MILLION);
    cr_expect_eq(rest.at[0]->to_shelf, 2 * LB_MILLION);
    cr_expect_eq(rest.at[0]->order_count, 1);
    cr_expect_str_eq(rest.at[0]->orders[0].supplier, "Quayside Parts");
    lb_receipts_free(&rest);
    receive(&shop, "sat", "coolant", 5 * LB_MILLION, LB_CAME_WELL);
    expect_line(&shop, "sat", "flange-bolt", "8/0/0/0");
    expect_line(&shop, "sat", "coolant", "3.6/0/0/0");
    expect_shelf(&shop, "100-02 2, 100-04 1.4 opened");
    shop_close(&shop);
}

Test(orders, what_is_lost_is_wanted_again)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    receive(&shop, "sat", "flange-bolt", 2 * LB_MILLION, LB_CAME_DAMAGED); /* the two that nobody wants */
    expect_line(&shop, "sat", "flange-bolt", "0/8/0/0");
    receive(&shop, "sat", "flange-bolt", LB_MILLION, LB_CAME_WRONG);
    expect_line(&shop, "sat", "flange-bolt", "0/7/0/1");
    receive(&shop, "sat", "flange-bolt", 4 * LB_MILLION, LB_CAME_WELL);
    receive(&shop, "sat", "flange-bolt", 3 * LB_MILLION, LB_CAME_SHORT);
    expect_line(&shop, "sat", "flange-bolt", "4/0/0/4");
    expect_number(&shop,
                  "SELECT wrong + damaged * 10 + short * 100 FROM order_line WHERE part_number = '100-02'",
                  321 * LB_MILLION);
    shop_order(&shop, sat);
    expect_line(&shop, "sat", "flange-bolt", "4/4/0/0");
    receive(&shop, "sat", "water-pump", LB_MILLION, LB_CAME_WELL);
    receive(&shop, "sat", "water-pump", LB_MILLION, LB_CAME_DAMAGED); /* it turned out to be */
    expect_line(&shop, "sat", "water-pump", "0/0/0/1");
    shop_close(&shop);
}

Test(orders, more_than_was_ordered_is_refused)
{
    struct shop shop = shop_open();
    refuse(&shop, "sat", "flange-bolt", LB_MILLION, LB_CAME_WELL, "nothing was ordered for line");
    shop_order(&shop, sat);
    receive(&shop, "sat", "flange-bolt", LB_MILLION, LB_CAME_WELL);
    refuse(&shop, "sat", "flange-bolt", 10 * LB_MILLION, LB_CAME_WELL,
           "10 of Orlop 100-02: of 10 that were ordered 1 came before, and 9 can still be counted");
    refuse(&shop, "sat", "flange-bolt", 11 * LB_MILLION, LB_CAME_WRONG, "shelf set Orlop 100-02 QUANTITY");
    refuse(&shop, "sat", "flange-bolt", 10 * LB_MILLION, LB_CAME_SHORT, "Nothing was recorded");
    expect_line(&shop, "sat", "flange-bolt", "1/7/0/0");
    expect_shelf(&shop, "");
    receive_part(&shop, "sat", "flange-bolt", "Kestrel", "K-2", LB_MILLION, LB_CAME_WELL, LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "no Kestrel K-2 was ordered"), "%s", lb_error_text(&err));
    shop_close(&shop);
}

Test(orders, kits_share_an_order_line)
{
    struct shop shop = shop_open();
    shop_order(&shop, both);
    expect_number(&shop, "SELECT packs FROM order_line WHERE part_number = '100-02'", 2);
    struct lb_receipts receipt =
        receive_part(&shop, "sun", "flange-bolt", NULL, NULL, 10 * LB_MILLION, LB_CAME_WELL, LB_OK);
    cr_expect_eq(receipt.at[0]->to_line, 8 * LB_MILLION);
    cr_assert_eq(receipt.at[0]->other_count, 1);
    cr_expect_str_eq(receipt.at[0]->others[0].kit, "sat");
    cr_expect_eq(receipt.at[0]->others[0].quantity, 2 * LB_MILLION);
    lb_receipts_free(&receipt);
    expect_line(&shop, "sun", "flange-bolt", "8/0/0/0");
    expect_line(&shop, "sat", "flange-bolt", "2/6/0/0");
    receive(&shop, "sun", "flange-bolt", 10 * LB_MILLION, LB_CAME_WELL);
    expect_line(&shop, "sat", "flange-bolt", "8/0/0/0");
    expect_shelf(&shop, "100-02 4");
    shop_close(&shop);
}

Test(orders, another_part_that_was_named_since_is_bought_from_scratch)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "flange-bolt"), LB_BUY, "Kestrel", "K-2", &err));
    lb_kit_free(kit);
    expect_line(&shop, "sat", "flange-bolt", "0/0/0/8");
    receive(&shop, "sat", "flange-bolt", 10 * LB_MILLION, LB_CAME_WELL);
    expect_line(&shop, "sat", "flange-bolt", "0/0/0/8");
    expect_shelf(&shop, "100-02 10");
    shop_close(&shop);
}

Test(orders, what_nothing_needs_any_more_goes_on_the_shelf)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "coolant"), LB_HAVE, NULL, NULL, &err));
    lb_kit_free(kit);
    receive(&shop, "sat", "coolant", 5 * LB_MILLION, LB_CAME_WELL);
    expect_shelf(&shop, "100-04 5");
    expect_line(&shop, "sat", "coolant", "0/0/0/0");
    shop_close(&shop);
}

Test(orders, a_need_that_shrank_takes_less)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    shop_import(&shop, "circuits.csv", "platform,circuit,capacity,fluid_type\np1,coolant,3,coolant\n");
    receive(&shop, "sat", "coolant", 5 * LB_MILLION, LB_CAME_WELL);
    expect_line(&shop, "sat", "coolant", "3/0/0/0");
    expect_shelf(&shop, "100-04 2 opened");
    shop_close(&shop);
}

/* A pump with its gasket and bolts in the box. */
Test(orders, what_is_in_a_box_that_was_ordered_covers)
{
    struct shop shop = shop_open();
    shop_import(&shop, "box-parts.csv", "brand,part_number,part_type\nOrlop,100-11,water-pump\n");
    shop_import(&shop, "contents.csv",
                "brand,part_number,item_type,item_spec,quantity\nOrlop,100-11,pump-gasket,,1\n"
                "Orlop,100-11,flange-bolt,M6x1.0x25 8.8,6\n");
    shop_import(&shop, "box-applications.csv", "brand,part_number,make,model\nOrlop,100-11,Orlop,Finch\n");
    shop_import(&shop, "box-offers.csv",
                "supplier,brand,part_number,price,currency\nquay,Orlop,100-11,48.50,EUR\n");
    expect_line(&shop, "sat", "flange-bolt", "0/0/0/2");
    shop_order(&shop, sat);
    expect_line(&shop, "sat", "water-pump", "0/1/0/0");
    expect_line(&shop, "sat", "pump-gasket", "0/0/0/0");
    expect_line(&shop, "sat", "flange-bolt", "0/2/0/0");
    receive(&shop, "sat", "water-pump", LB_MILLION, LB_CAME_WELL);
    expect_line(&shop, "sat", "water-pump", "1/0/0/0");
    expect_line(&shop, "sat", "pump-gasket", "0/0/0/0");
    receive(&shop, "sat", "water-pump", LB_MILLION, LB_CAME_WRONG);
    expect_line(&shop, "sat", "water-pump", "0/0/0/1");
    struct lb_kit *kit = shop_open_kit(&shop, "sat"); /* without the box, its gasket is wanted again */
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "water-pump"), LB_BUY, "Orlop", "100-01", &err));
    lb_kit_free(kit);
    expect_line(&shop, "sat", "pump-gasket", "0/0/0/1");
    shop_close(&shop);
}

static void expect_deposits(struct shop *shop, const char *want)
{
    struct lb_deposit_list list;
    struct lb_buf seen = {0};
    expect_ok(lb_deposits(&list, shop->store, SHOP_TODAY, &err));
    for (size_t i = 0; i < list.count; i++)
        lb_buf_printf(&seen, "%s%s: %lld, %lld %s since %.10s for %s", i ? "; " : "", list.at[i].supplier,
                      (long long)list.at[i].packs, (long long)list.at[i].amount, list.at[i].currency,
                      list.at[i].since, list.at[i].kits);
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_deposits_free(&list);
}

static lb_status claim(struct shop *shop, const char *name, const char *part_type)
{
    struct lb_deposit_list list;
    struct lb_kit *kit = shop_open_kit(shop, name);
    lb_status status = lb_deposits_claim(&list, shop->store, kit,
                                         part_type ? shop_line(kit, part_type) : NULL, SHOP_TODAY, &err);
    lb_deposits_free(&list);
    lb_kit_free(kit);
    return status;
}

Test(orders, deposits_are_open_once_the_pack_came)
{
    struct shop shop = shop_open();
    shop_kit(&shop, "mon", "both");
    shop_order(&shop, (const char *const[]){"sun", "mon", NULL});
    expect_deposits(&shop, "");
    cr_expect_eq(claim(&shop, "sun", NULL), LB_DATA);
    receive(&shop, "sun", "starter-motor", LB_MILLION, LB_CAME_WELL);
    expect_deposits(&shop, "Mill Lane: 1, 2500 EUR since 2026-01-01 for sun 2");
    receive(&shop, "mon", "starter-motor", LB_MILLION, LB_CAME_WELL);
    expect_deposits(&shop, "Mill Lane: 2, 5000 EUR since 2026-01-01 for sun 2, mon 2");
    cr_expect_eq(claim(&shop, "sun", "water-pump"), LB_DATA);
    expect_ok(claim(&shop, "sun", "starter-motor"));
    expect_deposits(&shop, "Mill Lane: 1, 2500 EUR since 2026-01-01 for mon 2");
    cr_expect_eq(claim(&shop, "sun", "starter-motor"), LB_DATA);
    expect_ok(claim(&shop, "mon", NULL));
    expect_deposits(&shop, "");
    shop_close(&shop);
}

Test(orders, on_way_tells_from_whom_and_when)
{
    struct shop shop = shop_open();
    struct lb_on_way_list list;
    shop_order(&shop, sat);
    receive(&shop, "sat", "flange-bolt", 5 * LB_MILLION, LB_CAME_WELL);
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    expect_ok(lb_orders_on_way(&list, shop.store, kit, &err));
    cr_assert_eq(list.count, 4);
    for (size_t i = 0; i < list.count; i++) {
        const struct lb_on_way *one = &list.at[i];
        cr_expect(one->line > 0 && (!i || one->line > list.at[i - 1].line));
        bool quay = strcmp(one->supplier, "Quayside Parts") == 0;
        cr_expect_eq(one->expected, quay ? SHOP_TODAY + 3 : LB_NO_DAY);
        if (strcmp(one->number, "100-02") == 0)
            cr_expect_eq(one->quantity, 3 * LB_MILLION);
    }
    lb_on_way_free(&list);
    lb_kit_free(kit);
    shop_close(&shop);
}

Test(orders, what_comes_together_is_recorded_together)
{
    struct shop shop = shop_open();
    struct lb_receipts receipts;
    shop_order(&shop, sat);
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    struct lb_arrival arrivals[] = {{.line = shop_line(kit, "water-pump"), .quantity = LB_MILLION},
                                    {.line = shop_line(kit, "flange-bolt"), .quantity = 6 * LB_MILLION},
                                    {.line = shop_line(kit, "flange-bolt"), .quantity = 6 * LB_MILLION}};
    cr_expect_eq(lb_orders_receive(&receipts, shop.store, kit, arrivals, 3, LB_CAME_WELL, SHOP_NOW, &err),
                 LB_DATA);
    cr_expect_eq(receipts.count, 0);
    cr_expect(strstr(lb_error_text(&err), "6 of Orlop 100-02: of 10 that were ordered 0 came before, 6 were "
                                          "named just before this, and 4 can still be counted."),
              "%s", lb_error_text(&err));
    expect_number(&shop, "SELECT sum(came) FROM order_line", 0);
    arrivals[2].quantity = 4 * LB_MILLION; /* the line wants 8: what it was given just now counts */
    expect_ok(lb_orders_receive(&receipts, shop.store, kit, arrivals, 3, LB_CAME_WELL, SHOP_NOW, &err));
    cr_assert_eq(receipts.count, 3);
    cr_expect_eq(receipts.at[1]->to_line, 6 * LB_MILLION);
    cr_expect_eq(receipts.at[2]->to_line, 2 * LB_MILLION);
    cr_expect_eq(receipts.at[2]->to_shelf, 2 * LB_MILLION);
    lb_receipts_free(&receipts);
    lb_kit_free(kit);
    expect_line(&shop, "sat", "water-pump", "1/0/0/0");
    expect_line(&shop, "sat", "flange-bolt", "8/0/0/0");
    shop_close(&shop);
}

static const struct lb_interval any_day = {LB_DATE_MIN, LB_DATE_MAX};

static lb_status receive_parcel(struct shop *shop, const char *kit_name, const char *supplier,
                                struct lb_interval ordered, size_t want)
{
    struct lb_receipts receipts;
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    lb_status status = lb_orders_receive_parcel(&receipts, shop->store, kit, supplier, ordered, LB_CAME_WELL,
                                                SHOP_NOW, &err);
    cr_expect_eq(receipts.count, want, "%zu", receipts.count);
    lb_receipts_free(&receipts);
    lb_kit_free(kit);
    return status;
}

Test(orders, a_parcel_comes_whole)
{
    struct shop shop = shop_open();
    shop_order(&shop, both);
    receive(&shop, "sat", "flange-bolt", LB_MILLION, LB_CAME_SHORT);
    cr_expect_eq(receive_parcel(&shop, "sat", "quays", any_day, 0), LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "Quayside Parts (2026-01-01)"), "%s", lb_error_text(&err));
    int64_t lines;
    expect_ok(lb_store_integer(shop.store,
                               "SELECT count(*) FROM order_line l JOIN orders o ON o.id = l.\"order\" "
                               "WHERE o.supplier = 'quay'",
                               &lines, &err));
    expect_ok(receive_parcel(&shop, "sat", "quayside PARTS", any_day, (size_t)lines));
    expect_number(&shop,
                  "SELECT sum(l.packs * l.pack_quantity - l.came - l.short) FROM order_line l JOIN orders o "
                  "ON o.id = l.\"order\" WHERE o.supplier = 'quay'",
                  0);
    expect_line(&shop, "sat", "flange-bolt", "8/0/0/0"); /* there was more than is wanted */
    expect_line(&shop, "sun", "flange-bolt", "8/0/0/0");
    expect_shelf(&shop, "100-02 3");
    cr_expect_eq(receive_parcel(&shop, "sat", "quay", any_day, 0), LB_DATA);
    shop_close(&shop);
}

Test(orders, of_two_parcels_it_is_said_which)
{
    struct shop shop = shop_open();
    shop_order(&shop, sat);
    receive(&shop, "sat", "flange-bolt", 9 * LB_MILLION, LB_CAME_DAMAGED);
    expect_ok(lb_store_execute(shop.store, "UPDATE orders SET ordered = '2025-12-20T08:00:00Z'", &err));
    shop_order(&shop, sat);
    cr_expect_eq(receive_parcel(&shop, "sat", "quay", any_day, 0), LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "of 2025-12-20 and 2026-01-01"), "%s", lb_error_text(&err));
    expect_line(&shop, "sat", "flange-bolt", "0/8/0/0");
    expect_ok(receive_parcel(&shop, "sat", "quay", (struct lb_interval){SHOP_TODAY, SHOP_TODAY}, 1));
    expect_line(&shop, "sat", "flange-bolt", "7/1/0/0");
    expect_line(&shop, "sat", "water-pump", "0/1/0/0");
    shop_close(&shop);
}
