/* What has changed since a kit was locked: each thing by itself, and nothing else is said. */
#include "kit/drift.h"
#include "purchase_help.h"

static struct lb_kit_lock lock_kit(struct shop *shop, const char *name)
{
    struct lb_kit *kit = shop_open_kit(shop, name);
    struct lb_kit_lock lock;
    expect_ok(lb_lock_make(&lock, shop->store, kit, SHOP_TODAY, &err));
    lb_kit_free(kit);
    return lock;
}

/* "LINE CODE: MESSAGE" a line; files that were imported again are left out but for their code. */
static void expect_drift(struct shop *shop, const char *name, const struct lb_kit_lock *was, int32_t today,
                         const char *want)
{
    struct lb_kit *kit;
    struct lb_drift drift;
    struct lb_buf seen = {0};
    expect_ok(lb_kit_open(&kit, shop->store, name, today, &err));
    expect_ok(lb_kit_drift(&drift, shop->store, kit, was, today, &err));
    cr_expect_eq(drift.locked, SHOP_TODAY);
    for (size_t i = 0; i < drift.items.count; i++)
        lb_buf_printf(&seen, "%d %s: %s\n", drift.items.at[i].line, lb_drift_name(drift.items.at[i].code),
                      drift.items.at[i].message);
    cr_expect_str_eq(lb_buf_text(&seen), want, "\n%s\ninstead of\n%s", lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_drift_free(&drift);
    lb_kit_free(kit);
}

static void edit_map(struct shop *shop, const char *fastenings)
{
    struct lb_buf rows = {0};
    lb_buf_puts(&rows, "platform,component,item,kind,part_type,quantity,reuse,spec,torque,angle\n");
    lb_buf_puts(&rows, fastenings);
    shop_import(shop, "fastenings.csv", lb_buf_text(&rows));
    lb_buf_free(&rows);
}

static void state(struct shop *shop, const char *key, const char *value)
{
    struct lb_vehicle vehicle = {0};
    expect_ok(lb_vehicle_load(shop->store, "finch", &vehicle, &err));
    expect_ok(lb_vehicle_state(&vehicle, key, value, &err));
    expect_ok(lb_vehicle_save(shop->store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
}

static void nothing(struct shop *shop)
{
    (void)shop;
}

static void price_up(struct shop *shop)
{
    reprice(shop, "quay,Orlop,100-02,1.20,EUR,10,\n");
}

static void price_down(struct shop *shop)
{
    reprice(shop, "mill,Orlop,100-04,7.05,EUR,5,\n");
}

static void offer_gone(struct shop *shop)
{
    reprice(shop, "stern,Orlop,100-03,3.00,GBP,1,\n");
}

static void out_of_stock(struct shop *shop)
{
    reprice(shop, "quay,Orlop,100-03,3.20,EUR,1,0\n");
}

static void other_pack(struct shop *shop)
{
    reprice(shop, "mill,Orlop,100-04,7.50,EUR,1,\n");
}

static void superseded(struct shop *shop)
{
    shop_import(shop, "supersessions.csv",
                "brand,part_number,new_brand,new_number\nOrlop,100-03,Orlop,100-33\n");
}

/* One part gives way to two, or to another one. */
static void superseded_by_several(struct shop *shop)
{
    shop_import(shop, "supersessions.csv",
                "brand,part_number,new_brand,new_number,quantity,group\nOrlop,100-03,Orlop,100-33,1,a\n"
                "Orlop,100-03,Orlop,100-34,1,a\nOrlop,100-03,Orlop,100-35,1,b\n");
}

static void discontinued(struct shop *shop)
{
    shop_import(shop, "more.csv",
                "brand,part_number,part_type,status\nOrlop,100-03,pump-gasket,discontinued\n");
}

static void part_gone(struct shop *shop)
{
    shop_import(shop, "parts.csv",
                "brand,part_number,part_type,spec,unit\nOrlop,100-01,water-pump,,each\n"
                "Orlop,100-02,flange-bolt,M6x1.0x25 8.8,each\nOrlop,100-04,coolant,,L\n");
    shop_import(shop, "offers.csv",
                "supplier,brand,part_number,price,currency,pack_quantity\nquay,Orlop,100-01,48.00,EUR,1\n"
                "quay,Orlop,100-02,1.00,EUR,10\nmill,Orlop,100-04,7.50,EUR,5\n");
}

static void decided_have(struct shop *shop)
{
    decide(shop, "sat", "pump-gasket", LB_HAVE, NULL, NULL);
}

static void decided_other(struct shop *shop)
{
    decide(shop, "sat", "flange-bolt", LB_BUY, "Kestrel", "K-2");
}

static void torque_and_reuse(struct shop *shop)
{
    edit_map(shop, "p1,pump,pump bolt,bolt,flange-bolt,8,never,M6x1.0x25 8.8,9,45\n"
                   "p1,pump,pump gasket,gasket,pump-gasket,1,never,,,\n");
}

static void fewer_bolts(struct shop *shop)
{
    edit_map(shop, "p1,pump,pump bolt,bolt,flange-bolt,7,never,M6x1.0x25 8.8,,\n"
                   "p1,pump,pump gasket,gasket,pump-gasket,1,never,,,\n");
}

static void goes_back(struct shop *shop)
{
    edit_map(shop, "p1,pump,pump bolt,bolt,flange-bolt,8,always,M6x1.0x25 8.8,,\n"
                   "p1,pump,pump gasket,gasket,pump-gasket,1,never,,,\n");
}

static void new_seal(struct shop *shop)
{
    edit_map(shop, "p1,pump,pump bolt,bolt,flange-bolt,8,never,M6x1.0x25 8.8,,\n"
                   "p1,pump,pump gasket,gasket,pump-gasket,1,never,,,\n"
                   "p1,pump,pump seal,seal,pump-seal,1,never,,,\n");
}

static void more_coolant(struct shop *shop)
{
    shop_import(shop, "circuits.csv", "platform,circuit,capacity,fluid_type\np1,coolant,4.1,coolant\n");
}

static void order_of_work(struct shop *shop)
{
    shop_import(shop, "sequence.csv", "platform,first,then\np1,remove starter,remove pump\n");
}

static void caution(struct shop *shop)
{
    shop_import(shop, "cautions.csv", "platform,component,text\np1,pump,Sharp edge.\n");
}

static void fact_corrected(struct shop *shop)
{
    state(shop, "built", "2001-05");
    state(shop, "engine", "k14");
}

static void fact_forgotten(struct shop *shop)
{
    state(shop, "gearbox", "");
}

static void another_job(struct shop *shop)
{
    shop_kit(shop, "sat", "both");
}

static void source_dropped(struct shop *shop)
{
    expect_ok(
        lb_store_execute(shop->store, "UPDATE source SET name = 'x.csv' WHERE name = 'opens.csv'", &err));
}

static const char again[] = "0 source: imported again and not the same: ";

/* What is expected was written by hand. `files`: those that were imported again; NULL: none. */
static const struct {
    void (*change)(struct shop *);
    const char *kit, *drift, *files;
} cases[] = {
    {nothing, "sat", "", NULL},
    {price_up, "sat", "2 dearer: Orlop 100-02 at Quayside Parts: 1.00 → 1.20 EUR for 10\n", "offers.csv"},
    {price_down, "sat", "4 cheaper: Orlop 100-04 at Mill Lane: 7.50 → 7.05 EUR for 5 L\n", "offers.csv"},
    {offer_gone, "sat", "3 gone: Orlop 100-03 cannot be had from Quayside Parts any more: it was 3.20 EUR\n",
     "offers.csv"},
    {out_of_stock, "sat",
     "3 gone: Orlop 100-03 cannot be had from Quayside Parts any more: it was 3.20 EUR\n", "offers.csv"},
    {other_pack, "sat",
     "4 gone: Orlop 100-04 cannot be had from Mill Lane any more: it was 7.50 EUR for 5 L\n", "offers.csv"},
    {superseded, "sat", "3 superseded: Orlop 100-03 is replaced by Orlop 100-33\n", NULL},
    {superseded_by_several, "sat",
     "3 superseded: Orlop 100-03 is replaced by Orlop 100-33 and Orlop 100-34 or Orlop 100-35\n", NULL},
    {discontinued, "sat", "3 superseded: Orlop 100-03 is discontinued\n", NULL},
    {part_gone, "sat",
     "3 chosen: pump-gasket: Orlop 100-03 → nothing\n3 gone: no catalogue has Orlop 100-03 any more\n",
     "offers.csv, parts.csv"},
    {decided_have, "sat", "3 chosen: pump-gasket: buy → have\n", NULL},
    {decided_other, "sat", "2 chosen: flange-bolt M6x1.0x25 8.8: Orlop 100-02 → Kestrel K-2\n", NULL},
    {torque_and_reuse, "sat",
     "2 map: pump bolt of pump: torque not stated → 9 N·m\n"
     "2 map: pump bolt of pump: angle not stated → 45 °\n",
     "fastenings.csv"},
    {fewer_bolts, "sat",
     "2 map: flange-bolt M6x1.0x25 8.8: needed 8 → 7\n2 map: pump bolt of pump: quantity 8 → 7\n",
     "fastenings.csv"},
    {goes_back, "sat",
     "0 map: not in the kit any more: 8 flange-bolt M6x1.0x25 8.8 for pump\n"
     "0 map: pump bolt of pump: goes back never → always\n",
     "fastenings.csv"},
    {new_seal, "sat",
     "4 map: new in the kit: 1 pump-seal for pump\n4 map: now also to be undone: pump seal of pump\n",
     "fastenings.csv"},
    {more_coolant, "sat", "4 map: coolant: needed 3.6 L → 4.1 L\n4 map: coolant: capacity 3.6 L → 4.1 L\n",
     "circuits.csv"},
    {order_of_work, "sun", "0 map: order of work: \"remove starter\" now comes before \"remove pump\"\n",
     NULL},
    {caution, "sat", "0 map: new caution: Sharp edge.\n", NULL},
    {fact_corrected, "sat", "0 fact: built: 1999 → 2001-05\n0 fact: engine: not stated → k14\n", NULL},
    {fact_forgotten, "sat", "0 fact: gearbox: manual → not stated\n", NULL},
    {another_job, "sat",
     "0 job: the kit was also for: job pump\n0 job: the kit is now also for: job both\n"
     "0 map: now also to be done: remove starter\n0 map: now also to be done: fit starter\n"
     "2 map: new in the kit: 1 starter-motor for starter\n",
     NULL},
    {source_dropped, "sat", "0 gone: opens.csv is not in the index any more\n", NULL},
};

Test(drift, each_change_is_told_and_nothing_else)
{
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct shop shop = shop_open();
        struct lb_buf want = {0};
        state(&shop, "gearbox", "manual");
        state(&shop, "built", "1999");
        struct lb_kit_lock was = lock_kit(&shop, cases[i].kit);
        cases[i].change(&shop);
        lb_buf_puts(&want, cases[i].drift);
        if (cases[i].files)
            lb_buf_printf(&want, "%s%s\n", again, cases[i].files);
        expect_drift(&shop, cases[i].kit, &was, SHOP_TODAY, lb_buf_text(&want));
        lb_buf_free(&want);
        lb_lock_free(&was);
        shop_close(&shop);
    }
}

Test(drift, an_offer_that_is_past_cannot_be_had)
{
    struct shop shop = shop_open();
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency,pack_quantity,valid_to\n"
                "quay,Orlop,100-09,12.00,EUR,1,2026-01-31\nquay,Orlop,100-08,0.40,EUR,1,\n");
    shop_kit(&shop, "lid", "cover");
    struct lb_kit_lock was = lock_kit(&shop, "lid");
    expect_drift(&shop, "lid", &was, SHOP_TODAY + 30, "");
    expect_drift(&shop, "lid", &was, SHOP_TODAY + 31,
                 "1 gone: Orlop 100-09 cannot be had from Quayside Parts any more: it was 12.00 EUR\n");
    lb_lock_free(&was);
    shop_close(&shop);
}

/* Under the same code, and for the same least order, before any cheaper one. */
Test(drift, prices_are_those_of_the_same_offer)
{
    struct shop shop = shop_open();
    static const char head[] =
        "supplier,brand,part_number,price,currency,pack_quantity,supplier_code,minimum_packs\n";
    struct lb_buf rows = {0};
    lb_buf_printf(&rows,
                  "%squay,Orlop,100-09,12.00,EUR,1,A,1\nquay,Orlop,100-09,11.00,EUR,1,B,1\n"
                  "quay,Orlop,100-08,0.40,EUR,1,,1\nquay,Orlop,100-08,0.30,EUR,1,,10\n",
                  head);
    shop_import(&shop, "offers.csv", rows.text);
    shop_kit(&shop, "lid", "cover");
    struct lb_kit_lock was = lock_kit(&shop, "lid");
    lb_buf_clear(&rows);
    lb_buf_printf(&rows,
                  "%squay,Orlop,100-09,9.00,EUR,1,C,1\nquay,Orlop,100-09,12.50,EUR,1,A,1\n"
                  "quay,Orlop,100-09,11.00,EUR,1,B,1\n"
                  "quay,Orlop,100-08,0.40,EUR,1,,1\nquay,Orlop,100-08,0.31,EUR,1,,10\n",
                  head);
    shop_import(&shop, "offers.csv", rows.text);
    expect_drift(&shop, "lid", &was, SHOP_TODAY,
                 "1 dearer: Orlop 100-09 at Quayside Parts: 12.00 → 12.50 EUR\n"
                 "2 dearer: Orlop 100-08 at Quayside Parts: 0.30 → 0.31 EUR\n"
                 "0 source: imported again and not the same: offers.csv\n");
    lb_buf_free(&rows);
    lb_lock_free(&was);
    shop_close(&shop);
}

/* What was ordered is paid for; what came wrong is to be bought again, at what it costs now. */
Test(drift, prices_matter_only_while_something_is_to_be_bought)
{
    struct shop shop = shop_open();
    struct lb_kit_lock was = lock_kit(&shop, "sat");
    shop_order(&shop, (const char *const[]){"sat", NULL});
    price_up(&shop);
    expect_drift(&shop, "sat", &was, SHOP_TODAY, "0 source: imported again and not the same: offers.csv\n");
    receive(&shop, "sat", "flange-bolt", 10, LB_CAME_WRONG);
    expect_drift(&shop, "sat", &was, SHOP_TODAY,
                 "2 dearer: Orlop 100-02 at Quayside Parts: 1.00 → 1.20 EUR for 10\n"
                 "0 source: imported again and not the same: offers.csv\n");
    lb_lock_free(&was);
    shop_close(&shop);
}

Test(drift, the_lock_of_another_kit_is_refused)
{
    struct shop shop = shop_open();
    struct lb_kit_lock was = lock_kit(&shop, "sun");
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    struct lb_drift drift;
    cr_expect_eq(lb_kit_drift(&drift, shop.store, kit, &was, SHOP_TODAY, &err), LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "it is the lock of another kit, sun, not of sat.");
    lb_drift_free(&drift);
    lb_lock_free(&was);
    lb_kit_free(kit);
    shop_close(&shop);
}

static void expect_again(struct shop *shop, const char *part_type, bool want)
{
    struct lb_kit *kit = shop_open_kit(shop, "sat");
    cr_expect_eq(lb_line_wants_again(shop_line(kit, part_type)), want, "%s", part_type);
    lb_kit_free(kit);
}

Test(drift, what_was_lost_is_to_be_bought_again_until_it_is_ordered)
{
    struct shop shop = shop_open();
    expect_again(&shop, "flange-bolt", false);
    shop_order(&shop, (const char *const[]){"sat", NULL});
    expect_again(&shop, "flange-bolt", false);
    receive(&shop, "sat", "flange-bolt", 10, LB_CAME_DAMAGED);
    receive(&shop, "sat", "pump-gasket", 1, LB_CAME_SHORT);
    receive(&shop, "sat", "water-pump", 1, LB_CAME_WELL);
    expect_again(&shop, "flange-bolt", true);
    expect_again(&shop, "pump-gasket", true);
    expect_again(&shop, "water-pump", false);
    expect_again(&shop, "coolant", false);
    decide(&shop, "sat", "pump-gasket", LB_HAVE, NULL, NULL);
    expect_again(&shop, "pump-gasket", false);
    shop_order(&shop, (const char *const[]){"sat", NULL});
    expect_again(&shop, "flange-bolt", false);
    shop_close(&shop);
}

static void lock_it(struct shop *shop, const char *name)
{
    struct lb_kit *kit = shop_open_kit(shop, name);
    struct lb_kit_lock lock = lock_kit(shop, name);
    struct lb_buf text = {0};
    lb_lock_write(&text, &lock);
    expect_ok(lb_lock_keep(shop->store, kit, SHOP_TODAY, lb_buf_text(&text), &err));
    lb_buf_free(&text);
    lb_lock_free(&lock);
    lb_kit_free(kit);
}

/* "sat 2026-01-01: 100-02 100 -> 120;" a lock; purchases in euros. */
static void expect_moved(const struct lb_purchase *p, const char *want)
{
    struct lb_buf seen = {0};
    for (size_t i = 0; i < p->lock_count; i++) {
        lb_buf_printf(&seen, "%s %s:", p->kits[p->locks[i].kit]->name, p->locks[i].locked);
        for (size_t k = 0; k < p->locks[i].moved_count; k++)
            lb_buf_printf(&seen, " %s at %s %lld -> %lld", p->locks[i].moved[k].part->number,
                          p->locks[i].moved[k].supplier, (long long)p->locks[i].moved[k].was,
                          (long long)p->locks[i].moved[k].now);
        lb_buf_puts(&seen, ";");
    }
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
}

Test(drift, buying_tells_what_moved_since_the_kits_were_locked)
{
    struct shop shop = shop_open();
    struct lb_purchase *p = buy(&shop, "sat");
    expect_moved(p, "");
    lb_purchase_free(p);
    lock_it(&shop, "sat");
    reprice(&shop, "quay,Orlop,100-02,1.20,EUR,10,\nmill,Orlop,100-04,7.05,EUR,5,\n"
                   "mill,Orlop,100-05,91.00,EUR,1,\n");
    p = buy(&shop, "sat");
    expect_moved(p, "sat 2026-01-01: 100-02 at Quayside Parts 100 -> 120 100-04 at Mill Lane 750 -> 705;");
    lb_purchase_free(p);
    lock_it(&shop, "sun");
    reprice(&shop, "quay,Orlop,100-02,1.30,EUR,10,\nmill,Orlop,100-05,92.00,EUR,1,\n");
    p = buy(&shop, "sun", "sat");
    expect_moved(p, "sun 2026-01-01: 100-02 at Quayside Parts 120 -> 130 100-04 at Mill Lane 705 -> 750 "
                    "100-05 at Mill Lane 9100 -> 9200;sat 2026-01-01: 100-02 at Quayside Parts 100 -> 130;");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(drift, the_index_keeps_one_lock_a_kit)
{
    struct shop shop = shop_open();
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    struct lb_kit_lock kept;
    bool locked = true;
    expect_ok(lb_lock_load(&kept, &locked, shop.store, kit, &err));
    cr_expect(!locked);
    lock_it(&shop, "sat");
    lock_it(&shop, "sat");
    expect_ok(lb_lock_load(&kept, &locked, shop.store, kit, &err));
    cr_expect(locked);
    cr_expect_str_eq(kept.kit, "sat");
    lb_lock_free(&kept);
    expect_ok(lb_lock_keep(shop.store, kit, SHOP_TODAY, "nonsense", &err));
    cr_expect_eq(lb_lock_load(&kept, &locked, shop.store, kit, &err), LB_DATA);
    cr_expect_str_eq(lb_error_text(&err), "the lock of sat in the index:1: this is no locked kit; one begins "
                                          "with \"lastbolt kit lock, version 1\".");
    lb_kit_free(kit);
    shop_close(&shop);
}
