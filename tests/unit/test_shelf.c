/* The shelf, and what a kit makes of it. */
#include "shop_help.h"

#include "catalog/partkey.h"

static struct lb_shelf_item item_of(const char *key, int64_t quantity, bool opened)
{
    return (struct lb_shelf_item){.key = key,
                                  .brand = "Orlop",
                                  .number = key,
                                  .unit = "each",
                                  .quantity = quantity,
                                  .opened = opened,
                                  .since = "2026-01-01T00:00:00Z"};
}

static void put(struct shop *shop, const char *brand, const char *number, const char *unit, int64_t quantity,
                bool opened)
{
    struct lb_buf key = {0};
    lb_part_key(&key, brand, number);
    struct lb_shelf_item item = item_of(lb_buf_text(&key), quantity, opened);
    item.brand = brand;
    item.number = number;
    item.unit = unit;
    expect_ok(lb_shelf_set(shop->store, &item, &err));
    lb_buf_free(&key);
}

Test(shelf, added_taken_and_set)
{
    struct shop shop = shop_open();
    struct lb_shelf_item item = item_of("a", 3 * LB_MILLION, false), more = item_of("a", 500000, true);
    int64_t quantity;
    expect_ok(lb_shelf_add(shop.store, &item, &err));
    expect_ok(lb_shelf_add(shop.store, &more, &err));
    expect_shelf(&shop, "a 3.5 opened");
    cr_expect_eq(lb_shelf_take(shop.store, "a", 3500001, &err), LB_DATA);
    expect_ok(lb_shelf_take(shop.store, "a", LB_MILLION, &err));
    expect_shelf(&shop, "a 2.5 opened");
    expect_ok(lb_shelf_set(shop.store, &item, &err)); /* what was opened stays so */
    expect_shelf(&shop, "a 3 opened");
    expect_ok(lb_shelf_take(shop.store, "a", 3 * LB_MILLION, &err));
    expect_shelf(&shop, "");
    expect_ok(lb_shelf_quantity(shop.store, "a", &quantity, &err));
    cr_expect_eq(quantity, 0);
    expect_ok(lb_shelf_add(shop.store, &item, &err));
    item.quantity = 0;
    expect_ok(lb_shelf_set(shop.store, &item, &err));
    expect_shelf(&shop, "");
    shop_close(&shop);
}

Test(shelf, covers_a_need_and_is_preferred)
{
    struct shop shop = shop_open();
    expect_line(&shop, "sat", "flange-bolt", "0/0/0/8");
    put(&shop, "Kestrel", "K-2", "each", 7 * LB_MILLION, false);
    expect_line(&shop, "sat", "flange-bolt", "0/0/0/8"); /* the cheaper one stays chosen */
    put(&shop, "Kestrel", "K-2", "each", 8 * LB_MILLION, false);
    expect_line(&shop, "sat", "flange-bolt", "0/0/8/0");
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    const struct lb_line *line = shop_line(kit, "flange-bolt");
    cr_expect_str_eq(line->candidates[line->chosen].part->number, "K-2");
    cr_expect(strstr(line->because, "it lies on the shelf"), "%s", line->because);
    cr_expect_not(line->opened);
    lb_kit_free(kit);
    put(&shop, "Orlop", "100-02", "each", 3 * LB_MILLION, false);
    put(&shop, "Kestrel", "K-2", "each", 0, false);
    expect_line(&shop, "sat", "flange-bolt", "0/0/3/5");
    shop_close(&shop);
}

Test(shelf, opened_fluids_are_taken_and_said)
{
    struct shop shop = shop_open();
    put(&shop, "Orlop", "100-04", "L", 1400000, true);
    expect_line(&shop, "sat", "coolant", "0/0/1.4/2.2");
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    cr_expect(shop_line(kit, "coolant")->opened);
    lb_kit_free(kit);
    shop_close(&shop);
}

/* Two lines of one kit that take the same part: here the bolts of the pump, once more for the cover. */
Test(shelf, lines_share_it_in_their_order)
{
    struct shop shop = shop_open();
    shop_import(&shop, "more-fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse,spec\n"
                "p1,pump,bracket bolt,bolt,bracket-bolt,4,never,M6x1.0x25 8.8\n");
    shop_import(&shop, "more-parts.csv",
                "brand,part_number,part_type,spec\nOrlop,100-02,bracket-bolt,M6x1.0x25 8.8\n");
    put(&shop, "Orlop", "100-02", "each", 10 * LB_MILLION, false);
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    const struct lb_line *a = shop_line(kit, "flange-bolt"), *b = shop_line(kit, "bracket-bolt");
    cr_expect_eq(a->from_shelf + b->from_shelf, 10 * LB_MILLION);
    const struct lb_line *first = a->number < b->number ? a : b, *second = first == a ? b : a;
    cr_expect_eq(first->to_buy, 0);
    cr_expect_eq(second->to_buy, 2 * LB_MILLION);
    lb_kit_free(kit);
    shop_close(&shop);
}

Test(shelf, an_order_takes_it_off)
{
    struct shop shop = shop_open();
    put(&shop, "Orlop", "100-02", "each", 12 * LB_MILLION, false);
    put(&shop, "Orlop", "100-04", "L", LB_MILLION, true);
    shop_order(&shop, (const char *const[]){"sat", NULL});
    expect_line(&shop, "sat", "flange-bolt", "8/0/0/0");
    expect_line(&shop, "sat", "coolant", "1/2.6/0/0");
    expect_shelf(&shop, "100-02 4");
    shop_close(&shop);
}
