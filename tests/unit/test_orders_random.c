/* Whatever comes in whatever order: nothing is lost, nothing is counted twice. */
#include "shop_help.h"

static uint32_t seed;

static int64_t roll(int64_t below)
{
    seed = seed * 1664525u + 1013904223u;
    return (int64_t)(seed >> 8) % below;
}

static void expect_zero(struct shop *shop, const char *what, const char *sql, int step)
{
    int64_t got;
    expect_ok(lb_store_integer(shop->store, sql, &got, &err));
    cr_assert_eq(got, 0, "step %d: %s: %lld", step, what, (long long)got);
}

#define OPEN "(l.packs * l.pack_quantity - l.came - l.wrong - l.damaged - l.short)"

static void expect_sound(struct shop *shop, int step)
{
    expect_zero(shop, "counted beyond what was ordered",
                "SELECT count(*) FROM order_line l WHERE " OPEN
                " < 0 OR min(l.came, l.wrong, l.damaged, l.short) < 0",
                step);
    expect_zero(shop, "a share that makes no sense",
                "SELECT count(*) FROM supply WHERE here < 0 OR lost < 0 OR quantity < here + lost", step);
    expect_zero(shop, "more promised than is on its way",
                "SELECT count(*) FROM order_line l WHERE " OPEN
                " < (SELECT coalesce(sum(quantity - here - lost), 0) "
                "FROM supply s WHERE s.order_line = l.id)",
                step);
    expect_zero(shop, "parts that came and are nowhere, or twice",
                "SELECT (SELECT coalesce(sum(came), 0) FROM order_line) - (SELECT coalesce(sum(here), 0) "
                "FROM supply) - "
                "(SELECT coalesce(sum(quantity), 0) FROM shelf)",
                step);
}

static void receive_any(struct shop *shop)
{
    static const char *const kits[] = {"sat", "sun"};
    static const char *const types[] = {"flange-bolt", "coolant", "water-pump", "starter-motor"};
    struct lb_kit *kit = shop_open_kit(shop, kits[roll(2)]);
    const char *type = types[roll(strcmp(kit->name, "sun") == 0 ? 4 : 3)];
    struct lb_receipts receipts;
    int64_t quantity = (1 + roll(roll(2) ? 4 : 12)) * LB_MILLION / (strcmp(type, "coolant") == 0 ? 2 : 1);
    const struct lb_arrival arrival = {.line = shop_line(kit, type), .quantity = quantity};
    lb_status status =
        lb_orders_receive(&receipts, shop->store, kit, &arrival, 1, (enum lb_came)roll(4), SHOP_NOW, &err);
    cr_assert(status == LB_OK || status == LB_DATA, "%s", lb_error_text(&err));
    lb_receipts_free(&receipts);
    lb_kit_free(kit);
}

static void decide_any(struct shop *shop)
{
    struct lb_kit *kit = shop_open_kit(shop, "sat");
    const struct lb_line *line = shop_line(kit, roll(2) ? "flange-bolt" : "coolant");
    expect_ok(lb_kit_decide(shop->store, kit, line, (enum lb_decision)roll(4), NULL, NULL, &err));
    lb_kit_free(kit);
}

static void run(uint32_t from)
{
    struct shop shop = shop_open();
    seed = from;
    for (int step = 0; step < 60; step++) {
        int64_t what = roll(10);
        if (what == 0)
            shop_order(&shop, roll(2) ? (const char *const[]){"sat", "sun", NULL}
                                      : (const char *const[]){"sun", NULL});
        else if (what == 1)
            decide_any(&shop);
        else
            receive_any(&shop);
        expect_sound(&shop, step);
    }
    shop_close(&shop);
}

Test(orders_random, seeds_1_to_4)
{
    for (uint32_t from = 1; from <= 4; from++)
        run(from);
}

Test(orders_random, seeds_5_to_8)
{
    for (uint32_t from = 5; from <= 8; from++)
        run(from);
}
