/* What each part of a basket is for, on markets made by hand. */
#include <criterion/criterion.h>

#include "base/decimal.h"
#include "purchase/uses.h"

#include <stdlib.h>
#include <string.h>

enum { NEEDS = 4, PARTS = 3 };

/* One supplier, one offer a part: packs of one. */
struct stall {
    struct lb_purchase purchase;
    struct lb_basket basket;
    struct lb_basket_offer offers[PARTS];
    struct lb_basket_part parts[PARTS];
    struct lb_basket_option options[NEEDS];
    struct lb_basket_need needs[NEEDS];
    struct lb_purchase_need need_lines[NEEDS];
    struct lb_basket_answer answers[NEEDS];
    struct lb_parcel_line lines[PARTS];
    struct lb_parcel parcel;
};

static void settle(struct stall *s, const int64_t packs[PARTS], const struct lb_basket_content *contents,
                   size_t content_count)
{
    size_t lines = 0;
    for (uint32_t p = 0; p < PARTS; p++) {
        s->offers[p] =
            (struct lb_basket_offer){.currency = "EUR", .price = 100, .pack = LB_MILLION, .stock = -1};
        s->parts[p].offers = &s->offers[p];
        s->parts[p].offer_count = 1;
        if (packs[p])
            s->lines[lines++] = (struct lb_parcel_line){.part = p, .packs = packs[p]};
    }
    for (int n = 0; n < NEEDS; n++)
        s->needs[n] = (struct lb_basket_need){LB_MILLION, &s->options[n], 1};
    s->parcel = (struct lb_parcel){.lines = s->lines, .line_count = lines};
    s->basket = (struct lb_basket){.parcels = &s->parcel, .parcel_count = 1, .answers = s->answers};
    s->purchase.basket = &s->basket;
    s->purchase.needs = s->need_lines;
    s->purchase.market = (struct lb_market){.parts = s->parts,
                                            .needs = s->needs,
                                            .contents = contents,
                                            .part_count = PARTS,
                                            .need_count = NEEDS,
                                            .content_count = content_count};
}

/* "part0: need0 1, need1 1 beside, 1 off the shelf; … | need2 1 in part0" */
static void expect_uses(const struct stall *s, const char *want)
{
    struct lb_uses uses;
    struct lb_error err = {0};
    struct lb_buf seen = {0};
    cr_assert_eq(lb_uses_find(&uses, &s->purchase, &err), LB_OK);
    for (size_t p = 0; p < uses.part_count; p++) {
        lb_buf_printf(&seen, "%s%zu:", p ? "; " : "", p);
        for (size_t i = 0; i < uses.parts[p].shares.count; i++) {
            lb_buf_printf(&seen, " n%u ", uses.parts[p].shares.at[i].need);
            lb_decimal_print(&seen, uses.parts[p].shares.at[i].quantity);
            lb_buf_puts(&seen, uses.parts[p].shares.at[i].beside ? " beside" : "");
        }
        if (uses.parts[p].from_shelf) {
            lb_buf_puts(&seen, " shelf ");
            lb_decimal_print(&seen, uses.parts[p].from_shelf);
        }
    }
    for (size_t i = 0; i < uses.holdings.count; i++) {
        lb_buf_printf(&seen, "%sn%u ", i ? ", " : " | ", uses.holdings.at[i].need);
        lb_decimal_print(&seen, uses.holdings.at[i].quantity);
        lb_buf_printf(&seen, " in %u", uses.holdings.at[i].part);
    }
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
    lb_uses_free(&uses);
}

Test(uses, parts_companions_and_the_shelf)
{
    static const struct lb_basket_demand companions[] = {{1, 2 * LB_MILLION}};
    struct stall s = {.parts[1].on_hand = 3 * LB_MILLION};
    s.options[0] = (struct lb_basket_option){.part = 0, .companions = companions, .companion_count = 1};
    s.options[1] = (struct lb_basket_option){.part = 1};
    s.answers[0] = (struct lb_basket_answer){.option = 0, .bought = LB_MILLION};
    s.answers[1] = (struct lb_basket_answer){.option = 0, .bought = 4 * LB_MILLION};
    s.answers[2].option = s.answers[3].option = UINT32_MAX;
    settle(&s, (const int64_t[]){1, 3, 0}, NULL, 0);
    expect_uses(&s, "0: n0 1; 1: n0 2 beside n1 4 shelf 3; 2:");
}

Test(uses, a_box_that_one_need_takes_covers_others)
{
    const struct lb_basket_cover gasket[] = {{.need = 1}}, bolts[] = {{.need = 2}};
    const struct lb_basket_content contents[] = {{0, LB_MILLION, gasket, 1}, {0, 8 * LB_MILLION, bolts, 1}};
    struct stall s = {0};
    s.options[0] = s.options[1] = (struct lb_basket_option){.part = 0, .quantity = LB_MILLION};
    s.options[2] = (struct lb_basket_option){.part = 1, .quantity = 10 * LB_MILLION};
    s.answers[0] = (struct lb_basket_answer){.option = 0, .bought = LB_MILLION};
    s.answers[1] = (struct lb_basket_answer){.option = UINT32_MAX, .covered = LB_MILLION};
    s.answers[2] =
        (struct lb_basket_answer){.option = 0, .bought = 2 * LB_MILLION, .covered = 8 * LB_MILLION};
    s.answers[3].option = UINT32_MAX;
    settle(&s, (const int64_t[]){1, 2, 0}, contents, 2);
    expect_uses(&s, "0: n0 1; 1: n2 2; 2: | n1 1 in 0, n2 8 in 0");
}

Test(uses, boxes_bought_for_what_is_in_them_belong_to_who_chose_them)
{
    const struct lb_basket_cover seals[] = {{.need = 0}, {.need = 1}};
    const struct lb_basket_content contents[] = {{0, 2 * LB_MILLION, seals, 2}};
    struct stall s = {0};
    s.options[0] = (struct lb_basket_option){.part = 1, .quantity = LB_MILLION};
    s.options[1] = (struct lb_basket_option){.part = 0, .quantity = 0};
    s.answers[0] = (struct lb_basket_answer){.option = UINT32_MAX, .covered = LB_MILLION};
    s.answers[1] = (struct lb_basket_answer){.option = 0, .covered = 3 * LB_MILLION};
    s.answers[2].option = s.answers[3].option = UINT32_MAX;
    settle(&s, (const int64_t[]){2, 0, 0}, contents, 1);
    expect_uses(&s, "0: n1 2; 1:; 2: | n0 1 in 0, n1 3 in 0");
}

/* A bare gasket is only for those that the box was opened for. */
Test(uses, openers_count_their_own_boxes)
{
    static const uint32_t opener[] = {0};
    const struct lb_basket_cover bare[] = {{1, opener, 1}};
    const struct lb_basket_content contents[] = {{0, LB_MILLION, bare, 1}, {1, LB_MILLION, bare, 1}};
    struct stall s = {0};
    s.options[0] = (struct lb_basket_option){.part = 1, .quantity = LB_MILLION};
    s.options[2] = (struct lb_basket_option){.part = 0, .quantity = LB_MILLION};
    s.answers[0] = (struct lb_basket_answer){.option = 0, .bought = LB_MILLION};
    s.answers[1] = (struct lb_basket_answer){.option = UINT32_MAX, .covered = LB_MILLION};
    s.answers[2] = (struct lb_basket_answer){.option = 0, .bought = LB_MILLION};
    s.answers[3].option = UINT32_MAX;
    settle(&s, (const int64_t[]){1, 1, 0}, contents, 2);
    expect_uses(&s, "0: n2 1; 1: n0 1; 2: | n1 1 in 1");
}

/* First come, first served may leave somebody without; it is in one of the boxes all the same. */
Test(uses, nothing_that_is_covered_is_lost)
{
    const struct lb_basket_cover wide[] = {{.need = 0}, {.need = 1}}, narrow[] = {{.need = 0}};
    const struct lb_basket_content contents[] = {{0, LB_MILLION, wide, 2}, {1, LB_MILLION, narrow, 1}};
    struct stall s = {0};
    s.answers[0] = s.answers[1] = (struct lb_basket_answer){.option = UINT32_MAX, .covered = LB_MILLION};
    s.options[2] = (struct lb_basket_option){.part = 0, .quantity = LB_MILLION};
    s.options[3] = (struct lb_basket_option){.part = 1, .quantity = LB_MILLION};
    s.answers[2] = s.answers[3] = (struct lb_basket_answer){.option = 0, .bought = LB_MILLION};
    settle(&s, (const int64_t[]){1, 1, 0}, contents, 2);
    expect_uses(&s, "0: n2 1; 1: n3 1; 2: | n0 1 in 0, n1 1 in 0");
}
