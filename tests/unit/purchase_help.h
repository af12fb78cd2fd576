/* Purchases of the kits of shop_help.h, as the program makes them, and what is expected of their market. */
#ifndef LB_TESTS_PURCHASE_HELP_H
#define LB_TESTS_PURCHASE_HELP_H

#include "shop_help.h"

#include "catalog/partkey.h"
#include "garage/preference.h"

#include <criterion/criterion.h>

/* Only what is asked of the basket itself. */
static inline struct lb_purchase *buy_asked(struct shop *shop, const struct lb_purchase_options *options,
                                            const char *const *names, size_t count)
{
    struct lb_purchase *purchase = NULL;
    expect_ok(lb_purchase_make(&purchase, shop->store, names, count, options, SHOP_TODAY, &err));
    return purchase;
}

#define buy(shop, ...)                                                                                       \
    buy_asked(shop, &(struct lb_purchase_options){.arrive_by = LB_NO_DAY, .seconds = 10},                    \
              (const char *const[]){__VA_ARGS__}, sizeof((const char *[]){__VA_ARGS__}) / sizeof(char *))

static inline void decide(struct shop *shop, const char *kit_name, const char *part_type,
                          enum lb_decision decision, const char *brand, const char *number)
{
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    expect_ok(lb_kit_decide(shop->store, kit, shop_line(kit, part_type), decision, brand, number, &err));
    lb_kit_free(kit);
}

static inline void receive(struct shop *shop, const char *kit_name, const char *part_type, int64_t quantity,
                           enum lb_came how)
{
    struct lb_kit *kit = shop_open_kit(shop, kit_name);
    struct lb_receipts receipts;
    const struct lb_arrival arrival = {.line = shop_line(kit, part_type), .quantity = quantity * LB_MILLION};
    expect_ok(lb_orders_receive(&receipts, shop->store, kit, &arrival, 1, how, SHOP_NOW, &err));
    lb_receipts_free(&receipts);
    lb_kit_free(kit);
}

static inline void shelve(struct shop *shop, const char *brand, const char *number, const char *unit,
                          int64_t quantity)
{
    struct lb_buf key = {0};
    lb_part_key(&key, brand, number);
    const struct lb_shelf_item item = {.key = lb_buf_text(&key),
                                       .brand = brand,
                                       .number = number,
                                       .unit = unit,
                                       .quantity = quantity * LB_MILLION,
                                       .since = "2026-01-01T00:00:00Z"};
    expect_ok(lb_shelf_set(shop->store, &item, &err));
    lb_buf_free(&key);
}

/* The shop's offers, but for those of the parts that stand in rows (supplier, brand, part_number, price,
 * currency, pack_quantity, stock). */
static inline void reprice(struct shop *shop, const char *rows)
{
    static const char *const usual[] = {
        "quay,Orlop,100-01,48.00,EUR,1,\n", "quay,Orlop,100-02,1.00,EUR,10,\n",
        "mill,Kestrel,K-2,5.00,EUR,8,\n",   "quay,Orlop,100-03,3.20,EUR,1,\n",
        "mill,Orlop,100-04,7.50,EUR,5,\n",  "mill,Orlop,100-05,90.00,EUR,1,\n"};
    struct lb_buf all = {0};
    lb_buf_puts(&all, "supplier,brand,part_number,price,currency,pack_quantity,stock\n");
    for (size_t i = 0; i < sizeof usual / sizeof *usual; i++) {
        const char *number = strchr(strchr(usual[i], ',') + 1, ',');
        char wanted[16] = {0};
        memcpy(wanted, number, strcspn(number + 1, ",") + 2);
        if (!strstr(rows, wanted))
            lb_buf_puts(&all, usual[i]);
    }
    lb_buf_puts(&all, rows);
    shop_import(shop, "offers.csv", lb_buf_text(&all));
    lb_buf_free(&all);
}

static inline uint32_t find_part(const struct lb_purchase *p, const char *number)
{
    for (uint32_t i = 0; i < p->market.part_count; i++)
        if (strcmp(p->parts[i]->number, number) == 0)
            return i;
    cr_assert_fail("no part %s", number);
    return 0;
}

static inline size_t find_need(const struct lb_purchase *p, const char *kit, const char *part_type)
{
    for (size_t n = 0; n < p->market.need_count; n++)
        if ((!kit || strcmp(p->kits[p->needs[n].kit]->name, kit) == 0) &&
            strcmp(p->needs[n].line->need->article.part_type, part_type) == 0)
            return n;
    cr_assert_fail("no need for %s", part_type);
    return 0;
}

/* "8: 100-02 8 | K-2 8 +78": what is needed, then options with their quantities and premiums in minor units.
 */
static inline void expect_need(const struct lb_purchase *p, const char *kit, const char *part_type,
                               const char *want)
{
    struct lb_buf seen = {0};
    size_t n = find_need(p, kit, part_type);
    lb_decimal_print(&seen, p->market.needs[n].quantity);
    for (size_t i = 0; i < p->market.needs[n].option_count; i++) {
        const struct lb_basket_option *option = &p->market.needs[n].options[i];
        cr_expect_eq(p->needs[n].candidates[i]->part == p->parts[option->part] || p->needs[n].beside ||
                         p->kit_count > 1,
                     true);
        lb_buf_printf(&seen, "%s%s ", i ? " | " : ": ", p->parts[option->part]->number);
        lb_decimal_print(&seen, option->quantity);
        if (option->premium)
            lb_buf_printf(&seen, " +%lld", (long long)option->premium);
        for (size_t c = 0; c < option->companion_count; c++) {
            lb_buf_printf(&seen, " & %s ", p->parts[option->companions[c].part]->number);
            lb_decimal_print(&seen, option->companions[c].quantity);
        }
    }
    cr_expect_str_eq(lb_buf_text(&seen), want, "%s: \"%s\" instead of \"%s\"", part_type, lb_buf_text(&seen),
                     want);
    lb_buf_free(&seen);
}

/* "K-2 8", or "boxes". */
static inline void expect_answer(const struct lb_purchase *p, const char *part_type, const char *want)
{
    struct lb_buf seen = {0};
    size_t n = find_need(p, NULL, part_type);
    cr_assert(p->basket);
    const struct lb_basket_answer *answer = &p->basket->answers[n];
    if (answer->option == UINT32_MAX) {
        lb_buf_puts(&seen, "boxes");
    } else {
        lb_buf_printf(&seen, "%s ", p->parts[p->market.needs[n].options[answer->option].part]->number);
        lb_decimal_print(&seen, answer->bought);
    }
    cr_expect_str_eq(lb_buf_text(&seen), want, "%s: \"%s\" instead of \"%s\"", part_type, lb_buf_text(&seen),
                     want);
    lb_buf_free(&seen);
}

static inline void expect_bought(const struct lb_purchase *p, const char *number, const char *supplier)
{
    bool found = false;
    cr_assert(p->basket);
    for (size_t i = 0; i < p->basket->parcel_count; i++)
        for (size_t l = 0; l < p->basket->parcels[i].line_count; l++)
            found |= strcmp(p->parts[p->basket->parcels[i].lines[l].part]->number, number) == 0 &&
                     strcmp(p->market.suppliers[p->basket->parcels[i].supplier].name, supplier) == 0;
    cr_expect(found, "%s is not bought from %s", number, supplier);
}

/* "KIT LINE CODE: MESSAGE" a line; "-": of no kit. */
static inline void expect_gaps(const struct lb_purchase *p, const char *want)
{
    struct lb_buf seen = {0};
    for (size_t i = 0; i < p->gap_count; i++)
        lb_buf_printf(&seen, "%s %d %s: %s\n",
                      p->gaps[i].kit == LB_NO_KIT ? "-" : p->kits[p->gaps[i].kit]->name, p->gaps[i].line,
                      p->gaps[i].code, p->gaps[i].message);
    cr_expect_str_eq(lb_buf_text(&seen), want, "\n%s", lb_buf_text(&seen));
    lb_buf_free(&seen);
}

#endif
