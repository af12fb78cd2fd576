/* Boxes in the market that kits become (formats.md §3.7). */
#include "purchase_help.h"

#define BOX_PARTS "brand,part_number,part_type\nKestrel,BOX-1,pump-set\n"
#define BOX_FITS  "brand,part_number,make,model\nKestrel,BOX-1,Orlop,Finch\n"

static struct shop open_with_box(const char *contents, const char *offers)
{
    struct shop shop = shop_open();
    shop_import(&shop, "parts3.csv", BOX_PARTS);
    shop_import(&shop, "applications3.csv", BOX_FITS);
    shop_import(&shop, "contents.csv", contents);
    shop_import(&shop, "offers3.csv", offers);
    return shop;
}

static const struct lb_basket_content *content_of(const struct lb_purchase *p, const char *number,
                                                  const char *part_type, const struct lb_basket_cover **cover)
{
    size_t need = find_need(p, NULL, part_type);
    uint32_t part = find_part(p, number);
    for (size_t c = 0; c < p->market.content_count; c++)
        for (size_t i = 0; p->market.contents[c].part == part && i < p->market.contents[c].cover_count; i++)
            if (p->market.contents[c].covers[i].need == need) {
                *cover = &p->market.contents[c].covers[i];
                return &p->market.contents[c];
            }
    return NULL;
}

/* Pump (bare, but renewed) and bolts (with a spec): both lines may be answered by the box, and all of the
 * kit's gaskets are, too, since they are for the same component. */
Test(purchase_boxes, a_box_answers_by_its_contents_and_covers_others)
{
    struct shop shop =
        open_with_box("brand,part_number,item_type,item_spec,quantity\n"
                      "Kestrel,BOX-1,water-pump,,1\nKestrel,BOX-1,pump-gasket,,1\n"
                      "Kestrel,BOX-1,flange-bolt,M6x1.0x25 8.8,8\n",
                      "supplier,brand,part_number,price,currency\nmill,Kestrel,BOX-1,20.00,EUR\n");
    struct lb_purchase *p = buy(&shop, "sat");
    const struct lb_basket_cover *cover = NULL;
    expect_need(p, "sat", "water-pump", "1: 100-01 1 | BOX-1 0");
    expect_need(p, "sat", "flange-bolt", "8: 100-02 8 | K-2 8 | BOX-1 0");
    const struct lb_basket_content *bolts = content_of(p, "BOX-1", "flange-bolt", &cover);
    cr_assert(bolts);
    cr_expect_eq(bolts->quantity, 8 * LB_MILLION);
    cr_expect_eq(cover->opener_count, 0); /* its spec says what it is for */
    cr_assert(content_of(p, "BOX-1", "water-pump", &cover));
    cr_expect_eq(cover->opener_count, 0); /* the line chooses the box for it */
    cr_assert(content_of(p, "BOX-1", "pump-gasket", &cover));
    cr_expect_eq(cover->opener_count, 2); /* pump and bolts of the pump may open it */
    cr_expect_eq(p->basket->parcel_count, 1);
    cr_expect_eq(p->basket->total.total, 2000 + 750 + 600);
    cr_expect_eq(p->basket->answers[find_need(p, NULL, "pump-gasket")].covered, LB_MILLION);
    lb_purchase_free(p);
    shop_close(&shop);
}

/* The kit's own proposal has the gasket covered; in the market it is free again. */
Test(purchase_boxes, what_the_proposal_covers_is_a_need_again)
{
    struct shop shop = shop_open();
    shop_import(&shop, "contents.csv", "brand,part_number,item_type,quantity\nOrlop,100-01,pump-gasket,1\n");
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    cr_expect_eq(shop_line(kit, "pump-gasket")->to_buy, 0);
    lb_kit_free(kit);
    struct lb_purchase *p = buy(&shop, "sat");
    const struct lb_basket_cover *cover = NULL;
    expect_need(p, "sat", "pump-gasket", "1: 100-03 1");
    cr_assert(content_of(p, "100-01", "pump-gasket", &cover));
    cr_expect_eq(cover->opener_count, 1);
    expect_answer(p, "pump-gasket", "boxes");
    lb_purchase_free(p);
    shop_close(&shop);
}

/* A box that is on its way holds what it holds: the gasket is not bought again. */
Test(purchase_boxes, what_an_ordered_box_holds_is_not_wanted)
{
    struct shop shop = shop_open();
    shop_import(&shop, "contents.csv", "brand,part_number,item_type,quantity\nOrlop,100-01,pump-gasket,1\n");
    struct lb_purchase *p = buy(&shop, "sat");
    expect_ok(lb_store_begin(shop.store, &err));
    expect_ok(lb_orders_record(shop.store, p, NULL, SHOP_NOW, &err));
    expect_ok(lb_store_commit(shop.store, &err));
    lb_purchase_free(p);
    p = buy(&shop, "sat");
    cr_expect_eq(p->market.need_count, 0);
    cr_expect(p->basket->found && !p->basket->parcel_count);
    lb_purchase_free(p);
    receive(&shop, "sat", "water-pump", 1, LB_CAME_DAMAGED);
    p = buy(&shop, "sat");
    cr_expect_eq(p->market.need_count, 2);
    expect_need(p, "sat", "pump-gasket", "1: 100-03 1");
    lb_purchase_free(p);
    shop_close(&shop);
}

/* Who asks for the box itself needs one of its own: it is not found in another one. */
Test(purchase_boxes, a_box_does_not_cover_who_asks_for_it)
{
    struct shop shop = shop_open();
    shop_import(&shop, "contents.csv", "brand,part_number,item_type,quantity\nOrlop,100-01,water-pump,1\n");
    struct lb_purchase *p = buy(&shop, "sat", "sun");
    const struct lb_basket_cover *cover = NULL;
    cr_expect_null(content_of(p, "100-01", "water-pump", &cover));
    lb_purchase_free(p);
    shop_close(&shop);
}

/* Numbered contents cover lines of every kit, bare ones only of the kit that opens the box. */
Test(purchase_boxes, bare_contents_stay_with_their_kit)
{
    struct shop shop = shop_open();
    shop_import(&shop, "contents.csv",
                "brand,part_number,item_type,item_spec,quantity\nOrlop,100-01,pump-gasket,,1\n"
                "Orlop,100-01,flange-bolt,M6x1.0x25 8.8,8\n");
    struct lb_purchase *p = buy(&shop, "sat", "sun");
    size_t bolts = 0, gaskets = 0;
    for (size_t c = 0; c < p->market.content_count; c++) {
        const struct lb_basket_content *content = &p->market.contents[c];
        for (size_t i = 0; i < content->cover_count; i++) {
            const struct lb_basket_cover *cover = &content->covers[i];
            bolts += content->quantity > LB_MILLION;
            gaskets += content->quantity == LB_MILLION;
            for (size_t k = 0; k < cover->opener_count; k++)
                cr_expect_eq(p->needs[cover->openers[k]].kit, p->needs[cover->need].kit);
        }
    }
    cr_expect_eq(bolts, 2);
    cr_expect_eq(gaskets, 2);
    lb_purchase_free(p);
    shop_close(&shop);
}

/* A line that nothing but a box holds is no gap as long as the box can be had. */
Test(purchase_boxes, a_line_that_only_boxes_can_meet)
{
    struct shop shop =
        open_with_box("brand,part_number,item_type,item_spec,quantity\n"
                      "Kestrel,BOX-1,flange-bolt,M6x1.0x25 8.8,8\n",
                      "supplier,brand,part_number,price,currency\nmill,Kestrel,BOX-1,20.00,EUR\n");
    reprice(&shop, "quay,Orlop,100-02,1.00,EUR,10,0\nmill,Kestrel,K-2,5.00,EUR,8,0\n");
    struct lb_purchase *p = buy(&shop, "sat");
    cr_expect(!p->blocked && p->basket->found);
    expect_bought(p, "BOX-1", "mill");
    lb_purchase_free(p);
    shop_close(&shop);
}
