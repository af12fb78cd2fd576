/* The market that kits become: what each line wants, which parts would do, what is there already. */
#include "purchase_help.h"

Test(purchase, lines_are_needs_with_what_fits_as_options)
{
    struct shop shop = shop_open();
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect_eq(p->market.need_count, 4);
    cr_expect_str_eq(p->market.currency, "EUR");
    expect_need(p, "sat", "flange-bolt", "8: 100-02 8 | K-2 8");
    expect_need(p, "sat", "coolant", "3.6: 100-04 3.6");
    expect_answer(p, "flange-bolt", "100-02 8");
    cr_expect_eq(p->gap_count, 0);
    cr_expect(p->basket->found && p->basket->proved && !p->blocked);
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, what_the_owner_named_is_the_only_option)
{
    struct shop shop = shop_open();
    decide(&shop, "sat", "flange-bolt", LB_BUY, "Orlop", "100-02");
    decide(&shop, "sat", "pump-gasket", LB_HAVE, NULL, NULL);
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect_eq(p->market.need_count, 3);
    expect_need(p, "sat", "flange-bolt", "8: 100-02 8");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, a_named_part_that_nobody_offers_blocks)
{
    struct shop shop = shop_open();
    shop_import(&shop, "more.csv", "brand,part_number,part_type\nOrlop,100-99,water-pump\n");
    decide(&shop, "sat", "water-pump", LB_BUY, "Orlop", "100-99");
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect(p->blocked && !p->basket && !p->front && !p->reasons);
    expect_gaps(p, "sat 1 no-offer: water-pump: no supplier offers Orlop 100-99 now\n"
                   "sat 1 fit-unknown: water-pump: no catalogue says that Orlop 100-99 fits this vehicle\n");
    lb_purchase_free(p);
    shop_close(&shop);
}

/* The kit proposes a number that is sold out; the other one can be had, so nothing is a gap. */
Test(purchase, another_option_is_no_gap)
{
    struct shop shop = shop_open();
    reprice(&shop, "quay,Orlop,100-02,1.00,EUR,10,0\nmill,Kestrel,K-2,5.00,EUR,8,\n");
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect_eq(p->gap_count, 0);
    expect_answer(p, "flange-bolt", "K-2 8");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, stock_that_is_short_of_every_option_blocks_all_kits)
{
    struct shop shop = shop_open();
    reprice(&shop, "quay,Orlop,100-02,1.00,EUR,1,3\nmill,Kestrel,K-2,5.00,EUR,1,2\n");
    struct lb_purchase *p = buy(&shop, "sun", "sat");
    cr_expect(p->blocked && !p->basket);
    cr_expect_eq(p->gap_count, 2);
    cr_expect_eq(p->gaps[0].kit, 0);
    cr_expect_str_eq(p->gaps[0].code, "stock-short");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, a_line_nobody_has_a_part_for_blocks_also_when_only_one_kit_has_it)
{
    struct shop shop = shop_open();
    shop_import(&shop, "applications.csv",
                "brand,part_number,make,model\nOrlop,100-01,Orlop,Finch\nOrlop,100-03,Orlop,Finch\n");
    struct lb_purchase *p = buy(&shop, "sat", "sun");
    cr_expect(p->blocked);
    cr_expect_eq(p->gap_count, 1);
    cr_expect_eq(p->gaps[0].kit, 1);
    cr_expect_str_eq(p->gaps[0].code, "no-part");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, what_is_reused_or_asked_does_not_block)
{
    struct shop shop = shop_open();
    decide(&shop, "sat", "pump-gasket", LB_REUSE, NULL, NULL);
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect(!p->blocked && p->basket->found);
    cr_expect_eq(p->gap_count, 1);
    cr_expect_str_eq(p->gaps[0].code, "reused-single-use");
    lb_purchase_free(p);
    shop_close(&shop);
}

/* What surely fits cannot be had, so what may fit is bought, and its question is asked. */
Test(purchase, what_may_fit_only_when_nothing_that_fits_can_be_had)
{
    struct shop shop = shop_open();
    shop_import(&shop, "parts2.csv", "brand,part_number,part_type\nKestrel,K-9,starter-motor\n");
    shop_import(&shop, "applications2.csv",
                "brand,part_number,make,model,when\nKestrel,K-9,Orlop,Finch,gearbox = manual\n");
    shop_import(&shop, "offers2.csv",
                "supplier,brand,part_number,price,currency\nquay,Kestrel,K-9,10.00,EUR\n");
    struct lb_purchase *p = buy(&shop, "sun");
    expect_need(p, "sun", "starter-motor", "1: 100-05 1");
    cr_expect_eq(p->gap_count, 0);
    lb_purchase_free(p);
    reprice(&shop, "mill,Orlop,100-05,90.00,EUR,1,0\n");
    p = buy(&shop, "sun");
    expect_need(p, "sun", "starter-motor", "1: K-9 1");
    expect_gaps(p, "sun 2 fit-unknown: starter-motor: whether Kestrel K-9 fits depends on: gearbox\n");
    cr_expect(p->basket->found);
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, the_shelf_is_taken_first_and_once)
{
    struct shop shop = shop_open();
    shelve(&shop, "Orlop", "100-02", "each", 10);
    struct lb_purchase *p = buy(&shop, "sat", "sun");
    expect_need(p, "sat", "flange-bolt", "8: 100-02 8 | K-2 8");
    cr_expect_eq(p->market.parts[find_part(p, "100-02")].on_hand, 10 * LB_MILLION);
    expect_answer(p, "flange-bolt", "100-02 8"); /* eight from the shelf */
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, what_is_here_or_on_its_way_fixes_the_part_and_leaves_the_rest)
{
    struct shop shop = shop_open();
    decide(&shop, "sat", "flange-bolt", LB_BUY, "Orlop", "100-02");
    shop_order(&shop, (const char *const[]){"sat", NULL});
    decide(&shop, "sat", "flange-bolt", LB_BUY, NULL, NULL);
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect_eq(p->market.need_count, 0);
    cr_expect(p->basket->found && !p->basket->parcel_count && !p->blocked);
    lb_purchase_free(p);
    receive(&shop, "sat", "flange-bolt", 3, LB_CAME_DAMAGED);
    p = buy(&shop, "sat");
    cr_expect_eq(p->market.need_count, 1);
    expect_need(p, "sat", "flange-bolt", "1: 100-02 1"); /* ten were ordered for eight */
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, kits_are_pooled_and_each_counts_once)
{
    struct shop shop = shop_open();
    struct lb_purchase *p = buy(&shop, "sun", "sat", "sun");
    cr_expect_eq(p->kit_count, 2);
    cr_expect_str_eq(p->kits[0]->name, "sun");
    cr_expect_eq(p->market.need_count, 9);
    cr_expect_eq(p->market.supplier_count, 3);
    size_t pumps = 0;
    for (size_t i = 0; i < p->market.part_count; i++)
        pumps += strcmp(p->parts[i]->number, "100-01") == 0;
    cr_expect_eq(pumps, 1);
    for (size_t i = 0; i < p->market.part_count; i++)
        for (size_t o = 0; o < p->market.parts[i].offer_count; o++)
            cr_expect_eq(p->market.parts[i].offers[o].price, p->offers[i][o]->price);
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, the_makers_own_may_cost_more)
{
    struct shop shop = shop_open();
    shop_import(&shop, "parts.csv",
                "brand,part_number,part_type,spec,unit,maker_part\n"
                "Orlop,100-01,water-pump,,each,yes\nOrlop,100-02,flange-bolt,M6x1.0x25 8.8,each,yes\n"
                "Kestrel,K-2,flange-bolt,M6x1.0x25 8.8,each,\nOrlop,100-03,pump-gasket,,each,yes\n"
                "Orlop,100-04,coolant,,L,yes\n");
    expect_ok(lb_preference_set(shop.store, "flange-bolt", 15500000, &err));
    expect_ok(lb_preference_set(shop.store, "water-pump", 15500000, &err));
    struct lb_purchase *p = buy(&shop, "sat");
    /* 15.5 % of 5.00 are 77.5 cents */
    expect_need(p, "sat", "flange-bolt", "8: 100-02 8 | K-2 8 +78");
    expect_need(p, "sat", "water-pump", "1: 100-01 1");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, the_currency_is_that_of_most_offers_of_all_kits)
{
    struct shop shop = shop_open();
    shop_import(&shop, "rates.csv", "currency,in,rate\nGBP,EUR,1.20\n");
    reprice(&shop, "stern,Orlop,100-01,30.00,GBP,1,\n");
    struct lb_purchase *p = buy(&shop, "sat", "sun");
    cr_expect_str_eq(p->market.currency, "EUR");
    cr_expect_eq(p->market.rate_count, 1);
    expect_bought(p, "100-01", "stern");
    lb_purchase_free(p);
    shop_close(&shop);
}

Test(purchase, without_a_rate_an_offer_says_in_which_currency_it_is)
{
    struct shop shop = shop_open();
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency\nstern,Orlop,100-01,30.00,GBP\n"
                "quay,Orlop,100-02,1.00,EUR\nquay,Orlop,100-03,3.20,EUR\nmill,Orlop,100-04,7.50,EUR\n");
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect(p->blocked);
    expect_gaps(p, "sat 1 no-offer: water-pump: Orlop 100-01 is offered in GBP only, and no rates row "
                   "leads to EUR\n");
    lb_purchase_free(p);
    shop_close(&shop);
}
