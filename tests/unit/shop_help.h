/* A garage with two kits and three suppliers, and purchases for its kits made by hand: each line at the part
 * that the kit proposes and its cheapest offer, boxes covering nothing. What is tested is what happens then.
 */
#ifndef LB_TESTS_SHOP_HELP_H
#define LB_TESTS_SHOP_HELP_H

#include "fitting_help.h"
#include "scratch.h"

#include "base/decimal.h"
#include "catalog/lookup.h"
#include "garage/shelf.h"
#include "garage/vehicle.h"
#include "purchase/orders.h"
#include "purchase/parts.h"

enum { SHOP_ROOM = 64, SHOP_TODAY = 20454, SHOP_NOW = 20454 * 86400 + 3600 };

static struct lb_error err;

struct shop {
    struct scratch s;
    struct lb_store *store;
};

/* A purchase with the room that it points into. */
struct bought {
    struct lb_purchase purchase;
    struct lb_kit *kits[4];
    const struct lb_part *parts[SHOP_ROOM];
    struct lb_basket_part goods[SHOP_ROOM];
    struct lb_basket_offer terms[SHOP_ROOM][8];
    const struct lb_part_offer *offers[SHOP_ROOM][8];
    const struct lb_part_offer *const *offer_lists[SHOP_ROOM];
    struct lb_purchase_need needs[SHOP_ROOM];
    struct lb_basket_need wants[SHOP_ROOM];
    struct lb_basket_option options[SHOP_ROOM];
    size_t part_count, need_count;
};

static inline void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static inline void shop_import(struct shop *shop, const char *name, const char *rows)
{
    scratch_write(&shop->s, name, rows, strlen(rows));
    fitting_import(shop->store, shop->s.folder);
}

static inline void shop_map(struct shop *shop)
{
    shop_import(shop, "platforms.csv", "platform,make,model\np1,Orlop,Finch\n");
    shop_import(shop, "components.csv",
                "platform,component,part_type,quantity\np1,pump,water-pump,1\np1,starter,starter-motor,1\n"
                "p1,cover,cover,1\n");
    shop_import(shop, "fastenings.csv",
                "platform,component,item,kind,part_type,quantity,reuse,spec\n"
                "p1,pump,pump bolt,bolt,flange-bolt,8,never,M6x1.0x25 8.8\n"
                "p1,pump,pump gasket,gasket,pump-gasket,1,never,\n"
                "p1,cover,cover bolt,bolt,flange-bolt,4,never,M8x1.25x25 8.8\n");
    shop_import(shop, "circuits.csv", "platform,circuit,capacity,fluid_type\np1,coolant,3.6,coolant\n");
    shop_import(shop, "opens.csv", "platform,component,circuit,share_percent\np1,pump,coolant,100\n");
    shop_import(shop, "jobs.csv",
                "platform,job,component\np1,pump,pump\np1,both,pump\np1,both,starter\np1,cover,cover\n");
}

static inline void shop_trade(struct shop *shop)
{
    shop_import(shop, "suppliers.csv",
                "supplier,currency,name,ship_days,tax_percent\nquay,EUR,Quayside Parts,3,20\n"
                "mill,EUR,Mill Lane,,\nstern,GBP,\"Stern, Sons & Co\",5,\n");
    shop_import(shop, "shipping.csv", "supplier,goods_from,charge\nquay,0,4.90\nmill,0,6.00\n");
    shop_import(shop, "parts.csv",
                "brand,part_number,part_type,spec,unit,description\n"
                "Orlop,100-01,water-pump,,each,Water pump\nOrlop,100-02,flange-bolt,M6x1.0x25 8.8,each,\n"
                "Kestrel,K-2,flange-bolt,M6x1.0x25 8.8,each,=Bolt\nOrlop,100-03,pump-gasket,,each,\n"
                "Orlop,100-04,coolant,,L,\"Coolant, blue\"\nOrlop,100-05,starter-motor,,each,\n"
                "Orlop,100-08,flange-bolt,M8x1.25x25 8.8,each,\nOrlop,100-09,cover,,each,\n");
    shop_import(shop, "applications.csv",
                "brand,part_number,make,model\nOrlop,100-01,Orlop,Finch\nOrlop,100-03,Orlop,Finch\n"
                "Orlop,100-05,Orlop,Finch\nOrlop,100-09,Orlop,Finch\n");
    shop_import(shop, "offers.csv",
                "supplier,brand,part_number,price,currency,pack_quantity,core_deposit,supplier_code\n"
                "quay,Orlop,100-01,48.00,EUR,1,,Q1\nquay,Orlop,100-02,1.00,EUR,10,,Q2\n"
                "mill,Kestrel,K-2,5.00,EUR,8,,\nquay,Orlop,100-03,3.20,EUR,1,,\n"
                "mill,Orlop,100-04,7.50,EUR,5,,M4\nmill,Orlop,100-05,90.00,EUR,1,25.00,\n"
                "quay,Orlop,100-08,0.40,EUR,1,,\nquay,Orlop,100-09,12.00,EUR,1,,\n");
}

static inline void shop_kit(struct shop *shop, const char *name, const char *job)
{
    struct lb_vehicle vehicle = {0};
    struct lb_kit *kit;
    struct lb_want want = {LB_WANT_JOB, (char *)job};
    expect_ok(lb_vehicle_load(shop->store, "finch", &vehicle, &err));
    expect_ok(lb_kit_build(&kit, shop->store, name, &vehicle, &want, 1, SHOP_TODAY, &err));
    lb_kit_free(kit);
    lb_vehicle_free(&vehicle);
}

/* Kits "sat" (pump) and "sun" (pump and starter). */
static inline struct shop shop_open(void)
{
    struct shop shop = {.s = scratch_make()};
    struct lb_vehicle vehicle = {.name = strdup("finch"), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    expect_ok(lb_store_open(&shop.store, scratch_path(&shop.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(shop.store, &err));
    shop_map(&shop);
    shop_trade(&shop);
    expect_ok(lb_vehicle_state(&vehicle, "make", "Orlop", &err));
    expect_ok(lb_vehicle_state(&vehicle, "model", "Finch", &err));
    expect_ok(lb_vehicle_save(shop.store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
    shop_kit(&shop, "sat", "pump");
    shop_kit(&shop, "sun", "both");
    return shop;
}

static inline void shop_close(struct shop *shop)
{
    lb_store_close(shop->store);
    scratch_remove(&shop->s);
    lb_error_free(&err);
}

static inline struct lb_kit *shop_open_kit(struct shop *shop, const char *name)
{
    struct lb_kit *kit;
    expect_ok(lb_kit_open(&kit, shop->store, name, SHOP_TODAY, &err));
    return kit;
}

/* The kit's first line for a type of part. */
static inline const struct lb_line *shop_line(const struct lb_kit *kit, const char *part_type)
{
    for (size_t i = 0; i < kit->line_count; i++)
        if (strcmp(kit->lines[i].need->article.part_type, part_type) == 0)
            return &kit->lines[i];
    cr_assert_fail("no line for %s", part_type);
    return NULL;
}

static inline uint32_t bought_supplier(const struct bought *b, const char *name)
{
    for (uint32_t i = 0; i < b->purchase.market.supplier_count; i++)
        if (strcmp(b->purchase.market.suppliers[i].name, name) == 0)
            return i;
    cr_assert_fail("no supplier %s", name);
    return 0;
}

static inline uint32_t bought_part(struct bought *b, struct shop *shop, const struct lb_kit *kit,
                                   const struct lb_part *part)
{
    for (uint32_t p = 0; p < b->part_count; p++)
        if (strcmp(b->parts[p]->key, part->key) == 0)
            return p;
    uint32_t p = (uint32_t)b->part_count++;
    cr_assert(p < SHOP_ROOM && part->offer_count <= 8);
    b->parts[p] = part;
    for (size_t o = 0; o < part->offer_count; o++) {
        b->offers[p][o] = &part->offers[o];
        b->terms[p][o] = lb_kit_offer(&part->offers[o]);
        b->terms[p][o].supplier = bought_supplier(b, kit->suppliers[part->offers[o].supplier].name);
    }
    b->offer_lists[p] = b->offers[p];
    b->goods[p] = (struct lb_basket_part){b->terms[p], part->offer_count, 0};
    expect_ok(lb_shelf_quantity(shop->store, part->key, &b->goods[p].on_hand, &err));
    return p;
}

static inline void bought_line(struct bought *b, struct shop *shop, uint32_t kit, const struct lb_line *line)
{
    int64_t quantity = line->to_buy + line->from_shelf;
    if (line->decision != LB_BUY || line->chosen == LB_NO_NAME || !quantity)
        return;
    size_t n = b->need_count++;
    uint32_t part = bought_part(b, shop, b->kits[kit], line->candidates[line->chosen].part);
    b->needs[n] = (struct lb_purchase_need){.kit = kit, .line = line};
    b->options[n] = (struct lb_basket_option){.part = part, .quantity = quantity};
    b->wants[n] = (struct lb_basket_need){quantity, &b->options[n], 1};
}

/* Names end with NULL. */
static inline struct bought *shop_buy(struct shop *shop, const char *const *names)
{
    struct bought *b = calloc(1, sizeof *b);
    cr_assert(b);
    struct lb_market *market = &b->purchase.market;
    for (; *names; names++)
        b->kits[b->purchase.kit_count++] = shop_open_kit(shop, *names);
    *market = (struct lb_market){.suppliers = b->kits[0]->suppliers,
                                 .supplier_count = b->kits[0]->supplier_count,
                                 .parts = b->goods,
                                 .needs = b->wants,
                                 .currency = "EUR"};
    for (uint32_t k = 0; k < b->purchase.kit_count; k++)
        for (size_t i = 0; i < b->kits[k]->line_count; i++)
            bought_line(b, shop, k, &b->kits[k]->lines[i]);
    market->part_count = b->part_count;
    market->need_count = b->need_count;
    b->purchase.kits = b->kits;
    b->purchase.parts = b->parts;
    b->purchase.offers = b->offer_lists;
    b->purchase.needs = b->needs;
    b->purchase.today = SHOP_TODAY;
    expect_ok(lb_basket_cheapest(&b->purchase.basket, market, &err));
    return b;
}

static inline void bought_free(struct bought *b)
{
    lb_basket_free(b->purchase.basket);
    for (size_t k = 0; k < b->purchase.kit_count; k++)
        lb_kit_free(b->kits[k]);
    free(b);
}

static inline void shop_record(struct shop *shop, const struct bought *b)
{
    expect_ok(lb_store_begin(shop->store, &err));
    expect_ok(lb_orders_record(shop->store, &b->purchase, NULL, SHOP_NOW, &err));
    expect_ok(lb_store_commit(shop->store, &err));
}

static inline void shop_order(struct shop *shop, const char *const *names)
{
    struct bought *b = shop_buy(shop, names);
    shop_record(shop, b);
    bought_free(b);
}

/* What the line has and wants: "here/on its way/from the shelf/to buy". */
static inline void expect_line(struct shop *shop, const char *kit_name, const char *part_type,
                               const char *want)
{
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    const struct lb_line *line = shop_line(kit, part_type);
    const int64_t numbers[] = {line->here, line->on_way, line->from_shelf, line->to_buy};
    struct lb_buf seen = {0};
    for (int i = 0; i < 4; i++) {
        lb_buf_puts(&seen, i ? "/" : "");
        lb_decimal_print(&seen, numbers[i]);
    }
    cr_expect_str_eq(lb_buf_text(&seen), want, "%s %s: %s instead of %s", kit_name, part_type,
                     lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_kit_free(kit);
}

static inline void expect_shelf(struct shop *shop, const char *want)
{
    struct lb_shelf shelf;
    struct lb_buf seen = {0};
    expect_ok(lb_shelf_load(&shelf, shop->store, &err));
    for (size_t i = 0; i < shelf.items.count; i++) {
        lb_buf_printf(&seen, "%s%s ", i ? ", " : "", shelf.items.at[i].number);
        lb_decimal_print(&seen, shelf.items.at[i].quantity);
        lb_buf_puts(&seen, shelf.items.at[i].opened ? " opened" : "");
    }
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_shelf_free(&shelf);
}

#endif
